// SPDX-License-Identifier: GPL-3.0-or-later
//
// What an answer must refuse, show and count, rule by rule, as codes and numbers.
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <random>
#include <string>
#include <vector>

#include "solver/answer.hpp"
#include "solver/study.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;
using Catch::Approx;

namespace {

const Warning& warned(const Answer& answer, WarningCode code) {
  const Warning* found = sample::find_warning(answer.warnings, code);
  INFO("code " << static_cast<int>(code));
  REQUIRE(found != nullptr);
  return *found;
}

bool is_warned(const Answer& answer, WarningCode code) {
  return sample::find_warning(answer.warnings, code) != nullptr;
}

/// "thick" in every gap, 4.0 mm together, in a box longer than the bare cells by so much.
Build longer_by(Build b, double mm) {
  b.box.inner_length_mm[0] += mm;
  return b;
}

Build with_shim(Build b, double mm) {
  b.fixed_sheets.push_back(sample::sheet("fitting", mm, {PlaceWord::named_gaps, {"wall-1"}}));
  return b;
}

constexpr double fitting_mm = 0.05;  // what a bench can fit to

}  // namespace

TEST_CASE("inside in every state of use but too tight as built does not fit") {
  Build b = sample::thick_everywhere(3.0);
  b.cell.swing = SwingTable{{0, 1}, {0, 0.006}};
  b.use.charge = Span{0.35, 0.5};
  REQUIRE(answer_pressure(b).inside());
  b.build.charge = 1.0;
  const Answer answer = answer_pressure(b);
  CHECK(answer.plan.lowest.standing == Standing::inside);
  CHECK(answer.plan.highest.standing == Standing::inside);
  CHECK(answer.plan.as_built.standing == Standing::above);
  CHECK(answer.plan.worst == Standing::above);
  CHECK_FALSE(answer.plan.passes);
  CHECK(answer.verdict == Verdict::does_not_fit);
  CHECK(warned(answer, WarningCode::above_band).charge == 1.0);
}

TEST_CASE("built looser than in use is no fault") {
  Build b = sample::thick_everywhere(3.0);
  b.cell.swing = SwingTable{{0, 1}, {0, 0.006}};
  b.use.charge = Span{0.35, 0.5};
  b.box.inner_length_mm = {163.5};
  b.build.charge = 0.0;
  const Answer answer = answer_pressure(b);
  CHECK(answer.plan.as_built.standing == Standing::below);
  CHECK(answer.inside());
}

TEST_CASE("a row reading above edge-only readings is shared as dome, one below them as length") {
  Build b = sample::build();
  b.row_mm = 161.2;
  const Answer more = answer_pick(b);
  for (const CellResult& cell : more.cells) {
    CHECK(cell.edge_mm == 40);
    CHECK(cell.dome_mm == Approx(0.3));
    CHECK(cell.slack_mm == Approx(0.2));
    CHECK(cell.swelling_mm == Approx(0.1));
    CHECK(cell.free_mm < 40.1);
  }
  CHECK(warned(more, WarningCode::row_differs_from_sum).size == Approx(1.2));
  b.row_mm = 159.2;
  const Answer less = answer_pick(b);
  for (const CellResult& cell : less.cells) {
    CHECK(cell.edge_mm == Approx(39.8));
    CHECK(cell.dome_mm == 0);
    CHECK(cell.free_mm == Approx(39.8));
  }
  // Cells whose dome was measured take the whole of it as length.
  Build both = sample::build();
  for (CellReading& cell : both.cells) {
    cell.middle_mm = 40.1;
  }
  both.row_mm = 160.8;
  const Answer split = answer_pick(both);
  CHECK(split.cells[0].dome_mm == Approx(0.1));
  CHECK(split.cells[0].edge_mm == Approx(40.1));
}

TEST_CASE("the highest point beyond data sheet, tolerance, slack and watch stops, an edge warns") {
  // 40 and 0.3 of tolerance, 0.2 slack, 0.4 watch: 40.9 is the last that is pressed.
  Build b = sample::build();
  b.cell.thickness.tolerance_mm = 0.3;
  b.cells[2].edge_mm.reset();
  b.cells[2].boards_mm = 40.91;
  const Answer over = answer_pick(b);
  CHECK(over.verdict == Verdict::stop);
  CHECK(over.failure.rule == FailedRule::swollen_cell);
  CHECK(over.cells[2].beyond_watch);
  CHECK(over.cells[2].swelling_mm == Approx(0.41));
  CHECK(warned(over, WarningCode::swollen_cell).where == "3");
  CHECK(warned(over, WarningCode::swollen_cell).size == Approx(0.41));
  CHECK(warned(over, WarningCode::swollen_cell).limit == Approx(0.4));
  b.cells[2].boards_mm = 40.89;
  CHECK(answer_pick(b).verdict != Verdict::stop);

  Build edge = sample::build();
  edge.cell.thickness.tolerance_mm = 0.3;
  edge.cells[2].edge_mm = 40.91;
  const Answer thick = answer_pick(edge);
  CHECK(thick.verdict != Verdict::stop);
  CHECK(warned(thick, WarningCode::thicker_than_data_sheet).where == "3");
  CHECK(warned(thick, WarningCode::thicker_than_data_sheet).size == Approx(0.61));
}

TEST_CASE("a bare floor never fits, one not said is asked about") {
  Build b = sample::known();
  b.box.floor = Floor::bare;
  const Answer bare = answer_pick(b);
  CHECK(bare.verdict == Verdict::does_not_fit);
  CHECK(bare.plan.passes);  // the row itself is right
  CHECK(warned(bare, WarningCode::metal_left_bare).where == "floor");
  b.box.floor = Floor::not_said;
  const Answer open = answer_pick(b);
  CHECK(open.inside());
  CHECK(is_warned(open, WarningCode::floor_not_said));
}

TEST_CASE("sheets that press less than 0.7 of the face do not fit") {
  const auto with_height = [](double height_mm) {
    Build b = sample::known();
    SheetInput patch = sample::sheet("patch", 0.2, {PlaceWord::named_gaps, {"2-3"}});
    patch.outline = SheetOutline{120, height_mm, 0, {}, {}};
    b.fixed_sheets.push_back(patch);
    return answer_pick(b);
  };
  const Answer enough = with_height(72);
  CHECK(enough.inside());
  CHECK_FALSE(is_warned(enough, WarningCode::uneven_coverage));
  const Answer small = with_height(68);
  CHECK_FALSE(small.inside());
  CHECK(small.failure.rule == FailedRule::uneven_coverage);
  CHECK(warned(small, WarningCode::uneven_coverage).size ==
        Approx(120 * 68 / small.band.face_area_mm2));
  CHECK(warned(small, WarningCode::uneven_coverage).limit == 0.7);
}

TEST_CASE("walls that bow past three thicknesses do not fit, whatever the pressures") {
  const auto with_wall = [](double thickness_mm) {
    Build b = sample::known();
    b.cell.face = {200, 200, 3.0};
    b.cell.range = PressureRange{0.0001, 0.25, RangeAppliesTo::use};
    b.box.inner_width_mm = 200;
    b.box.inner_height_mm = 200;
    b.box.end_walls = PlateWall{thickness_mm, WallMaterial::aluminium, WallJoint::screwed};
    b.box.inner_length_mm = {162.0};
    return answer_pressure(sample::placed_evenly(b, "thick"));
  };
  const Answer thin = with_wall(0.3);
  CHECK(thin.plan.worst == Standing::inside);
  CHECK_FALSE(thin.plan.passes);
  CHECK_FALSE(thin.inside());
  CHECK(thin.failure.rule == FailedRule::walls_bow_too_far);
  CHECK(warned(thin, WarningCode::walls_bow_far).size > 3 * 0.3);
}

TEST_CASE("a picked plan, placed, gives the same plan, pressures and verdict") {
  for (const Build& b : {sample::build(), sample::known(), sample::with_pads()}) {
    const Answer picked = answer_pick(b);
    REQUIRE(picked.inside());
    const Build placed = sample::placed_as(b, picked.plan);
    for (const Answer& again : {answer_pick(placed), answer_pressure(placed)}) {
      CHECK(again.verdict == picked.verdict);
      CHECK(again.plan.passes);
      CHECK(again.plan.margin == picked.plan.margin);
      CHECK(again.plan.shim_total_mm == picked.plan.shim_total_mm);
      CHECK(again.plan.as_built.force_n == picked.plan.as_built.force_n);
      CHECK(again.plan.lowest.force_n == picked.plan.lowest.force_n);
      CHECK(again.plan.highest.force_n == picked.plan.highest.force_n);
      CHECK(again.plan.terminal_spacing_mm == picked.plan.terminal_spacing_mm);
      REQUIRE(again.plan.gaps.size() == picked.plan.gaps.size());
      for (std::size_t gap = 0; gap < again.plan.gaps.size(); ++gap) {
        CHECK(again.plan.gaps[gap].total_mm == picked.plan.gaps[gap].total_mm);
        CHECK(again.plan.gaps[gap].insulated);
      }
      CHECK(again.insertion.push_n == picked.insertion.push_n);
    }
  }
}

TEST_CASE("the looser plan holds at least 0.2 mm less of shims and lives longer") {
  for (const Build& b : {sample::build(), sample::known(), sample::build(8, 8)}) {
    const Answer answer = answer_pick(b);
    REQUIRE(answer.has_plan);
    REQUIRE(answer.looser);
    CHECK(answer.looser->shim_total_mm <= answer.plan.shim_total_mm - 0.2 + 1e-9);
    CHECK(answer.looser->highest.face_pressure_mpa < answer.plan.highest.face_pressure_mpa);
    REQUIRE(answer.looser->life_span);
    CHECK(answer.looser->life_mean.value() > answer.plan.life_mean.value());
    CHECK(answer.looser->life_span->low <= answer.looser->life_mean.value());
  }
}

TEST_CASE("soft below stated below stiff, at both ends, only with an assumed law") {
  const Answer answer = answer_pick(sample::build());
  REQUIRE(answer.soft);
  REQUIRE(answer.stiff);
  CHECK(answer.soft->a_mpa == 0.03);
  CHECK(answer.stiff->a_mpa == 0.12);
  CHECK(answer.soft->lowest_mpa < answer.plan.lowest.face_pressure_mpa);
  CHECK(answer.plan.lowest.face_pressure_mpa < answer.stiff->lowest_mpa);
  CHECK(answer.soft->highest_mpa < answer.plan.highest.face_pressure_mpa);
  CHECK(answer.plan.highest.face_pressure_mpa < answer.stiff->highest_mpa);
  const Answer known = answer_pick(sample::known());
  CHECK_FALSE(known.soft);
  CHECK_FALSE(known.stiff);
}

TEST_CASE("rigid figures stand beside assumed walls, and only there") {
  Build b = sample::known();
  b.box.end_walls.reset();
  const Answer assumed = answer_pick(b);
  REQUIRE(assumed.has_plan);
  REQUIRE(assumed.rigid);
  CHECK(assumed.rigid->walls_give_mm == 0);
  CHECK(assumed.plan.walls_give_mm > 0);
  CHECK(assumed.rigid->shim_total_mm == assumed.plan.shim_total_mm);
  CHECK(assumed.rigid->highest.force_n > assumed.plan.highest.force_n);
  CHECK(warned(assumed, WarningCode::walls_assumed).size == 2.0);
  CHECK(warned(assumed, WarningCode::walls_assumed).limit ==
        assumed.rigid->lowest.face_pressure_mpa);
  CHECK(warned(assumed, WarningCode::walls_assumed).next_step ==
        assumed.rigid->highest.face_pressure_mpa);
  b.box.end_walls = PlateWall{2.0, WallMaterial::aluminium, WallJoint::screwed};
  const Answer said = answer_pick(b);
  CHECK_FALSE(said.rigid);
  CHECK_FALSE(is_warned(said, WarningCode::walls_assumed));
}

TEST_CASE("a plain `fits` turns into one on assumed figures by any single thing not said") {
  REQUIRE(answer_pick(sample::known()).verdict == Verdict::fits);
  struct Unsaid {
    std::string what;
    std::function<void(Build&)> change;
  };
  const std::vector<Unsaid> all{
      {"softness", [](Build& b) { b.cell.softness.reset(); }},
      {"swing", [](Build& b) { b.cell.swing.reset(); }},
      {"net swing",
       [](Build& b) {
         b.cell.swing = SwingFigures{{}, 0.003};
       }},
      {"hump",
       [](Build& b) {
         b.cell.swing = SwingFigures{0.006, {}};
       }},
      {"expansion", [](Build& b) { b.cell.expansion_per_k.reset(); }},
      {"walls", [](Build& b) { b.box.end_walls.reset(); }},
      {"charge", [](Build& b) { b.measured_charge.reset(); }},
      {"material", [](Build& b) { b.kit[0].sheet.material.reset(); }},
      {"a cell's thickness",
       [](Build& b) {
         b.cells[0].edge_mm.reset();
         b.cells[0].middle_mm.reset();
       }},
      {"edges", [](Build& b) { b.cells[0].edge_mm.reset(); }},
      {"range",
       [](Build& b) {
         b.cell.range.reset();
         b.cell.makers_force = MakersForce{1800, {}, ForceWhen::assembly};
       }},
      {"range and force",
       [](Build& b) {
         b.cell.range.reset();
         b.use.charge = Span{0.35, 0.45};  // the assumed band is narrow
         b.use.temperature_c = Span{18, 22};
       }},
      {"friction",
       [](Build& b) {
         b.build.method = BuildMethod::hand;
         b.build.push_limit_n = 5000;
       }},
  };
  for (const Unsaid& unsaid : all) {
    Build b = sample::known();
    unsaid.change(b);
    const Answer answer = answer_pick(b);
    INFO(unsaid.what);
    CHECK(answer.verdict == Verdict::fits_on_assumed_figures);
  }
}

TEST_CASE("a box shorter than its cells by more than any squeeze is refused") {
  // 3 % of 160 mm is 4.8 mm.
  CHECK_THROWS_AS(answer_pick(sample::build(4, -4.9)), UnusableBuild);
  CHECK_THROWS_AS(answer_pressure(sample::build(4, -4.9)), UnusableBuild);
  CHECK_FALSE(answer_pick(sample::build(4, -4.7)).inside());
}

TEST_CASE("below the band: by how much, at which charge, and the shim that brings it in") {
  const Build b = sample::thick_everywhere(3.4);
  const Answer answer = answer_pressure(b);
  const Warning& w = warned(answer, WarningCode::below_band);
  CHECK(answer.plan.worst == Standing::below);
  CHECK(w.charge == answer.plan.lowest.charge);
  CHECK(w.limit == 0.03);
  CHECK(w.size == Approx(0.03 - answer.plan.lowest.face_pressure_mpa));
  REQUIRE(w.next_step > fitting_mm);
  const auto lowest = [](const Build& changed) {
    return answer_pressure(changed).plan.lowest.face_pressure_mpa;
  };
  CHECK(lowest(longer_by(b, -w.next_step + fitting_mm)) < 0.03);
  CHECK(lowest(longer_by(b, -w.next_step - fitting_mm)) >= 0.03);
  CHECK(lowest(with_shim(b, w.next_step - fitting_mm)) < 0.03);
  CHECK(lowest(with_shim(b, w.next_step + fitting_mm)) >= 0.03);
}

TEST_CASE("loose: the room left, and the shim that takes it up and presses") {
  const Build b = sample::thick_everywhere(5.0);
  const Answer answer = answer_pressure(b);
  const Warning& w = warned(answer, WarningCode::loose);
  CHECK_FALSE(is_warned(answer, WarningCode::below_band));
  CHECK(w.size == answer.plan.lowest.loose_by_mm);
  CHECK(w.size > 0.5);
  CHECK(w.next_step > w.size);
  CHECK(answer_pressure(longer_by(b, -w.size + 0.01)).plan.lowest.force_n == 0);
  CHECK(answer_pressure(longer_by(b, -w.size - 0.01)).plan.lowest.force_n > 0);
  const auto lowest = [](const Build& changed) {
    return answer_pressure(changed).plan.lowest.face_pressure_mpa;
  };
  CHECK(lowest(longer_by(b, -w.next_step + fitting_mm)) < 0.03);
  CHECK(lowest(longer_by(b, -w.next_step - fitting_mm)) >= 0.03);
  CHECK(lowest(with_shim(b, w.next_step - fitting_mm)) < 0.03);
  CHECK(lowest(with_shim(b, w.next_step + fitting_mm)) >= 0.03);
}

TEST_CASE("above the band: by how much with the model margin, and the shim to take out") {
  const Build b = sample::thick_everywhere(2.2);
  const Answer answer = answer_pressure(b);
  const Warning& w = warned(answer, WarningCode::above_band);
  CHECK(answer.plan.worst == Standing::above);
  CHECK(w.charge == answer.plan.highest.charge);
  CHECK(w.limit == 0.25);
  CHECK(w.size == Approx(1.1 * answer.plan.highest.face_pressure_mpa - 0.25));
  REQUIRE(w.next_step > fitting_mm);
  const auto judged = [](const Build& changed) {
    return 1.1 * answer_pressure(changed).plan.highest.face_pressure_mpa;
  };
  CHECK(judged(longer_by(b, w.next_step - fitting_mm)) > 0.25);
  CHECK(judged(longer_by(b, w.next_step + fitting_mm)) <= 0.25);
  // The same out of one shim.
  Build thinner = b;
  KitShim ground = b.kit[1];
  ground.sheet.name = "ground";
  ground.sheet.thickness_mm = 0.8 - w.next_step / 5;
  thinner.kit.push_back(ground);
  for (PlacedSheets& placed : thinner.placed) {
    placed.sheets = {{"ground", 1}};
  }
  CHECK(judged(thinner) == Approx(0.25).margin(0.02));
}

TEST_CASE("above the limit: held against the highest local pressure") {
  Build b = sample::thick_everywhere(2.2);
  b.cell.limit_mpa = 0.26;
  SheetInput patch = sample::sheet("patch", 0.2, {PlaceWord::named_gaps, {"2-3"}});
  patch.outline = SheetOutline{120, 80, 0, {}, {}};
  b.fixed_sheets.push_back(patch);
  const Answer answer = answer_pressure(b);
  const Warning& w = warned(answer, WarningCode::above_limit);
  CHECK(answer.plan.worst == Standing::above_limit);
  CHECK_FALSE(is_warned(answer, WarningCode::above_band));
  CHECK(w.limit == 0.26);
  CHECK(w.size == Approx(1.1 * answer.plan.highest.highest_local_mpa - 0.26));
  // Under the patch more than the mean; the rim beside it, 0.2 mm lower, touches too.
  const StateResult& highest = answer.plan.highest;
  CHECK(highest.highest_local_mpa > 1.02 * highest.face_pressure_mpa);
  CHECK(highest.highest_local_mpa < highest.force_n / (120 * 80));
}

TEST_CASE("above the limit on whole sheets: the shim to take out") {
  Build b = sample::thick_everywhere(2.2);
  b.cell.limit_mpa = 0.26;
  const Answer answer = answer_pressure(b);
  const Warning& w = warned(answer, WarningCode::above_limit);
  CHECK(w.size == Approx(1.1 * answer.plan.highest.face_pressure_mpa - 0.26));
  REQUIRE(w.next_step > fitting_mm);
  const auto judged = [](const Build& changed) {
    return 1.1 * answer_pressure(changed).plan.highest.highest_local_mpa;
  };
  CHECK(judged(longer_by(b, w.next_step - fitting_mm)) > 0.26);
  CHECK(judged(longer_by(b, w.next_step + fitting_mm)) <= 0.26);
}

TEST_CASE("outside a range for assembly: which end, and the shim that reaches it") {
  Build b = sample::thick_everywhere(3.7);
  b.cell.range = PressureRange{0.10, 0.14, RangeAppliesTo::assembly};
  const Answer low = answer_pressure(b);
  const Warning& w = warned(low, WarningCode::build_outside_assembly_range);
  CHECK(w.size == low.plan.as_built.face_pressure_mpa);
  CHECK(w.limit == 0.10);
  CHECK(w.next_step > 0);
  CHECK(answer_pressure(longer_by(b, -w.next_step)).plan.as_built.face_pressure_mpa ==
        Approx(0.10).epsilon(1e-3));
  CHECK_FALSE(low.inside());
}

TEST_CASE("how the cells were measured is counted") {
  Build b = sample::build();
  b.cells[0].edge_mm.reset();
  b.cells[0].boards_mm = 40.1;
  b.cells[1].edge_mm.reset();
  b.cells[3].signs.reset();
  const Answer answer = answer_pick(b);
  CHECK(warned(answer, WarningCode::flat_at_boards_value).size == 1);
  CHECK(warned(answer, WarningCode::flat_at_boards_value).next_step == Approx(0.2));
  CHECK(warned(answer, WarningCode::cells_not_measured).size == 1);
  CHECK(warned(answer, WarningCode::dome_not_measured).size == 2);
  CHECK(warned(answer, WarningCode::dome_not_measured).limit == 4);
  CHECK(warned(answer, WarningCode::signs_not_said).size == 1);
  REQUIRE(answer.edges_thinner);
  CHECK(std::is_sorted(answer.warnings.begin(), answer.warnings.end(),
                       [](const Warning& a, const Warning& c) { return a.code < c.code; }));
}

TEST_CASE("the kit search equals brute force over all count vectors, mixed kits, cold and hot") {
  constexpr std::array materials{SheetMaterial::glass_epoxy, SheetMaterial::polypropylene,
                                 SheetMaterial::aluminium, SheetMaterial::phenolic_paper};
  constexpr std::array stock{0.2, 0.3, 0.5, 0.8, 1.0};
  int passing = 0;
  int failing = 0;
  for (unsigned seed = 1; seed <= 120; ++seed) {
    std::mt19937 random(seed);
    const auto below = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
    const int cells = 3 + below(3);
    Build b = sample::known(cells, 2 + 0.01 * below(700));
    b.kit.clear();
    for (int kind = 0; kind < 3; ++kind) {
      KitShim shim;
      shim.sheet = sample::sheet("kind", stock[static_cast<std::size_t>(below(5))]);
      shim.sheet.name += std::to_string(kind);
      shim.sheet.material = materials[static_cast<std::size_t>(below(4))];
      shim.sheet.modulus_mpa.reset();
      shim.count = 2 + below(6);
      b.kit.push_back(shim);
    }
    // Cold on even seeds: every state of use below the reference.
    b.use.temperature_c = seed % 2 == 0 ? Span{-30, -5} : Span{-10, 55};
    b.cell.range = PressureRange{0.03, 0.14 + 0.01 * below(14), RangeAppliesTo::use};
    if (below(3) == 0) {
      b.build.method = BuildMethod::hand;
    }
    const Study study(b, {});
    double best = -std::numeric_limits<double>::infinity();
    double best_of_all = best;
    bool passes = false;
    bool found = false;
    std::vector<int> used(3, 0);
    for (used[0] = 0; used[0] <= b.kit[0].count; ++used[0]) {
      for (used[1] = 0; used[1] <= b.kit[1].count; ++used[1]) {
        for (used[2] = 0; used[2] <= b.kit[2].count; ++used[2]) {
          int insulating = 0;
          for (std::size_t kind = 0; kind < 3; ++kind) {
            insulating += study.row().kit[kind].sheet.insulates ? used[kind] : 0;
          }
          if (insulating < cells + 1) {
            continue;
          }
          found = true;
          const PlanScore score = study.score(study.load_of(used));
          best_of_all = std::max(best_of_all, score.margin);
          if (score.passes) {
            passes = true;
            best = std::max(best, score.margin);
          }
        }
      }
    }
    const ShimPlan plan = study.choose();
    INFO("seed " << seed);
    CHECK(plan.found == found);
    CHECK(study.can_pass() == passes);
    if (!found) {
      continue;
    }
    CHECK(plan.passes == passes);
    CHECK(plan.proven);
    CHECK(plan.best_margin == Approx(passes ? best : best_of_all).margin(1e-12));
    CHECK(plan.margin >= (passes ? best : best_of_all) - plan.window - 1e-12);
    (passes ? passing : failing) += 1;
  }
  // Both must come up, or the comparison shows nothing.
  CHECK(passing >= 20);
  CHECK(failing >= 10);
}

TEST_CASE("a row that rattles is not inside even a band that begins at nothing") {
  Build b = sample::build(4, 30);
  b.cell.range->low_mpa = 0;
  const Answer answer = answer_pick(b);
  CHECK_FALSE(answer.inside());
  CHECK(answer.plan.worst == Standing::loose);
}
