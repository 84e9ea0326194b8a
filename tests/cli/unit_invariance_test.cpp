// SPDX-License-Identifier: GPL-3.0-or-later
//
// The same build written in millimetres and in inches, kilopascals and psi, gives one answer.
#include <fmt/format.h>
#include <rapidcheck.h>

#include <cmath>

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

Answer answer_of(const std::string& text) {
  const testing::Folder folder;
  BuildSource source;
  source.file = folder.write("build.json", text);
  const ReadBuild read = read_build(source);
  RC_ASSERT(read.build.has_value());
  return answer_pick(*read.build);
}

bool near(double a, double b) {
  return std::abs(a - b) <= 1e-9 * (1 + std::abs(b));
}

}  // namespace

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
    const Answer mm = answer_of(build_text(drawn, false));
    const Answer inch = answer_of(build_text(drawn, true));
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
  }));
}
