// SPDX-License-Identifier: GPL-3.0-or-later
//
// The builds and walls that are timed.
//
// For: the benchmarks, and what is written out of them for NumPy and SciPy (wall_dump.cpp).
#pragma once

#include <memory>
#include <string>

#include "solver/build.hpp"
#include "solver/columns.hpp"

namespace bench {

/// One of the fixtures, by its name in their folder.
[[nodiscard]] stackfit::Build fixture(const std::string& name);

/// wide_kit_sixteen with this many cells in a box as much longer or shorter.
[[nodiscard]] stackfit::Build row_of(int cells);
/// wide_kit_sixteen with this many kinds of its kit, the thickest first, sixteen pieces of each.
[[nodiscard]] stackfit::Build kit_of(int kinds);

/// The end walls of shed_bank, whose top edge is free, the whole of them meshed into about this
/// many triangles.
[[nodiscard]] stackfit::WallPair walls_of(int triangles);
/// Eight cells, p = 0.06 MPa (exp(180 strain) - 1), between these walls.
[[nodiscard]] stackfit::ColumnsSetup cells_between(
    std::shared_ptr<const stackfit::WallModes> walls);
/// The rungs of the ladder: interferences up to about 0.35 MPa.
inline constexpr int ladder_rungs = 30;
inline constexpr double ladder_step_mm = 0.2;

}  // namespace bench
