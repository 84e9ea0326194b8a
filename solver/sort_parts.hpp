// SPDX-License-Identifier: GPL-3.0-or-later
//
// A pile in one order, and the steps of sorting it.
//
// For: sort_*.cpp only. Cells are called by their place in that order here.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "solver/sort_cells.hpp"

namespace stackfit::sorting {

using Um = std::int64_t;
using Mah = std::int64_t;
using Packs = std::vector<std::vector<int>>;

/// Longer than any row, and small enough to be summed up over all packs.
inline constexpr Um endless_um = 100'000'000'000'000;

/// By capacity, then thickness, then id; without capacities all of them are 0.
struct Pile {
  std::vector<Um> t;
  std::vector<Mah> c;
  int packs = 1;
  int each = 1;
  std::vector<LengthSpanUm> shimmable;  ///< one endless span where all lengths are
  Um step = 0;  ///< sums of packs differ by whole steps; 0: all cells are alike

  [[nodiscard]] int size() const { return static_cast<int>(t.size()); }
  [[nodiscard]] int spare() const { return size() - packs * each; }
  [[nodiscard]] bool same(int a, int b) const {
    const auto i = static_cast<std::size_t>(a);
    const auto j = static_cast<std::size_t>(b);
    return t[i] == t[j] && c[i] == c[j];
  }
  [[nodiscard]] Um thickness(int cell) const { return t[static_cast<std::size_t>(cell)]; }
  [[nodiscard]] Mah capacity(int cell) const { return c[static_cast<std::size_t>(cell)]; }
  /// How far a row is from the nearest length that can be shimmed.
  [[nodiscard]] Um from_shimmable(Um length) const;
  [[nodiscard]] Um row(const std::vector<int>& pack) const;
};

/// Longest less shortest row.
[[nodiscard]] Um difference(const Pile& pile, const Packs& packs);
/// Greatest spread of capacity within a pack.
[[nodiscard]] Mah spread(const Pile& pile, const Packs& packs);

// sort_bounds.cpp
/// The least spread with which the packs can be filled, whatever their lengths: exact.
[[nodiscard]] Mah least_spread(const Pile& pile);
/// Packs of cells next to one another in capacity, none spread wider; empty where there are none.
[[nodiscard]] Packs runs_within(const Pile& pile, Mah spread);
/// No packs with no greater spread differ less in length.
[[nodiscard]] Um difference_bound(const Pile& pile, Mah spread);
/// The totals alone leave no way for every row to be shimmed.
[[nodiscard]] bool never_shimmable(const Pile& pile);

// sort_exchange.cpp
struct Exchanged {
  Packs packs;
  Um outside = 0;  ///< how far rows are from what can be shimmed, together
};
enum class ExchangeUntil : std::uint8_t { shimmable, even };
/// Good packs with no greater spread, by exchanges; `looks` left are counted down.
[[nodiscard]] Exchanged exchange(const Pile& pile, Mah spread, ExchangeUntil until,
                                 std::int64_t& looks);

// sort_search.cpp
struct Searched {
  Packs packs;             ///< empty: none found
  bool exhausted = false;  ///< there is none better than those found (or given as known)
};
struct SearchAsked {
  Mah spread = 0;
  std::optional<Um> below;  ///< only packs that differ by less than this
  Um good_enough = 0;       ///< a difference that cannot be beaten: the search ends there
};
/// Goes through the sortings; `steps` left are counted down.
[[nodiscard]] Searched search(const Pile& pile, const SearchAsked& asked, std::int64_t& steps);

}  // namespace stackfit::sorting
