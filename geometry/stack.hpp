// SPDX-License-Identifier: GPL-3.0-or-later
//
// The row along its axis z: every part's place, free length, room, interference and the
// places of the terminals, free of squeeze.
//
// For: bookkeeping of lengths. Not for: forces (solver) or outlines in the face plane
// (outline.hpp).
#pragma once

#include <cstddef>
#include <vector>

namespace stackfit::geometry {

/// Parts in order from the first wall: gap 0, cell 0, gap 1, cell 1, ..., gap n.
struct StackLengths {
  std::vector<double> cell_mm;   ///< n free cell thicknesses
  std::vector<double> sheet_mm;  ///< n + 1 totals of sheets per gap
  double inner_length_mm = 0;    ///< wall to wall
};

struct PlacedPart {
  double from_mm = 0;  ///< z of the face nearer the first wall
  double to_mm = 0;
};

struct StackLayout {
  std::vector<PlacedPart> cells;
  std::vector<PlacedPart> gaps;
  double free_length_mm = 0;   ///< everything in the row, unsqueezed
  double interference_mm = 0;  ///< free length minus inner length; negative is loose
  /// Middles of neighbouring cells apart, free of squeeze [mm]; n - 1 values.
  std::vector<double> terminal_spacing_mm;
};

/// Stacks the parts from z = 0, the inner face of the first wall.
/// Throws std::invalid_argument when there is no cell, when there is not one more gap than
/// cells, or when a length is negative or not finite.
[[nodiscard]] StackLayout lay_out(const StackLengths& lengths);

}  // namespace stackfit::geometry
