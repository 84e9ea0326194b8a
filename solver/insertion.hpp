// SPDX-License-Identifier: GPL-3.0-or-later
//
// Getting the last piece in: what it takes by hand, and the ways out where a hand is too weak.
#pragma once

#include <vector>

#include "solver/answer.hpp"
#include "solver/findings.hpp"
#include "solver/row_model.hpp"

namespace stackfit {

/// How the row is to be closed, resolved from what was said.
struct InsertionRules {
  BuildMethod method = BuildMethod::hand;
  bool method_said = false;
  bool slip_film = false;
  bool opens_said = false;
  bool wall_opens = false;
  double friction = 0;        ///< static, of one face the last cell slides past
  double friction_other = 0;  ///< and of the other
  int last_cell = 0;          ///< by hand: the one that goes in last, counted from 1
  double friction_dry = 0;    ///< static, of a face without film
  double friction_film = 0;   ///< the same with a slip film
  double slide_clearance_mm = 0;
  double push_limit_n = 0;
  double weight_n = 0;       ///< of one cell; 0 where its mass was not said
  double lowest_charge = 0;  ///< not to be gone below for the sake of an easier build

  /// Push [N] to slide a cell down between two faces pressed by `force_n`: (mu1 + mu2) N - m g.
  [[nodiscard]] double push_n(double force_n) const;
  /// Pull [N] to draw it out again: (mu1 + mu2) N + m g.
  [[nodiscard]] double draw_out_n(double force_n) const;
  /// Sum of both faces' friction.
  [[nodiscard]] double friction_sum() const { return friction + friction_other; }
  /// Greatest force as built [N] that the method allows; infinite unless it is by hand.
  [[nodiscard]] double build_force_cap_n() const;
};

/// Friction is that of a slip film where the film is said, or where the gap beside the last cell
/// holds a sheet with a slippery face whichever plan is chosen. The last cell is the one with the
/// least friction by that, of those between two others; of equal ones the nearest to the middle.
[[nodiscard]] InsertionRules resolve_insertion(const Build& build, const Row& row,
                                               const Assumptions& assumptions, Findings& findings);

/// The same once a plan is known: the last cell is the one whose two gaps, as filled, slide best.
/// Its friction is never more than before, so what passed without a plan still does.
/// `counts`: per gap, of each kind of the kit.
[[nodiscard]] InsertionRules with_plan(InsertionRules rules, const Row& row,
                                       const std::vector<std::vector<int>>& counts);

/// The interior cell nearest to the middle of a row, counted from 1: the last one by hand where all
/// gaps slide alike; with fewer than three cells the last of the row, against a wall.
[[nodiscard]] int last_cell_by_hand(std::size_t cells);

/// Whether the method can be carried out with this load of shims.
[[nodiscard]] bool method_holds(const InsertionRules& rules, const RowModel& model,
                                const ShimLoad& load);

/// Forces of the chosen method and, where a hand fails, the ways out in the order to try them.
[[nodiscard]] InsertionResult assess_insertion(const InsertionRules& rules, const RowModel& model,
                                               const ShimLoad& load);

}  // namespace stackfit
