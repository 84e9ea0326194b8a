// SPDX-License-Identifier: GPL-3.0-or-later
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>
#include <vector>

#include "geometry/outline.hpp"
#include "tests/catch.hpp"
#include "tests/geometry/shapes.hpp"

namespace stackfit::geometry::testing {
namespace {

using Points = std::vector<Point>;
using Catch::Matchers::ContainsSubstring;
using Catch::Matchers::WithinRel;

const Points ell{{0, 0}, {60, 0}, {60, 10}, {10, 10}, {10, 80}, {0, 80}};

TEST_CASE("a polygon comes out counterclockwise, whichever way it was given") {
  Points clockwise = ell;
  std::reverse(clockwise.begin(), clockwise.end());
  CHECK(area_mm2(polygon(ell)) == 1300);
  CHECK(area_mm2(polygon(clockwise)) == 1300);
  CHECK(perimeter_mm(polygon(ell)) == 280);
}

TEST_CASE("a polygon closed by its first point again, or with a point twice, is the same") {
  Points closed = ell;
  closed.push_back(ell.front());
  closed.insert(closed.begin() + 2, closed[1]);
  CHECK(polygon(closed).loops.front().size() == ell.size());
  CHECK(area_mm2(polygon(closed)) == 1300);
}

TEST_CASE("a point on a straight side is kept and does no harm") {
  const Outline square = polygon({{0, 0}, {5, 0}, {10, 0}, {10, 10}, {0, 10}});
  CHECK(area_mm2(square) == 100);
  CHECK_THAT(area_mm2(intersection(square, rounded_rectangle({10, 10, 0}))),
             WithinRel(25, closed_form_relative_error));
}

TEST_CASE("a polygon that cannot be is refused, and why is said") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const struct {
    Points points;
    std::string why;
  } cases[] = {
      {{}, "three different points"},
      {{{0, 0}, {1, 0}}, "three different points"},
      {{{0, 0}, {1, 0}, {1, 0}, {0, 0}}, "three different points"},
      {{{0, 0}, {1, 0}, {nan, 1}}, "finite"},
      {{{0, 0}, {1, 0}, {2, 0}}, "over each other"},
      {{{0, 0}, {10, 0}, {4, 0}, {4, 5}}, "over each other"},
      {{{0, 0}, {10, 10}, {10, 0}, {0, 10}}, "cross or touch"},              // a bow tie
      {{{0, 0}, {10, 0}, {10, 10}, {5, 0}, {0, 10}}, "cross or touch"},      // a corner on a side
      {{{0, 0}, {4, 0}, {2, 2}, {4, 4}, {0, 4}, {2, 2}}, "cross or touch"},  // corner on corner
  };
  for (const auto& c : cases) {
    CAPTURE(c.why, c.points.size());
    CHECK_THROWS_AS(polygon(c.points), std::invalid_argument);
    CHECK_THROWS_WITH(polygon(c.points), ContainsSubstring(c.why));
  }
}

TEST_CASE("sides along one line, apart from each other, are not taken for touching") {
  // A comb whose teeth end on the same line.
  const Outline comb = polygon({{0, 0}, {9, 0}, {9, 5}, {6, 5}, {6, 2}, {3, 2}, {3, 5}, {0, 5}});
  CHECK(area_mm2(comb) == 36);
}

TEST_CASE("a star turned anyhow keeps its area") {
  REQUIRE(rc::check([] {
    const int tips = *rc::gen::inRange(3, 12);
    const double inner = draw_mm(10, 200);
    const double outer = inner + draw_mm(10, 500);
    const Move move = draw_move();
    const double step = std::acos(-1.0) / tips;
    Points points;
    for (int i = 0; i < 2 * tips; ++i) {
      const double r = i % 2 == 0 ? outer : inner;
      points.push_back(moved({r * std::cos(i * step), r * std::sin(i * step)}, move));
    }
    const Outline star = polygon(points);
    const double expected = tips * inner * outer * std::sin(step);
    RC_ASSERT(std::abs(area_mm2(star) - expected) <= area_error_mm2(star, {}));
  }));
}

}  // namespace
}  // namespace stackfit::geometry::testing
