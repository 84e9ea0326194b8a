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

}  // namespace stackfit
