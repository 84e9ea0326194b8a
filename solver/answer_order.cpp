// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/answer_order.hpp"

#include <algorithm>
#include <cmath>

#include "solver/plan_result.hpp"

namespace stackfit {
namespace {

constexpr double step_mm = static_cast<double>(terminal_step_nm) * 1e-6;

/// Greatest deviation of the terminals with a plan in the order given [mm].
double deviation_mm(const Study& study, const ShimPlan& plan) {
  return describe_terminals(study, plan).deviation_mm;
}

bool groups_change(const Build& build, const std::vector<std::size_t>& order) {
  const auto parallel = static_cast<std::size_t>(parallel_of(build));
  for (std::size_t place = 0; parallel > 1 && place < order.size(); ++place) {
    if (order[place] / parallel != place / parallel) {
      return true;
    }
  }
  return false;
}

}  // namespace

std::optional<OrderResult> best_order(const Study& study) {
  const std::vector<CellResult> cells = describe_cells(study);
  const bool refused =
      std::any_of(cells.begin(), cells.end(), [](const CellResult& cell) { return cell.refused; });
  if (!study.build().cells_may_move || !study.build().placed.empty() || refused) {
    return std::nullopt;
  }
  const auto choice = study.choose_order();
  if (!choice) {
    return std::nullopt;
  }
  OrderResult out;
  for (const std::size_t cell : choice->order) {
    out.ids.push_back(cells[cell].id);
    out.places.push_back(static_cast<int>(cell) + 1);
  }
  out.moved = choice->moved;
  out.proven = choice->proven;
  out.fewest_moved = choice->fewest_moved;
  out.bound_mm = static_cast<double>(choice->bound_steps) * step_mm;
  out.before_mm = deviation_mm(study, choice->given);
  out.groups_change = groups_change(study.build(), choice->order);
  return out;
}

Build in_order(Build build, const std::vector<int>& places) {
  const std::vector<CellReading> as_given = build.cells;
  for (std::size_t place = 0; place < places.size(); ++place) {
    build.cells[place] = as_given[static_cast<std::size_t>(places[place]) - 1];
  }
  return build;
}

}  // namespace stackfit
