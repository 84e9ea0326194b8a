// SPDX-License-Identifier: GPL-3.0-or-later
//
// A pile of cells into packs of equally many, matched in capacity and in the length of the row.
//
// What is best, in this order, each before the next:
//   1. every pack's row is as long as a kit can shim (where lengths are given)
//   2. least greatest spread of capacity within a pack (greatest less least, mAh): in a series
//      string the weakest cell limits all (where capacities are compared)
//   3. least difference of the packs' row lengths (longest less shortest, um)
//   4. cells in the order of capacity, thickness and id: the first found of equals
// Thickness is whole micrometres, capacity whole mAh, so that ties are ties. The pile may hold
// more cells than the packs need: the rest is left over.
//
// For: thicknesses and capacities -> packs, what was reached, what cannot be beaten, and whether
// the two meet. Small piles are searched through; large ones are exchanged between packs until
// nothing gains, and what is known about the best possible stands beside what was found.
// Contract, each tested: 1 packs are disjoint and of the size asked; 2 no bound is above what is
// found, nor above what any other sorting reaches; 3 the order of the pile changes nothing, other
// ids change no figure.
// Not for: which cells may be used at all (condition.hpp), or shims (sort_packs.hpp).
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace stackfit {

struct SortCell {
  std::string id;  ///< each its own
  std::int64_t thickness_um = 0;
  std::int64_t capacity_mah = 0;  ///< not looked at unless `by_capacity`
};

/// Both ends belong to it.
struct LengthSpanUm {
  std::int64_t low = 0;
  std::int64_t high = 0;
};

/// Steps of the search through small piles, together: about half a second.
inline constexpr std::int64_t sort_search_steps = 30'000'000;

struct SortProblem {
  std::vector<SortCell> cells;
  int packs = 1;
  int cells_each = 1;
  bool by_capacity = false;
  /// Sums of thickness that can be shimmed, rising and apart; not said: all can.
  std::optional<std::vector<LengthSpanUm>> shimmable;
  std::int64_t search_steps = sort_search_steps;
};

/// What was found, and what no sorting can go below.
struct SortFigure {
  std::int64_t found = 0;
  std::int64_t bound = 0;
  [[nodiscard]] bool proven() const { return found == bound; }
};

/// Whether every row can be as long as the kit shims.
enum class SortShims : std::uint8_t {
  all,         ///< every pack's is
  none_found,  ///< not every pack's is, and no better sorting was found
  none_exists  ///< and there is none
};

struct SortResult {
  SortShims shims = SortShims::none_found;
  /// Places in the problem's cells; packs by the id of their first cell, cells by id.
  std::vector<std::vector<std::size_t>> packs;
  std::vector<std::size_t> left_over;  ///< by id
  SortFigure spread_mah;
  /// Its bound is that of packs with no greater spread than the one found.
  SortFigure difference_um;
  bool searched_through = false;  ///< all sortings were gone through, or a bound was met

  /// No sorting is better by 1, 2 and 3.
  [[nodiscard]] bool proven() const {
    return shims == SortShims::all && spread_mah.proven() && difference_um.proven();
  }
};

/// Throws std::invalid_argument for packs or cells_each below 1, or fewer cells than they need.
[[nodiscard]] SortResult sort_cells(const SortProblem& problem);

/// `A2` before `A10`: digits count as numbers.
[[nodiscard]] bool id_before(std::string_view left, std::string_view right);

}  // namespace stackfit
