// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/shim_search.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace stackfit {
namespace {

/// Patterns for one gap at a wall that are looked through one by one.
constexpr std::size_t most_wall_patterns = 4096;

/// Least index in a sorted list for which `holds` is true, given that it stays true after.
template <typename Holds>
std::size_t first_true(std::size_t count, const Holds& holds) {
  std::size_t low = 0;
  std::size_t high = 1;
  while (high < count && !holds(high - 1)) {
    low = high;
    high = std::min(count, high * 2);
  }
  high = std::min(high, count);
  while (low + 1 < high) {
    const std::size_t middle = low + (high - low) / 2;
    (holds(middle - 1) ? high : low) = middle;
  }
  return high - 1;
}

}  // namespace

/// All vectors that keep counts, places and insulation, evenness aside.
CountSet ShimSearch::reachable() {
  CountSet set = adder_.nothing();
  for (std::size_t gap = 0; gap < problem_.gaps.size(); ++gap) {
    if (problem_.gaps[gap].needs_insulation) {
      set = adder_.plus_one_of(set, patterns_.single_insulators(gap));
    }
  }
  return adder_.plus_any(std::move(set), patterns_.allowed_somewhere());
}

/// Scores the reachable vectors, by recursion over kinds with the running total pruned.
void ShimSearch::score_reachable(const CountSet& reach, bool only_passing) {
  scored_.clear();
  std::int64_t least = 0;
  std::int64_t most = problem_.most_total_nm.value_or(std::numeric_limits<std::int64_t>::max());
  if (only_passing && problem_.may_pass_nm) {
    least = problem_.may_pass_nm->first;
    most = std::min(most, problem_.may_pass_nm->second);
  }
  patterns_.for_each_vector({least, most}, [&](const std::vector<int>& used, std::int64_t total) {
    const std::size_t index = box_.index(used);
    if (!reach.contains(index)) {
      return;
    }
    const PlanScore score = problem_.score(used);
    if (score.passes || !only_passing) {
      scored_.push_back({index, total, score.margin});
    }
  });
}

/// Fills the admissible list; false where the hard rules leave nothing.
bool ShimSearch::make_admissible(const CountSet& reach, ShimPlan& plan) {
  score_reachable(reach, true);
  plan.passes = !scored_.empty();
  if (!plan.passes) {
    score_reachable(reach, false);
  }
  if (scored_.empty()) {
    return false;
  }
  const auto best =
      std::max_element(scored_.begin(), scored_.end(), [](const Scored& a, const Scored& b) {
        return a.margin != b.margin ? a.margin < b.margin : a.index > b.index;
      });
  plan.best_margin = best->margin;
  const double thinner =
      problem_.margin_thinner(box_.counts(best->index), margin_window_thinner_mm);
  plan.window = std::max(problem_.least_window, std::abs(best->margin - thinner));
  for (const Scored& scored : scored_) {
    if (scored.margin < plan.best_margin - plan.window) {
      continue;
    }
    Admissible a{scored.index, scored.total_nm, 0, 0};
    for (const int count : box_.counts(scored.index)) {
      a.sheets += count;
      a.kinds += count > 0 ? 1 : 0;
    }
    admissible_.push_back(a);
    most_admissible_nm_ = std::max(most_admissible_nm_, a.total_nm);
  }
  std::sort(admissible_.begin(), admissible_.end(), [](const Admissible& a, const Admissible& b) {
    return std::pair(a.key(), a.index) < std::pair(b.key(), b.index);
  });
  return true;
}

/// Vectors used by the gaps between cells under a limit; empty where some gap has no pattern.
std::optional<CountSet> ShimSearch::make_inner_sets(const GapLimit& limit) {
  const std::size_t last = problem_.gaps.size() - 1;
  std::vector<Patterns> patterns(last);
  if (!limit.open()) {
    for (std::size_t gap = 1; gap < last; ++gap) {
      patterns[gap] = orders_ ? orders_->for_some_pair(gap, limit, most_admissible_nm_)
                              : patterns_.within(gap, limit, most_admissible_nm_);
      if (patterns[gap].empty()) {
        return std::nullopt;
      }
    }
    if (limit.inner_total_nm && !patterns_.add_up_to(patterns, *limit.inner_total_nm)) {
      return std::nullopt;  // lengths alone rule it out: cheaper than counts
    }
  }
  CountSet set = adder_.nothing();
  for (std::size_t gap = 1; gap < last && !set.empty(); ++gap) {
    set =
        limit.open() ? with_anything(gap, std::move(set)) : adder_.plus_one_of(set, patterns[gap]);
  }
  if (orders_ && limit.terminal_steps != GapLimit::any && !set.empty()) {
    return orders_->inner(limit, most_admissible_nm_, set);
  }
  if (!limit.inner_total_nm) {
    return set;
  }
  CountSet kept = adder_.empty_set();
  const std::int64_t shims = *limit.inner_total_nm - patterns_.inner_fixed_nm();
  set.for_each([&](std::size_t index) {
    if (patterns_.total_nm(box_.counts(index)) == shims) {
      kept.insert(index);
    }
  });
  return kept;
}

const std::optional<CountSet>& ShimSearch::inner_sets(const GapLimit& limit) {
  // A handful of windows is asked again and again; beyond that memory would grow for nothing.
  // What cannot be is remembered for good.
  constexpr std::size_t most_kept = 64;
  static const std::optional<CountSet> impossible;
  GapLimit key = limit;
  key.wall_most_nm = GapLimit::any;
  if (impossible_.count(key) > 0) {
    return impossible;
  }
  const auto known = inner_.find(key);
  if (known != inner_.end()) {
    return known->second;
  }
  std::optional<CountSet> made = make_inner_sets(key);
  if (!made || made->empty()) {
    impossible_.insert(key);
    return impossible;
  }
  if (inner_.size() >= most_kept) {
    inner_.clear();
  }
  return inner_.emplace(key, std::move(made)).first->second;
}

/// One gap without limit: an insulator where due, then anything allowed there. Quicker than
/// listing every pattern.
CountSet ShimSearch::with_anything(std::size_t gap, CountSet set) {
  if (problem_.gaps[gap].needs_insulation) {
    set = adder_.plus_one_of(set, patterns_.single_insulators(gap));
  }
  return adder_.plus_any(std::move(set), patterns_.allowed_in(gap));
}

CountSet ShimSearch::with_ends(CountSet inner, const GapLimit& limit) {
  const GapLimit wall = limit.at_wall();
  for (const std::size_t gap : {std::size_t{0}, problem_.gaps.size() - 1}) {
    if (wall.open()) {
      inner = with_anything(gap, std::move(inner));
      continue;
    }
    const Patterns patterns = patterns_.within(gap, wall, most_admissible_nm_);
    if (patterns.size() > most_wall_patterns) {
      // Too many ways to fill one gap: the pile at the wall is then not held to the limit.
      exhaustive_ = false;
      inner = with_anything(gap, std::move(inner));
    } else {
      inner = adder_.plus_one_of(inner, patterns);
    }
  }
  return inner;
}

/// The best admissible vectors under one limit, offered. The inner gaps' sets are kept: the same
/// window is asked again for every level of the walls.
void ShimSearch::offer_best(const GapLimit& limit, LevelBest& best, bool any_will_do) {
  if (any_will_do && best.found()) {
    return;
  }
  const std::optional<CountSet>& inner = inner_sets(limit);
  if (!inner) {
    return;
  }
  const CountSet used = with_ends(*inner, limit);
  bool first = true;
  std::tuple<std::int64_t, int, int> key;
  for (const Admissible& candidate : admissible_) {
    if (!first && candidate.key() != key) {
      break;
    }
    if (best.found() && candidate.key() > best.vectors.front().key()) {
      break;
    }
    if (!used.contains(candidate.index)) {
      continue;
    }
    first = false;
    key = candidate.key();
    best.offer(limit, candidate);
  }
}

/// Inner totals to try: all attainable ones where the wish is the row's own mean, else one
/// "any" entry.
std::vector<std::optional<std::int64_t>> ShimSearch::inner_totals() const {
  const bool by_mean = problem_.terminals && !problem_.terminals->wanted_nm;
  if (!by_mean || problem_.gaps.size() < 3) {
    return {std::nullopt};
  }
  std::vector<std::optional<std::int64_t>> totals;
  for (const std::int64_t sum : patterns_.attainable(most_admissible_nm_)) {
    totals.emplace_back(sum + patterns_.inner_fixed_nm());
  }
  return totals;
}

LevelBest ShimSearch::try_limit(const GapLimit& level, bool any_will_do) {
  LevelBest best;
  for (const auto& total : inner_totals()) {
    GapLimit limit = level;
    limit.inner_total_nm = total;
    offer_best(limit, best, any_will_do);
  }
  return best;
}

std::int64_t ShimSearch::least_terminal_steps() {
  if (!problem_.terminals || problem_.gaps.size() < 3) {
    return GapLimit::any;
  }
  const auto most =
      static_cast<std::size_t>(orders_ ? orders_->most_steps(most_admissible_nm_)
                                       : patterns_.most_steps(inner_totals(), most_admissible_nm_));
  return static_cast<std::int64_t>(first_true(most + 1, [&](std::size_t steps) {
    GapLimit limit;
    limit.terminal_steps = static_cast<std::int64_t>(steps);
    return try_limit(limit, true).found();
  }));
}

/// The best under a terminal level with an unevenness and a pile at a wall no greater than these.
LevelBest ShimSearch::under(const Levels& levels, bool any_will_do) {
  LevelBest best;
  GapLimit limit;
  limit.terminal_steps = levels.terminal_steps;
  const auto gaps_between = static_cast<std::int64_t>(problem_.gaps.size()) - 2;
  for (const std::int64_t low : patterns_.gap_totals(most_admissible_nm_)) {
    const std::int64_t least = patterns_.least_shims_nm(low);
    if (least > most_admissible_nm_) {
      break;
    }
    if (best.found() && (any_will_do || least > best.vectors.front().total_nm)) {
      break;
    }
    limit.low_nm = low;
    limit.high_nm = low + levels.evenness_nm;
    if (levels.wall_excess_nm != GapLimit::any) {
      limit.wall_most_nm = limit.high_nm + levels.wall_excess_nm;
    }
    for (const auto& total : inner_totals()) {
      if (total &&
          (*total < gaps_between * limit.low_nm || *total > gaps_between * limit.high_nm)) {
        continue;  // gaps within the window cannot add up to it
      }
      limit.inner_total_nm = total;
      offer_best(limit, best, any_will_do);
    }
  }
  return best;
}

/// The least level that leaves something to choose. Levels are differences of sheet totals, so
/// only multiples of what divides all thicknesses are asked.
void ShimSearch::settle(std::int64_t most_nm, std::int64_t Levels::*level, Levels& levels) {
  const std::int64_t unit = patterns_.common_divisor_nm();
  const auto count = static_cast<std::size_t>(most_nm / unit) + 1;
  const std::size_t least = first_true(count, [&](std::size_t i) {
    levels.*level = unit * static_cast<std::int64_t>(i);
    return under(levels, true).found();
  });
  levels.*level = unit * static_cast<std::int64_t>(least);
}

/// Least unevenness between the cells, then least pile at a wall.
Levels ShimSearch::evenest(std::int64_t terminal_steps) {
  Levels levels{terminal_steps, 0, GapLimit::any};
  // No two gaps can differ by more than all shims and the fixed sheets together.
  const std::int64_t most = most_admissible_nm_ + patterns_.most_fixed_nm();
  if (problem_.gaps.size() >= 4) {  // with fewer there is one gap between cells, or none
    settle(most, &Levels::evenness_nm, levels);
  }
  if (problem_.gaps.size() >= 3) {
    settle(most, &Levels::wall_excess_nm, levels);
  }
  return levels;
}

/// Rule 7 over every vector and window that tie in rules 1 to 6.
void ShimSearch::place(const LevelBest& best, ShimPlan& plan) {
  for (const auto& [limit, vector] : best.placings) {
    auto counts = place_least(problem_, limit, box_.counts(vector.index));
    if (!counts) {
      continue;
    }
    if (plan.counts.empty() || *counts < plan.counts) {
      plan.counts = std::move(*counts);
      plan.used = box_.counts(vector.index);
    }
  }
}

PlanRank ShimSearch::rank_of(const Levels& levels, const Admissible& chosen) {
  const auto or_zero = [](std::int64_t level) { return level == GapLimit::any ? 0 : level; };
  return {or_zero(levels.terminal_steps),
          levels.evenness_nm,
          or_zero(levels.wall_excess_nm),
          chosen.total_nm,
          chosen.sheets,
          chosen.kinds};
}

ShimPlan ShimSearch::run() {
  ShimPlan plan;
  const CountSet reach = reachable();
  if (!make_admissible(reach, plan)) {
    return plan;
  }
  const Levels levels = evenest(least_terminal_steps());
  const LevelBest best = under(levels, false);
  if (!best.found()) {
    return plan;
  }
  place(best, plan);
  if (plan.counts.empty()) {
    // Only where the pile at a wall was not held to its limit: placed without one.
    Levels open = levels;
    open.wall_excess_nm = GapLimit::any;
    place(under(open, false), plan);
  }
  plan.proven = exhaustive_;
  plan.found = !plan.counts.empty();
  plan.margin = problem_.score(plan.used).margin;
  plan.rank = rank_of(levels, best.vectors.front());
  return plan;
}

/// What the gaps between cells may use of a candidate when those at the walls take the rest.
CountSet ShimSearch::inner_of(const GapLimit& limit, const Admissible& candidate) {
  CountSet found = adder_.empty_set();
  const std::optional<CountSet>& inner = inner_sets(limit);
  if (!inner) {
    return found;
  }
  const CountSet ends = with_ends(adder_.nothing(), limit);
  const std::vector<int> all = box_.counts(candidate.index);
  inner->for_each([&](std::size_t index) {
    std::vector<int> rest = all;
    const std::vector<int> used = box_.counts(index);
    for (std::size_t kind = 0; kind < rest.size(); ++kind) {
      rest[kind] -= used[kind];
    }
    if (box_.holds(rest) && ends.contains(box_.index(rest))) {
      found.insert(index);
    }
  });
  return found;
}

OrderBound ShimSearch::over_orders() {
  OrderBound bound;
  ShimPlan plan;
  const CountSet reach = reachable();
  if (!make_admissible(reach, plan) || !plan.passes ||
      !orders_->can_be_exhausted(most_admissible_nm_)) {
    return bound;
  }
  const Levels levels = evenest(least_terminal_steps());
  const LevelBest best = under(levels, false);
  if (!best.found()) {
    return bound;
  }
  bound.found = true;
  bound.rank = rank_of(levels, best.vectors.front());
  std::optional<MovedOrder> least;
  for (const auto& [limit, vector] : best.placings) {
    auto order = orders_->least_moved(limit, most_admissible_nm_, inner_of(limit, vector));
    if (order && (!least || *order < *least)) {
      least = std::move(order);
    }
  }
  if (least) {
    bound.order = std::move(least->order);
  }
  return bound;
}

}  // namespace stackfit
