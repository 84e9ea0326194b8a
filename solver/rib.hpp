// SPDX-License-Identifier: GPL-3.0-or-later
//
// A flat bar on edge across a wall: how stiff the two are together.
//
// For: end walls with ribs (wall_modes.hpp, row_ribs.cpp) and the stress in them (wall_result.cpp).
// A bar that is stitch-welded bends with a strip of the wall as one piece, about the neutral line
// of both. How wide a strip: in a wide sheet that a bar of span L pulls along by a moment like half
// a sine wave, 4 L / (pi (3 + 2 nu - nu^2)) = 0.36 L (Th. von Karman, "Die mittragende Breite", in:
// Beitraege zur technischen Mechanik, Springer 1924, 114-127; S. Timoshenko, J. N. Goodier, "Theory
// of Elasticity", effective width of wide beam flanges; both from memory, and found again by the
// series of tests/reference/ribbed_plates.py). The assumed share of the span is smaller, the soft
// side; the strip is never wider than the wall that falls to the bar, and counts without the help
// of what lies beside it (E, not E/(1 - nu^2)).
// Left out, on the soft side: the bar's twist, and all of its pull where the wall stretches.
// Not for: bars so thin and high that they fall over, and welds too weak to hold.
#pragma once

#include "solver/plate.hpp"

namespace stackfit {

struct RibSection {
  double thickness_mm = 0;
  double height_mm = 0;  ///< how far it stands off the wall
  double modulus_mpa = 0;
  double flange_mm = 0;  ///< width of wall that bends with it as one piece; 0: none, bar by itself

  friend bool operator==(const RibSection&, const RibSection&) = default;
};

struct RibBending {
  double stiffness_n_mm2 = 0;  ///< on top of the wall's own
  double outer_mm = 0;         ///< from the neutral line to the bar's outer edge
  double wall_mm = 0;          ///< from the neutral line to the wall's middle plane
};

/// On a wall of this section.
[[nodiscard]] RibBending rib_bending(const RibSection& rib, const PlateSection& wall);

}  // namespace stackfit
