// SPDX-License-Identifier: GPL-3.0-or-later
//
// The exact choice: how many of each shim of the kit in each gap.
//
// For: the best plan by the rule below, proven by exhausting the count vectors of the kit.
// Not for: pressures. In a one-column row they depend only on how many of each kind are used
// anywhere, so the caller scores that vector and this search places the pieces.
//
// Hard rules: counts on hand; allowed places; one insulating sheet where due.
// M* is the best margin among passing plans, D = max(0.05, change of the margin of the M* plan
// when its total falls by 0.2 mm). Among passing plans with margin >= M* - D, in this order:
//   1. least greatest |spacing - wanted| of neighbouring terminals, in steps of 0.05 mm
//   2. least (greatest minus least) sheet total over the gaps between cells
//   3. least excess of the greatest sheet total at a wall over the greatest between cells
//      (else the evenest plan piles a dozen shims against one wall)
//   4. smaller total of shims   5. fewer sheets   6. fewer kinds
//   7. lexicographically least counts, gaps from the first wall on, kit in its given order
// Pads are not sheets in 2 and 3: they lie where they must.
// Where no plan passes, the same rule over all plans that keep the hard rules, so that a
// nearest plan can be shown; its `passes` is false.
// Lengths are whole nanometres, so that ties are ties.
#pragma once

#include <compare>
#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <utility>
#include <vector>

#include "solver/count_set.hpp"

namespace stackfit {

/// Nearest whole nanometre of a length in mm.
[[nodiscard]] std::int64_t to_nm(double length_mm);

/// Constants of the rule.
inline constexpr double least_margin_window = 0.05;
inline constexpr double margin_window_thinner_mm = 0.2;
/// D at least, where plans are compared by their chance: what the draws can tell apart.
inline constexpr double least_chance_window = 0.01;
inline constexpr std::int64_t terminal_step_nm = 50'000;

struct PlanKind {
  std::int64_t thickness_nm = 0;
  int count = 0;
  bool insulates = false;
  std::vector<bool> allowed;  ///< per gap
};

struct PlanGap {
  std::int64_t fixed_nm = 0;      ///< sheets that are there anyway, pads aside
  bool needs_insulation = false;  ///< due, and not met by the fixed sheets
};

struct TerminalWish {
  /// Neighbouring cells' middles apart without sheets; pads between them included.
  std::vector<std::int64_t> middles_nm;
  std::optional<std::int64_t> wanted_nm;  ///< not said: the row's own mean
};

struct PlanScore {
  double margin = 0;
  bool passes = false;
};

/// The margin is the lesser of two sides: one rises with the shims' total, one falls.
struct MarginSides {
  double rising = 0;
  double falling = 0;
};

struct PlanProblem {
  std::vector<PlanKind> kinds;
  std::vector<PlanGap> gaps;  ///< first and last are at the walls
  std::optional<TerminalWish> terminals;
  std::optional<std::int64_t> most_total_nm;  ///< only plans with no more shims than this
  /// Totals outside which no plan passes: a hint that only saves time.
  std::optional<std::pair<std::int64_t, std::int64_t>> may_pass_nm;
  std::function<PlanScore(const std::vector<int>& used)> score;
  double least_window = least_margin_window;  ///< D is never less
  /// Margin of the same vector with its total thinner by so much.
  std::function<double(const std::vector<int>& used, double thinner_mm)> margin_thinner;
  /// No less than either side of any plan with this total, each by the sheets that are kindest to
  /// it; rising must not fall with the total, falling must not rise. Not given: no bound.
  std::function<MarginSides(std::int64_t total_nm)> kindest_sides;
  /// Combinations of counts that are searched in full; tests ask for fewer.
  std::size_t most_combinations = count_box_limit;
};

/// What the rule compares, in its order (7 aside).
struct PlanRank {
  std::int64_t terminal_steps = 0;
  std::int64_t evenness_nm = 0;
  std::int64_t wall_excess_nm = 0;
  std::int64_t total_nm = 0;
  int sheets = 0;
  int kinds = 0;
  auto operator<=>(const PlanRank&) const = default;  // NOLINT(modernize-use-nullptr): a false hit
};

/// A plan's figures by full solutions.
struct PlanInFull {
  double margin = 0;
  double lowest_mpa = 0;
  double highest_mpa = 0;
};

struct ShimPlan {
  bool found = false;   ///< the hard rules can be kept at all
  bool passes = false;  ///< and the plan passes
  bool proven = true;   ///< exhaustive; false where the kit had to be cut down for size
  std::vector<std::vector<int>> counts;  ///< [gap][kind]
  std::vector<int> used;                 ///< per kind
  double margin = 0;
  double best_margin = 0;  ///< M*
  double window = 0;       ///< D
  /// No plan of the whole kit (none that passes, where this one does) has a greater margin: M*
  /// where the search was exhaustive, else by margin_bound.hpp; infinite where nothing is known.
  double margin_bound = std::numeric_limits<double>::infinity();
  PlanRank rank;
  std::optional<PlanInFull> in_full;  ///< of one that was held against them and passes
};

/// Throws std::invalid_argument when `allowed` or `middles_nm` do not match the gaps.
[[nodiscard]] ShimPlan pick_shims(const PlanProblem& problem);
/// How many of each kind are used by the plans that keep the hard rules, whether they pass or not.
/// Of a kit too large to exhaust, those of a smaller one.
[[nodiscard]] std::vector<std::vector<int>> placeable_counts(const PlanProblem& problem);
/// Whether any plan keeps the hard rules and passes; quicker than the best one.
[[nodiscard]] bool any_plan_passes(const PlanProblem& problem);

}  // namespace stackfit
