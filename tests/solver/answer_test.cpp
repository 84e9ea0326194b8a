// SPDX-License-Identifier: GPL-3.0-or-later
//
// Whole answers: what must never pass, what must be shown, and remedies that mend.
#include "solver/answer.hpp"

#include <algorithm>

#include "solver/remedy.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;

namespace {

bool warns(const Answer& answer, WarningCode code) {
  return std::any_of(answer.warnings.begin(), answer.warnings.end(),
                     [&](const Warning& w) { return w.code == code; });
}

const Warning& warning(const Answer& answer, WarningCode code) {
  const auto found = std::find_if(answer.warnings.begin(), answer.warnings.end(),
                                  [&](const Warning& w) { return w.code == code; });
  REQUIRE(found != answer.warnings.end());
  return *found;
}

/// The picked plan written into the build, as a saved copy has it.
Build placed_as(const Answer& answer, Build build) {
  for (const GapResult& gap : answer.plan.gaps) {
    PlacedSheets placed{gap.name, {}};
    for (const GapSheet& sheet : gap.sheets) {
      if (sheet.origin == SheetOrigin::kit) {
        placed.sheets.emplace_back(sheet.name, sheet.count);
      }
    }
    build.placed.push_back(placed);
  }
  return build;
}

}  // namespace

TEST_CASE("a row too tight as built does not pass, however it is used") {
  Build b = sample::build();
  b.build.charge = 1.0;
  b.use.charge = Span{0.5, 0.65};
  b.cell.range = PressureRange{0.03, 0.08, RangeAppliesTo::use};
  const Answer answer = answer_pick(b);
  if (answer.has_plan && answer.inside()) {
    CHECK(answer.band.judged(answer.plan.as_built.face_pressure_mpa) <= answer.band.high_mpa);
  }
  Build tight = placed_as(answer, b);
  tight.box.inner_length_mm = {b.box.inner_length_mm[0] - 0.5};
  const Answer built = answer_pressure(tight);
  REQUIRE(built.plan.as_built.standing >= Standing::above);
  CHECK_FALSE(built.inside());
  CHECK(built.plan.worst >= Standing::above);
}

TEST_CASE("a row that rattles is not inside even a band that begins at nothing") {
  Build b = sample::build(4, 30);
  b.cell.range->low_mpa = 0;
  const Answer answer = answer_pick(b);
  CHECK_FALSE(answer.inside());
  CHECK(answer.plan.worst == Standing::loose);
}

TEST_CASE("what a row reading adds to edges is dome, not solid length") {
  Build edges = sample::build();
  edges.row_mm = 160.4;  // 0.1 mm a cell: within the slack, so it closes at no force
  const Answer read = answer_pick(edges);
  const Answer bare = answer_pick(sample::build());
  CHECK(read.plan.highest.force_n == Catch::Approx(bare.plan.highest.force_n));
  CHECK(read.cells[0].dome_mm == Catch::Approx(0.1));
  edges.row_mm = 164;  // 1 mm a cell: swollen
  CHECK(answer_pick(edges).verdict == Verdict::stop);
}

TEST_CASE("cells known only at their highest point are refused when far above the data sheet") {
  Build b = sample::build();
  b.cell.thickness.tolerance_mm = 0.3;
  b.cells[1].edge_mm.reset();
  b.cells[1].boards_mm = 42;
  CHECK(answer_pick(b).verdict == Verdict::stop);
  b.cells[1].boards_mm = 40.2;
  const Answer flat = answer_pick(b);
  CHECK(flat.verdict != Verdict::stop);
  CHECK(flat.edges_thinner.has_value());
}

TEST_CASE("bare floor, small sheets and walls that bow too far fail by their own rule") {
  Build bare = sample::build();
  bare.box.floor = Floor::bare;
  CHECK(answer_pick(bare).failure.rule == FailedRule::metal_left_bare);
  Build small = sample::build();
  SheetInput patch;
  patch.name = "patch";
  patch.thickness_mm = 0.2;
  patch.outline = SheetOutline{60, 50, 0, {}, {}};
  small.fixed_sheets.push_back(patch);
  CHECK(answer_pick(small).failure.rule == FailedRule::uneven_coverage);
  Build thin = sample::build();
  thin.box.end_walls = PlateWall{0.4, WallMaterial::aluminium, WallJoint::screwed};
  CHECK_FALSE(answer_pick(thin).inside());
}

TEST_CASE("a box far shorter than its cells is a slip of the pen") {
  CHECK_THROWS_AS(answer_pick(sample::build(4, -20)), UnusableBuild);
}

TEST_CASE("a placed plan is judged as it was picked") {
  const Build b = sample::build();
  const Answer picked = answer_pick(b);
  REQUIRE(picked.inside());
  const Answer placed = answer_pressure(placed_as(picked, b));
  CHECK(placed.inside());
  CHECK(placed.plan.margin == picked.plan.margin);
  CHECK(placed.plan.highest.force_n == picked.plan.highest.force_n);
  CHECK(placed.plan.lowest.force_n == picked.plan.lowest.force_n);
}

TEST_CASE("brackets, the looser plan and the rigid figures stand beside the answer") {
  Build b = sample::build();
  b.box.end_walls.reset();
  const Answer answer = answer_pick(b);
  REQUIRE(answer.has_plan);
  REQUIRE(answer.soft);
  REQUIRE(answer.stiff);
  CHECK(answer.soft->highest_mpa < answer.plan.highest.face_pressure_mpa);
  CHECK(answer.stiff->highest_mpa > answer.plan.highest.face_pressure_mpa);
  REQUIRE(answer.rigid);
  CHECK(answer.rigid->highest.force_n > answer.plan.highest.force_n);
  CHECK(warning(answer, WarningCode::walls_assumed).next_step ==
        answer.rigid->highest.face_pressure_mpa);
  REQUIRE(answer.looser);
  CHECK(answer.looser->shim_total_mm < answer.plan.shim_total_mm);
  REQUIRE(answer.looser->life_mean);
  CHECK(*answer.looser->life_mean > *answer.plan.life_mean);
}

TEST_CASE("a verdict is plain only where nothing that decides is assumed") {
  Build b = sample::build();
  CHECK(answer_pick(b).verdict == Verdict::fits_on_assumed_figures);
  b.cell.softness = SoftnessLaw{0.06, 180};
  b.cell.swing = SwingFigures{0.006, 0.003};
  b.cell.expansion_per_k = 40e-6;
  CHECK(answer_pick(b).verdict == Verdict::fits);
  b.kit[0].sheet.material.reset();
  b.kit[1].sheet.material.reset();
  const Answer unsaid = answer_pick(b);
  CHECK(unsaid.verdict == Verdict::fits_on_assumed_figures);
  CHECK(warns(unsaid, WarningCode::material_not_said));
}

TEST_CASE("the next step of a warning brings the state to the band's edge") {
  Build b = sample::build();
  const Answer picked = answer_pick(b);
  REQUIRE(picked.inside());
  Build longer = placed_as(picked, b);
  longer.box.inner_length_mm[0] += 1.0;
  const Answer below = answer_pressure(longer);
  const WarningCode code =
      warns(below, WarningCode::loose) ? WarningCode::loose : WarningCode::below_band;
  longer.box.inner_length_mm[0] -= warning(below, code).next_step;
  CHECK(answer_pressure(longer).plan.lowest.face_pressure_mpa ==
        Catch::Approx(picked.band.low_mpa).epsilon(0.01));
  Build shorter = placed_as(picked, b);
  shorter.box.inner_length_mm[0] -= 1.0;
  const Answer above = answer_pressure(shorter);
  shorter.box.inner_length_mm[0] += warning(above, WarningCode::above_band).next_step;
  CHECK(picked.band.judged(answer_pressure(shorter).plan.highest.face_pressure_mpa) ==
        Catch::Approx(picked.band.high_mpa).epsilon(0.01));
}

TEST_CASE("every remedy that is listed mends the build") {
  Build few = sample::build();
  few.kit[0].count = 4;
  few.kit[1].count = 1;
  Build long_box = sample::build(4, 9.5);
  long_box.kit[0].count = 5;
  long_box.kit[1].count = 5;
  Build by_hand = sample::build();
  by_hand.build.method = BuildMethod::hand;
  Build none = sample::build();
  none.kit.clear();
  Build narrow = sample::build();
  narrow.cell.range = PressureRange{0.03, 0.11, RangeAppliesTo::use};
  narrow.use.charge = Span{0, 1};
  int mended = 0;
  for (const Build& b : {few, long_box, by_hand, none, narrow}) {
    const Answer answer = answer_pick(b);
    CHECK_FALSE(answer.inside());
    CHECK(answer.failure.rule != FailedRule::none);
    for (const Remedy& remedy : answer.remedies) {
      INFO("rule " << static_cast<int>(answer.failure.rule) << " remedy "
                   << static_cast<int>(remedy.code));
      CHECK(answer_pick(apply(remedy, b)).inside());
      ++mended;
    }
  }
  CHECK(mended >= 6);
}

TEST_CASE(
    "among count vectors of a mixed kit in the cold, the picked margin is within the window") {
  Build b = sample::build(3, 4.2);
  b.use.temperature_c = Span{-10, 20};
  b.kit[1].sheet.material = SheetMaterial::polypropylene;
  b.kit[0].count = 7;
  b.kit[1].count = 7;
  const Study study(b, {});
  double best = -1e300;
  for (int thin = 0; thin <= 7; ++thin) {
    for (int thick = 0; thick <= 7; ++thick) {
      const PlanScore score = study.score(study.load_of({thin, thick}));
      if (thin + thick >= 4 && score.passes) {
        best = std::max(best, score.margin);
      }
    }
  }
  const ShimPlan plan = study.choose();
  REQUIRE(plan.passes);
  CHECK(plan.best_margin == best);
  CHECK(plan.margin >= best - plan.window);
}
