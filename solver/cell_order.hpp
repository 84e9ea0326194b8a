// SPDX-License-Identifier: GPL-3.0-or-later
//
// Which cell goes where: the order of a row's cells along the gaps it has.
//
// For: even terminal spacing, by thick (domed) cells beside thin sheets, and domes that do not
// face each other.
// Not for: pressure. In columns along the row only sums count, so no order changes a pressure;
// where two domes face each other a row that shears would press harder in the middle than the
// columns know, so keeping them apart is the careful side, no more.
//
// The rule, each number tested against all orders:
//   1. least greatest |spacing - wanted| of neighbouring terminals, in steps of 0.05 mm; where no
//      spacing is wanted, against the order's own mean
//   2. least greatest sum of the swelling of two neighbours, in steps of 0.05 mm
//   3. fewest cells that change their place
//   4. least in lexicographic order of the places
// Exact up to `exact_up_to` cells; beyond, the best that exchanges of two cells find.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace stackfit {

inline constexpr std::size_t exact_up_to = 8;
inline constexpr double order_step_mm = 0.05;
/// Cells are not moved about for less.
inline constexpr double worth_moving_mm = 0.1;

struct OrderCell {
  std::string id;
  double thickness_mm = 0;  ///< free, mean over the face
  double swelling_mm = 0;   ///< dome beyond its slack; negative where hollow
};

struct OrderQuestion {
  std::vector<OrderCell> cells;  ///< as they stand
  std::vector<double> gap_mm;    ///< one more than cells: all that lies there, unsqueezed
  std::optional<double> wanted_spacing_mm;
  int parallel = 1;
};

struct OrderedPlace {
  std::size_t cell = 0;         ///< of the question's, from 0
  bool plus_near_side = false;  ///< in this place: groups in series are turned about
};

struct OrderFigures {
  double deviation_mm = 0;  ///< greatest of a terminal spacing from the wanted one or the mean
  double facing_swelling_mm = 0;  ///< greatest sum of two neighbours
};

struct CellOrder {
  std::vector<OrderedPlace> places;  ///< from the first wall on
  OrderFigures before;
  OrderFigures after;
  int moved = 0;               ///< cells that change their place
  bool proven = false;         ///< no order is better by the rule; else best found
  bool worth_it = false;       ///< 1 or 2 better by `worth_moving_mm`
  bool groups_change = false;  ///< cells change their parallel group: match capacities first
};

/// Throws std::invalid_argument unless there is a cell, one more gap than cells, and a parallel
/// count of at least one.
[[nodiscard]] CellOrder order_cells(const OrderQuestion& question);

/// The figures of one order, given as cells from the first wall on.
[[nodiscard]] OrderFigures figures_of(const OrderQuestion& question,
                                      const std::vector<std::size_t>& order);

}  // namespace stackfit
