// SPDX-License-Identifier: GPL-3.0-or-later
//
// The best plan by looking at every placing, compared by the rule as it is written in
// solver/shim_plan.hpp. Shares no code with the search.
//
// For: tests of the search on kits with some ten thousand placings.
#pragma once

#include <cstdint>
#include <vector>

#include "solver/shim_plan.hpp"

namespace plan_checks {

using Counts = std::vector<std::vector<int>>;  ///< [gap][kind]

/// What a reference answers.
struct ReferencePlan {
  bool found = false;
  bool passes = false;
  double margin = 0;
  double best_margin = 0;  ///< M*
  double window = 0;       ///< D
  stackfit::PlanRank rank;
  Counts counts;
};

/// Rank of one placing by the text of the rule.
[[nodiscard]] stackfit::PlanRank rank_of(const stackfit::PlanProblem& problem,
                                         const Counts& counts);
[[nodiscard]] ReferencePlan brute_force(const stackfit::PlanProblem& problem);
/// How many placings brute force looks through, rules aside.
[[nodiscard]] double placings(const stackfit::PlanProblem& problem);

}  // namespace plan_checks
