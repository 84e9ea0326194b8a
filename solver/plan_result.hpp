// SPDX-License-Identifier: GPL-3.0-or-later
//
// From a chosen plan to what a person reads of it: gaps, uses, pressures, gives, life.
#pragma once

#include <vector>

#include "solver/answer.hpp"
#include "solver/study.hpp"

namespace stackfit {

[[nodiscard]] PlanResult describe_plan(const Study& study, const ShimPlan& plan);

/// Cells with their thickness at the build state, dome, and polarity by series and parallel.
[[nodiscard]] std::vector<CellResult> describe_cells(const Study& study);

/// Neighbouring terminals apart, free of squeeze, at the build state.
struct TerminalSpacing {
  std::vector<double> spacing_mm;
  double deviation_mm =
      0;  ///< greatest from the wanted spacing or the mean; 0 where none is wanted
};
[[nodiscard]] TerminalSpacing describe_terminals(const Study& study, const ShimPlan& plan);

/// Thickness of a cell at the build state, less that at its measurement [mm].
[[nodiscard]] double change_since_measured(const Row& row, const RowCell& cell);

/// Cells in one parallel group, from what was said; 1 where nothing was.
[[nodiscard]] int parallel_of(const Build& build);

}  // namespace stackfit
