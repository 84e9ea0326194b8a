// SPDX-License-Identifier: GPL-3.0-or-later
#include "geometry/flatness.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "tests/catch.hpp"

using namespace stackfit::geometry;

namespace {

/// Points on a face 150 mm square, in thousandths of a millimetre.
std::vector<SpacePoint> any_face() {
  const auto count = *rc::gen::inRange<std::size_t>(4, 30);
  std::vector<SpacePoint> points;
  for (std::size_t i = 0; i < count; ++i) {
    points.push_back({*rc::gen::inRange(-75'000, 75'000) / 1000.0,
                      *rc::gen::inRange(-75'000, 75'000) / 1000.0,
                      *rc::gen::inRange(-1'000, 1'000) / 1000.0});
  }
  return points;
}

/// Turned about x and then z, moved.
SpacePoint moved(const SpacePoint& p, double turn, double tilt) {
  const double y = p.y_mm * std::cos(tilt) - p.z_mm * std::sin(tilt);
  const double z = p.y_mm * std::sin(tilt) + p.z_mm * std::cos(tilt);
  return {p.x_mm * std::cos(turn) - y * std::sin(turn) + 3,
          p.x_mm * std::sin(turn) + y * std::cos(turn) - 5, z + 40};
}

double along(const SpacePoint& p, const SpacePoint& direction) {
  return p.x_mm * direction.x_mm + p.y_mm * direction.y_mm + p.z_mm * direction.z_mm;
}

double extent(const std::vector<SpacePoint>& points, const SpacePoint& direction) {
  double low = std::numeric_limits<double>::max();
  double high = std::numeric_limits<double>::lowest();
  for (const SpacePoint& p : points) {
    low = std::min(low, along(p, direction));
    high = std::max(high, along(p, direction));
  }
  return high - low;
}

/// A block's eight corners.
std::vector<SpacePoint> face_at(double z, double half) {
  return {{-half, -half, z}, {half, -half, z}, {half, half, z}, {-half, half, z}};
}

}  // namespace

TEST_CASE("points without a width") {
  CHECK(flatness_mm({}) == 0);
  CHECK(flatness_mm({{1, 2, 3}}) == 0);
  CHECK(flatness_mm({{0, 0, 0}, {1, 2, 3}}) == 0);
  CHECK(flatness_mm({{0, 0, 0}, {100, 0, 3}, {0, 100, -2}}) == 0);
  CHECK(flatness_mm({{5, 5, 5}, {5, 5, 5}, {5, 5, 5}, {5, 5, 5}}) == 0);
  // On one line, also one that is not along an axis.
  CHECK(flatness_mm({{0, 0, 0}, {1, 2, 4}, {2, 4, 8}, {-3, -6, -12}}) == 0);
  // In one plane that is tilted: z = x / 4 + y / 8 is exact in doubles.
  const Width tilted = width_of({{0, 0, 0}, {8, 0, 2}, {0, 8, 1}, {8, 8, 3}, {16, 8, 5}});
  CHECK(tilted.width_mm == 0);
  CHECK(std::abs(tilted.across.z_mm - 8 / std::sqrt(69.0)) < 1e-15);  // across (-2, -1, 8)
}

TEST_CASE("a coordinate that is no number is refused") {
  CHECK_THROWS_AS(flatness_mm({{0, 0, std::nan("")}}), std::invalid_argument);
  CHECK_THROWS_AS(flatness_mm({{HUGE_VAL, 0, 0}, {0, 0, 0}}), std::invalid_argument);
  CHECK_THROWS_AS(flatness_mm({{0, -65'537, 0}}), std::invalid_argument);
}

TEST_CASE("the farthest points are still exact") {
  constexpr double far = farthest_point_mm;
  std::vector<SpacePoint> cube;
  for (const double x : {-far, far}) {
    for (const double y : {-far, far}) {
      for (const double z : {-far, far}) {
        cube.push_back({x, y, z});
      }
    }
  }
  CHECK(flatness_mm(cube) == 2 * far);
  // Coordinates with every digit a double has: no overflow on the way.
  CHECK(rc::check([] {
    std::vector<SpacePoint> points;
    points.reserve(12);
    for (int i = 0; i < 12; ++i) {
      points.push_back({*rc::gen::inRange(-65'535, 65'536) + 1 / 3.0,
                        *rc::gen::inRange(-65'535, 65'536) + 1 / 7.0,
                        *rc::gen::inRange(-65'535, 65'536) + 1 / 11.0});
    }
    const Width width = width_of(points);
    RC_ASSERT(std::abs(extent(points, width.across) - width.width_mm) < 1e-9 * farthest_point_mm);
  }));
}

TEST_CASE("the planes found hold the points, and no direction holds them closer") {
  CHECK(rc::check("the width is the extent across its planes, and the least of any", [] {
    const std::vector<SpacePoint> points = any_face();
    const Width width = width_of(points);
    RC_ASSERT(std::abs(extent(points, width.across) - width.width_mm) < 1e-9);
    for (int i = 0; i < 50; ++i) {
      SpacePoint d{*rc::gen::inRange(-100, 100) / 1000.0, *rc::gen::inRange(-100, 100) / 1000.0, 1};
      const double length = std::sqrt(along(d, d));
      RC_ASSERT(extent(points, {d.x_mm / length, d.y_mm / length, d.z_mm / length}) >=
                width.width_mm - 1e-9);
    }
  }));
}

TEST_CASE("turning, moving and scaling") {
  CHECK(rc::check("flatness does not mind how the cell lies", [] {
    const std::vector<SpacePoint> points = any_face();
    const double turn = *rc::gen::inRange(-300, 300) / 100.0;
    const double tilt = *rc::gen::inRange(-150, 150) / 100.0;
    std::vector<SpacePoint> other;
    other.reserve(points.size());
    for (const SpacePoint& p : points) {
      other.push_back(moved(p, turn, tilt));
    }
    RC_ASSERT(std::abs(flatness_mm(points) - flatness_mm(other)) < 1e-9);
    for (SpacePoint& p : other) {
      p = {2 * p.x_mm, 2 * p.y_mm, 2 * p.z_mm};
    }
    RC_ASSERT(std::abs(2 * flatness_mm(points) - flatness_mm(other)) < 1e-9);
  }));
}

TEST_CASE("what boards read over both faces") {
  // A block 63.4 thick whose front stands out by 0.7 in the middle.
  std::vector<SpacePoint> front = face_at(63.4, 70);
  const std::vector<SpacePoint> back = face_at(0, 70);
  CHECK(std::abs(envelope_thickness_mm(front, back).value_or(0) - 63.4) < 1e-12);
  front.push_back({0, 0, 64.1});
  CHECK(std::abs(envelope_thickness_mm(front, back).value_or(0) - 64.1) < 1e-12);
  // A hollow middle does not count.
  front.back().z_mm = 63.0;
  CHECK(std::abs(envelope_thickness_mm(front, back).value_or(0) - 63.4) < 1e-12);
  // Readings that all lie near the middle say nothing of boards: the set is thinner sideways.
  CHECK_FALSE(envelope_thickness_mm(face_at(63.4, 20), face_at(0, 20)));
}
