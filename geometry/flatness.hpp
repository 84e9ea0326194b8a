// SPDX-License-Identifier: GPL-3.0-or-later
//
// How flat a measured face is, and how thick a body is between two parallel planes.
//
// For: readings of a face as points in space. Both are the width of a set of points: the least
// distance between two parallel planes that hold all of them between them.
// Not for: the shape of a dome (solver/dome_fit.hpp).
#pragma once

#include <vector>

namespace stackfit::geometry {

struct SpacePoint {
  double x_mm = 0;
  double y_mm = 0;
  double z_mm = 0;
};

/// Least distance [mm] between two parallel planes that hold all points between them: the
/// minimum-zone flatness of ISO 1101 where the points are readings of one face, the envelope
/// thickness where they are those of both faces. Exact (rational arithmetic) up to its last square
/// root. Fewer than four points, and points that lie in one plane, have no width: 0.
/// Throws std::invalid_argument where a coordinate is not finite.
[[nodiscard]] double width_mm(const std::vector<SpacePoint>& points);

}  // namespace stackfit::geometry
