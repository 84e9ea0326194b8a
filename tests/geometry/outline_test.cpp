// SPDX-License-Identifier: GPL-3.0-or-later
#include "geometry/outline.hpp"

#include <rapidcheck.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "tests/catch.hpp"
#include "tests/geometry/shapes.hpp"

namespace stackfit::geometry::testing {
namespace {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using std::numbers::pi;

constexpr double close = closed_form_relative_error;

TEST_CASE("a disc has the area, rim and second moments of the book") {
  const Outline d = disc(10, {40, -7});
  CHECK_THAT(area_mm2(d), WithinRel(100 * pi, close));
  CHECK_THAT(perimeter_mm(d), WithinRel(20 * pi, close));
  CHECK_THAT(centroid_mm(d).x_mm, WithinRel(40, close));
  CHECK_THAT(centroid_mm(d).y_mm, WithinRel(-7, close));
  CHECK_THAT(second_moments_mm4(d).ixx_mm4, WithinRel(pi * 1e4 / 4, close));
  CHECK_THAT(second_moments_mm4(d).iyy_mm4, WithinRel(pi * 1e4 / 4, close));
}

TEST_CASE("a loop of one arc is the full circle") {
  const Edge round{.from = {13, 5}, .is_arc = true, .centre = {10, 5}};
  CHECK_THAT(area_mm2({{{round}}}), WithinRel(9 * pi, close));
  CHECK_THAT(perimeter_mm({{{round}}}), WithinRel(6 * pi, close));
  CHECK_THAT(second_moments_mm4({{{round}}}).ixx_mm4, WithinRel(81 * pi / 4, close));
}

TEST_CASE("a half disc has its centroid at 4 r / 3 pi") {
  const Loop half{{.from = {6, 0}, .is_arc = true, .centre = {0, 0}}, {.from = {-6, 0}}};
  CHECK_THAT(area_mm2({{half}}), WithinRel(18 * pi, close));
  CHECK_THAT(centroid_mm({{half}}).y_mm, WithinRel(4 * 6 / (3 * pi), close));
  CHECK_THAT(second_moments_mm4({{half}}).ixx_mm4,
             WithinRel(6 * 6 * 6 * 6 * (pi / 8 - 8 / (9 * pi)), close));
}

TEST_CASE("an arc beyond a half circle counts whole") {
  // Three quarters of a disc: the missing quarter lies in x > 0, y < 0.
  const Loop pacman{
      {.from = {4, 0}, .is_arc = true, .centre = {0, 0}}, {.from = {0, -4}}, {.from = {0, 0}}};
  CHECK_THAT(area_mm2({{pacman}}), WithinRel(12 * pi, close));
  CHECK_THAT(centroid_mm({{pacman}}).x_mm, WithinRel(-16 / (9 * pi), close));
  CHECK_THAT(centroid_mm({{pacman}}).y_mm, WithinRel(16 / (9 * pi), close));
}

TEST_CASE("an empty outline has no area, no rim and no centroid") {
  CHECK(area_mm2({}) == 0);
  CHECK(perimeter_mm({}) == 0);
  CHECK_THROWS_AS(centroid_mm({}), std::invalid_argument);
  CHECK_THROWS_AS(second_moments_mm4({}), std::invalid_argument);
}

TEST_CASE("a rectangle that cannot be is refused") {
  const double inf = std::numeric_limits<double>::infinity();
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const RectangleSize impossible[] = {{0, 10, 0},   {10, 0, 0},  {-1, 10, 0},    {inf, 10, 0},
                                      {10, nan, 0}, {10, 8, -1}, {10, 8, 4.001}, {10, 8, nan}};
  for (const RectangleSize& size : impossible) {
    CAPTURE(size.width_mm, size.height_mm, size.corner_radius_mm);
    CHECK_THROWS_AS(rounded_rectangle(size), std::invalid_argument);
  }
  CHECK_THROWS_AS(rounded_rectangle({10, 8, 1}, {nan, 0}), std::invalid_argument);
}

TEST_CASE("corners take exactly (4 - pi) r^2 from a rectangle, 8 r - 2 pi r from its rim") {
  REQUIRE(rc::check([] {
    const RectangleSize size{draw_mm(20, 3000), draw_mm(20, 3000), draw_mm(0, 10)};
    const Outline outline = rounded_rectangle(size, {draw_mm(-3000, 3000), 0});
    const double r = size.corner_radius_mm;
    const double area = size.width_mm * size.height_mm - (4 - pi) * r * r;
    const double rim = 2 * (size.width_mm + size.height_mm) - (8 - 2 * pi) * r;
    // The corners' own coordinates are rounded at 300 mm.
    RC_ASSERT(std::abs(area_mm2(outline) - area) <= area_error_mm2(outline, {}));
    RC_ASSERT(std::abs(perimeter_mm(outline) - rim) <= 1e-12 * rim);
  }));
}

TEST_CASE("5: turning and shifting keep area, perimeter and the polar second moment") {
  REQUIRE(rc::check([] {
    const Outline still = draw_rounded_rectangle();
    const Move move = draw_move();
    const Outline gone = moved(still, move);
    const auto polar = [](const Outline& outline) {
      const SecondMoments m = second_moments_mm4(outline);
      return m.ixx_mm4 + m.iyy_mm4;
    };
    const double error = area_error_mm2(gone, still);
    RC_ASSERT(std::abs(area_mm2(gone) - area_mm2(still)) <= error);
    RC_ASSERT(std::abs(perimeter_mm(gone) - perimeter_mm(still)) <= 1e-12 * perimeter_mm(still));
    RC_ASSERT(std::abs(polar(gone) / polar(still) - 1) <= 4 * error / area_mm2(still));
    const Point expected = moved(centroid_mm(still), move);
    RC_ASSERT(std::abs(centroid_mm(gone).x_mm - expected.x_mm) <= 1e-11);
    RC_ASSERT(std::abs(centroid_mm(gone).y_mm - expected.y_mm) <= 1e-11);
  }));
}

TEST_CASE("6: the other way round flips the area's sign and keeps the perimeter") {
  REQUIRE(rc::check([] {
    const Outline forth = moved(draw_rounded_rectangle(), draw_move());
    const Outline back = reversed(forth);
    RC_ASSERT(std::abs(area_mm2(back) + area_mm2(forth)) <= area_error_mm2(forth, {}));
    RC_ASSERT(std::abs(perimeter_mm(back) - perimeter_mm(forth)) <= 1e-12 * perimeter_mm(forth));
  }));
}

TEST_CASE("second moments do not lose digits to a distant origin") {
  const Outline near = rounded_rectangle({30, 40, 5});
  const Outline distant = rounded_rectangle({30, 40, 5}, {1 << 20, 1 << 20});
  // Whole and half millimetres are exact there, so only the sums round.
  CHECK_THAT(second_moments_mm4(distant).ixx_mm4,
             WithinRel(second_moments_mm4(near).ixx_mm4, close));
  CHECK_THAT(area_mm2(distant), WithinRel(area_mm2(near), close));
  CHECK_THAT(centroid_mm(distant).x_mm, WithinAbs(1 << 20, 1e-9));
}

}  // namespace
}  // namespace stackfit::geometry::testing
