// SPDX-License-Identifier: GPL-3.0-or-later
//
// How flat a set of points is, and how thick: the least distance between two parallel planes
// that hold them all between them.
//
// For: readings over a cell's face. Minimum-zone flatness (ISO 1101) of one face; with the points
// of both faces in one coordinate system, what two flat boards would read.
// Not for: the height or shape of a dome (solver/dome_fit.hpp), or what lies between the points.
//
// What can be relied on, each with its test:
//  1. Coordinates are rounded to `flatness_grid_mm`; from there on the width is exact but for the
//     rounding of its root (CGAL's Width_3 on whole numbers).
//  2. Fewer than four points, points on one line and points in one plane have no width: 0.
//  3. Turning or moving the points does not change it; it grows with their scale.
//  4. It is never more than the points' extent in any direction.
#pragma once

#include <optional>
#include <vector>

namespace stackfit::geometry {

/// 2^-40 mm, a billionth of a thousandth: no reading has as many digits.
inline constexpr double flatness_grid_mm = 0x1p-40;

/// No bench reaches further.
inline constexpr double farthest_point_mm = 65'536;

struct SpacePoint {
  double x_mm = 0;
  double y_mm = 0;
  double z_mm = 0;
};

/// Two parallel planes: their distance, and the direction across them, of length 1 and with the
/// first component that is not zero from z over y to x positive. Points without a width lie in a
/// plane: then it is the normal of that plane, and (0, 0, 1) where they lie on a line too.
struct Width {
  double width_mm = 0;
  SpacePoint across{0, 0, 1};
};

/// Throws std::invalid_argument for a coordinate that is no number or beyond farthest_point_mm.
[[nodiscard]] Width width_of(const std::vector<SpacePoint>& points);

/// Minimum-zone flatness [mm] of one face's points (ISO 1101).
[[nodiscard]] double flatness_mm(const std::vector<SpacePoint>& points);

/// What two flat boards read over both faces' points [mm], all in one coordinate system whose z
/// runs across the cell. Boards lie on the faces: empty where the planes found lean by more than
/// `board_tilt_deg`, since the points then reach less far over the face than the cell is thick.
inline constexpr double board_tilt_deg = 20;
[[nodiscard]] std::optional<double> envelope_thickness_mm(const std::vector<SpacePoint>& front,
                                                          const std::vector<SpacePoint>& back);

}  // namespace stackfit::geometry
