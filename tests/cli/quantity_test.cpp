// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/quantity.hpp"

#include <string>

#include "tests/catch.hpp"

namespace stackfit::cli {
namespace {

struct Written {
  const char* text;
  Dimension dimension;
  double value;
};

// Sixteen figures, so that an inch is an inch.
constexpr double tolerance = 1e-14;

using enum Dimension;

}  // namespace

TEST_CASE("quantity: as people write them") {
  const Written cases[] = {
      {"0.8 mm", length, 0.8},
      {"0.8mm", length, 0.8},
      {"  0.8  mm ", length, 0.8},
      {"0.8", length, 0.8},
      {"+0.8 mm", length, 0.8},
      {"-0.8 mm", length, -0.8},
      {"1/32 in", length, 25.4 / 32},
      {"1 1/2 in", length, 38.1},
      {"1-1/2 in", length, 38.1},
      {"1/32\"", length, 25.4 / 32},
      {"31 thou", length, 31 * 0.0254},
      {"800 \xC2\xB5m", length, 0.8},
      {"12 psi", pressure, 12 * 4.4482216152605 / (25.4 * 25.4)},
      {"90 kPa", pressure, 0.09},
      {"90 kpa", pressure, 0.09},
      {"0.9 bar", pressure, 0.09},
      {"900 mbar", pressure, 0.09},
      {"1.2 kgf/cm2", pressure, 1.2 * 0.0980665},
      {"1.2 kgf/cm\xC2\xB2", pressure, 1.2 * 0.0980665},
      {"0.09 N/mm2", pressure, 0.09},
      {"2 GPa", pressure, 2000},
      {"240 kgf", force, 240 * 9.80665},
      {"2.4e2kgf", force, 240 * 9.80665},
      {"2 kN", force, 2000},
      {"45 in-lb", torque, 45 * 4.4482216152605 * 25.4},
      {"5 N\xC2\xB7m", torque, 5000},
      {"5 Nm", torque, 5000},
      {"40 %", charge, 0.4},
      {"40%", charge, 0.4},
      {"0.6 %", percent, 0.006},
      {"0.6", percent, 0.006},
      {"15 %", ratio, 0.15},
      {"0.15", ratio, 0.15},
      {"25 C", temperature, 25},
      {"25 \xC2\xB0"
       "C",
       temperature, 25},
      {"77 F", temperature, 25},
      {"298.15 K", temperature, 25},
      {"280 Ah", capacity, 280},
      {"2500 mAh", capacity, 2.5},
      {"0.18 mohm", resistance, 0.18},
      {"0.18 m\xCE\xA9", resistance, 0.18},
      {"180 uohm", resistance, 0.18},
      {"5400 g", mass, 5.4},
      {"2 lb", mass, 0.90718474},
      {"3300 mV", voltage, 3.3},
      {"40e-6/K", expansion, 40e-6},
      {"40 ppm/K", expansion, 40e-6},
      {"4e-5", expansion, 40e-6},
  };
  for (const Written& one : cases) {
    INFO(one.text);
    const auto parsed = read_quantity(one.text, one.dimension);
    INFO(parsed.allowed << " / " << parsed.mend);
    REQUIRE(parsed.ok());
    CHECK(*parsed.value == Catch::Approx(one.value).epsilon(tolerance).margin(1e-13));
    CHECK(parsed.note.empty());
  }
}

TEST_CASE("quantity: what is refused says what is allowed") {
  struct Refused {
    const char* text;
    Dimension dimension;
    const char* part;  // of what is allowed or meant
  };
  const Refused cases[] = {
      {"", length, "0.8 mm"},
      {"abc", length, "0.8 mm"},
      {"nan", length, "0.8 mm"},
      {"inf mm", length, "0.8 mm"},
      {"0x10 mm", length, "not a unit"},
      {"2e9 mm", length, "larger"},
      {"1e999 mm", length, "larger"},
      {"0.8 mm thick", length, "not a unit"},
      {"0,8 mm", length, "decimal point"},
      {"0.8 kg", length, "unit of mass"},
      {"0.8 %", length, "unit of percentage"},
      {"1/0 in", length, "not a unit"},
      {"240", force, "240 kgf"},
      {"240", force, "needs its unit"},
      {"90", pressure, "90 kPa"},
      {"40", charge, "needs its %"},
      {"0.4", charge, "needs its %"},
      {"5 Mohm", resistance, "not a unit"},
      {"5 mPa", pressure, "not a unit"},
      {"240 g", force, "unit of mass"},
  };
  for (const Refused& one : cases) {
    INFO(one.text);
    const auto parsed = read_quantity(one.text, one.dimension);
    REQUIRE_FALSE(parsed.ok());
    const std::string said = parsed.allowed + " / " + parsed.mend;
    CHECK_THAT(said, Catch::Matchers::ContainsSubstring(one.part));
  }
}

TEST_CASE("quantity: kg for a force is read as kgf, and said") {
  const auto kilogram = read_quantity("240 kg", force);
  REQUIRE(kilogram.ok());
  CHECK(*kilogram.value == Catch::Approx(2353.596));
  CHECK(kilogram.note == "kg for a force was read as kgf");
  const auto pound = read_quantity("530 lbs", force);
  REQUIRE(pound.ok());
  CHECK_FALSE(pound.note.empty());
  CHECK_FALSE(read_quantity("1.2 kg/cm2", pressure).note.empty());
}

TEST_CASE("quantity: a number without a unit") {
  CHECK(*read_bare(0.8, length).value == 0.8);
  CHECK_FALSE(read_bare(240, force).ok());
  CHECK_FALSE(read_bare(0.09, pressure).ok());
  CHECK_FALSE(read_bare(0.4, charge).ok());
  CHECK_FALSE(read_bare(0.9, torque).ok());
  CHECK_FALSE(read_bare(1e10, length).ok());
}

TEST_CASE("quantity: spans") {
  const auto check = [](const char* text, Dimension dimension, Span expected) {
    INFO(text);
    const auto span = read_span(text, dimension);
    REQUIRE(span.ok());
    CHECK(span.value->low == Catch::Approx(expected.low).margin(1e-12));
    CHECK(span.value->high == Catch::Approx(expected.high).margin(1e-12));
  };
  check("30-40 %", charge, {0.3, 0.4});
  check("30%-40%", charge, {0.3, 0.4});
  check("30 \xE2\x80\x93 40 %", charge, {0.3, 0.4});
  check("30 to 40 %", charge, {0.3, 0.4});
  check("30..40 %", charge, {0.3, 0.4});
  check("38 %", charge, {0.38, 0.38});
  check("5-40 C", temperature, {5, 40});
  check("-10-40 C", temperature, {-10, 40});
  check("-10 to -5 C", temperature, {-10, -5});
  check("50-150kPa", pressure, {0.05, 0.15});
  check("500 mbar - 1.5 bar", pressure, {0.05, 0.15});
  check("0-2 %", percent, {0, 0.02});
  check("1e-3-2e-3 mm", length, {1e-3, 2e-3});
  const auto upside_down = read_span("90-10 %", charge);
  REQUIRE_FALSE(upside_down.ok());
  CHECK_THAT(upside_down.mend, Catch::Matchers::ContainsSubstring("upside down"));
  CHECK_FALSE(read_span("10-90", charge).ok());
  CHECK_FALSE(read_span("10-", charge).ok());
  CHECK_FALSE(read_span("10-90 kPa", charge).ok());
}

TEST_CASE("quantity: tolerances") {
  for (const char* text : {"63.4±0.6 mm", "63.4+-0.6 mm", "63.4 +/- 0.6 mm", "63.4 mm ± 0.6 mm",
                           "63.4 mm ±0.6", "63.4±0.6"}) {
    INFO(text);
    const auto read = read_toleranced(text, length);
    REQUIRE(read.ok());
    CHECK(read.value->value == Catch::Approx(63.4));
    REQUIRE(read.value->tolerance);
    CHECK(*read.value->tolerance == Catch::Approx(0.6));
  }
  const auto part = read_toleranced("240 kgf ± 5 %", force);
  REQUIRE(part.ok());
  CHECK(*part.value->tolerance == Catch::Approx(12 * 9.80665));
  CHECK_FALSE(read_toleranced("240 kgf", force).value->tolerance);
  CHECK_FALSE(read_toleranced("240±15", force).ok());
  CHECK_FALSE(read_toleranced("240 kgf ± -5", force).ok());
}

TEST_CASE("units: the choice for printing") {
  const auto read = read_unit_choice("in,psi,lbf,lbf.in,F");
  REQUIRE(read.problem.empty());
  CHECK(quantity_text(25.4, length, read.choice) == "1.0000 in");
  CHECK(quantity_text(25, temperature, read.choice) == "77 F");
  const UnitChoice usual;
  CHECK(quantity_text(0.8, length, usual) == "0.80 mm");
  CHECK(quantity_text(0.0936, pressure, usual) == "94 kPa");
  CHECK(quantity_text(2353.596, force, usual) == "240 kgf");
  CHECK(quantity_text(900, torque, usual) == "0.9 N.m");
  CHECK(quantity_text(-0.0001, length, usual) == "0.00 mm");
  CHECK_THAT(read_unit_choice("mm,in").problem, Catch::Matchers::ContainsSubstring("two units"));
  CHECK_THAT(read_unit_choice("furlong").problem, Catch::Matchers::ContainsSubstring("furlong"));
}

}  // namespace stackfit::cli
