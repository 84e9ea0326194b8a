// SPDX-License-Identifier: GPL-3.0-or-later
//
// The geometry alone: the part of a cell's face [mm^2] that a sheet with a round hole covers.
#include <cmath>
#include <cstdio>
#include <exception>
#include <numbers>

#include "geometry/flatness.hpp"
#include "geometry/outline.hpp"

namespace {

namespace geometry = stackfit::geometry;

geometry::Outline disc(double radius_mm) {
  return {{{{.from = {radius_mm, 0}, .is_arc = true, .centre = {}, .counterclockwise = true}}}};
}

}  // namespace

int main() {
  constexpr double hole_radius_mm = 20;
  try {
    const geometry::Outline face = geometry::rounded_rectangle({140, 180, 3});
    const geometry::Outline sheet =
        geometry::difference(geometry::rounded_rectangle({120, 200, 0}), disc(hole_radius_mm));
    const double covered_mm2 = geometry::area_mm2(geometry::intersection(face, sheet));
    const double exact_mm2 = 120.0 * 180.0 - std::numbers::pi * hole_radius_mm * hole_radius_mm;
    const double flat_mm = geometry::flatness_mm({{0, 0, 0}, {9, 0, 0}, {0, 9, 0}, {3, 3, 0.5}});
    std::printf("{\"covered_mm2\": %.17g, \"exact_mm2\": %.17g, \"flatness_mm\": %.17g}\n",
                covered_mm2, exact_mm2, flat_mm);
  } catch (const std::exception& failure) {
    std::fprintf(stderr, "%s\n", failure.what());
    return 1;
  }
  return 0;
}
