// SPDX-License-Identifier: GPL-3.0-or-later
//
// Areas and second moments of fixtures/published/sections.csv, exact figures.
#include <map>
#include <string>

#include "geometry/outline.hpp"
#include "tests/catch.hpp"
#include "tests/published/csv.hpp"

namespace stackfit::geometry {
namespace {

using Catch::Matchers::WithinRel;

/// The table's figures are printed to twelve digits or more.
constexpr double tolerance = 1e-9;

/// The shapes the table names in words, its corner at the origin where it gives coordinates.
std::map<std::string, Outline> shapes() {
  return {
      {"rounded rectangle 30x40 r5", rounded_rectangle({30, 40, 5})},
      {"square 10 with centred hole 4",
       difference(rounded_rectangle({10, 10, 0}), rounded_rectangle({4, 4, 0}))},
      {"rectangle 100x60 with hole x 10..30 y 10..20",
       difference(rounded_rectangle({100, 60, 0}, {50, 30}),
                  rounded_rectangle({20, 10, 0}, {20, 15}))},
      {"L 60x80x10", polygon({{0, 0}, {60, 0}, {60, 10}, {10, 10}, {10, 80}, {0, 80}})},
  };
}

TEST_CASE("published sections") {
  const auto known = shapes();
  const auto rows = published::read_table("sections.csv");
  REQUIRE(rows.size() == known.size());
  for (const published::Row& row : rows) {
    CAPTURE(published::text(row, "shape"));
    const Outline& outline = known.at(published::text(row, "shape"));
    const SecondMoments moments = second_moments_mm4(outline);
    CHECK_THAT(area_mm2(outline), WithinRel(published::number(row, "area"), tolerance));
    CHECK_THAT(moments.ixx_mm4, WithinRel(published::number(row, "Ixx"), tolerance));
    CHECK_THAT(moments.iyy_mm4, WithinRel(published::number(row, "Iyy"), tolerance));
  }
}

}  // namespace
}  // namespace stackfit::geometry
