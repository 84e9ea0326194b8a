// SPDX-License-Identifier: GPL-3.0-or-later
//
// Whether a pressed row holds by friction alone when its box is shaken.
//
// For: the greatest acceleration at right angles to the row, across or upright, at which nothing
// slides, in the state of use in which the row presses least, with a friction that is safe to
// count on. Not for: acceleration along the row (its walls take that), impact, a long drive's
// settling, rods and straps as parts.
//
// Every gap carries at most mu N of shear. A stretch of the row between two gaps, of mass m, slides
// out as one piece unless
//     (mu_first + mu_last) N >= m a,
// and the row holds where every stretch does. A single cell is the shortest stretch, 2 mu N >= m a.
// The whole row between its end walls is the longest: each end carries half of it. Where friction
// is alike in all gaps the whole row decides; a slippery sheet can make a shorter one decide.
// What the sheets at a stretch's own ends weigh is counted in: they may go with it.
#pragma once

#include <optional>

#include "solver/study.hpp"

namespace stackfit {

/// Standard gravity [m/s2], by definition (3rd CGPM, 1901).
inline constexpr double standard_gravity = 9.80665;

enum class HoldRule : std::uint8_t {
  one_cell,
  whole_row,
  part_of_row  ///< between slippery gaps, or from one to an end wall
};

/// A stretch of the row and what it holds [g].
struct HeldStretch {
  HoldRule rule = HoldRule::whole_row;
  int first_cell = 0;  ///< counted from 1
  int last_cell = 0;
  double mass_kg = 0;
  double friction_sum = 0;  ///< of the two gaps it hangs between
  double holds_g = 0;
};

/// What a way of shaking asks for.
struct HoldDemand {
  double acceleration_g = 0;  ///< along the faces, weight included where nothing else carries it
  bool holds = false;
  double force_needed_n = 0;  ///< of the row, to hold by friction alone
  double missing_n = 0;       ///< what something else must carry; 0 where friction does
};

struct Hold {
  double asked_g = 0;
  StateResult lowest;   ///< the state of least force
  double friction = 0;  ///< of gaps without a slippery sheet or film
  double cell_kg = 0;
  bool cell_mass_assumed = false;
  double row_kg = 0;
  HeldStretch weakest;      ///< this one decides
  double one_cell_g = 0;    ///< the weakest single cell
  double whole_row_g = 0;   ///< between its end walls
  double holds_g = 0;       ///< across, where a floor carries the weight
  double holds_hung_g = 0;  ///< across, without a floor: the weight pulls down meanwhile
  double holds_bump_g = 0;  ///< upright, beyond the weight, without a floor; below zero: the row
                            ///< does not even hold its own weight
  HoldDemand across;        ///< missing: side blocks carry it, or side walls the cells lie against
  HoldDemand down;          ///< a bump on top of the weight; missing: the floor carries it
  HoldDemand up;  ///< thrown upwards, less the weight; missing: a strap or the lid carries it
};

/// `pressures` are those of the plan's own load of shims. Notes what it assumed in `findings`.
/// Throws std::invalid_argument for a plan that does not have the row's gaps and kit, or an
/// acceleration that is not above zero.
[[nodiscard]] Hold hold_at(const Study& study, const ShimPlan& plan, const PlanPressures& pressures,
                           double acceleration_g, Findings& findings);
/// At the acceleration of the build's order; empty where none was said.
[[nodiscard]] std::optional<Hold> hold(const Study& study, const ShimPlan& plan,
                                       const PlanPressures& pressures, Findings& findings);

}  // namespace stackfit
