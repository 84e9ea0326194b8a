// SPDX-License-Identifier: GPL-3.0-or-later
#include "geometry/flatness.hpp"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polyhedron_3.h>
#include <CGAL/Simple_homogeneous.h>
#include <CGAL/Width_3.h>
#include <CGAL/Width_default_traits_3.h>
#include <CGAL/boost_mp.h>
#include <CGAL/convex_hull_3.h>

#include <algorithm>
#include <boost/multiprecision/cpp_int.hpp>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <optional>
#include <stdexcept>
#include <vector>

namespace stackfit::geometry {
namespace {

// Predicates on doubles thin the points; widths need a number type that is exact throughout.
// Whole numbers of a fine grid take a sixth of the time of rationals, whose fractions must be
// brought down again and again. `farthest_point_mm` is 2^56 steps: a normal then has 115 bits, a
// squared distance along it 350, and CGAL compares products of two such; an overflow would throw.
using Doubles = CGAL::Exact_predicates_inexact_constructions_kernel;
using DoublePoint = Doubles::Point_3;
using Whole = boost::multiprecision::number<
    boost::multiprecision::cpp_int_backend<1024, 1024, boost::multiprecision::signed_magnitude,
                                           boost::multiprecision::checked, void>,
    boost::multiprecision::et_off>;
using Exact = CGAL::Simple_homogeneous<Whole>;
using ExactPoint = Exact::Point_3;
using WidthOfHull = CGAL::Width_3<CGAL::Width_default_traits_3<Exact>>;

/// Onto the grid, exactly: it is a power of two. Doubles that are coarser are on it already.
double on_grid(double mm) {
  // Not "greater than": what is no number is refused too.
  if (!(std::abs(mm) <= farthest_point_mm)) {
    throw std::invalid_argument("a coordinate that is no number, or too far away");
  }
  return std::round(mm / flatness_grid_mm) * flatness_grid_mm;
}

std::vector<DoublePoint> checked_points(const std::vector<SpacePoint>& points) {
  std::vector<DoublePoint> out;
  out.reserve(points.size());
  for (const SpacePoint& p : points) {
    out.emplace_back(on_grid(p.x_mm), on_grid(p.y_mm), on_grid(p.z_mm));
  }
  return out;
}

/// First z, then y, then x decides which of the two directions across the planes is meant.
SpacePoint upwards(const SpacePoint& v) {
  const double length = std::hypot(v.x_mm, v.y_mm, v.z_mm);
  const double first = v.z_mm != 0 ? v.z_mm : v.y_mm != 0 ? v.y_mm : v.x_mm;
  const double scale = (first < 0 ? -1 : 1) / length;
  // Adding 0 turns a negative zero into 0.
  return {v.x_mm * scale + 0, v.y_mm * scale + 0, v.z_mm * scale + 0};
}

/// The plane all points lie in; none where they fill space.
std::optional<Width> in_one_plane(const std::vector<DoublePoint>& points) {
  if (points.empty()) {
    return Width{};
  }
  const DoublePoint& a = points.front();
  const auto b = std::find_if(points.begin(), points.end(), [&](const auto& p) { return p != a; });
  if (b == points.end()) {
    return Width{};
  }
  const auto c = std::find_if(points.begin(), points.end(),
                              [&](const auto& p) { return !CGAL::collinear(a, *b, p); });
  if (c == points.end()) {
    return Width{};
  }
  const bool flat = std::all_of(points.begin(), points.end(),
                                [&](const auto& p) { return CGAL::coplanar(a, *b, *c, p); });
  if (!flat) {
    return std::nullopt;
  }
  const auto normal = CGAL::cross_product(*b - a, *c - a);
  return Width{0, upwards({normal.x(), normal.y(), normal.z()})};
}

Whole grid_steps(double mm) {
  return Whole(mm / flatness_grid_mm);
}

/// Corners of the convex hull: no other point matters for the width.
std::vector<ExactPoint> hull_corners(const std::vector<DoublePoint>& points) {
  CGAL::Polyhedron_3<Doubles> hull;
  CGAL::convex_hull_3(points.begin(), points.end(), hull);
  std::vector<ExactPoint> corners;
  for (auto vertex = hull.vertices_begin(); vertex != hull.vertices_end(); ++vertex) {
    const DoublePoint& p = vertex->point();
    corners.emplace_back(grid_steps(p.x()), grid_steps(p.y()), grid_steps(p.z()), Whole(1));
  }
  return corners;
}

}  // namespace

Width width_of(const std::vector<SpacePoint>& points) {
  const std::vector<DoublePoint> all = checked_points(points);
  if (const std::optional<Width> flat = in_one_plane(all)) {
    return *flat;
  }
  std::vector<ExactPoint> corners = hull_corners(all);
  WidthOfHull width(corners.begin(), corners.end());
  Whole numerator;
  Whole denominator;
  width.get_squared_width(numerator, denominator);
  const auto direction = width.get_build_direction();
  return {flatness_grid_mm * std::sqrt(CGAL::to_double(numerator) / CGAL::to_double(denominator)),
          upwards({CGAL::to_double(direction.x()), CGAL::to_double(direction.y()),
                   CGAL::to_double(direction.z())})};
}

double flatness_mm(const std::vector<SpacePoint>& points) {
  return width_of(points).width_mm;
}

std::optional<double> envelope_thickness_mm(const std::vector<SpacePoint>& front,
                                            const std::vector<SpacePoint>& back) {
  std::vector<SpacePoint> both = front;
  both.insert(both.end(), back.begin(), back.end());
  const Width width = width_of(both);
  if (width.across.z_mm < std::cos(board_tilt_deg * std::numbers::pi / 180)) {
    return std::nullopt;
  }
  return width.width_mm;
}

}  // namespace stackfit::geometry
