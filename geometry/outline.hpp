// SPDX-License-Identifier: GPL-3.0-or-later
//
// Plane outlines with straight edges and circular arcs: faces, sheets, cut-outs, walls.
//
// For: areas, centroids and second moments in closed form (Green's theorem, arcs exact), and
// the part of a face that a sheet covers (CGAL's set operations on circles and segments).
// Not for: where things stand along the row (stack.hpp).
//
// What can be relied on, each with its test:
//  1. area(A) = area(A and B) + area(A less B), within area_error_mm2.
//  2. area(A) + area(B) - area(A and B) is the same whichever comes first.
//  3. A and A is A; A less A is empty; with an empty outline nothing is covered or taken out.
//  4. Outlines that only touch, along an edge or at a point, cover nothing of each other.
//  5. Turning and shifting an outline changes neither area, perimeter nor the sum of its second
//     moments; the centroid goes along.
//  6. Travelling every loop the other way flips the sign of the area and keeps the perimeter.
#pragma once

#include <vector>

namespace stackfit::geometry {

struct Point {
  double x_mm = 0;
  double y_mm = 0;
};

/// One edge from `from` to the next edge's `from`. Straight, or an arc about `centre`, from
/// which both its ends are equally far. A loop of one arc only is the full circle.
struct Edge {
  Point from;
  bool is_arc = false;
  Point centre{};                ///< only for an arc
  bool counterclockwise = true;  ///< only for an arc: the way it is travelled
};

/// A closed chain of edges: counterclockwise for an outer boundary, clockwise for a hole.
using Loop = std::vector<Edge>;

/// Outer loops and holes, none crossing, each through a corner once at most. May be empty.
struct Outline {
  std::vector<Loop> loops;
};

struct RectangleSize {
  double width_mm = 0;   ///< along x
  double height_mm = 0;  ///< along y
  double corner_radius_mm = 0;
};

/// Second moments of area about the centroid [mm^4].
struct SecondMoments {
  double ixx_mm4 = 0;  ///< integral of y^2
  double iyy_mm4 = 0;  ///< integral of x^2
};

/// Rectangle with rounded corners about `centre`.
/// Throws std::invalid_argument for a size not finite or not above zero, or a radius not from 0 to
/// half the shorter side; one below set_operation_position_error of the reach counts as none.
[[nodiscard]] Outline rounded_rectangle(const RectangleSize& size, Point centre = {});

/// Polygon through `points` in either direction; stored counterclockwise. A point given twice
/// in a row, or the first again at the end, counts once.
/// Throws std::invalid_argument for fewer than three points, a figure that is not finite, no
/// area, or edges that cross, touch or fold back.
[[nodiscard]] Outline polygon(const std::vector<Point>& points);

/// Whether two outlines are the same figures in the same order.
[[nodiscard]] bool identical(const Outline& a, const Outline& b);

/// Area [mm^2], holes taken out; zero for an empty outline.
[[nodiscard]] double area_mm2(const Outline& outline);
/// Length of all edges, holes included [mm].
[[nodiscard]] double perimeter_mm(const Outline& outline);
/// Centroid [mm]. Throws std::invalid_argument for an outline without area.
[[nodiscard]] Point centroid_mm(const Outline& outline);
/// Second moments about the centroid. Throws as centroid_mm does.
[[nodiscard]] SecondMoments second_moments_mm4(const Outline& outline);

/// The part of the plane in both.
/// Throws std::invalid_argument for an arc whose ends are not equally far from its centre.
[[nodiscard]] Outline intersection(const Outline& a, const Outline& b);
/// The part of `a` outside `b`: cut-outs of a sheet, or a plate's bolt holes. Throws as
/// intersection does.
[[nodiscard]] Outline difference(const Outline& a, const Outline& b);

/// How far a boundary from intersection or difference may be from its exact place, as a part of
/// the operands' reach: the largest coordinate of their points and arc centres. What is
/// narrower than this is left out. Of operations one after another the errors add up. Derived in
/// outline_ops.cpp.
inline constexpr double set_operation_position_error = 0x1p-46;

/// What that comes to for the area of the result [mm^2].
[[nodiscard]] double area_error_mm2(const Outline& a, const Outline& b);

}  // namespace stackfit::geometry
