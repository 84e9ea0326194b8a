// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/shim_patterns.hpp"

#include <algorithm>
#include <cstdlib>
#include <map>
#include <numeric>
#include <set>

namespace stackfit {

std::vector<std::vector<int>> GapPatterns::single_insulators(std::size_t gap) const {
  std::vector<std::vector<int>> found;
  for (std::size_t kind = 0; kind < problem_.kinds.size(); ++kind) {
    const PlanKind& k = problem_.kinds[kind];
    if (!k.insulates || !k.allowed[gap] || box_.cap(kind) == 0) {
      continue;
    }
    std::vector<int> one(problem_.kinds.size(), 0);
    one[kind] = 1;
    found.push_back(std::move(one));
  }
  return found;
}

std::vector<bool> GapPatterns::allowed_somewhere() const {
  std::vector<bool> found;
  for (const PlanKind& kind : problem_.kinds) {
    found.push_back(std::find(kind.allowed.begin(), kind.allowed.end(), true) !=
                    kind.allowed.end());
  }
  return found;
}

std::vector<bool> GapPatterns::allowed_in(std::size_t gap) const {
  std::vector<bool> found;
  for (const PlanKind& kind : problem_.kinds) {
    found.push_back(kind.allowed[gap]);
  }
  return found;
}

std::int64_t GapPatterns::total_nm(const std::vector<int>& counts) const {
  std::int64_t total = 0;
  for (std::size_t kind = 0; kind < counts.size(); ++kind) {
    total += counts[kind] * problem_.kinds[kind].thickness_nm;
  }
  return total;
}

std::int64_t GapPatterns::inner_fixed_nm() const {
  std::int64_t sum = 0;
  for (std::size_t gap = 1; gap + 1 < problem_.gaps.size(); ++gap) {
    sum += problem_.gaps[gap].fixed_nm;
  }
  return sum;
}

void GapPatterns::descend(std::size_t kind, const std::vector<int>& caps, const TotalSpan& span,
                          std::vector<int>& counts, std::int64_t total,
                          const VisitVector& visit) const {
  if (kind == caps.size()) {
    if (total >= span.least_nm && total <= span.most_nm) {
      visit(counts, total);
    }
    return;
  }
  std::int64_t rest = 0;
  for (std::size_t later = kind; later < caps.size(); ++later) {
    rest += caps[later] * problem_.kinds[later].thickness_nm;
  }
  if (total + rest < span.least_nm) {
    return;
  }
  for (int count = 0; count <= caps[kind]; ++count) {
    const std::int64_t sum = total + count * problem_.kinds[kind].thickness_nm;
    if (sum > span.most_nm) {
      break;
    }
    counts[kind] = count;
    descend(kind + 1, caps, span, counts, sum, visit);
  }
  counts[kind] = 0;
}

void GapPatterns::for_each_vector(const TotalSpan& span, const VisitVector& visit) const {
  std::vector<int> caps;
  for (std::size_t kind = 0; kind < box_.kinds(); ++kind) {
    caps.push_back(box_.cap(kind));
  }
  std::vector<int> counts(caps.size(), 0);
  descend(0, caps, span, counts, 0, visit);
}

/// Whole steps of the spacing from the wanted one. With the row's own mean M/m as the wish, all
/// lengths are taken m times, so that nothing is rounded.
std::int64_t GapPatterns::steps(std::size_t gap, std::int64_t gap_total_nm,
                                const GapLimit& limit) const {
  const TerminalWish& wish = *problem_.terminals;
  const std::int64_t spacing = wish.middles_nm[gap - 1] + gap_total_nm;
  if (wish.wanted_nm) {
    return std::abs(spacing - *wish.wanted_nm) / terminal_step_nm;
  }
  const auto spacings = static_cast<std::int64_t>(wish.middles_nm.size());
  std::int64_t sum = *limit.inner_total_nm;
  for (const std::int64_t middle : wish.middles_nm) {
    sum += middle;
  }
  return std::abs(spacing * spacings - sum) / (terminal_step_nm * spacings);
}

/// Totals at which a gap's spacing is within the limit's steps of the wanted one: what `steps`
/// says, solved for the total, so that no others are visited.
TotalSpan GapPatterns::within_steps(std::size_t gap, const GapLimit& limit) const {
  const TerminalWish& wish = *problem_.terminals;
  const std::int64_t middle = wish.middles_nm[gap - 1];
  const auto spacings = static_cast<std::int64_t>(wish.middles_nm.size());
  const std::int64_t times = wish.wanted_nm ? 1 : spacings;
  std::int64_t wanted = wish.wanted_nm.value_or(0);  // taken so many times
  if (!wish.wanted_nm) {
    wanted = *limit.inner_total_nm +
             std::accumulate(wish.middles_nm.begin(), wish.middles_nm.end(), std::int64_t{0});
  }
  const std::int64_t off = terminal_step_nm * times * (limit.terminal_steps + 1) - 1;
  // Lengths below zero never come up: rounding towards zero is rounding down from there on.
  const std::int64_t least = std::max<std::int64_t>(0, wanted - off);
  return {(least + times - 1) / times - middle, (wanted + off) / times - middle};
}

std::vector<std::vector<int>> GapPatterns::within(std::size_t gap, const GapLimit& limit,
                                                  std::int64_t most_shims_nm) const {
  const std::int64_t fixed = problem_.gaps[gap].fixed_nm;
  TotalSpan span{std::max<std::int64_t>(0, limit.low_nm - fixed), most_shims_nm};
  if (limit.high_nm != GapLimit::any) {
    span.most_nm = std::min(span.most_nm, limit.high_nm - fixed);
  }
  if (limit.terminal_steps != GapLimit::any) {
    const TotalSpan steps = within_steps(gap, limit);
    span.least_nm = std::max(span.least_nm, steps.least_nm - fixed);
    span.most_nm = std::min(span.most_nm, steps.most_nm - fixed);
  }
  std::vector<int> caps;
  for (std::size_t kind = 0; kind < box_.kinds(); ++kind) {
    caps.push_back(problem_.kinds[kind].allowed[gap] ? box_.cap(kind) : 0);
  }
  std::vector<std::vector<int>> found;
  std::vector<int> counts(caps.size(), 0);
  descend(0, caps, span, counts, 0, [&](const std::vector<int>& pattern, std::int64_t total) {
    if (problem_.gaps[gap].needs_insulation) {
      bool insulated = false;
      for (std::size_t kind = 0; kind < pattern.size(); ++kind) {
        insulated = insulated || (pattern[kind] > 0 && problem_.kinds[kind].insulates);
      }
      if (!insulated) {
        return;
      }
    }
    if (fixed + total < limit.low_nm) {
      return;
    }
    found.push_back(pattern);
  });
  return found;
}

std::vector<std::int64_t> GapPatterns::attainable(std::int64_t most_nm) const {
  std::set<std::int64_t> sums{0};
  for (std::size_t kind = 0; kind < box_.kinds(); ++kind) {
    std::set<std::int64_t> more = sums;
    for (const std::int64_t sum : sums) {
      for (int count = 1; count <= box_.cap(kind); ++count) {
        const std::int64_t next = sum + count * problem_.kinds[kind].thickness_nm;
        if (next > most_nm) {
          break;
        }
        more.insert(next);
      }
    }
    sums = std::move(more);
  }
  return {sums.begin(), sums.end()};
}

std::vector<std::int64_t> GapPatterns::gap_totals(std::int64_t most_shims_nm) const {
  const std::size_t last = problem_.gaps.size() - 1;
  if (last < 2) {
    return {0};  // a row of one cell has no gap between cells; one total stands for "no limit"
  }
  std::set<std::int64_t> fixed;
  for (std::size_t gap = 1; gap < last; ++gap) {
    fixed.insert(problem_.gaps[gap].fixed_nm);
  }
  std::set<std::int64_t> totals;
  for (const std::int64_t sum : attainable(most_shims_nm)) {
    for (const std::int64_t sheet : fixed) {
      totals.insert(sheet + sum);
    }
  }
  return {totals.begin(), totals.end()};
}

bool GapPatterns::add_up_to(const std::vector<Patterns>& by_gap,
                            std::int64_t inner_total_nm) const {
  const std::int64_t wanted = inner_total_nm - inner_fixed_nm();
  const std::int64_t unit = common_divisor_nm();
  if (wanted < 0 || wanted % unit != 0) {
    return false;
  }
  // Bit n: n units can be made.
  const auto size = static_cast<std::size_t>(wanted / unit) + 1;
  CountSet sums(size);
  sums.insert(0);
  for (const Patterns& patterns : by_gap) {
    if (patterns.empty()) {
      continue;  // a gap at a wall
    }
    std::set<std::size_t> steps;
    for (const std::vector<int>& pattern : patterns) {
      steps.insert(static_cast<std::size_t>(total_nm(pattern) / unit));
    }
    CountSet next(size);
    for (const std::size_t step : steps) {
      if (step < size) {
        next.insert_shifted(sums, {}, step);
      }
    }
    sums = std::move(next);
  }
  return sums.contains(size - 1);
}

std::int64_t GapPatterns::common_divisor_nm() const {
  std::int64_t divisor = 0;
  for (const PlanKind& kind : problem_.kinds) {
    divisor = std::gcd(divisor, kind.thickness_nm);
  }
  for (const PlanGap& gap : problem_.gaps) {
    divisor = std::gcd(divisor, gap.fixed_nm);
  }
  return std::max<std::int64_t>(1, divisor);
}

std::int64_t GapPatterns::most_fixed_nm() const {
  std::int64_t most = 0;
  for (const PlanGap& gap : problem_.gaps) {
    most = std::max(most, gap.fixed_nm);
  }
  return most;
}

std::int64_t GapPatterns::least_shims_nm(std::int64_t low_nm) const {
  std::int64_t sum = 0;
  for (std::size_t gap = 1; gap + 1 < problem_.gaps.size(); ++gap) {
    sum += std::max<std::int64_t>(0, low_nm - problem_.gaps[gap].fixed_nm);
  }
  return sum;
}

std::int64_t GapPatterns::most_steps(const std::vector<std::optional<std::int64_t>>& inner_totals,
                                     std::int64_t most_shims_nm) const {
  std::int64_t most = 0;
  for (const auto& total : inner_totals) {
    GapLimit limit;
    limit.inner_total_nm = total;
    for (std::size_t gap = 1; gap + 1 < problem_.gaps.size(); ++gap) {
      const std::int64_t fixed = problem_.gaps[gap].fixed_nm;
      most = std::max({most, steps(gap, fixed, limit), steps(gap, fixed + most_shims_nm, limit)});
    }
  }
  return most;
}

// --- placing --------------------------------------------------------------------------------

namespace {

/// Places one vector exactly. The box is cut down to the vector itself.
class Placing {
 public:
  Placing(const PlanProblem& problem, const GapLimit& limit, const std::vector<int>& used)
      : problem_(problem),
        limit_(limit),
        used_(used),
        box_(used),
        adder_(box_),
        patterns_(problem, box_),
        last_(problem.gaps.size() - 1) {
    for (std::size_t gap = 1; gap < last_; ++gap) {
      inner_.push_back(patterns_.within(gap, limit, patterns_.total_nm(used)));
    }
  }

  [[nodiscard]] std::optional<std::vector<std::vector<int>>> least() {
    for (std::size_t index = 0; index < box_.size(); ++index) {
      const std::vector<int> first = box_.counts(index);
      if (!end_may_hold(0, first)) {
        continue;
      }
      std::vector<int> rest = used_;
      take(first, rest);
      const std::vector<CountSet>& chain = completions(first);
      if (chain[1].contains(box_.index(rest))) {
        return follow(first, rest, chain);
      }
    }
    return std::nullopt;
  }

 private:
  static void take(const std::vector<int>& pattern, std::vector<int>& rest) {
    for (std::size_t kind = 0; kind < rest.size(); ++kind) {
      rest[kind] -= pattern[kind];
    }
  }

  [[nodiscard]] bool end_may_hold(std::size_t gap, const std::vector<int>& pattern) const {
    const PlanGap& wall = problem_.gaps[gap];
    if (limit_.wall_most_nm != GapLimit::any &&
        wall.fixed_nm + patterns_.total_nm(pattern) > limit_.wall_most_nm) {
      return false;
    }
    bool insulated = !wall.needs_insulation;
    for (std::size_t kind = 0; kind < pattern.size(); ++kind) {
      if (pattern[kind] == 0) {
        continue;
      }
      if (!problem_.kinds[kind].allowed[gap]) {
        return false;
      }
      insulated = insulated || problem_.kinds[kind].insulates;
    }
    return insulated;
  }

  /// chain[g]: the vectors that gaps g to last can take up exactly. Where the inner total is
  /// given, what the first gap takes settles what the last must take.
  [[nodiscard]] const std::vector<CountSet>& completions(const std::vector<int>& first) {
    std::int64_t last_total = GapLimit::any;
    if (limit_.inner_total_nm) {
      last_total = patterns_.total_nm(used_) - patterns_.total_nm(first) -
                   (*limit_.inner_total_nm - patterns_.inner_fixed_nm());
    }
    const auto known = chains_.find(last_total);
    if (known != chains_.end()) {
      return known->second;
    }
    std::vector<CountSet> chain(problem_.gaps.size(), adder_.empty_set());
    chain[last_] = last_gap(last_total);
    for (std::size_t gap = last_; gap-- > 1;) {
      chain[gap] = adder_.plus_one_of(chain[gap + 1], inner_[gap - 1]);
    }
    return chains_.emplace(last_total, std::move(chain)).first->second;
  }

  [[nodiscard]] CountSet last_gap(std::int64_t total_nm) {
    CountSet set = adder_.nothing();
    if (problem_.gaps[last_].needs_insulation) {
      set = adder_.plus_one_of(set, patterns_.single_insulators(last_));
    }
    set = adder_.plus_any(std::move(set), patterns_.allowed_in(last_));
    if (total_nm == GapLimit::any && limit_.wall_most_nm == GapLimit::any) {
      return set;
    }
    const std::int64_t fixed = problem_.gaps[last_].fixed_nm;
    CountSet kept = adder_.empty_set();
    set.for_each([&](std::size_t index) {
      const std::int64_t total = patterns_.total_nm(box_.counts(index));
      if (total_nm != GapLimit::any && total != total_nm) {
        return;
      }
      if (limit_.wall_most_nm != GapLimit::any && fixed + total > limit_.wall_most_nm) {
        return;
      }
      kept.insert(index);
    });
    return kept;
  }

  [[nodiscard]] std::vector<std::vector<int>> follow(const std::vector<int>& first,
                                                     std::vector<int> rest,
                                                     const std::vector<CountSet>& chain) const {
    std::vector<std::vector<int>> counts{first};
    for (std::size_t gap = 1; gap < last_; ++gap) {
      for (const std::vector<int>& pattern : inner_[gap - 1]) {
        std::vector<int> after = rest;
        take(pattern, after);
        if (!box_.holds(after) || !chain[gap + 1].contains(box_.index(after))) {
          continue;
        }
        rest = std::move(after);
        counts.push_back(pattern);
        break;
      }
    }
    counts.push_back(rest);
    return counts;
  }

  const PlanProblem& problem_;
  const GapLimit& limit_;
  const std::vector<int>& used_;
  CountBox box_;
  CountAdder adder_;
  GapPatterns patterns_;
  std::size_t last_;
  std::vector<std::vector<std::vector<int>>> inner_;
  std::map<std::int64_t, std::vector<CountSet>> chains_;
};

}  // namespace

std::optional<std::vector<std::vector<int>>> place_least(const PlanProblem& problem,
                                                         const GapLimit& limit,
                                                         const std::vector<int>& used) {
  return Placing(problem, limit, used).least();
}

}  // namespace stackfit
