// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/order_plan.hpp"

#include <algorithm>
#include <cstdlib>
#include <limits>
#include <numeric>
#include <set>
#include <stdexcept>
#include <tuple>
#include <utility>

namespace stackfit {
namespace {

using Order = std::vector<std::size_t>;
using Totals = std::vector<std::int64_t>;  // ascending

Order as_given(std::size_t cells) {
  Order order(cells);
  std::iota(order.begin(), order.end(), std::size_t{0});
  return order;
}

int moved_in(const Order& order) {
  int moved = 0;
  for (std::size_t place = 0; place < order.size(); ++place) {
    moved += order[place] != place ? 1 : 0;
  }
  return moved;
}

void require_sound(const PlanProblem& problem, const MovableCells& cells) {
  if (!problem.terminals || cells.cell_nm.size() < 2 ||
      cells.cell_nm.size() + 1 != problem.gaps.size() ||
      cells.pads_nm.size() + 1 != cells.cell_nm.size()) {
    throw std::invalid_argument(
        "an order needs terminals, two cells or more, and one distance for each neighbouring pair");
  }
}

ShimPlan plan_in(const PlanProblem& problem, const MovableCells& cells, const Order& order) {
  PlanProblem ordered = problem;
  ordered.terminals->middles_nm = cells.middles_nm(order);
  return pick_shims(ordered);
}

/// Totals that a gap can have, fixed sheets included, counts aside but for what one gap may hold.
Totals gap_totals(const PlanProblem& problem, std::size_t gap, std::int64_t most_nm) {
  std::set<std::int64_t> bare{0};
  std::set<std::int64_t> sums;  // with an insulating sheet where one is due
  const PlanGap& g = problem.gaps[gap];
  const auto add = [most_nm](const std::set<std::int64_t>& from, const PlanKind& kind, int least,
                             std::set<std::int64_t>& to) {
    for (const std::int64_t sum : from) {
      for (int count = least; count <= kind.count; ++count) {
        const std::int64_t next = sum + count * kind.thickness_nm;
        if (next > most_nm) {
          break;
        }
        to.insert(next);
      }
    }
  };
  for (const PlanKind& kind : problem.kinds) {
    if (!kind.allowed[gap]) {
      continue;
    }
    std::set<std::int64_t> more = sums;
    add(sums, kind, 0, more);
    if (kind.insulates) {
      add(bare, kind, 1, more);
    }
    std::set<std::int64_t> more_bare = bare;
    add(bare, kind, 0, more_bare);
    sums = std::move(more);
    bare = std::move(more_bare);
  }
  Totals out;
  for (const std::int64_t sum : g.needs_insulation ? sums : bare) {
    out.push_back(g.fixed_nm + sum);
  }
  return out;
}

std::int64_t most_shims(const PlanProblem& problem) {
  std::int64_t most = 0;
  for (const PlanKind& kind : problem.kinds) {
    most += kind.count * kind.thickness_nm;
  }
  if (problem.may_pass_nm) {
    most = std::min(most, std::max<std::int64_t>(0, problem.may_pass_nm->second));
  }
  return std::min(most, problem.most_total_nm.value_or(most));
}

std::vector<Totals> all_gap_totals(const PlanProblem& problem, std::int64_t most_nm) {
  std::vector<Totals> totals;
  for (std::size_t gap = 1; gap + 1 < problem.gaps.size(); ++gap) {
    totals.push_back(gap_totals(problem, gap, most_nm));
  }
  return totals;
}

/// The total nearest to `wanted`, by how far it is off.
std::int64_t nearest_off(const Totals& totals, std::int64_t wanted) {
  std::int64_t off = std::numeric_limits<std::int64_t>::max();
  const auto above = std::lower_bound(totals.begin(), totals.end(), wanted);
  if (above != totals.end()) {
    off = *above - wanted;
  }
  if (above != totals.begin()) {
    off = std::min(off, wanted - *std::prev(above));
  }
  return off;
}

// --- a bound by neighbours ------------------------------------------------------------------

/// Whether cells that may stand beside each other where `beside` says so could make one row:
/// each has a neighbour, at most two have only one, and all hang together.
bool may_be_a_row(const std::vector<std::vector<bool>>& beside) {
  const std::size_t n = beside.size();
  int with_one = 0;
  for (const std::vector<bool>& of_cell : beside) {
    const auto neighbours = std::count(of_cell.begin(), of_cell.end(), true);
    if (neighbours == 0) {
      return false;
    }
    with_one += neighbours == 1 ? 1 : 0;
  }
  std::vector<bool> reached(n, false);
  std::vector<std::size_t> open{0};
  reached[0] = true;
  while (!open.empty()) {
    const std::size_t cell = open.back();
    open.pop_back();
    for (std::size_t other = 0; other < n; ++other) {
      if (beside[cell][other] && !reached[other]) {
        reached[other] = true;
        open.push_back(other);
      }
    }
  }
  return with_one <= 2 && std::find(reached.begin(), reached.end(), false) == reached.end();
}

/// Least distance of each pair's spacing from a wanted one, whichever gap and total.
class PairsOff {
 public:
  PairsOff(const PlanProblem& problem, const MovableCells& cells)
      : cells_(cells), totals_(all_gap_totals(problem, most_shims(problem))) {
    for (std::size_t place = 0; place < totals_.size(); ++place) {
      for (std::int64_t& total : totals_[place]) {
        total += cells.pads_nm[place];
      }
    }
    std::sort(totals_.begin(), totals_.end());
    totals_.erase(std::unique(totals_.begin(), totals_.end()), totals_.end());
  }

  /// Least distance below which the cells cannot make a row.
  [[nodiscard]] std::int64_t least(std::int64_t wanted_nm) const {
    const std::size_t n = cells_.cell_nm.size();
    std::vector<std::vector<std::int64_t>> off(n, std::vector<std::int64_t>(n));
    std::set<std::int64_t> values;
    for (std::size_t a = 0; a < n; ++a) {
      for (std::size_t b = a + 1; b < n; ++b) {
        off[a][b] = off[b][a] = pair_off(a, b, wanted_nm);
        values.insert(off[a][b]);
      }
    }
    const std::vector<std::int64_t> sorted(values.begin(), values.end());
    const auto holds = [&](std::int64_t most) {
      std::vector<std::vector<bool>> beside(n, std::vector<bool>(n, false));
      for (std::size_t a = 0; a < n; ++a) {
        for (std::size_t b = 0; b < n; ++b) {
          beside[a][b] = a != b && off[a][b] <= most;
        }
      }
      return may_be_a_row(beside);
    };
    std::size_t low = 0;
    std::size_t high = sorted.size() - 1;  // at the greatest every pair is allowed
    while (low < high) {
      const std::size_t middle = low + (high - low) / 2;
      if (holds(sorted[middle])) {
        high = middle;
      } else {
        low = middle + 1;
      }
    }
    return sorted[low];
  }

  [[nodiscard]] std::pair<std::int64_t, std::int64_t> spacings() const {
    const auto [thin, thick] = std::minmax_element(cells_.cell_nm.begin(), cells_.cell_nm.end());
    std::int64_t low = std::numeric_limits<std::int64_t>::max();
    std::int64_t high = 0;
    for (const Totals& totals : totals_) {
      if (!totals.empty()) {
        low = std::min(low, totals.front());
        high = std::max(high, totals.back());
      }
    }
    return {*thin + low, *thick + high};
  }

  [[nodiscard]] bool possible() const {
    return std::none_of(totals_.begin(), totals_.end(),
                        [](const Totals& totals) { return totals.empty(); });
  }

 private:
  [[nodiscard]] std::int64_t pair_off(std::size_t a, std::size_t b, std::int64_t wanted_nm) const {
    const std::int64_t middle = (cells_.cell_nm[a] + cells_.cell_nm[b] + 1) / 2;
    std::int64_t off = std::numeric_limits<std::int64_t>::max();
    for (const Totals& totals : totals_) {
      off = std::min(off, nearest_off(totals, wanted_nm - middle));
    }
    return off;
  }

  const MovableCells& cells_;
  std::vector<Totals> totals_;  // pads included; gaps that are alike once
};

// --- exchanges ------------------------------------------------------------------------------

/// How good an order may be, by gap totals alone: the least terminal steps by which the gaps'
/// least totals together are not too much, and the unevenness that then cannot be avoided.
struct QuickRank {
  std::int64_t steps = 0;
  std::int64_t uneven_nm = 0;
  int moved = 0;
  Order order;
  auto operator<=>(const QuickRank&) const = default;  // NOLINT(modernize-use-nullptr): a false hit
};

class Exchanges {
 public:
  /// `wanted_nm`: as said, or the mean of the plan that the order given has.
  Exchanges(const PlanProblem& problem, const MovableCells& cells, std::int64_t wanted_nm)
      : cells_(cells),
        wanted_nm_(wanted_nm),
        most_nm_(most_shims(problem)),
        totals_(all_gap_totals(problem, most_nm_)) {
    for (std::size_t gap = 1; gap + 1 < problem.gaps.size(); ++gap) {
      most_nm_ += problem.gaps[gap].fixed_nm;
    }
  }

  /// The best exchange of two cells, again and again until none helps or enough were tried.
  [[nodiscard]] Order improved(const Order& start) {
    QuickRank best = rank(start);
    for (bool better = true; better && tried_ < most_tried;) {
      better = false;
      const Order from = best.order;
      for (std::size_t i = 0; i < from.size(); ++i) {
        for (std::size_t j = i + 1; j < from.size() && tried_ < most_tried; ++j) {
          if (cells_.cell_nm[from[i]] == cells_.cell_nm[from[j]]) {
            continue;
          }
          Order other = from;
          std::swap(other[i], other[j]);
          QuickRank now = rank(other);
          if (now < best) {
            best = std::move(now);
            better = true;
          }
        }
      }
    }
    return best.order;
  }

 private:
  static constexpr int most_tried = 20000;  // about a second for rows of some dozen cells

  /// Least and greatest total of a gap within so many steps; empty where there is none.
  [[nodiscard]] std::optional<std::pair<std::int64_t, std::int64_t>> within(
      std::size_t place, std::int64_t middle_nm, std::int64_t steps) const {
    const std::int64_t off = (steps + 1) * terminal_step_nm - 1;
    const Totals& totals = totals_[place];
    const auto low = std::lower_bound(totals.begin(), totals.end(), wanted_nm_ - middle_nm - off);
    const auto high = std::upper_bound(low, totals.end(), wanted_nm_ - middle_nm + off);
    if (low == high) {
      return std::nullopt;
    }
    return std::pair(*low, *std::prev(high));
  }

  /// The unevenness that cannot be avoided within so many steps; empty where they are too few.
  [[nodiscard]] std::optional<std::int64_t> uneven(const Totals& middles,
                                                   std::int64_t steps) const {
    std::int64_t sum = 0;
    std::int64_t greatest_least = 0;
    std::int64_t least_greatest = std::numeric_limits<std::int64_t>::max();
    for (std::size_t place = 0; place < middles.size(); ++place) {
      const auto span = within(place, middles[place], steps);
      if (!span) {
        return std::nullopt;
      }
      sum += span->first;
      greatest_least = std::max(greatest_least, span->first);
      least_greatest = std::min(least_greatest, span->second);
    }
    if (sum > most_nm_) {
      return std::nullopt;
    }
    return std::max<std::int64_t>(0, greatest_least - least_greatest);
  }

  [[nodiscard]] QuickRank rank(const Order& order) {
    ++tried_;
    const Totals middles = cells_.middles_nm(order);
    constexpr std::int64_t most_steps = 4096;  // 20 cm
    std::int64_t low = 0;
    std::int64_t high = most_steps;
    while (low < high) {
      const std::int64_t middle = low + (high - low) / 2;
      if (uneven(middles, middle)) {
        high = middle;
      } else {
        low = middle + 1;
      }
    }
    return {low, uneven(middles, low).value_or(0), moved_in(order), order};
  }

  const MovableCells& cells_;
  std::int64_t wanted_nm_;
  std::int64_t most_nm_;  // fixed sheets included
  std::vector<Totals> totals_;
  int tried_ = 0;
};

/// Spacings of a plan that lies in an order, and their mean.
std::int64_t mean_spacing(const PlanProblem& problem, const MovableCells& cells, const Order& order,
                          const ShimPlan& plan) {
  const Totals middles = cells.middles_nm(order);
  std::int64_t sum = 0;
  for (std::size_t place = 0; place < middles.size(); ++place) {
    sum += middles[place] + problem.gaps[place + 1].fixed_nm;
    for (std::size_t kind = 0; kind < problem.kinds.size(); ++kind) {
      sum += plan.counts[place + 1][kind] * problem.kinds[kind].thickness_nm;
    }
  }
  return sum / static_cast<std::int64_t>(middles.size());
}

/// Takes an order if its own best plan is better than the one at hand.
void offer(const PlanProblem& problem, const MovableCells& cells, const Order& order,
           OrderChoice& choice) {
  ShimPlan plan = plan_in(problem, cells, order);
  const int moved = moved_in(order);
  if (plan.found && plan.passes &&
      std::tie(plan.rank, moved, order) < std::tie(choice.plan.rank, choice.moved, choice.order)) {
    choice.plan = std::move(plan);
    choice.moved = moved;
    choice.order = order;
  }
}

void exchange(const PlanProblem& problem, const MovableCells& cells, const Order& other,
              OrderChoice& choice) {
  const std::int64_t wanted = problem.terminals->wanted_nm.value_or(
      mean_spacing(problem, cells, choice.order, choice.plan));
  for (const Order& start : {as_given(cells.cell_nm.size()), other}) {
    if (!start.empty()) {
      offer(problem, cells, Exchanges(problem, cells, wanted).improved(start), choice);
    }
  }
}

}  // namespace

std::vector<std::int64_t> MovableCells::middles_nm(const std::vector<std::size_t>& order) const {
  std::vector<std::int64_t> middles;
  for (std::size_t place = 0; place + 1 < order.size(); ++place) {
    middles.push_back(middle_nm(place, order[place], order[place + 1]));
  }
  return middles;
}

std::int64_t neighbours_bound(const PlanProblem& problem, const MovableCells& cells) {
  require_sound(problem, cells);
  const PairsOff pairs(problem, cells);
  if (!pairs.possible()) {
    return 0;
  }
  if (problem.terminals->wanted_nm) {
    return pairs.least(*problem.terminals->wanted_nm) / terminal_step_nm;
  }
  // Whatever the mean is, it lies within half a raster of one that is tried.
  constexpr std::int64_t raster_nm = 20'000;
  const auto [low, high] = pairs.spacings();
  std::int64_t least = std::numeric_limits<std::int64_t>::max();
  for (std::int64_t mean = low; mean <= high + raster_nm && least > 0; mean += raster_nm) {
    least = std::min(least, std::max<std::int64_t>(0, pairs.least(mean) - raster_nm / 2));
  }
  return least / terminal_step_nm;
}

OrderChoice pick_order(const PlanProblem& problem, const MovableCells& cells, LedgerBy ledger) {
  require_sound(problem, cells);
  OrderChoice choice;
  choice.order = as_given(cells.cell_nm.size());
  choice.given = plan_in(problem, cells, choice.order);
  choice.plan = choice.given;
  if (!choice.given.found || !choice.given.passes) {
    return choice;
  }
  const OrderBound bound = bound_over_orders(problem, cells, ledger);
  choice.bound_steps = bound.found ? bound.rank.terminal_steps : neighbours_bound(problem, cells);
  const auto reached = [&] { return bound.found && choice.plan.rank == bound.rank; };
  if (!reached() && !bound.order.empty()) {
    offer(problem, cells, bound.order, choice);
  }
  choice.proven = reached();
  choice.fewest_moved = reached();
  if (!reached()) {
    exchange(problem, cells, bound.order, choice);
    choice.proven = reached();
  }
  return choice;
}

}  // namespace stackfit
