// SPDX-License-Identifier: GPL-3.0-or-later
//
// Where nothing fits: the rule that fails, and that every remedy listed does mend it.
#include "solver/remedy.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;
using Catch::Approx;

namespace {

Build too_few_sheets() {
  Build b = sample::build();
  b.kit[0].count = 2;
  b.kit[1].count = 1;
  return b;
}
Build kit_too_thin() {
  Build b = sample::build(4, 9);
  b.kit[0].count = 5;
  b.kit[1].count = 4;
  return b;
}
Build box_too_short() {
  return sample::build(4, 0.5);
}
Build too_tight_for_a_hand() {
  // What a hand can close, about 250 N on the face, is below this band.
  Build b = sample::build(4, 5.5);
  b.build.method = BuildMethod::hand;
  b.cell.range = PressureRange{0.06, 0.25, RangeAppliesTo::use};
  return b;
}
Build band_too_narrow() {
  Build b = sample::build();
  b.cell.range = PressureRange{0.05, 0.15, RangeAppliesTo::use};
  return b;
}
Build small_sheets() {
  // The films insulate; the kit's sheets press 0.62 of the face.
  Build b = sample::build();
  b.fixed_sheets.push_back(sample::sheet("film", 0.1));
  for (KitShim& shim : b.kit) {
    shim.sheet.outline = SheetOutline{100, 75, 0, {}, {}};
  }
  return b;
}
Build too_long_a_box() {
  Build b = sample::build(4, 16);
  b.kit[1].count = 6;
  return b;
}
Build places_wrong() {
  Build b = sample::build();
  for (KitShim& shim : b.kit) {
    shim.sheet.where.word = PlaceWord::between_cells;
  }
  return b;
}

struct Case {
  std::string name;
  Build build;
  std::optional<FailedRule> rule;  ///< empty: not held here
  std::size_t least_remedies;
};

std::vector<Case> cases() {
  return {
      {"too few sheets", too_few_sheets(), FailedRule::too_few_insulating_sheets, 1},
      {"kit too thin", kit_too_thin(), FailedRule::total_not_in_kit, 1},
      {"box too short", box_too_short(), FailedRule::total_not_in_kit, 1},
      {"too tight for a hand", too_tight_for_a_hand(), {}, 1},
      {"band too narrow", band_too_narrow(), FailedRule::pressure_out_of_reach, 1},
      {"small sheets", small_sheets(), FailedRule::uneven_coverage, 0},
      {"too long a box", too_long_a_box(), FailedRule::total_not_in_kit, 1},
      {"places wrong", places_wrong(), FailedRule::total_not_in_kit, 1},
  };
}

const Remedy* find_remedy(const Answer& answer, RemedyCode code) {
  for (const Remedy& remedy : answer.remedies) {
    if (remedy.code == code) {
      return &remedy;
    }
  }
  return nullptr;
}

}  // namespace

TEST_CASE("every remedy listed, applied, gives a plan that is inside") {
  for (const Case& one : cases()) {
    const Answer answer = answer_pick(one.build);
    INFO(one.name << ", rule " << static_cast<int>(answer.failure.rule));
    CHECK_FALSE(answer.inside());
    CHECK(answer.failure.rule == one.rule.value_or(answer.failure.rule));
    CHECK(answer.failure.rule != FailedRule::none);
    CHECK(answer.remedies.size() >= one.least_remedies);
    for (const Remedy& remedy : answer.remedies) {
      INFO("remedy " << static_cast<int>(remedy.code) << ", thickness " << remedy.thickness_mm
                     << ", count " << remedy.count << ", value " << remedy.value << ", method "
                     << static_cast<int>(remedy.method));
      const Answer mended = answer_pick(apply(remedy, one.build));
      CHECK(mended.inside());
      CHECK(remedy.passes);
      CHECK(mended.plan.passes);
      CHECK(mended.plan.margin == Approx(remedy.margin).epsilon(1e-9));
      CHECK(mended.plan.lowest.face_pressure_mpa == Approx(remedy.lowest_mpa).epsilon(1e-9));
      CHECK(mended.plan.highest.face_pressure_mpa == Approx(remedy.highest_mpa).epsilon(1e-9));
    }
    CHECK(std::is_sorted(answer.remedies.begin(), answer.remedies.end(),
                         [](const Remedy& a, const Remedy& b) { return a.effort < b.effort; }));
  }
}

TEST_CASE("a goal of a chance: only changes that reach it, each with its own, few asked for") {
  const Build b = band_too_narrow();
  const Study study(b, {});
  const std::vector<Remedy> all = find_remedies(study);
  REQUIRE(all.size() >= 2);
  CHECK_FALSE(all.front().chance);
  double best = 0;
  double worst = 1;
  for (const Remedy& remedy : all) {
    best = std::max(best, remedy.margin);
    worst = std::min(worst, remedy.margin);
  }
  REQUIRE(best > worst);
  std::map<std::vector<double>, int> asked;
  RemedyGoal goal;
  goal.chance = [&](const Study& changed, const ShimPlan& plan) -> std::optional<double> {
    ++asked[{changed.row().use_charge.low, changed.row().box.inner_length_mm}];
    return 0.5 + plan.in_full.value().margin;
  };
  goal.needed = 0.5 + (best + worst) / 2;
  const std::vector<Remedy> some = find_remedies(study, &goal);
  CHECK_FALSE(some.empty());
  for (const Remedy& remedy : some) {
    CHECK(remedy.chance == Approx(0.5 + remedy.margin));
    CHECK(*remedy.chance >= goal.needed);
  }
  goal.needed = 2;
  asked.clear();
  CHECK(find_remedies(study, &goal).empty());
  int calls = 0;
  for (const auto& [build, times] : asked) {
    calls += times;
  }
  CHECK(calls <= 4 * 6);  // of each sort of change that this build has, four at most
  goal.needed = 0;
  CHECK(find_remedies(study, &goal).size() == all.size());
  goal.needed = enough_chance;
  goal.chance = [](const Study&, const ShimPlan&) { return std::optional<double>(); };
  CHECK(find_remedies(study, &goal).empty());
}

TEST_CASE("the figures of a remedy are those of the plan that its goal chooses") {
  const Build b = too_few_sheets();
  const Study study(b, {});
  RemedyGoal goal;
  goal.needed = 0;
  goal.choose = [](const Study& changed) {
    const ShimPlan best = changed.choose();
    const ShimPlan looser = changed.choose(best.rank.total_nm - 1);
    return looser.found && looser.passes ? looser : best;
  };
  const std::vector<Remedy> found = find_remedies(study, &goal);
  REQUIRE_FALSE(found.empty());
  for (const Remedy& remedy : found) {
    const Study changed(apply(remedy, b), {});
    const PlanPressures full = changed.model().evaluate(changed.load_of(goal.choose(changed).used),
                                                        RowModel::By::full_solution);
    CHECK(remedy.lowest_mpa == Approx(full.lowest.face_pressure_mpa).epsilon(1e-9));
  }
}

TEST_CASE("cells that may change places: only where that lets terminals meet their bars") {
  Build b = sample::build();
  for (std::size_t i = 0; i < b.cells.size(); ++i) {
    b.cells[i].edge_mm = i < 2 ? 38 : 42;  // thin ones together: sheets alone cannot even it
  }
  b.cell.terminals = Terminals{};
  b.cell.terminals->spacing_mm = 41;
  const Answer answer = answer_pick(b);
  INFO("deviation " << answer.plan.terminal_deviation_mm);
  REQUIRE(answer.inside());
  const Remedy* order = find_remedy(answer, RemedyCode::cell_order);
  REQUIRE(order != nullptr);
  CHECK(order->passes);
  CHECK(order->lowest_mpa >= b.cell.range->low_mpa);
  Build alternating = b;
  std::swap(alternating.cells[1], alternating.cells[2]);
  const Answer evened = answer_pick(alternating);
  CHECK(evened.plan.terminal_deviation_mm <= 0.5);
  CHECK(order->lowest_mpa == Approx(evened.plan.lowest.face_pressure_mpa).epsilon(1e-9));
  CHECK(apply(*order, b).cells_may_move);
  CHECK(find_remedy(answer_pick(apply(*order, b)), RemedyCode::cell_order) == nullptr);
  b.cell.terminals->spacing_mm = 60;  // no order reaches that
  CHECK(find_remedy(answer_pick(b), RemedyCode::cell_order) == nullptr);
}

TEST_CASE("too few insulating sheets: how many are due, and sheets as the remedy") {
  const Answer answer = answer_pick(too_few_sheets());
  CHECK(answer.failure.sheets_due == 5);
  CHECK(answer.failure.sheets_on_hand == 3);
  CHECK(find_remedy(answer, RemedyCode::add_shims) == nullptr);
  const Remedy* sheets = find_remedy(answer, RemedyCode::insulating_sheets);
  REQUIRE(sheets != nullptr);
  CHECK(sheets->count >= 2);
}

TEST_CASE("a total the kit cannot make: the totals that would do, and the nearest it makes") {
  const Answer answer = answer_pick(kit_too_thin());
  REQUIRE(answer.failure.wanted_total_mm);
  // Room of 9 mm is filled and a little more; all the kit has is 5 x 0.5 + 4 x 0.8.
  CHECK(answer.failure.nearest_total_mm == Approx(5.7));
  CHECK(answer.failure.wanted_total_mm->low > 9);
  CHECK(answer.failure.wanted_total_mm->low < answer.failure.wanted_total_mm->high);
  const Remedy* length = find_remedy(answer, RemedyCode::box_length);
  REQUIRE(length != nullptr);
  CHECK(length->value < 169);
}

TEST_CASE("a band narrower than the swing: what the cells breathe and what the band takes") {
  const Answer answer = answer_pick(band_too_narrow());
  CHECK_FALSE(answer.failure.wanted_total_mm);
  CHECK(answer.failure.swing_mm > 0);
  const Remedy* window = find_remedy(answer, RemedyCode::charge_window);
  REQUIRE(window != nullptr);
  CHECK(window->window.low > 0.1);
  CHECK(window->window.high < 0.9);
}

TEST_CASE("a hand too weak for the plan placed: the method's rule, and no band blamed") {
  Build b = sample::placed_evenly(sample::build(4, 3.2), "thick");
  b.build.method = BuildMethod::hand;
  const Answer answer = answer_pressure(b);
  REQUIRE(answer.plan.lowest.standing == Standing::inside);
  REQUIRE(answer.plan.highest.standing == Standing::inside);
  CHECK_FALSE(answer.inside());
  CHECK(answer.failure.rule == FailedRule::build_method);
  CHECK(answer.insertion.push_n > answer.insertion.push_limit_n);
}

TEST_CASE("metal left bare: placed sheets that leave a gap out, and a bare floor") {
  Build gap = sample::build(4, 3.2);
  gap.placed = {{"wall-1", {{"thick", 2}}},
                {"1-2", {{"thick", 1}}},
                {"2-3", {{"thick", 1}}},
                {"3-4", {{"thick", 1}}}};
  const Answer open = answer_pressure(gap);
  CHECK_FALSE(open.inside());
  CHECK(open.failure.rule == FailedRule::metal_left_bare);
  CHECK(open.plan.bare_metal == std::vector<std::string>{"4-wall"});

  Build floor = sample::build();
  floor.box.floor = Floor::bare;
  CHECK(answer_pick(floor).failure.rule == FailedRule::metal_left_bare);
}

TEST_CASE("walls that bow past three thicknesses: their own rule") {
  Build b = sample::placed_evenly(sample::build(4, 3.6), "thick");
  b.cell.face = {200, 200, 3.0};
  b.box.end_walls = PlateWall{0.3, WallMaterial::aluminium, WallJoint::screwed};
  b.cell.range = PressureRange{0.0001, 0.25, RangeAppliesTo::use};
  b.box.inner_length_mm = {162.0};
  const Answer answer = answer_pressure(b);
  INFO("highest " << answer.plan.highest.face_pressure_mpa << " lowest "
                  << answer.plan.lowest.face_pressure_mpa);
  CHECK_FALSE(answer.inside());
  CHECK(answer.failure.rule == FailedRule::walls_bow_too_far);
  const Warning* bow = sample::find_warning(answer.warnings, WarningCode::walls_bow_far);
  REQUIRE(bow != nullptr);
  CHECK(bow->size > 3 * bow->limit);
  CHECK(bow->limit == 0.3);
}

TEST_CASE("cells that are not to be pressed: their rule, no plan, and nothing to mend it with") {
  Build sign = sample::build();
  sign.cells[0].signs = "leak";
  Build swollen = sample::build();
  swollen.cells[1].middle_mm = 41.3;
  for (const auto& [b, rule] :
       {std::pair(sign, FailedRule::signs), std::pair(swollen, FailedRule::swollen_cell)}) {
    const Answer answer = answer_pick(b);
    CHECK(answer.verdict == Verdict::stop);
    CHECK(answer.failure.rule == rule);
    CHECK_FALSE(answer.has_plan);
    CHECK(answer.remedies.empty());
  }
}

TEST_CASE("where a plan fits there is no failed rule and no remedy") {
  const Answer answer = answer_pick(sample::build());
  REQUIRE(answer.inside());
  CHECK(answer.failure.rule == FailedRule::none);
  CHECK(answer.remedies.empty());
}

TEST_CASE("each remedy changes the one thing it names") {
  const Build b = sample::build();
  Remedy remedy;
  remedy.code = RemedyCode::more_of_a_kind;
  remedy.kit_index = 1;
  remedy.count = 14;
  CHECK(apply(remedy, b).kit[1].count == 14);
  CHECK(apply(remedy, b).kit[0].count == 12);
  remedy = {};
  remedy.code = RemedyCode::box_length;
  remedy.value = 167.5;
  CHECK(apply(remedy, b).box.inner_length_mm == std::vector{167.5});
  remedy = {};
  remedy.code = RemedyCode::charge_window;
  remedy.window = {0.2, 0.8};
  CHECK(apply(remedy, b).use.charge->low == 0.2);
  CHECK(apply(remedy, b).use.charge->high == 0.8);
  remedy = {};
  remedy.code = RemedyCode::build_method;
  remedy.method = BuildMethod::end_wall_last;
  CHECK(apply(remedy, b).build.method == BuildMethod::end_wall_last);
  remedy = {};
  remedy.code = RemedyCode::build_charge;
  remedy.value = 0.15;
  CHECK(apply(remedy, b).build.charge == 0.15);
  remedy = {};
  remedy.code = RemedyCode::slip_film;
  CHECK(apply(remedy, b).build.slip_film);
  remedy = {};
  remedy.code = RemedyCode::end_wall;
  remedy.wall.thickness_mm = 4;
  remedy.wall.joint = WallJoint::welded;
  CHECK(std::get<PlateWall>(*apply(remedy, b).box.end_walls).thickness_mm == 4);
  CHECK(std::get<PlateWall>(*apply(remedy, b).box.end_walls).joint == WallJoint::welded);
  remedy = {};
  remedy.code = RemedyCode::end_pads;
  remedy.thickness_mm = 3;
  remedy.grade = 2;
  REQUIRE(apply(remedy, b).pads.size() == 1);
  CHECK(apply(remedy, b).pads[0].thickness_mm == 3);
  CHECK(apply(remedy, b).pads[0].where.word == PlaceWord::ends);
  CHECK(std::get<FoamGrade>(apply(remedy, b).pads[0].law).d1056_grade == 2);
  remedy = {};
  remedy.code = RemedyCode::add_shims;
  remedy.name = "added";
  remedy.thickness_mm = 0.3;
  remedy.count = 2;
  REQUIRE(apply(remedy, b).kit.size() == 3);
  CHECK(apply(remedy, b).kit[2].count == 2);
  CHECK(apply(remedy, b).kit[2].sheet.thickness_mm == 0.3);
  CHECK(apply(remedy, b).kit[2].sheet.material == SheetMaterial::glass_epoxy);
}
