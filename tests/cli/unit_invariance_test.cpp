// SPDX-License-Identifier: GPL-3.0-or-later
//
// The same build written in millimetres and in inches, kilopascals and psi, gives one answer.
#include <fmt/format.h>
#include <rapidcheck.h>

#include <cmath>
#include <string>
#include <variant>
#include <vector>

#include "solver/answer.hpp"
#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"

using namespace stackfit;
using namespace stackfit::cli;

namespace {

constexpr double mm_per_inch = 25.4;               // exact, NIST SP 811
constexpr double kpa_per_psi = 6.894757293168361;  // exact to the double, NIST SP 811

/// Lengths in hundredths of a millimetre, so that a failure shrinks to round figures.
struct Drawn {
  std::vector<int> edges;
  int length;
  int thin;
  int thick;
};

std::string length(double mm, bool inches) {
  return inches ? fmt::format("\"{:.17g} in\"", mm / mm_per_inch)
                : fmt::format("\"{:.17g} mm\"", mm);
}

std::string pressure(double kpa, bool inches) {
  return inches ? fmt::format("\"{:.17g} psi\"", kpa / kpa_per_psi)
                : fmt::format("\"{:.17g} kPa\"", kpa);
}

std::string build_text(const Drawn& drawn, bool inches) {
  std::string cells;
  for (const int edge : drawn.edges) {
    cells += fmt::format("{}{{\"edge\": {}, \"signs\": \"none\"}}", cells.empty() ? "" : ", ",
                         length(edge / 100.0, inches));
  }
  const auto shim = [&](const char* name, int hundredths) {
    return fmt::format(
        R"({{"name": "{}", "thickness": {}, "count": 6, "material": "glass-epoxy"}})", name,
        length(hundredths / 100.0, inches));
  };
  return fmt::format(
      R"({{"stackfit": 1, "cell": {{"face": {{"width": {}, "height": {}}},
           "thickness": {{"nominal": {}}}, "range": {{"low": {}, "high": {}}}}},
           "cells": [{}], "measured_charge": "40 %",
           "box": {{"inner": {{"length": {}}}, "end_walls": {{"thickness": {}}},
                    "opens": "one end wall"}},
           "kit": [{}, {}]}})",
      length(120, inches), length(100, inches), length(40, inches), pressure(30, inches),
      pressure(250, inches), cells, length(drawn.length / 100.0, inches), length(3, inches),
      shim("thin", drawn.thin), shim("thick", drawn.thick));
}

Build build_of(const std::string& text) {
  const testing::Folder folder;
  BuildSource source;
  source.file = folder.write("build.json", text);
  const ReadBuild read = read_build(source);
  RC_ASSERT(read.build.has_value());
  return *read.build;
}

/// Whatever the text says in a unit of length or pressure.
std::vector<double> said_in_units(const Build& build) {
  const CellType& cell = build.cell;
  std::vector<double> said{cell.face.width_mm,
                           cell.face.height_mm,
                           cell.thickness.nominal_mm,
                           cell.range.value().low_mpa,
                           cell.range.value().high_mpa,
                           build.box.inner_length_mm.at(0),
                           std::get<PlateWall>(build.box.end_walls.value()).thickness_mm.value()};
  for (const CellReading& reading : build.cells) {
    said.push_back(reading.edge_mm.value());
  }
  for (const KitShim& shim : build.kit) {
    said.push_back(shim.sheet.thickness_mm);
  }
  return said;
}

bool near(double a, double b) {
  return std::abs(a - b) <= 1e-9 * (1 + std::abs(b));
}

/// Readings differ by the rounding of one conversion only.
void check_reading(const Build& mm, const Build& inch) {
  const std::vector<double> expected = said_in_units(mm);
  const std::vector<double> found = said_in_units(inch);
  RC_ASSERT(found.size() == expected.size());
  for (std::size_t i = 0; i < found.size(); ++i) {
    RC_ASSERT(std::abs(found[i] - expected[i]) <= 1e-15 * expected[i]);
  }
}

void check_answer(const Answer& mm, const Answer& inch) {
  RC_ASSERT(mm.verdict == inch.verdict);
  RC_ASSERT(mm.has_plan == inch.has_plan);
  RC_ASSERT(near(inch.plan.lowest.force_n, mm.plan.lowest.force_n));
  RC_ASSERT(near(inch.plan.highest.force_n, mm.plan.highest.force_n));
  RC_ASSERT(near(inch.plan.as_built.face_pressure_mpa, mm.plan.as_built.face_pressure_mpa));
  RC_ASSERT(near(inch.plan.interference_mm, mm.plan.interference_mm));
  RC_ASSERT(inch.plan.kit.size() == mm.plan.kit.size());
  for (std::size_t i = 0; i < mm.plan.kit.size(); ++i) {
    RC_ASSERT(inch.plan.kit[i].used == mm.plan.kit[i].used);
  }
}

}  // namespace

// Whatever is read is compared in every draw. Past the reader units are no more, so that one whole
// answer in four, of a second or so each, is enough to see one that hangs on the last bit.
TEST_CASE("millimetres and inches give the same answer") {
  CHECK(rc::check([] {
    Drawn drawn;
    const int cells = *rc::gen::inRange(2, 6);
    for (int i = 0; i < cells; ++i) {
      drawn.edges.push_back(*rc::gen::inRange(3970, 4031));
    }
    drawn.length = 4000 * cells + *rc::gen::inRange(100, 900);
    drawn.thin = *rc::gen::inRange(20, 60);
    drawn.thick = *rc::gen::inRange(60, 140);
    const Build mm = build_of(build_text(drawn, false));
    const Build inch = build_of(build_text(drawn, true));
    check_reading(mm, inch);
    if (*rc::gen::inRange(0, 4) == 0) {
      check_answer(answer_pick(mm), answer_pick(inch));
    }
  }));
}
