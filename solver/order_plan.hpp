// SPDX-License-Identifier: GPL-3.0-or-later
//
// The order of the cells and the places of the shims, chosen together.
//
// For: cells that may change places, so that the terminals meet their bus bars.
// Not for: pressure, which no order changes (only sums count), and swollen cells in a box as it
// is (cell_order.hpp, sheets lying where they lie).
//
// The rule is that of shim_plan.hpp, 1 to 6, over all orders; then
//   a. the fewest cells moved from their place;
//   b. the lexicographically least order;
// then 7 of shim_plan.hpp. So the order given stays where moving gains nothing.
//
// Proven up to `most_exhausted_cells` where a spacing is wanted and shim counts do not bind: where
// the pieces on hand allow the rank that would be best if only their thickness together counted.
// This is checked: the chosen order's own best plan, pieces counted, has that rank. A few cells are
// exhausted with pieces counted, and then nothing can bind.
// Elsewhere the best that exchanges of two cells find, and a bound: no order has a deviation below
// `bound_steps`, because some cell would find no neighbours, or the cells would fall apart into
// sets that cannot stand in one row.
#pragma once

#include <cstdint>
#include <vector>

#include "solver/shim_plan.hpp"

namespace stackfit {

/// Most cells whose orders are exhausted: there are n 2^(n-1) states.
inline constexpr std::size_t most_exhausted_cells = 16;

/// Cells that may stand in any order; for these TerminalWish::middles_nm follows from the order.
struct MovableCells {
  std::vector<std::int64_t> cell_nm;  ///< thickness of each, in the order given
  std::vector<std::int64_t> pads_nm;  ///< between neighbouring places, one fewer

  /// Middles of two neighbours apart, at the `place`-th gap between cells (from 0), without sheets.
  [[nodiscard]] std::int64_t middle_nm(std::size_t place, std::size_t a, std::size_t b) const {
    return (cell_nm[a] + cell_nm[b] + 1) / 2 + pads_nm[place];
  }
  [[nodiscard]] std::vector<std::int64_t> middles_nm(const std::vector<std::size_t>& order) const;
};

/// What the dynamic programming knows of the gaps so far (order_sets.hpp).
enum class LedgerBy : std::uint8_t {
  what_fits,  ///< pieces of each kind where the states are few enough, else as below
  totals      ///< their thickness together, even where pieces could be counted: for tests
};

struct OrderChoice {
  std::vector<std::size_t> order;  ///< cells from the first wall on, from 0, as given
  int moved = 0;
  ShimPlan plan;                 ///< of that order
  ShimPlan given;                ///< of the order given
  bool proven = false;           ///< by rules 1 to 6
  bool fewest_moved = false;     ///< and by a and b
  std::int64_t bound_steps = 0;  ///< rule 1: none is below, of any order
};

/// `problem` has terminals. Throws std::invalid_argument for fewer than two cells, or where sizes
/// do not match the gaps.
[[nodiscard]] OrderChoice pick_order(const PlanProblem& problem, const MovableCells& cells,
                                     LedgerBy ledger = LedgerBy::what_fits);

/// The rank that no order and no placing can better, with an order that may have it.
struct OrderBound {
  bool found = false;  ///< else the orders cannot be exhausted, or no plan passes
  PlanRank rank;
  /// By a and b the first of those that may have the rank; empty where that table is too large.
  std::vector<std::size_t> order;
};
/// Not where no spacing is wanted, of more cells than `most_exhausted_cells`, or where the kit has
/// more combinations than are searched exhaustively.
[[nodiscard]] OrderBound bound_over_orders(const PlanProblem& problem, const MovableCells& cells,
                                           LedgerBy ledger = LedgerBy::what_fits);

/// Terminal steps below which no order can come, by neighbours alone: see above.
[[nodiscard]] std::int64_t neighbours_bound(const PlanProblem& problem, const MovableCells& cells);

}  // namespace stackfit
