// SPDX-License-Identifier: GPL-3.0-or-later
//
// Rubber by Gent & Lindley 1959 and foam grades by ASTM D1056, from rubber_and_foam.csv, which
// names each source. Its rows on cellular solids and compression set (Gibson & Ashby, ASTM D395)
// describe quantities this program does not compute: a foam is a table or a grade here.
#include <cstdio>
#include <string>

#include "solver/pad_laws.hpp"
#include "tests/catch.hpp"
#include "tests/published/csv.hpp"

using namespace stackfit;

namespace {

/// "100x60x4mm" pads of the table, with the constants in the same cell.
struct RubberRow {
  double e0, k, bulk, length, width, thickness;
};
RubberRow parse(const std::string& inputs) {
  RubberRow row{};
  REQUIRE(std::sscanf(inputs.c_str(), "E0=%lfMPa k=%lf B=%lfMPa pad %lfx%lfx%lfmm", &row.e0, &row.k,
                      &row.bulk, &row.length, &row.width, &row.thickness) == 6);
  return row;
}

}  // namespace

TEST_CASE("rubber pads meet Gent and Lindley's figures") {
  int checked = 0;
  for (const auto& row : published::read_table("rubber_and_foam.csv")) {
    if (published::text(row, "quantity") != "gent_lindley") {
      continue;
    }
    const RubberRow in = parse(published::text(row, "inputs"));
    const RubberPad pad{
        {in.e0, in.k, in.bulk}, in.thickness, in.length * in.width, 2 * (in.length + in.width)};
    const double expected = published::number(row, "value");
    INFO(published::text(row, "inputs"));
    CHECK(std::abs(rubber_modulus_mpa(pad) - expected) <= 5e-4 * expected);
    ++checked;
  }
  CHECK(checked == 3);
  constexpr double pi = 3.14159265358979323846;
  // A disc of 20 mm and 5 mm: S = D/(4 h) = 1, exact.
  CHECK(shape_factor({{}, 5, pi * 100, pi * 20}) == Catch::Approx(1).epsilon(1e-14));
}

TEST_CASE("foam grades have the bands of ASTM D1056") {
  int checked = 0;
  for (const auto& row : published::read_table("rubber_and_foam.csv")) {
    const std::string quantity = published::text(row, "quantity");
    if (quantity.rfind("d1056_grade_", 0) != 0) {
      continue;
    }
    const std::string value = published::text(row, "value");
    const std::size_t dots = value.find("..");
    REQUIRE(dots != std::string::npos);
    const double low = std::stod(value.substr(0, dots));
    const double high = std::stod(value.substr(dots + 2));
    const int grade = quantity.back() - '0';
    const Span band = d1056_band_mpa(grade);
    INFO(quantity);
    CHECK(std::abs(1000 * band.high - high) <= 0.005);
    if (low > 0) {
      CHECK(std::abs(1000 * band.low - low) <= 0.005);
    }
    ++checked;
  }
  CHECK(checked == 6);
}

TEST_CASE("a generic foam has the grade's stress at a quarter squeezed") {
  const LawPtr foam = generic_foam(0.05);
  CHECK(foam->pressure_at(0.25) == Catch::Approx(0.05).epsilon(1e-14));
}
