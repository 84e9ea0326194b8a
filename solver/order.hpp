// SPDX-License-Identifier: GPL-3.0-or-later
//
// What is still to be made or bought for a build, as the person said it: lengths in mm.
//
// For: `size` (size.hpp), which asks for a box or clamp frame that is not there yet. What was not
// said is empty: defaults stand in assumptions.hpp and stock.hpp.
// Not for: what is there already (build.hpp).
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

namespace stackfit {

enum class SheetMaterial : std::uint8_t {
  glass_epoxy,
  polycarbonate,
  polypropylene,
  pet_film,
  phenolic_paper,
  aluminium,
  carbon_steel,
  stainless_steel
};

/// Stress [MPa] against strain on the original thickness, both increasing from (0, 0).
struct FoamTable {
  std::vector<double> strain;
  std::vector<double> stress_mpa;
};

struct Order {
  // What is on sale where the person buys; empty: what is commonly sold (stock.hpp).
  std::vector<double> wall_stock_mm;            ///< plate for end walls or a frame's plates
  std::vector<double> sheet_stock_mm;           ///< insulating sheet for shims
  std::optional<SheetMaterial> sheet_material;  ///< of those sheets
  std::vector<double> filler_stock_mm;          ///< plate that fills what shims would be many for
  std::vector<double> pad_stock_mm;             ///< foam
  std::optional<FoamTable> foam;  ///< of those pads; not said: foam of a generic grade
  // The inner length as it is ordered and made.
  std::optional<double> length_step_mm;       ///< of the nominal: whole or half mm
  std::optional<double> length_tolerance_mm;  ///< one-sided: from the nominal to so much more
  std::optional<double> paint_mm;             ///< on each painted face inside
  // What the walls must stand.
  std::optional<double> stress_safety;  ///< yield over the surface stress, at least
  std::optional<double> most_bow_mm;
  std::optional<double> yield_mpa;  ///< of the metal that is sold; not said: of a soft temper
  // Width and height inside: what stands beside, under and over the cells.
  std::optional<double> side_sheet_mm;  ///< insulation at each side wall
  std::optional<double> floor_sheet_mm;
  std::optional<double> lid_sheet_mm;
  std::optional<double> slide_mm;           ///< room in width, both sides together, to slide
  std::optional<double> over_terminals_mm;  ///< room between the highest part and the lid's sheet
  std::optional<double> corner_radius_mm;   ///< of the box's upright corners, inside
  std::optional<double> floor_bend_mm;      ///< inner radius where the floor turns up
  std::optional<double> weld_bead_mm;       ///< leg of the beads inside
  std::optional<double> screw_head_mm;      ///< how far heads or nuts stand into the box
  // Use.
  std::optional<double> acceleration_g;  ///< that the row must hold without sliding
};

}  // namespace stackfit
