// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the gaps between cells can use where the cells may stand in any order, and the order that
// moves the fewest of them. Internal to the shim search.
//
// Dynamic programming over (which cells stand already, which of them stands last): how many do
// is the place of the next gap, so pads, fixed sheets and places of shims may differ from gap to
// gap. Each state holds the set of what the gaps so far can have used (the ledger):
//   by counts  the vector of pieces of each kind: exact;
//   by totals  only their thickness together, where the states are too many for vectors. Then
//              more seems possible than is: what follows is a bound, and the plan that is found
//              must show that the counts on hand reach it (they do not bind).
// Only for terminals with a wanted spacing: with the row's own mean as the wish no gap can be
// judged before the whole row stands.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "solver/count_set.hpp"
#include "solver/order_ledger.hpp"
#include "solver/order_plan.hpp"
#include "solver/shim_patterns.hpp"
#include "solver/shim_plan.hpp"

namespace stackfit {

class OrderSets {
 public:
  OrderSets(const PlanProblem& problem, const MovableCells& cells, const CountBox& box,
            const GapPatterns& patterns, LedgerBy ledger);

  /// Whether the states can be held at all, where no plan has more shims than this.
  [[nodiscard]] bool can_be_exhausted(std::int64_t most_shims_nm) const;
  /// Of the vectors in `among`, those that the gaps between cells can use under a limit in some
  /// order; by totals perhaps some more.
  [[nodiscard]] CountSet inner(const GapLimit& limit, std::int64_t most_shims_nm,
                               const CountSet& among) const;
  /// Patterns that some pair of cells could have in a gap.
  [[nodiscard]] Patterns for_some_pair(std::size_t gap, const GapLimit& limit,
                                       std::int64_t most_shims_nm) const;
  /// The most terminal steps that some pair can be off.
  [[nodiscard]] std::int64_t most_steps(std::int64_t most_shims_nm) const;
  /// The order with the fewest cells moved, then lexicographically least, whose gaps use one of
  /// the `targets`. Empty where there is none, or where the table would be too large.
  [[nodiscard]] std::optional<MovedOrder> least_moved(const GapLimit& limit,
                                                      std::int64_t most_shims_nm,
                                                      const CountSet& targets) const;

 private:
  struct Ledger;
  [[nodiscard]] Ledger ledger(const GapLimit& limit, std::int64_t most_shims_nm) const;
  void fill_by_counts(const std::vector<Patterns>& by_gap, Ledger& ledger) const;
  void fill_by_totals(const std::vector<Patterns>& by_gap, std::int64_t most_shims_nm,
                      Ledger& ledger) const;
  void allow_pairs(const GapLimit& limit, Ledger& ledger) const;
  [[nodiscard]] std::optional<std::size_t> bit_of(std::size_t index, const Ledger& ledger) const;
  [[nodiscard]] std::vector<std::uint64_t> room_for(const std::vector<int>& pattern) const;
  [[nodiscard]] std::int64_t steps(std::size_t place, std::size_t a, std::size_t b,
                                   std::int64_t gap_total_nm) const;

  const PlanProblem& problem_;
  const MovableCells& cells_;
  const CountBox& box_;
  const GapPatterns& patterns_;
  std::int64_t unit_nm_ = 1;  ///< divides every thickness of the kit
  bool by_counts_ = true;
};

}  // namespace stackfit
