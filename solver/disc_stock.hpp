// SPDX-License-Identifier: GPL-3.0-or-later
//
// Disc springs that are sold for rods M4 to M16.
//
// For: choosing the springs of a frame (frame_springs.hpp).
// Not for: their law (springs.hpp), discs above 31.5 mm or with contact flats.
#pragma once

#include <span>

#include "solver/build.hpp"

namespace stackfit {

struct DiscSize {
  char series = 'A';  ///< by h0/t: A about 0.4, B about 0.75, C about 1.3
  double outer_mm = 0;
  double inner_mm = 0;
  double thickness_mm = 0;
  double cone_height_mm = 0;  ///< h0
};

/// Series A, B and C of DIN EN 16983 (formerly DIN 2093), smallest first in each; from memory.
/// A and B stand in public copies of the table too; the forces that the table prints for all
/// three at 0.75 h0, as remembered, agree with these sizes by the formula of springs.hpp.
[[nodiscard]] std::span<const DiscSize> disc_stock();

/// Whether a disc sits on a rod by itself: over the thread with a little play, not so much that
/// the stack wanders off the rod's middle.
[[nodiscard]] bool disc_suits(const DiscSize& disc, double thread_mm);

/// Mass of one disc [g], cone and corners taken for a flat ring of steel.
[[nodiscard]] double disc_mass_g(const DiscSize& disc);

/// So many of them on a rod.
[[nodiscard]] DiscSprings springs_of(const DiscSize& disc, int parallel, int series);

}  // namespace stackfit
