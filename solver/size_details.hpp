// SPDX-License-Identifier: GPL-3.0-or-later
//
// What follows from an order of a box beside its length: terminals, hold, mass, parts to cut.
#pragma once

#include "solver/size.hpp"

namespace stackfit {

/// `ordered` has its walls, length and kit; `section` its width and height; `length` is what is
/// offered. Notes what it assumed.
[[nodiscard]] SizeDetails detail_order(const Study& ordered, const BoxSection& section,
                                       const LengthOffer& length, double paint_mm,
                                       Findings& findings);

/// The same of a clamp frame at its force.
[[nodiscard]] SizeDetails detail_frame(const Study& ordered, const FrameOrder& frame,
                                       Findings& findings);

}  // namespace stackfit
