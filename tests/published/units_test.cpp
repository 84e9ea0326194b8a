// SPDX-License-Identifier: GPL-3.0-or-later
//
// Conversions of units against NIST Special Publication 811 (2008), Appendix B:
// fixtures/published/units.csv.
#include <string>

#include "cli/units.hpp"
#include "tests/catch.hpp"
#include "tests/published/csv.hpp"

namespace stackfit::cli {
namespace {

// The published factors are exact or carry sixteen figures.
constexpr double relative_tolerance = 1e-12;

}  // namespace

TEST_CASE("units: the factors of NIST SP 811, Appendix B") {
  const auto rows = published::read_table("units.csv");
  REQUIRE(rows.size() >= 10);
  for (const published::Row& row : rows) {
    INFO(published::text(row, "unit") << " in " << published::text(row, "in"));
    const Unit* unit = find_unit(published::text(row, "unit"));
    REQUIRE(unit != nullptr);
    const Unit* base = find_unit(unit->dimension, published::text(row, "in"));
    REQUIRE(base != nullptr);
    const double expected = published::number(row, "value");
    CHECK(in_unit(from_unit(1, *unit), *base) ==
          Catch::Approx(expected).epsilon(relative_tolerance).margin(0));
  }
}

}  // namespace stackfit::cli
