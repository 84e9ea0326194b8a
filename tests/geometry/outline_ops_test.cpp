// SPDX-License-Identifier: GPL-3.0-or-later
//
// The numbered properties of outline.hpp that concern set operations.
#include <rapidcheck.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "geometry/outline.hpp"
#include "tests/catch.hpp"
#include "tests/geometry/shapes.hpp"

namespace stackfit::geometry::testing {
namespace {

using Catch::Matchers::WithinAbs;
using std::numbers::pi;

void check_area(const Outline& result, double expected_mm2, double error_mm2) {
  CHECK_THAT(area_mm2(result), WithinAbs(expected_mm2, error_mm2));
}

/// Two discs of radius r, their centres d apart.
double lens_mm2(double r, double d) {
  return 2 * r * r * std::acos(d / (2 * r)) - d / 2 * std::sqrt(4 * r * r - d * d);
}

TEST_CASE("1: what is covered and what is not add up to the whole") {
  REQUIRE(rc::check([] {
    const Outline a = draw_shape();
    const Outline b = draw_shape();
    const double parts = area_mm2(intersection(a, b)) + area_mm2(difference(a, b));
    RC_ASSERT(std::abs(parts - area_mm2(a)) <= 2 * area_error_mm2(a, b));
  }));
}

TEST_CASE("1: the two parts have nothing in common") {
  REQUIRE(rc::check([] {
    const Outline a = draw_shape();
    const Outline b = draw_shape();
    const Outline common = intersection(intersection(a, b), difference(a, b));
    RC_ASSERT(std::abs(area_mm2(common)) <= 3 * area_error_mm2(a, b));
  }));
}

TEST_CASE("2: what two outlines share does not depend on their order") {
  REQUIRE(rc::check([] {
    const Outline a = draw_shape();
    const Outline b = draw_shape();
    const double forth = area_mm2(intersection(a, b));
    const double back = area_mm2(intersection(b, a));
    RC_ASSERT(std::abs(forth - back) <= area_error_mm2(a, b));
    // A or B, once as A and the rest of B, once as B and the rest of A.
    const double union_a = area_mm2(a) + area_mm2(difference(b, a));
    const double union_b = area_mm2(b) + area_mm2(difference(a, b));
    RC_ASSERT(std::abs(union_a - union_b) <= 2 * area_error_mm2(a, b));
  }));
}

TEST_CASE("3: an outline with itself") {
  REQUIRE(rc::check([] {
    const Outline a = draw_shape();
    RC_ASSERT(std::abs(area_mm2(intersection(a, a)) - area_mm2(a)) <= area_error_mm2(a, a));
    RC_ASSERT(difference(a, a).loops.empty());
  }));
}

TEST_CASE("3: an outline with one that differs by rounding only") {
  REQUIRE(rc::check([] {
    const Outline a = draw_shape();
    const Outline b = moved(moved(a, {.shift = {0.1, 0.7}}), {.shift = {-0.1, -0.7}});
    const double error = 2 * area_error_mm2(a, b);
    RC_ASSERT(std::abs(area_mm2(intersection(a, b)) - area_mm2(a)) <= error);
    RC_ASSERT(std::abs(area_mm2(difference(a, b))) <= error);
  }));
}

TEST_CASE("3: nothing covers nothing and takes nothing away") {
  const Outline a = rounded_rectangle({100, 60, 5});
  CHECK(intersection(a, {}).loops.empty());
  CHECK(intersection({}, a).loops.empty());
  CHECK(difference({}, a).loops.empty());
  CHECK(intersection({}, {}).loops.empty());
  check_area(difference(a, {}), area_mm2(a), area_error_mm2(a, {}));
}

TEST_CASE("4: outlines that only touch share nothing") {
  const Outline a = rounded_rectangle({100, 60, 0});
  CHECK(intersection(a, rounded_rectangle({40, 60, 0}, {70, 0})).loops.empty());   // an edge
  CHECK(intersection(a, rounded_rectangle({40, 60, 0}, {70, 60})).loops.empty());  // a corner
  CHECK(intersection(disc(10), disc(10, {20, 0})).loops.empty());                  // arc on arc
  CHECK(intersection(a, disc(10, {0, 40})).loops.empty());                         // arc on edge
}

TEST_CASE("4: an overlap or a remainder by rounding only is none") {
  const Outline left = polygon({{0, 0}, {0.1 + 0.2, 0}, {0.1 + 0.2, 100}, {0, 100}});
  const Outline right = polygon({{0.3, 0}, {1, 0}, {1, 100}, {0.3, 100}});
  REQUIRE(0.1 + 0.2 > 0.3);
  CHECK(intersection(left, right).loops.empty());
  CHECK(difference(left, polygon({{0, 0}, {0.3, 0}, {0.3, 100}, {0, 100}})).loops.empty());
}

TEST_CASE("4: outlines apart share nothing and leave each other whole") {
  const Outline a = disc(10);
  const Outline b = rounded_rectangle({10, 10, 2}, {30, 0});
  CHECK(intersection(a, b).loops.empty());
  check_area(difference(a, b), 100 * pi, area_error_mm2(a, b));
}

TEST_CASE("plain rectangles share the product of their overlaps") {
  REQUIRE(rc::check([] {
    const RectangleSize size{draw_mm(1, 2000), draw_mm(1, 2000), 0};
    const RectangleSize other{draw_mm(1, 2000), draw_mm(1, 2000), 0};
    const Point centre{draw_mm(-1000, 1000), draw_mm(-1000, 1000)};
    const auto overlap = [](double half, double other_half, double middle) {
      return std::fmax(
          0, std::fmin(half, middle + other_half) - std::fmax(-half, middle - other_half));
    };
    const Outline a = rounded_rectangle(size);
    const Outline b = rounded_rectangle(other, centre);
    const double expected = overlap(size.width_mm / 2, other.width_mm / 2, centre.x_mm) *
                            overlap(size.height_mm / 2, other.height_mm / 2, centre.y_mm);
    RC_ASSERT(std::abs(area_mm2(intersection(a, b)) - expected) <= 2 * area_error_mm2(a, b));
  }));
}

TEST_CASE("arcs meeting arcs: two discs share a lens") {
  REQUIRE(rc::check([] {
    const double r = draw_mm(10, 1000);
    const double d = 2 * r * *rc::gen::inRange(1, 100) / 100;
    const Move move = draw_move();
    const Outline a = moved(disc(r), move);
    const Outline b = moved(disc(r, {d, 0}), move);
    RC_ASSERT(std::abs(area_mm2(intersection(a, b)) - lens_mm2(r, d)) <= 2 * area_error_mm2(a, b));
  }));
}

TEST_CASE("an arc cut by a straight edge leaves a segment of the disc") {
  const Outline d = disc(10);
  const Outline above_six = rounded_rectangle({100, 100, 0}, {0, 56});
  const double half_angle = std::acos(0.6);
  check_area(intersection(d, above_six), 100 * (half_angle - 0.6 * 0.8),
             area_error_mm2(d, above_six));
}

TEST_CASE("a hole inside is a clockwise loop of its own") {
  const Outline plate = rounded_rectangle({100, 60, 8});
  const Outline bolt = disc(3, {20, 10});
  const Outline drilled = difference(plate, bolt);
  REQUIRE(drilled.loops.size() == 2);
  check_area({{drilled.loops[1]}}, -9 * pi, area_error_mm2(plate, bolt));
  check_area(drilled, area_mm2(plate) - 9 * pi, area_error_mm2(plate, bolt));
  // What fits in the hole is not covered; a washer round it is, less the hole.
  CHECK(intersection(drilled, disc(2, {20, 10})).loops.empty());
  check_area(intersection(drilled, disc(5, {20, 10})), 16 * pi, 2 * area_error_mm2(plate, bolt));
}

TEST_CASE("an island in a hole stays") {
  const Outline ring = difference(disc(20), disc(10));
  Outline target = ring;
  target.loops.push_back(disc(4).loops.front());
  const Outline square = rounded_rectangle({100, 100, 0});
  check_area(intersection(target, square), 316 * pi, area_error_mm2(target, square));
  check_area(intersection(target, disc(10)), 16 * pi, area_error_mm2(target, square));
}

TEST_CASE("a circle given as one arc, either way, is cut like a disc") {
  for (const bool counterclockwise : {true, false}) {
    const Edge round{.from = {3, 4}, .is_arc = true, .counterclockwise = counterclockwise};
    const Outline half_plane = rounded_rectangle({40, 20, 0}, {0, 10});
    CAPTURE(counterclockwise);
    check_area(intersection({{{round}}}, half_plane), 12.5 * pi,
               area_error_mm2({{{round}}}, half_plane));
  }
}

TEST_CASE("a sheet smaller than the face leaves its rim, corners and all") {
  const Outline face = rounded_rectangle({148, 118, 3});
  const Outline sheet = rounded_rectangle({142, 112, 3});
  check_area(intersection(face, sheet), area_mm2(sheet), area_error_mm2(face, sheet));
  check_area(difference(face, sheet), area_mm2(face) - area_mm2(sheet),
             2 * area_error_mm2(face, sheet));
}

TEST_CASE("a remainder that touches itself at a corner has simple loops, to be worked with again") {
  const Outline notched = polygon({{0, 0}, {10, 0}, {10, 10}, {5, 5}, {0, 10}});
  const Outline wedge = polygon({{0, 0}, {10, 0}, {5, 5}});
  const Outline wings = difference(notched, wedge);
  REQUIRE(wings.loops.size() == 2);
  CHECK(wings.loops[0].size() == 3);
  CHECK(wings.loops[1].size() == 3);
  check_area(wings, 50, area_error_mm2(notched, wedge));
  check_area(intersection(wings, rounded_rectangle({10, 20, 2})), 25, 1e-9);
  CHECK(intersection(wings, wedge).loops.empty());
}

TEST_CASE("corners far smaller than the outline are cut like any others") {
  // Their centres, in doubles, are as near to one end as to the other within a few per cent only.
  for (const double radius_mm : {1e-3, 1e-9, 1e-11, 1e-12, 1e-13, 1e-30}) {
    const Outline sheet = rounded_rectangle({100, 100, radius_mm}, {0.1, 0.3});
    const Outline corner = rounded_rectangle({100, 100, 0}, {50, 50});
    const double error = area_error_mm2(sheet, corner);
    check_area(intersection(sheet, corner), 50.1 * 50.3 - (1 - pi / 4) * radius_mm * radius_mm,
               error);
    const Outline rest = difference(sheet, corner);
    check_area(intersection(rest, corner), 0, 2 * error);
  }
}

TEST_CASE("circles apart by next to nothing share next to all") {
  for (const double apart_mm : {1e-6, 1e-20, 1e-160, 1e-236}) {
    const Outline one = rounded_rectangle({2, 2, 1}, {apart_mm, apart_mm});
    const Outline other = rounded_rectangle({2, 2, 1}, {apart_mm, 0});
    const double error = area_error_mm2(one, other);
    check_area(intersection(one, other), pi - 2 * apart_mm, error);
    check_area(difference(one, other), 2 * apart_mm, error);
  }
}

TEST_CASE("an arc that does not end on its circle is refused") {
  const Outline square = rounded_rectangle({10, 10, 0});
  const Loop bent{{.from = {6, 0}, .is_arc = true, .centre = {0, 0}}, {.from = {-5, 0}}};
  const Loop no_radius{{.from = {1, 1}, .is_arc = true, .centre = {1, 1}}};
  CHECK_THROWS_AS(intersection({{bent}}, square), std::invalid_argument);
  CHECK_THROWS_AS(difference(square, {{bent}}), std::invalid_argument);
  CHECK_THROWS_AS(intersection({{no_radius}}, square), std::invalid_argument);
}

}  // namespace
}  // namespace stackfit::geometry::testing
