// SPDX-License-Identifier: GPL-3.0-or-later
//
// The numbered properties of section_fit.hpp: closed forms, the exact check beside them, and both
// against points of the body's boundary looked at one by one. Plane geometry: no source needed.
#include "geometry/section_fit.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <stdexcept>

#include "tests/catch.hpp"
#include "tests/geometry/shapes.hpp"

namespace stackfit::geometry::testing {
namespace {

using Catch::Matchers::WithinAbs;

/// A step that no rounding hides and no cell's tolerance shows.
constexpr double hundredth_mm = 0.01;

/// A body in the lower left of a hollow: `beside` the left wall and `under` it.
Outline body_at(double beside, double under, const RectangleSize& size) {
  return rounded_rectangle(size, {beside + size.width_mm / 2, under + size.height_mm / 2});
}

/// The body and what it must keep clear round it.
RectangleSize grown(const RectangleSize& size, double clear) {
  return {size.width_mm + 2 * clear, size.height_mm + 2 * clear, size.corner_radius_mm + clear};
}

/// How far a point stands inside the hollow, below zero outside: straight from the definitions of
/// bend, bead and head, without an outline.
double depth_mm(const Hollow& h, Point p) {
  double depth =
      std::min(std::min(p.x_mm, h.width_mm - p.x_mm), std::min(p.y_mm, h.height_mm - p.y_mm));
  const double x = std::min(p.x_mm, h.width_mm - p.x_mm);
  for (const bool upper : {false, true}) {
    const CornerFill& fill = upper ? h.upper : h.lower;
    const double y = upper ? h.height_mm - p.y_mm : p.y_mm;
    const double r = fill.bend_mm;
    if (x < r && y < r) {
      depth = std::min(depth, r - std::hypot(x - r, y - r));
    }
    if (fill.bead_mm > 0) {
      depth = std::min(depth, (x + y - fill.bead_mm) / std::numbers::sqrt2);
    }
  }
  for (const WallHead& head : h.heads) {
    const bool upright = head.wall == HollowWall::left || head.wall == HollowWall::right;
    const double along = upright ? p.y_mm : p.x_mm;
    const double off = head.wall == HollowWall::left    ? p.x_mm
                       : head.wall == HollowWall::right ? h.width_mm - p.x_mm
                       : head.wall == HollowWall::lower ? p.y_mm
                                                        : h.height_mm - p.y_mm;
    // From a point outside the rectangle the nearer of its two directions is enough.
    depth =
        std::min(depth, std::max({off - head.stands_mm, head.from_mm - along, along - head.to_mm}));
  }
  return depth;
}

/// The least depth over points of the body: its boundary, and a grid over its inside for what
/// stands in its middle.
double sampled_depth_mm(const Hollow& h, const RectangleSize& size, Point middle) {
  constexpr int steps = 240;
  const double a = size.width_mm / 2;
  const double b = size.height_mm / 2;
  const double r = size.corner_radius_mm;
  double least = std::numeric_limits<double>::infinity();
  const auto look = [&](double x, double y) {
    least = std::min(least, depth_mm(h, {middle.x_mm + x, middle.y_mm + y}));
  };
  for (int i = 0; i <= steps; ++i) {
    const double s = 2.0 * i / steps - 1;
    for (const double side : {-1.0, 1.0}) {
      look(s * (a - r), side * b);
      look(side * a, s * (b - r));
      const double turn = std::numbers::pi / 2 * i / steps;
      look(side * (a - r + r * std::cos(turn)), b - r + r * std::sin(turn));
      look(side * (a - r + r * std::cos(turn)), -(b - r + r * std::sin(turn)));
    }
  }
  for (int i = 0; i <= steps / 4; ++i) {
    for (int j = 0; j <= steps / 4; ++j) {
      const double x = (a - r) * (8.0 * i / steps - 1);
      const double y = (b - r) * (8.0 * j / steps - 1);
      look(x, y);
    }
  }
  return least;
}

Hollow draw_hollow() {
  Hollow h{.width_mm = draw_mm(500, 2000), .height_mm = draw_mm(500, 2000)};
  const auto draw_fill = [] {
    CornerFill fill;
    switch (*rc::gen::inRange(0, 3)) {
      case 0:
        fill.bend_mm = draw_mm(0, 120);
        break;
      case 1:
        fill.bead_mm = draw_mm(0, 120);
        break;
      default:
        break;
    }
    return fill;
  };
  h.lower = draw_fill();
  h.upper = draw_fill();
  return h;
}

TEST_CASE("1: exact and sampled answer agree on random bodies in random hollows") {
  int inside = 0;
  int outside = 0;
  REQUIRE(rc::check([&] {
    Hollow h = draw_hollow();
    if (*rc::gen::arbitrary<bool>()) {
      const auto wall = static_cast<HollowWall>(*rc::gen::inRange(0, 4));
      const double from = draw_mm(0, 300);
      h.heads.push_back({wall, from, from + draw_mm(50, 150), draw_mm(5, 60)});
    }
    const double beside = draw_mm(-5, 100);
    const double under = draw_mm(-5, 100);
    RectangleSize size{h.width_mm - beside - draw_mm(-5, 100),
                       h.height_mm - under - draw_mm(-5, 100), draw_mm(0, 100)};
    const Point middle{beside + size.width_mm / 2, under + size.height_mm / 2};
    const double depth = sampled_depth_mm(h, size, middle);
    const bool exact = stands_inside(rounded_rectangle(size, middle), hollow_outline(h));
    // Points on the body's arcs are 0.07 mm apart at most: a head's corner that pokes in between
    // two of them is no nearer than this. Along straight edges nothing so small can hide.
    constexpr double between_points_mm = 0.05;
    if (depth < 0) {
      // Touching counts as inside; a sample of a touching point may round to below zero.
      RC_ASSERT(!exact || depth > -1e-9);
      ++outside;
    } else if (depth > between_points_mm) {
      RC_ASSERT(exact);
      ++inside;
    }
  }));
  // The drawing must not have become one-sided.
  CHECK(inside >= 10);
  CHECK(outside >= 10);
}

TEST_CASE("1: a body that only touches stands inside") {
  const Hollow plain{.width_mm = 120, .height_mm = 100};
  CHECK(stands_inside(rounded_rectangle({120, 100, 0}, {60, 50}), hollow_outline(plain)));
  CHECK(stands_inside(rounded_rectangle({120, 100, 4}, {60, 50}), hollow_outline(plain)));
  const Hollow bent{.width_mm = 120, .height_mm = 100, .lower = {4, 0}, .upper = {4, 0}};
  CHECK(stands_inside(rounded_rectangle({120, 100, 4}, {60, 50}), hollow_outline(bent)));
  CHECK_FALSE(stands_inside(rounded_rectangle({120, 100, 3.99}, {60, 50}), hollow_outline(bent)));
  CHECK_FALSE(stands_inside(rounded_rectangle({120, 100, 4}, {60.001, 50}), hollow_outline(bent)));
}

TEST_CASE("1: a head in the middle of a wall is seen though no corner meets it") {
  Hollow h{.width_mm = 120, .height_mm = 100};
  h.heads = {{HollowWall::right, 40, 52, 3}};
  const RectangleSize size{110, 100, 0};
  CHECK(stands_inside(rounded_rectangle(size, {62, 50}), hollow_outline(h)));
  CHECK_FALSE(stands_inside(rounded_rectangle(size, {62.01, 50}), hollow_outline(h)));
}

TEST_CASE("1: the hollow's area is the rectangle's less its fills") {
  Hollow h{.width_mm = 120, .height_mm = 100, .lower = {6, 0}, .upper = {0, 5}};
  h.heads = {{HollowWall::lower, 30, 42, 4}};
  const double bends = 2 * 36 * (1 - std::numbers::pi / 4);
  CHECK_THAT(area_mm2(hollow_outline(h)), WithinAbs(120 * 100 - bends - 25 - 48, 1e-9));
  const Hollow round{.width_mm = 80, .height_mm = 80, .lower = {40, 0}, .upper = {40, 0}};
  CHECK_THAT(area_mm2(hollow_outline(round)), WithinAbs(1600 * std::numbers::pi, 1e-9));
}

TEST_CASE("2: a sharp edge as far off both walls of a bend: R (1 - 1 / sqrt 2)") {
  for (const double radius : {1.0, 3.0, 8.0}) {
    const double off = radius * (1 - 1 / std::numbers::sqrt2);
    CHECK_THAT(least_standoff_mm({radius, 0}, off), WithinAbs(off, 1e-12));
  }
  // Against the wall: the whole radius. Beside the bend: nothing. 3-4-5: (5 - 1, 5 - 2).
  CHECK(least_standoff_mm({3, 0}, 0) == 3);
  CHECK(least_standoff_mm({3, 0}, 3) == 0);
  CHECK_THAT(least_standoff_mm({5, 0}, 1), WithinAbs(2, 1e-12));
  // As round as the bend: nothing, wherever it stands.
  CHECK(least_standoff_mm({3, 0}, 0, {3, 0}) == 0);
  // A millimetre of sheet round the edge: the bend is a millimetre sharper to it.
  CHECK_THAT(least_standoff_mm({6, 0}, 2, {0, 1}), WithinAbs(1 + 2, 1e-12));
}

TEST_CASE("2: a sharp edge before a bead: its leg less the distance from the other wall") {
  CHECK(least_standoff_mm({0, 5}, 2) == 3);
  CHECK(least_standoff_mm({0, 5}, 6) == 0);
  CHECK_THAT(least_standoff_mm({0, 5}, 1, {2, 0}),
             WithinAbs(5 - 1 - 2 * (2 - std::numbers::sqrt2), 1e-12));
}

TEST_CASE("2: at the least raise the body stands inside, by a hundredth less it does not") {
  REQUIRE(rc::check([] {
    const bool bend = *rc::gen::arbitrary<bool>();
    const CornerFill fill = bend ? CornerFill{draw_mm(1, 150), 0} : CornerFill{0, draw_mm(1, 150)};
    const BodyCorner corner{draw_mm(0, 60), draw_mm(0, 20)};
    const double beside = corner.clear_mm + draw_mm(0, 100);
    const double least = least_standoff_mm(fill, beside, corner);
    const RectangleSize size{60, 50, corner.radius_mm};
    const RectangleSize clear = grown(size, corner.clear_mm);
    const Hollow h{.width_mm = 200, .height_mm = 150, .lower = fill};
    const auto stands = [&](double raise) {
      return stands_inside(body_at(beside - corner.clear_mm, raise - corner.clear_mm, clear),
                           hollow_outline(h));
    };
    RC_ASSERT(stands(least + hundredth_mm));
    RC_ASSERT(!stands(least - hundredth_mm));
    // The other way round: the same distance from the other wall.
    const Outline turned =
        body_at(least + hundredth_mm - corner.clear_mm, beside - corner.clear_mm, clear);
    RC_ASSERT(stands_inside(turned, hollow_outline(h)));
  }));
}

TEST_CASE("3: more in the corner needs no less, a rounder body no more") {
  REQUIRE(rc::check([] {
    const CornerFill fill{draw_mm(0, 100), draw_mm(0, 100)};
    const BodyCorner corner{draw_mm(0, 50), draw_mm(0, 20)};
    const double beside = corner.clear_mm + draw_mm(0, 100);
    const double least = least_standoff_mm(fill, beside, corner);
    const double more = draw_mm(1, 50);
    const auto no_less = [&](double other) { return other >= least - 1e-12; };
    RC_ASSERT(no_less(least_standoff_mm({fill.bend_mm + more, fill.bead_mm}, beside, corner)));
    RC_ASSERT(no_less(least_standoff_mm({fill.bend_mm, fill.bead_mm + more}, beside, corner)));
    const double clearer = std::min(corner.clear_mm + more, beside);
    RC_ASSERT(no_less(least_standoff_mm(fill, beside, {corner.radius_mm, clearer})));
    RC_ASSERT(!(least_standoff_mm(fill, beside, {corner.radius_mm + more, corner.clear_mm}) >
                least + 1e-12));
    RC_ASSERT(!(least_standoff_mm(fill, beside + more, corner) > least + 1e-12));
  }));
}

TEST_CASE("4: the greatest bend and bead undo the least distance") {
  CHECK(greatest_bend_mm({1, 2}) == 5);
  CHECK(greatest_bead_mm({1, 2}) == 3);
  REQUIRE(rc::check([] {
    const BodyCorner corner{draw_mm(0, 50), draw_mm(0, 20)};
    const CornerDistances off{corner.clear_mm + draw_mm(0, 50), corner.clear_mm + draw_mm(1, 50)};
    const double bend = greatest_bend_mm(off, corner);
    const double bead = greatest_bead_mm(off, corner);
    RC_ASSERT(least_standoff_mm({bend, bead}, off.one_mm, corner) <= off.other_mm + 1e-9);
    RC_ASSERT(least_standoff_mm({bend + hundredth_mm, 0}, off.one_mm, corner) > off.other_mm);
    RC_ASSERT(least_standoff_mm({0, bead + hundredth_mm}, off.one_mm, corner) > off.other_mm);
  }));
}

TEST_CASE("figures that mean nothing are refused") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(hollow_outline({.width_mm = 0, .height_mm = 10}), std::invalid_argument);
  CHECK_THROWS_AS(hollow_outline({.width_mm = nan, .height_mm = 10}), std::invalid_argument);
  CHECK_THROWS_AS(hollow_outline({.width_mm = 20, .height_mm = 10, .lower = {6, 0}}),
                  std::invalid_argument);
  CHECK_THROWS_AS(hollow_outline({.width_mm = 20, .height_mm = 10, .upper = {0, -1}}),
                  std::invalid_argument);
  Hollow h{.width_mm = 20, .height_mm = 10};
  h.heads = {{HollowWall::left, 5, 11, 2}};
  CHECK_THROWS_AS(hollow_outline(h), std::invalid_argument);
  h.heads = {{HollowWall::lower, 5, 11, 10}};
  CHECK_THROWS_AS(hollow_outline(h), std::invalid_argument);
  CHECK_THROWS_AS(least_standoff_mm({3, 0}, 0.5, {0, 1}), std::invalid_argument);
  CHECK_THROWS_AS(least_standoff_mm({-3, 0}, 0.5), std::invalid_argument);
  CHECK_THROWS_AS(least_standoff_mm({3, 0}, nan), std::invalid_argument);
  CHECK_THROWS_AS(greatest_bend_mm({0, -1}), std::invalid_argument);
}

}  // namespace
}  // namespace stackfit::geometry::testing
