// SPDX-License-Identifier: GPL-3.0-or-later
//
// The states of order_sets.hpp: which cells stand already and which of them stands last, each
// with the ledger of what the gaps so far can have used. Internal to the shim search.
//
// A ledger is a bit string; what one gap uses is a shift by `offset`, allowed where `room` says
// that no digit of a count vector would run over.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace stackfit {

/// An order of cells, and how many of them it takes from their place.
struct MovedOrder {
  int moved = 0;
  std::vector<std::size_t> order;  ///< cells from the first wall on, from 0
  auto operator<=>(const MovedOrder&) const =
      default;  // NOLINT(modernize-use-nullptr): a false hit
};

/// What one gap may use.
struct LedgerStep {
  std::size_t offset = 0;
  std::vector<std::uint64_t> room;  ///< bits that may be moved; as wide as the ledger
};

struct LedgerProblem {
  std::size_t cells = 0;
  std::size_t bits = 1;                        ///< of the ledger
  std::vector<std::vector<LedgerStep>> steps;  ///< [place of the gap between cells, from 0]
  /// Which of them two neighbours allow: [place][a * cells + b].
  std::vector<std::vector<std::vector<std::uint16_t>>> allowed;
};

/// 64-bit words that all states need for their ledgers.
[[nodiscard]] std::size_t ledger_words(std::size_t cells, std::size_t bits);
/// What all gaps together can have used, over all orders; bits of the ledger.
[[nodiscard]] std::vector<std::uint64_t> used_over_orders(const LedgerProblem& problem);
/// The order with the fewest cells moved, then lexicographically least, by which the ledger may
/// end in one of the `targets`. A table of one byte for each state and bit.
[[nodiscard]] std::optional<MovedOrder> least_moved_order(
    const LedgerProblem& problem, const std::vector<std::uint64_t>& targets);

}  // namespace stackfit
