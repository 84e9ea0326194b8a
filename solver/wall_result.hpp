// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a solved row does to its end walls: bow, surface stress, and whether thin-plate theory
// still speaks of them.
//
// For: the state of most force of the plan that is printed.
// Not for: the row's pressures (column_figures.hpp).
#pragma once

#include <vector>

#include "solver/answer.hpp"
#include "solver/row_columns.hpp"

namespace stackfit {

/// One entry for each wall that is a plate, the first wall first; one where both are alike.
[[nodiscard]] std::vector<WallResult> wall_results(const Row& row, const RowColumns::Full& full);

/// Deflection of one end wall [mm], away from the row, at a point from the middle of the wall,
/// right and up: linear over the triangle there. 0 where that wall is rigid.
/// Throws std::invalid_argument for a point outside the wall.
struct WallPoint {
  double x_mm = 0;
  double y_mm = 0;
  bool last_wall = false;
};
[[nodiscard]] double wall_deflection_mm(const Row& row, const RowColumns::Full& full,
                                        const WallPoint& point);

}  // namespace stackfit
