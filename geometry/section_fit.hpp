// SPDX-License-Identifier: GPL-3.0-or-later
//
// Whether a body stands in a hollow's cross-section, and how far it must keep from one of two
// walls where something fills the corner between them: a bend, a weld bead.
//
// For: cells in a box: a section across or along the row, or the plan. Bends and rounded edges
// are true circles, not chords; both outlines are compared by the set operations of outline.hpp.
// Not for: lengths along the row (stack.hpp).
//
// What can be relied on, each with its test:
//  1. stands_inside: a body that only touches the hollow's boundary stands inside; one that
//     reaches over it by more than set_operation_position_error of the reach does not.
//  2. At least_standoff_mm the body stands inside; by a hundredth less, and it does not.
//  3. A larger radius, leg or clear distance never needs less; a rounder body never more.
//  4. greatest_bend_mm and greatest_bead_mm undo least_standoff_mm.
#pragma once

#include <cstdint>
#include <vector>

#include "geometry/outline.hpp"

namespace stackfit::geometry {

/// What fills the corner between two walls, the same along both.
struct CornerFill {
  double bend_mm = 0;  ///< inner radius where one wall turns into the other
  double bead_mm = 0;  ///< leg of a weld bead with a flat face; of a bulged one, of the flat face
                       ///< that lies over it
};

enum class HollowWall : std::uint8_t { left, right, lower, upper };

/// The head of a screw, or a nut, as a rectangle on a wall.
struct WallHead {
  HollowWall wall = HollowWall::left;
  double from_mm = 0;  ///< along the wall, from below or from the left
  double to_mm = 0;
  double stands_mm = 0;  ///< into the hollow
};

/// A rectangle from (0, 0) to (width, height) less what stands in it.
struct Hollow {
  double width_mm = 0;
  double height_mm = 0;
  CornerFill lower{};  ///< both lower corners
  CornerFill upper{};
  std::vector<WallHead> heads{};
};

/// Throws std::invalid_argument for a size that is not positive, a fill below zero or larger than
/// half the shorter side, a head outside its wall, or one that does not stand into the hollow.
[[nodiscard]] Outline hollow_outline(const Hollow& hollow);

/// Whether all of `body` lies in `hollow`.
[[nodiscard]] bool stands_inside(const Outline& body, const Outline& hollow);

/// The corner of a body with straight sides, and how far it must keep from everything: the
/// insulation that goes round it.
struct BodyCorner {
  double radius_mm = 0;
  double clear_mm = 0;
};

/// Least distance of the body from one wall of the corner, where it stands `other_mm` off the
/// other [mm]. Never below `clear_mm`.
/// Throws std::invalid_argument for figures below zero, or `other_mm` below `clear_mm`: then no
/// distance would do.
[[nodiscard]] double least_standoff_mm(const CornerFill& fill, double other_mm,
                                       const BodyCorner& body = {});

/// The largest bend, or bead, past which a body goes that stands so far off both walls [mm].
/// Throws std::invalid_argument for figures below zero, or a distance below `clear_mm`.
struct CornerDistances {
  double one_mm = 0;
  double other_mm = 0;
};
[[nodiscard]] double greatest_bend_mm(const CornerDistances& off, const BodyCorner& body = {});
[[nodiscard]] double greatest_bead_mm(const CornerDistances& off, const BodyCorner& body = {});

}  // namespace stackfit::geometry
