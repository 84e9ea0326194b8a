// SPDX-License-Identifier: GPL-3.0-or-later
//
// CGAL's Width_3 is exact and slow: only the corners of the convex hull, found with a quick
// kernel, are handed to it.
#include "geometry/flatness.hpp"

#include <CGAL/Cartesian.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Gmpq.h>
#include <CGAL/Width_3.h>
#include <CGAL/Width_default_traits_3.h>
#include <CGAL/convex_hull_3.h>

#include <cmath>
#include <iterator>
#include <stdexcept>

namespace stackfit::geometry {
namespace {

using Quick = CGAL::Exact_predicates_inexact_constructions_kernel;
using Exact = CGAL::Cartesian<CGAL::Gmpq>;
using Width = CGAL::Width_3<CGAL::Width_default_traits_3<Exact>>;

std::vector<Quick::Point_3> hull_corners(const std::vector<SpacePoint>& points) {
  std::vector<Quick::Point_3> all;
  for (const SpacePoint& p : points) {
    if (!std::isfinite(p.x_mm) || !std::isfinite(p.y_mm) || !std::isfinite(p.z_mm)) {
      throw std::invalid_argument("a point with a coordinate that is no finite number");
    }
    all.emplace_back(p.x_mm, p.y_mm, p.z_mm);
  }
  std::vector<Quick::Point_3> corners;
  CGAL::extreme_points_3(all, std::back_inserter(corners));
  return corners;
}

bool in_one_plane(const std::vector<Quick::Point_3>& points) {
  if (points.size() < 4) {
    return true;
  }
  std::size_t third = 2;
  while (third < points.size() && CGAL::collinear(points[0], points[1], points[third])) {
    ++third;
  }
  for (std::size_t i = third + 1; i < points.size(); ++i) {
    if (!CGAL::coplanar(points[0], points[1], points[third], points[i])) {
      return false;
    }
  }
  return true;
}

}  // namespace

double width_mm(const std::vector<SpacePoint>& points) {
  const std::vector<Quick::Point_3> corners = hull_corners(points);
  if (in_one_plane(corners)) {
    return 0;
  }
  std::vector<Exact::Point_3> exact;
  for (const Quick::Point_3& p : corners) {
    exact.emplace_back(CGAL::Gmpq(p.x()), CGAL::Gmpq(p.y()), CGAL::Gmpq(p.z()));
  }
  Width width(exact.begin(), exact.end());
  CGAL::Gmpq above;
  CGAL::Gmpq below;
  width.get_squared_width(above, below);
  return std::sqrt(CGAL::to_double(above / below));
}

}  // namespace stackfit::geometry
