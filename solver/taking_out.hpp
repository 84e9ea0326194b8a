// SPDX-License-Identifier: GPL-3.0-or-later
//
// Getting a cell out of a row as it stands today: by hand, at which charge, or by opening it.
//
// For: what `check` says of a box that has been in use, and of one that has become a press.
// Not for: getting the last piece in (insertion.hpp).
// What it promises (numbers are those of taking_out_test.cpp):
//   1. The pull is (mu1 + mu2) N + m g at today's force; what a hand may do is `push_limit`. A slip
//      film that was not laid at the build cannot be laid now.
//   2. A charge is offered only if on the way to it the row never presses harder than today, and
//      never one below the lowest allowed, nor a higher one where a cell is set aside.
//   3. The force that comes free is the force of the row as it stands today, and the row springs
//      back by what all its parts give at that force.
// The lid is taken off first and is not in any of these figures.
#pragma once

#include <cstdint>
#include <optional>

#include "solver/study.hpp"

namespace stackfit {

enum class WayToOpen : std::uint8_t {
  draw_out,            ///< a hand can draw a cell out today
  draw_out_at_charge,  ///< and at another charge only
  end_wall,            ///< clamps on first, then the screws a turn each
  frame_nuts,          ///< a clamp frame: the nuts a turn each, in rotation
  nothing_opens
};

/// Drawing one cell out at one charge.
struct DrawOut {
  double charge = 0;
  double face_pressure_mpa = 0;
  double force_n = 0;  ///< on the whole face
  double pull_n = 0;
};

struct TakingOut {
  WayToOpen way = WayToOpen::nothing_opens;
  StateResult today;
  bool press = false;  ///< today it presses above the band or the limit
  DrawOut at_today;
  double pull_limit_n = 0;
  double friction = 0;  ///< of one face of the cell, and of the other
  double friction_other = 0;
  double lowest_charge = 0;  ///< not to be gone below for the sake of it
  /// The charge nearest to today's, lower ones first, at which a hand can do it; never where a
  /// cell shows a sign, which is neither charged nor discharged.
  std::optional<DrawOut> at_charge;
  bool charge_barred = false;   ///< by such a cell
  bool discharge_only = false;  ///< a cell is set aside: the row is not charged for this
  DrawOut easiest;              ///< of the charges that may be gone to: where it presses least
  bool opens_said = false;
  bool wall_opens = false;
  double released_force_n = 0;
  /// With the squeeze law soft and stiff, where it is assumed: clamps are made for the greater.
  std::optional<Span> released_span_n;
  double spring_back_mm = 0;  ///< of row, sheets, pads and walls together
  RowGive give;
  int rods = 0;              ///< of a clamp frame
  double turns_to_free = 0;  ///< of each of its nuts, until nothing is pressed

  /// What clamps must hold.
  [[nodiscard]] double most_released_n() const {
    return released_span_n ? released_span_n->high : released_force_n;
  }
};

/// The build as it stands today: at the charge and temperature of the readings, its lid off.
[[nodiscard]] Build as_it_stands(Build build);

/// `today` is a study of such a build; `set_aside` whether a cell of it is, for whatever reason.
[[nodiscard]] TakingOut assess_taking_out(const Study& today, const ShimLoad& placed,
                                          bool set_aside = false);

}  // namespace stackfit
