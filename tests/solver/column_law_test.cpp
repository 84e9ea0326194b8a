// SPDX-License-Identifier: GPL-3.0-or-later
//
// What column_law.hpp promises: no pressure without interference, the pressure as derivative of
// the energy, the slope as derivative of the pressure, the inverse of the squeeze.
#include "solver/column_law.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <vector>

#include "tests/catch.hpp"
#include "tests/column_rows.hpp"
#include "tests/solver/draw_springs.hpp"

namespace {

using namespace stackfit;
using stackfit::testing::draw_between;

LawPtr cells(double a_mpa, double b) {
  return std::make_shared<ExponentialLaw>(ExponentialLaw::Constants{a_mpa, b, 1.0});
}

/// Cells, sheets and a pad, or some of them.
ColumnLaw draw_law() {
  ColumnLaw law;
  law.add(cells(draw_between(0.02, 0.2), draw_between(60, 300)), draw_between(20, 1000));
  if (*rc::gen::arbitrary<bool>()) {
    law.add_give(draw_between(0, 0.1));
  }
  if (*rc::gen::arbitrary<bool>()) {
    law.add(stackfit::testing::foam(draw_between(0.3, 3)), draw_between(0.5, 10));
  }
  return law;
}

}  // namespace

TEST_CASE("a column presses with nothing where it has room", "[columns]") {
  ColumnLaw law;
  law.add(cells(0.06, 180), 400);
  for (const double interference : {0.0, -1e-300, -0.5, -1e9}) {
    const ColumnLaw::Pressure p = law.at(interference, 0, 0.1);
    CHECK(p.mpa == 0);
    CHECK(p.per_mm == 0);
    CHECK(p.energy_n_mm == 0);
  }
}

TEST_CASE("a column's pressure is the inverse of its squeeze, whatever it is told", "[columns]") {
  REQUIRE(rc::check("squeeze and pressure", [] {
    const ColumnLaw law = draw_law();
    const double give = *rc::gen::element(0.0, 0.01);
    const double pressure = std::pow(10, draw_between(-7, 2));
    const double interference = law.squeeze_mm(pressure, give);
    for (const double guess : {0.0, pressure, 1e-9, 0.3 * pressure, 40 * pressure, 1e6}) {
      const double found = law.at(interference, give, guess).mpa;
      RC_ASSERT(std::abs(found - pressure) <= 1e-10 * pressure);
    }
  }));
}

TEST_CASE("a column's pressure is the derivative of its energy, the slope that of the pressure",
          "[columns]") {
  REQUIRE(rc::check("derivatives", [] {
    const ColumnLaw law = draw_law();
    const double at = law.squeeze_mm(std::pow(10, draw_between(-3, 0.5)));
    const double by = 1e-5 * at;
    const ColumnLaw::Pressure before = law.at(at - by, 0, 0);
    const ColumnLaw::Pressure here = law.at(at, 0, 0);
    const ColumnLaw::Pressure after = law.at(at + by, 0, 0);
    const double slope = (after.energy_n_mm - before.energy_n_mm) / (2 * by);
    RC_ASSERT(std::abs(slope - here.mpa) <= 1e-5 * here.mpa);
    const double bend = (after.mpa - before.mpa) / (2 * by);
    // Slopes of a table's cubics turn at its points: between both sides' there.
    const double least = std::min({before.per_mm, here.per_mm, after.per_mm});
    const double most = std::max({before.per_mm, here.per_mm, after.per_mm});
    RC_ASSERT(bend >= 0.9999 * least);
    RC_ASSERT(bend <= 1.0001 * most);
    RC_ASSERT(after.mpa > here.mpa);
    RC_ASSERT(here.mpa > before.mpa);
  }));
}

TEST_CASE("a column's energy keeps its digits where it is hardly pressed", "[columns]") {
  ColumnLaw law;
  law.add(cells(0.06, 180), 400);
  for (const double interference : {1e-12, 1e-9, 1e-6, 1e-4}) {
    const ColumnLaw::Pressure p = law.at(interference, 0, 0);
    // There the law is a line, and its energy half the product; the bend is 180/400/6 a mm.
    const double bend = 180 / 400.0 * interference;
    CHECK(std::abs(p.energy_n_mm / (0.5 * p.mpa * interference) - 1) < 1e-13 + bend);
  }
}

TEST_CASE("parts of one law are taken together", "[columns]") {
  const LawPtr law = cells(0.06, 180);
  ColumnLaw once;
  once.add(law, 100);
  ColumnLaw twice;
  twice.add(law, 40);
  twice.add(law, 60);
  CHECK(twice.parts().size() == 1);
  CHECK(twice.at(0.7, 0, 0).mpa == once.at(0.7, 0, 0).mpa);
}

TEST_CASE("a quick column is the law within its error", "[columns]") {
  REQUIRE(rc::check("table and law", [] {
    const ColumnLaw law = draw_law();
    constexpr double up_to_mpa = 6;
    const ColumnLaw quick = law.quick(up_to_mpa);
    const double pressure = std::pow(10, draw_between(-5, 1));
    const double interference = law.squeeze_mm(pressure);
    const ColumnLaw::Pressure p = quick.at(interference, 0, 0);
    RC_ASSERT(std::abs(p.mpa - pressure) <= ColumnLaw::quick_error_share * pressure);
  }));
}
