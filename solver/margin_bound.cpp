// SPDX-License-Identifier: GPL-3.0-or-later
//
// Why it is a bound. Let t be the total of any plan that keeps the hard rules, in whole nanometres:
// least <= t <= most below. Its margin is min(r, f) with r <= rising(t) and f <= falling(t), by
// what the problem promises of its kindest sides. Take any x:
//   t >= x:  margin <= f <= falling(t) <= falling(x), as falling does not rise;
//   t <  x:  margin <= r <= rising(t) <= rising(x - 1), as rising does not fall.
// So max(rising(x - 1), falling(x)) bounds every plan, for every x; where no t lies on one side of
// x, that side is left out. It is least where the sides cross, and halving finds that place: were
// it found badly, the bound would be wide, never wrong.
#include "solver/margin_bound.hpp"

#include <algorithm>
#include <cstdint>

namespace stackfit {
namespace {

bool usable(const PlanKind& kind) {
  return kind.count > 0 &&
         std::find(kind.allowed.begin(), kind.allowed.end(), true) != kind.allowed.end();
}

/// The thinnest insulator in every gap where one is due, counts aside; empty where one has none.
std::optional<std::int64_t> least_total_nm(const PlanProblem& problem) {
  std::int64_t total = 0;
  for (std::size_t gap = 0; gap < problem.gaps.size(); ++gap) {
    if (!problem.gaps[gap].needs_insulation) {
      continue;
    }
    std::optional<std::int64_t> thinnest;
    for (const PlanKind& kind : problem.kinds) {
      if (kind.insulates && kind.count > 0 && kind.allowed[gap]) {
        thinnest = std::min(thinnest.value_or(kind.thickness_nm), kind.thickness_nm);
      }
    }
    if (!thinnest) {
      return std::nullopt;
    }
    total += *thinnest;
  }
  return total;
}

std::int64_t most_total_nm(const PlanProblem& problem) {
  std::int64_t total = 0;
  for (const PlanKind& kind : problem.kinds) {
    total += usable(kind) ? kind.count * kind.thickness_nm : 0;
  }
  return std::min(total, problem.most_total_nm.value_or(total));
}

}  // namespace

double margin_bound(const PlanProblem& problem) {
  if (!problem.kindest_sides) {
    return infinite_margin;
  }
  const std::optional<std::int64_t> least = least_total_nm(problem);
  const std::int64_t most = most_total_nm(problem);
  if (!least || *least > most) {
    return -infinite_margin;
  }
  // The first total at which the rising side is the greater one; most + 1 stands for none.
  std::int64_t low = *least;
  std::int64_t high = most + 1;
  while (low < high) {
    const std::int64_t middle = low + (high - low) / 2;
    const MarginSides sides = problem.kindest_sides(middle);
    if (sides.rising >= sides.falling) {
      high = middle;
    } else {
      low = middle + 1;
    }
  }
  const double below = high > *least ? problem.kindest_sides(high - 1).rising : -infinite_margin;
  const double above = high <= most ? problem.kindest_sides(high).falling : -infinite_margin;
  return std::max(below, above);
}

}  // namespace stackfit
