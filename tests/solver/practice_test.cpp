// SPDX-License-Identifier: GPL-3.0-or-later
//
// Common practice of the bench, as checks: each is what careful builders do, not a published
// figure.
#include <algorithm>

#include "solver/answer.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;

namespace {

/// Domes of the same edge thickness on every cell.
Build domed(double dome_mm) {
  Build b = sample::build();
  for (CellReading& cell : b.cells) {
    cell.middle_mm = *cell.edge_mm + dome_mm;
  }
  return b;
}

}  // namespace

TEST_CASE("common practice: flat cells take a thicker total of shims than bulged ones") {
  // Steps of 0.05 mm, finer than the bulge's mean over four cells, which is 0.2 mm.
  Build flat_build = domed(0);
  Build bulged_build = domed(0.55);  // 0.35 mm of it swelling: below watch
  for (Build* build : {&flat_build, &bulged_build}) {
    KitShim fine = build->kit.front();
    fine.sheet.name = "fine";
    fine.sheet.thickness_mm = 0.05;
    fine.count = 15;
    build->kit.push_back(fine);
  }
  const Answer flat = answer_pick(flat_build);
  const Answer bulged = answer_pick(bulged_build);
  REQUIRE(flat.inside());
  REQUIRE(bulged.inside());
  CHECK(flat.plan.shim_total_mm > bulged.plan.shim_total_mm);
}

TEST_CASE("common practice: cells bulged beyond the set-aside figure are refused, not shimmed") {
  const Answer answer = answer_pick(domed(1.25));  // 1.05 mm beyond the slack; set aside from 1.0
  CHECK(answer.verdict == Verdict::stop);
  CHECK_FALSE(answer.has_plan);
  CHECK(answer.failure.rule == FailedRule::swollen_cell);
  CHECK(std::count_if(answer.warnings.begin(), answer.warnings.end(),
                      [](const Warning& w) { return w.code == WarningCode::swollen_cell; }) == 4);
}

TEST_CASE("common practice: a cell that shows a sign is never pressed, whatever its thickness") {
  Build b = sample::build();
  b.cells[2].signs = "smell";
  const Answer answer = answer_pick(b);
  CHECK(answer.verdict == Verdict::stop);
  CHECK_FALSE(answer.has_plan);
  CHECK(answer.failure.rule == FailedRule::signs);
}

TEST_CASE("common practice: measured and built at partial charge, checked when full") {
  const Answer answer = answer_pick(sample::build());
  REQUIRE(answer.has_plan);
  CHECK(answer.build_charge == 0.4);
  CHECK(answer.plan.highest.charge == 0.9);
  CHECK(answer.plan.highest.face_pressure_mpa > answer.plan.as_built.face_pressure_mpa);
  const auto full = std::find_if(answer.moves.begin(), answer.moves.end(),
                                 [](const Move& m) { return m.code == MoveCode::full_charge; });
  REQUIRE(full != answer.moves.end());
  CHECK(full->face_pressure_mpa > answer.plan.highest.face_pressure_mpa);
}

TEST_CASE("common practice: sense-lead voltages add up cell by cell") {
  Build b = sample::build(8);
  for (CellReading& cell : b.cells) {
    cell.voltage_v = 3.30;
  }
  const Answer answer = answer_pick(b);
  REQUIRE(answer.sense_lead_v.size() == 8);
  for (std::size_t i = 0; i < 8; ++i) {
    CHECK(answer.sense_lead_v[i] == Catch::Approx(3.30 * static_cast<double>(i + 1)));
  }
  CHECK(answer.sense_lead_v.back() == Catch::Approx(26.40));
  CHECK_FALSE(answer.voltage_assumed);
}

TEST_CASE("common practice: every gap between cells and at a metal wall holds an insulator") {
  const Answer answer = answer_pick(sample::build());
  REQUIRE(answer.has_plan);
  for (const GapResult& gap : answer.plan.gaps) {
    INFO(gap.name);
    CHECK(gap.insulation_due);
    CHECK(gap.insulated);
  }
  CHECK(answer.plan.bare_metal.empty());
}

TEST_CASE("common practice: metal shims do not insulate") {
  Build b = sample::build();
  for (KitShim& shim : b.kit) {
    shim.sheet.material = SheetMaterial::aluminium;
  }
  const Answer answer = answer_pick(b);
  CHECK_FALSE(answer.inside());
  CHECK(answer.failure.rule == FailedRule::too_few_insulating_sheets);
}

TEST_CASE("common practice: full assembly force and a cell slid in by hand exclude each other") {
  // The band asks for more than a hand can push in; the same row closes with its wall put on last.
  Build b = sample::build(4, 5.0);
  b.build.method = BuildMethod::hand;
  const Answer answer = answer_pick(b);
  CHECK_FALSE(answer.inside());
  Build last = b;
  last.build.method = BuildMethod::end_wall_last;
  CHECK(answer_pick(last).inside());
}
