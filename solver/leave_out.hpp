// SPDX-License-Identifier: GPL-3.0-or-later
//
// What leaving cells out makes of a battery: voltages, the old charger, groups of unlike size.
//
// For: cells set aside. Not for: which cells those are (condition.hpp), or shims: a gap is filled
// by a block or a like cell.
#pragma once

#include <optional>
#include <vector>

#include "solver/assumptions.hpp"
#include "solver/build.hpp"
#include "solver/findings.hpp"

namespace stackfit {

struct PackAsked {
  std::optional<int> series;    ///< groups in series, as said; the cells divide by it
  std::optional<int> parallel;  ///< cells of each group, as said
  Chemistry chemistry = Chemistry::lfp_graphite;
  std::optional<double> charger_v;  ///< charge voltage of the old charger
};

/// A group of parallel cells that keeps some of its cells.
struct ShortGroup {
  int group = 0;  ///< from 1, in the order of the list
  int left = 0;   ///< cells
};

/// Voltages of so many groups in series.
struct PackVoltages {
  int series = 0;
  double nominal_v = 0;
  double charge_v = 0;  ///< of a charger for it
};

struct LeftOut {
  int cells = 0;
  int left = 0;
  bool series_said = false;  ///< false: no voltage below is known
  bool charger_said = false;
  int parallel = 1;
  PackVoltages before;
  PackVoltages after;             ///< groups without a cell gone; series 0: nothing is left
  double cell_charge_v = 0;       ///< highest charge voltage of one cell
  double charger_v = 0;           ///< of the old charger: as said, or that of `before`
  double charger_per_cell_v = 0;  ///< what it would do to each cell of `after`
  bool charger_too_high = false;
  std::vector<ShortGroup> short_groups;
  double capacity_left = 1;  ///< of the whole string, by its smallest group: part of before
  double current_up = 1;     ///< current of each cell of the smallest group, times before
};

/// `leave[i]`: cell i of the list goes out. Groups are neighbours in the list. None where no cell
/// goes.
[[nodiscard]] std::optional<LeftOut> leave_out(const std::vector<bool>& leave,
                                               const PackAsked& asked,
                                               const Assumptions& assumptions, Findings& findings);

}  // namespace stackfit
