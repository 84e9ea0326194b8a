// SPDX-License-Identifier: GPL-3.0-or-later
//
// Lines that hold several quantities: a data sheet's thickness and force, a pile of shims, a wall.
//
// For: `63.4±0.6 mm 30-40% 240kgf`, `240kgf ±15`, `0.8 mm x 14 polypropylene`, `3 mm aluminium`.
// Not for: one quantity alone (quantity.hpp).
#pragma once

#include <optional>
#include <string_view>

#include "cli/quantity.hpp"
#include "solver/build.hpp"

namespace stackfit::cli {

/// Thickness with tolerance, then charge and force in either order, both optional.
[[nodiscard]] Parsed<ThicknessLine> read_thickness_line(std::string_view text);

/// A pile of like shims: thickness x count, then the material if known.
struct ShimPile {
  double thickness_mm = 0;
  int count = 0;
  std::optional<SheetMaterial> material;
};
[[nodiscard]] Parsed<ShimPile> read_shim_pile(std::string_view text);

/// Thickness, material and joint in any order, each optional but one.
[[nodiscard]] Parsed<PlateWall> read_wall(std::string_view text);

/// Face as `152x188` or `152 mm x 188 mm`.
[[nodiscard]] Parsed<FaceSize> read_face(std::string_view text);

/// A whole number from 0, nothing else around it.
[[nodiscard]] std::optional<int> read_count(std::string_view text);

}  // namespace stackfit::cli
