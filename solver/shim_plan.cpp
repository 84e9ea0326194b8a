// SPDX-License-Identifier: GPL-3.0-or-later
//
// Which counts are worth searching; the search itself is shim_search.cpp.
#include "solver/shim_plan.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "solver/count_set.hpp"
#include "solver/margin_bound.hpp"
#include "solver/order_plan.hpp"
#include "solver/shim_search.hpp"

namespace stackfit {
namespace {

/// A plan that only shows how near the kit comes needs no proof: fewer combinations, and quick.
constexpr std::size_t nearest_plan_limit = std::size_t{1} << 18;

void require_matching(const PlanProblem& problem) {
  if (problem.gaps.size() < 2) {
    throw std::invalid_argument("a row has two gaps or more");
  }
  for (const PlanKind& kind : problem.kinds) {
    if (kind.allowed.size() != problem.gaps.size()) {
      throw std::invalid_argument("a shim says for each gap whether it may lie there");
    }
  }
  if (problem.terminals && problem.terminals->middles_nm.size() + 2 != problem.gaps.size()) {
    throw std::invalid_argument("terminals need one distance for each pair of neighbours");
  }
}

/// Counts that may lie anywhere at all.
std::vector<int> usable_counts(const PlanProblem& problem) {
  std::vector<int> caps;
  for (const PlanKind& kind : problem.kinds) {
    const bool anywhere =
        std::find(kind.allowed.begin(), kind.allowed.end(), true) != kind.allowed.end();
    caps.push_back(anywhere ? kind.count : 0);
  }
  return caps;
}

/// No passing plan holds more of a kind than its total allows: nothing is lost by these caps.
std::vector<int> passing_counts(const PlanProblem& problem) {
  std::vector<int> caps = usable_counts(problem);
  if (problem.may_pass_nm) {
    for (std::size_t kind = 0; kind < caps.size(); ++kind) {
      const std::int64_t most =
          std::max<std::int64_t>(0, problem.may_pass_nm->second) / problem.kinds[kind].thickness_nm;
      caps[kind] = static_cast<int>(std::min<std::int64_t>(caps[kind], most));
    }
  }
  return caps;
}

/// Leaves out kinds until the combinations can be exhausted: first those that do not insulate,
/// then those with the least to give. True when it left any out: then the best found is no proof.
bool cut_down(const PlanProblem& problem, std::vector<int>& caps, std::size_t most) {
  if (combinations(caps) <= most) {
    return false;
  }
  const auto worth = [&](std::size_t kind) {
    const PlanKind& k = problem.kinds[kind];
    return std::pair(k.insulates, caps[kind] * k.thickness_nm);
  };
  std::vector<std::size_t> by_worth;
  for (std::size_t kind = 0; kind < caps.size(); ++kind) {
    by_worth.push_back(kind);
  }
  std::sort(by_worth.begin(), by_worth.end(),
            [&](std::size_t a, std::size_t b) { return worth(a) < worth(b); });
  constexpr std::size_t least_kinds = 2;
  for (std::size_t i = 0; i + least_kinds < by_worth.size() && combinations(caps) > most; ++i) {
    caps[by_worth[i]] = 0;
  }
  while (combinations(caps) > most) {
    --*std::max_element(caps.begin(), caps.end());
  }
  return true;
}

/// The plan with what is proven of it. Where the kit was not cut down every vector was scored, also
/// where a pile at a wall could not be held to its limit. Rounding must not put the bound below a
/// margin found.
ShimPlan bounded(ShimPlan plan, const PlanProblem& problem, bool cut) {
  plan.proven = plan.proven && !cut;
  plan.margin_bound =
      plan.found && !cut
          ? plan.best_margin
          : std::max(margin_bound(problem), plan.found ? plan.best_margin : -infinite_margin);
  return plan;
}

}  // namespace

std::int64_t to_nm(double length_mm) {
  constexpr double nm_per_mm = 1e6;
  return std::llround(length_mm * nm_per_mm);
}

ShimPlan pick_shims(const PlanProblem& problem) {
  require_matching(problem);
  std::vector<int> caps = passing_counts(problem);
  const bool cut = cut_down(problem, caps, problem.most_combinations);
  ShimPlan plan = ShimSearch(problem, caps).run();
  if (plan.passes || caps == usable_counts(problem)) {
    return bounded(std::move(plan), problem, cut);
  }
  // Nothing passes: the nearest plan may use more than any passing one could.
  caps = usable_counts(problem);
  const bool cut_again =
      cut_down(problem, caps, std::min(nearest_plan_limit, problem.most_combinations));
  plan = ShimSearch(problem, caps).run();
  return bounded(std::move(plan), problem, cut || cut_again);
}

std::vector<std::vector<int>> placeable_counts(const PlanProblem& problem) {
  require_matching(problem);
  std::vector<int> caps = usable_counts(problem);
  cut_down(problem, caps, nearest_plan_limit);
  return ShimSearch(problem, caps).placeable();
}

bool any_plan_passes(const PlanProblem& problem) {
  require_matching(problem);
  std::vector<int> caps = passing_counts(problem);
  cut_down(problem, caps, count_box_limit);
  return ShimSearch(problem, caps).any_passes();
}

OrderBound bound_over_orders(const PlanProblem& problem, const MovableCells& cells,
                             LedgerBy ledger) {
  require_matching(problem);
  std::vector<int> caps = passing_counts(problem);
  const bool wished = problem.terminals && problem.terminals->wanted_nm;
  if (!wished || cells.cell_nm.size() < 2 || cells.cell_nm.size() > most_exhausted_cells ||
      cut_down(problem, caps, count_box_limit)) {
    return {};
  }
  return ShimSearch(problem, caps, cells, ledger).over_orders();
}

}  // namespace stackfit
