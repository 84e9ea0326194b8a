// SPDX-License-Identifier: GPL-3.0-or-later
//
// From a chosen plan to what a person reads of it: gaps, uses, pressures, gives, life.
#pragma once

#include "solver/answer.hpp"
#include "solver/study.hpp"

namespace stackfit {

[[nodiscard]] PlanResult describe_plan(const Study& study, const ShimPlan& plan);

/// Cells with their thickness at the build state, dome, and polarity by series and parallel.
[[nodiscard]] std::vector<CellResult> describe_cells(const Study& study);

/// Cells in one parallel group, from what was said; 1 where nothing was.
[[nodiscard]] int parallel_of(const Build& build);

}  // namespace stackfit
