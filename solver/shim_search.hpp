// SPDX-License-Identifier: GPL-3.0-or-later
//
// The search runs over sets of used-count vectors (count_set.hpp):
//   reachable   all vectors that some placing keeps within the hard rules;
//   admissible  those of them that pass with a margin near the best;
//   levels      for the least terminal deviation, then the least unevenness, then the least
//               pile at a wall, the vectors that gaps limited to that level can use; the best of
//               them by total, sheets, kinds;
//   placing     gap by gap the lexicographically least pattern that can still be completed.
// Where the cells may stand in any order, a level's vectors are those of all orders
// (order_sets.hpp); that is the only difference until an order is chosen.
// Internal to the solver: shim_plan.hpp is what to call.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <tuple>
#include <utility>
#include <vector>

#include "solver/count_set.hpp"
#include "solver/order_sets.hpp"
#include "solver/shim_patterns.hpp"
#include "solver/shim_plan.hpp"

namespace stackfit {

/// A count vector that may be chosen, with what the rule compares after the levels.
struct Admissible {
  std::size_t index = 0;
  std::int64_t total_nm = 0;
  int sheets = 0;
  int kinds = 0;
  [[nodiscard]] auto key() const { return std::tuple(total_nm, sheets, kinds); }
};

/// The best found under one limit: which vectors, and under which windows of gap totals.
struct LevelBest {
  std::vector<Admissible> vectors;  ///< all with the same least key
  std::vector<std::pair<GapLimit, Admissible>> placings;
  [[nodiscard]] bool found() const { return !vectors.empty(); }

  void offer(const GapLimit& limit, const Admissible& candidate) {
    if (found() && candidate.key() > vectors.front().key()) {
      return;
    }
    if (found() && candidate.key() < vectors.front().key()) {
      vectors.clear();
      placings.clear();
    }
    vectors.push_back(candidate);
    placings.emplace_back(limit, candidate);
  }
};

/// The limits settled one after the other.
struct Levels {
  std::int64_t terminal_steps = GapLimit::any;
  std::int64_t evenness_nm = 0;
  std::int64_t wall_excess_nm = GapLimit::any;
};

/// One search of one problem, over a box of counts no larger than count_box_limit.
class ShimSearch {
 public:
  ShimSearch(const PlanProblem& problem, std::vector<int> caps)
      : problem_(problem), box_(std::move(caps)), adder_(box_), patterns_(problem, box_) {}
  /// With cells that may stand in any order; `run` is then not to be called.
  ShimSearch(const PlanProblem& problem, std::vector<int> caps, const MovableCells& cells,
             LedgerBy ledger)
      : ShimSearch(problem, std::move(caps)) {
    orders_.emplace(problem, cells, box_, patterns_, ledger);
  }

  [[nodiscard]] ShimPlan run();
  [[nodiscard]] OrderBound over_orders();
  /// All vectors that keep the hard rules.
  [[nodiscard]] std::vector<std::vector<int>> placeable() {
    std::vector<std::vector<int>> found;
    reachable().for_each([&](std::size_t index) { found.push_back(box_.counts(index)); });
    return found;
  }
  /// Whether a vector passes; nothing is placed.
  [[nodiscard]] bool any_passes() {
    score_reachable(reachable(), true);
    return !scored_.empty();
  }

 private:
  [[nodiscard]] CountSet reachable();
  void score_reachable(const CountSet& reach, bool only_passing);
  [[nodiscard]] bool make_admissible(const CountSet& reach, ShimPlan& plan);
  [[nodiscard]] CountSet with_anything(std::size_t gap, CountSet set);
  [[nodiscard]] CountSet with_ends(CountSet inner, const GapLimit& limit);
  [[nodiscard]] std::optional<CountSet> make_inner_sets(const GapLimit& limit);
  [[nodiscard]] const std::optional<CountSet>& inner_sets(const GapLimit& limit);
  void offer_best(const GapLimit& limit, LevelBest& best, bool any_will_do);
  [[nodiscard]] LevelBest try_limit(const GapLimit& level, bool any_will_do);
  [[nodiscard]] std::int64_t least_terminal_steps();
  [[nodiscard]] LevelBest under(const Levels& levels, bool any_will_do);
  void settle(std::int64_t most_nm, std::int64_t Levels::*level, Levels& levels);
  [[nodiscard]] Levels evenest(std::int64_t terminal_steps);
  [[nodiscard]] std::vector<std::optional<std::int64_t>> inner_totals() const;
  void place(const LevelBest& best, ShimPlan& plan);
  [[nodiscard]] static PlanRank rank_of(const Levels& levels, const Admissible& chosen);
  [[nodiscard]] CountSet inner_of(const GapLimit& limit, const Admissible& candidate);

  struct Scored {
    std::size_t index;
    std::int64_t total_nm;
    double margin;
  };

  const PlanProblem& problem_;
  CountBox box_;
  CountAdder adder_;
  GapPatterns patterns_;
  std::optional<OrderSets> orders_;
  std::vector<Scored> scored_;
  std::vector<Admissible> admissible_;  ///< sorted by key
  std::int64_t most_admissible_nm_ = 0;
  std::map<GapLimit, std::optional<CountSet>> inner_;
  std::set<GapLimit> impossible_;
  bool exhaustive_ = true;
};

}  // namespace stackfit
