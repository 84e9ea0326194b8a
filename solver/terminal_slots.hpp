// SPDX-License-Identifier: GPL-3.0-or-later
//
// Terminals against the holes and slots of their bus bars: as built, and over the swing.
//
// For: whether each bar goes on, how long a slot would have to be, how far neighbouring terminals
// move against each other in use, and where a bar must give. These are flags: no verdict rests
// on them.
// Not for: bars over more than two cells (the distances from the first cell tell), stress in the
// terminals, forces in a bar.
//
// A terminal stands at the middle of its cell's thickness. In every state each part has the
// thickness that charge, heat, age and the row's force leave it, and the parts are laid one after
// the other from the inner face of the first wall, where that then stands. Left out: how far that
// wall itself bows, which moves all cells alike; the unevenness of pressure over a face (the mean
// counts, of domes too, as if they were spread over the face); where cells lie in a row that has
// come loose.
//
// A bar has one round hole and one slot, or two round holes where no slot is said. Each screw may
// stand off by half of what its opening is wider, so the pair may be off the bar's spacing by
//     play = (hole - screw)/2 + (slot - screw)/2
// either way. Nuts then hold the bar tight: what the terminals move afterwards pulls at them.
#pragma once

#include <optional>
#include <vector>

#include "solver/study.hpp"

namespace stackfit {

/// How far two screws may be off the bar's spacing [mm], either way. Empty unless hole and screw
/// are known; negative where a screw does not enter its opening.
[[nodiscard]] std::optional<double> bar_play_mm(const Terminals& terminals);

struct TerminalState {
  StateResult state;              ///< which one, its force and its room where loose
  std::vector<double> middle_mm;  ///< of each cell, from the first wall's inner face
  std::vector<double> spacing_mm;
  double row_mm = 0;  ///< from wall to wall: all parts as they are then
};

struct TerminalPair {
  int cell = 0;  ///< number of the first of the two, counted from 1
  double built_mm = 0;
  double deviation_mm = 0;      ///< as built less wanted
  std::optional<bool> goes_on;  ///< as built, within the play; empty: hole or screw not known
  std::optional<bool> goes_on_always;  ///< in every state: a bar taken off goes on again
  double least_mm = 0;                 ///< spacing over all states and as built
  double greatest_mm = 0;
  double movement_mm = 0;  ///< the most from as built, either way
  bool flexible_due = false;
};

struct TerminalSlots {
  double wanted_mm = 0;
  bool wanted_said = false;  ///< else the mean of the row as built
  std::optional<double> play_mm;
  TerminalState built;
  std::vector<TerminalState> states;  ///< the required ones
  std::vector<TerminalPair> pairs;
  std::vector<double> from_first_mm;  ///< as built: each cell's distance less that wanted
  std::size_t worst_pair = 0;         ///< index of the greatest deviation as built
  std::size_t most_moving = 0;        ///< index of the greatest movement
  double movement_from_first_mm = 0;  ///< the most of any cell against the first, from as built
  /// Slot by which the worst pair goes on as built, and in every state; the other opening a round
  /// hole as said, or without play. Empty: screw not known.
  std::optional<double> slot_needed_mm;
  std::optional<double> slot_needed_always_mm;
  double rigid_movement_mm = 0;  ///< what a rigid bar bears
  bool flexible_due = false;     ///< of any pair
  bool flexible_said = false;
  bool comes_loose = false;  ///< in some state: cells may lie anywhere in the room left
};

/// Empty for a row of one cell. `pressures` are those of the plan's own load of shims; the figure
/// for rigid bars is noted in `findings`. Throws std::invalid_argument for a plan that does not
/// have the row's gaps and kit.
[[nodiscard]] std::optional<TerminalSlots> terminal_slots(const Study& study, const ShimPlan& plan,
                                                          const PlanPressures& pressures,
                                                          Findings& findings);

}  // namespace stackfit
