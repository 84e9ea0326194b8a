// SPDX-License-Identifier: GPL-3.0-or-later
//
// Getting the last piece in: what it takes by hand, and the ways out where a hand is too weak.
#pragma once

#include "solver/answer.hpp"
#include "solver/findings.hpp"
#include "solver/row_model.hpp"

namespace stackfit {

/// How the row is to be closed, resolved from what was said.
struct InsertionRules {
  BuildMethod method = BuildMethod::hand;
  bool method_said = false;
  bool wall_opens = false;
  double friction = 0;       ///< static, of each of the two faces a cell slides past
  double friction_film = 0;  ///< the same with a slip film
  double push_limit_n = 0;
  double weight_n = 0;       ///< of one cell; 0 where its mass was not said
  double lowest_charge = 0;  ///< not to be gone below for the sake of an easier build

  /// Push [N] to slide a cell down between two faces pressed by `force_n`: (mu1 + mu2) N - m g.
  [[nodiscard]] double push_n(double force_n) const;
  /// Pull [N] to draw it out again: (mu1 + mu2) N + m g.
  [[nodiscard]] double draw_out_n(double force_n) const;
  /// Greatest force as built [N] that the method allows; infinite unless it is by hand.
  [[nodiscard]] double build_force_cap_n() const;
};

/// Friction is that of a slip film where the film is said, or where every gap between cells
/// holds a sheet with a slippery face whichever plan is chosen.
[[nodiscard]] InsertionRules resolve_insertion(const Build& build, const Row& row,
                                               const Assumptions& assumptions, Findings& findings);

/// The cell that goes in last by hand, counted from 1: between two others, as near the middle as
/// can be. 0 where there are fewer than three.
[[nodiscard]] int last_cell_by_hand(std::size_t cells);

/// Forces of the chosen method and, where a hand fails, the ways out in the order to try them.
[[nodiscard]] InsertionResult assess_insertion(const InsertionRules& rules, const RowModel& model,
                                               const ShimLoad& load);

}  // namespace stackfit
