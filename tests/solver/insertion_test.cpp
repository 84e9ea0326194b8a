// SPDX-License-Identifier: GPL-3.0-or-later
//
// Getting the last piece in, by figures worked out by hand.
#include "solver/insertion.hpp"

#include <cmath>
#include <string>

#include "solver/study.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;
using Catch::Approx;

namespace {

constexpr double kgf_n = 9.80665;

/// Stiff rows: no give but the cells', A = 0.06 and B = 180.
Build by_hand(int cells = 4, double room_mm = 5.5) {
  Build b = sample::known(cells, room_mm);
  b.build.method = BuildMethod::hand;
  return b;
}

/// Shims of no softness and no expansion.
ShimLoad shims(double thickness_mm) {
  ShimLoad load;
  load.thickness_mm = thickness_mm;
  return load;
}

/// Room less cells: what the shims are in excess of it presses.
constexpr double room_mm = 5.5;

/// Pressure of n cells of 40 mm squeezed by so much together.
double pressure_mpa(int cells, double squeeze_mm) {
  return 0.06 * (std::exp(180 * squeeze_mm / (40.0 * cells)) - 1);
}

InsertionResult assess(const Build& build, double shims_mm) {
  const Study study(build, {});
  return assess_insertion(study.insertion(), study.model(), shims(shims_mm));
}

bool holds(const Build& build, double shims_mm) {
  const Study study(build, {});
  return method_holds(study.insertion(), study.model(), shims(shims_mm));
}

const WayOutResult& way(const InsertionResult& result, WayOut which) {
  for (const WayOutResult& one : result.ways_out) {
    if (one.way == which) {
      return one;
    }
  }
  FAIL("no such way out");
  return result.ways_out.front();
}

std::pair<double, double> frictions(const Build& build) {
  const Study study(build, {});
  return {study.insertion().friction, study.insertion().friction_other};
}

using Frictions = std::pair<double, double>;

Build with_slippery(Build b, std::vector<std::string> gaps) {
  SheetInput film = sample::sheet("film", 0.1, {PlaceWord::named_gaps, std::move(gaps)});
  film.slippery_face = true;
  b.fixed_sheets.push_back(film);
  return b;
}

}  // namespace

TEST_CASE("push is both faces' friction less the weight, drawing out is that and the weight") {
  InsertionRules rules;
  rules.friction = 0.30;
  rules.friction_other = 0.20;
  rules.weight_n = 5 * kgf_n;
  CHECK(rules.push_n(1000) == Approx(500 - 49.03325));
  CHECK(rules.draw_out_n(1000) == Approx(500 + 49.03325));
  CHECK(rules.push_n(0) == Approx(-49.03325));  // it falls in
  rules.push_limit_n = 150;
  rules.method = BuildMethod::hand;
  CHECK(rules.build_force_cap_n() == Approx((150 + 49.03325) / 0.5));
  CHECK(rules.push_n(rules.build_force_cap_n()) == Approx(150));
  rules.method = BuildMethod::clamp;
  CHECK(std::isinf(rules.build_force_cap_n()));
}

TEST_CASE("240 kgf on two faces with 0.30 on each is about 145 kgf of push") {
  const Study study(by_hand(), {});
  CHECK(study.insertion().friction_sum() == Approx(0.60));
  const double push = study.insertion().push_n(240 * kgf_n);
  CHECK(push / kgf_n == Approx(144));
  CHECK(std::abs(push / kgf_n - 145) < 1.5);
  CHECK(push > study.insertion().push_limit_n);
}

TEST_CASE("a row as built: push, draw-out and wall force by the law") {
  Build b = by_hand();
  b.cell.mass_kg = 4;
  const double force = pressure_mpa(4, 0.5) * Study(b, {}).row().face_area_mm2;
  const InsertionResult result = assess(b, room_mm + 0.5);
  CHECK(result.wall_force_n == Approx(force));
  CHECK(result.push_n == Approx(0.6 * force - 4 * kgf_n));
  CHECK(result.draw_out_n == Approx(0.6 * force + 4 * kgf_n));
  CHECK(result.push_limit_n == 150);
  CHECK_FALSE(result.works);

  const InsertionResult loose = assess(b, room_mm - 0.5);
  CHECK(loose.wall_force_n == 0);
  CHECK(loose.push_n == 0);
  CHECK(loose.draw_out_n == Approx(4 * kgf_n));
  CHECK(loose.works);
  CHECK(loose.ways_out.empty());
}

TEST_CASE("a slip film is on both faces of the last cell") {
  Build b = by_hand();
  CHECK(frictions(b) == Frictions(0.30, 0.30));
  b.build.slip_film = true;
  CHECK(frictions(b) == Frictions(0.12, 0.12));
  const InsertionResult result = assess(b, room_mm + 0.1);
  CHECK(result.slip_film);
  CHECK(result.push_n == Approx(0.24 * result.wall_force_n));
}

TEST_CASE("slippery sheets count beside the last cell only, side by side") {
  // Of four cells the second goes in last, between 1-2 and 2-3, unless the third slides better.
  CHECK(frictions(with_slippery(by_hand(), {"1-2", "2-3"})) == Frictions(0.12, 0.12));
  CHECK(frictions(with_slippery(by_hand(), {"1-2"})) == Frictions(0.12, 0.30));
  CHECK(frictions(with_slippery(by_hand(), {"2-3"})) == Frictions(0.30, 0.12));
  CHECK(frictions(with_slippery(by_hand(), {"wall-1", "4-wall"})) == Frictions(0.30, 0.30));
  const Build third = with_slippery(by_hand(), {"3-4"});
  CHECK(frictions(third) == Frictions(0.30, 0.12));
  CHECK(assess(third, room_mm + 0.5).last_cell == 3);
  CHECK(assess(with_slippery(by_hand(), {"2-3"}), room_mm + 0.5).last_cell == 2);
}

TEST_CASE("once the sheets are placed the cell that slides best goes in last") {
  Build b = by_hand(6);
  b.kit[0].sheet.slippery_face = true;
  const Study study(b, {});
  // Some other kind may lie in any gap, so before a plan nothing is sure to slide.
  CHECK(study.insertion().last_cell == last_cell_by_hand(6));
  CHECK(study.insertion().friction_sum() == Approx(0.60));
  std::vector<std::vector<int>> counts(7, {0, 1});
  CHECK(with_plan(study.insertion(), study.row(), counts).last_cell == last_cell_by_hand(6));
  counts[4] = {1, 1};  // 4-5
  counts[5] = {1, 0};  // 5-6
  counts[6] = {1, 0};  // at the wall: cell 6 is not between two others
  const InsertionRules rules = with_plan(study.insertion(), study.row(), counts);
  CHECK(rules.last_cell == 5);
  CHECK(rules.friction == 0.12);
  CHECK(rules.friction_other == 0.12);
  // Never more than before the plan: what passed still does.
  CHECK(rules.friction_sum() <= study.insertion().friction_sum());

  Build placed = b;
  for (const char* gap : {"4-5", "5-6"}) {
    placed.placed.push_back({gap, {{b.kit[0].sheet.name, 1}}});
  }
  const Answer answer = answer_pressure(placed);
  CHECK(answer.insertion.last_cell == 5);
  CHECK(answer.insertion.friction + answer.insertion.friction_other == Approx(0.24));
  CHECK(answer.plan.gaps[4].slippery_towards_cell == 5);
  CHECK(answer.plan.gaps[5].slippery_towards_cell == 5);
}

TEST_CASE("a kit counts as slippery only where every insulating sheet it can offer is") {
  Build b = by_hand();
  for (KitShim& shim : b.kit) {
    shim.sheet.slippery_face = true;
  }
  CHECK(frictions(b) == Frictions(0.12, 0.12));
  SECTION("one kind that is not may come instead") {
    b.kit[1].sheet.slippery_face = false;
    CHECK(frictions(b) == Frictions(0.30, 0.30));
    b.kit[1].count = 0;
    CHECK(frictions(b) == Frictions(0.12, 0.12));
  }
  SECTION("a kind that may not lie there does not count") {
    b.kit[1].sheet.slippery_face = false;
    b.kit[1].sheet.where = {PlaceWord::named_gaps, {"2-3"}};
    CHECK(frictions(b) == Frictions(0.12, 0.30));
  }
  SECTION("where nothing need lie, nothing slippery is sure to") {
    b.fixed_sheets.push_back(sample::sheet("plain", 0.2, {PlaceWord::named_gaps, {"1-2"}}));
    // The third cell lies between two gaps that must slide.
    CHECK(frictions(b) == Frictions(0.12, 0.12));
    CHECK(Study(b, {}).insertion().last_cell == 3);
  }
}

TEST_CASE("the last cell goes between two others, if there are three") {
  CHECK(last_cell_by_hand(1) == 1);
  CHECK(last_cell_by_hand(2) == 2);
  CHECK(last_cell_by_hand(3) == 2);
  CHECK(last_cell_by_hand(4) == 2);
  CHECK(last_cell_by_hand(5) == 3);
  CHECK(last_cell_by_hand(8) == 4);
  CHECK(assess(by_hand(1), room_mm + 0.5).last_cell == 0);
  CHECK(assess(by_hand(2), room_mm + 0.5).last_cell == 0);
  CHECK(assess(by_hand(3), room_mm + 0.5).last_cell == 2);
}

TEST_CASE("one and two cells are slid in against a wall") {
  CHECK(frictions(with_slippery(by_hand(1), {"wall-1"})) == Frictions(0.12, 0.30));
  CHECK(frictions(with_slippery(by_hand(1), {"1-wall"})) == Frictions(0.30, 0.12));
  CHECK(frictions(with_slippery(by_hand(2), {"1-2"})) == Frictions(0.12, 0.30));
  CHECK(frictions(with_slippery(by_hand(2), {"2-wall"})) == Frictions(0.30, 0.12));
  CHECK(frictions(with_slippery(by_hand(3), {"1-2"})) == Frictions(0.12, 0.30));
  CHECK(frictions(with_slippery(by_hand(3), {"2-3"})) == Frictions(0.30, 0.12));
  // No other cell to clamp.
  CHECK_FALSE(way(assess(by_hand(1), room_mm + 0.2), WayOut::clamp).works);
}

TEST_CASE("what was not said of the method follows from what opens") {
  Build b = sample::known();
  for (const Opens opens :
       {Opens::one_end_wall, Opens::both_end_walls, Opens::none, Opens::not_said}) {
    b.box.opens = opens;
    const Study study(b, {});
    const bool off = opens == Opens::one_end_wall || opens == Opens::both_end_walls;
    CHECK(study.insertion().wall_opens == off);
    CHECK(study.insertion().method == (off ? BuildMethod::end_wall_last : BuildMethod::hand));
    CHECK_FALSE(study.insertion().method_said);
  }
}

TEST_CASE("the end wall goes on last where it comes off") {
  Build b = sample::known();
  b.build.method = BuildMethod::end_wall_last;
  CHECK(holds(b, room_mm + 1));
  b.box.opens = Opens::not_said;  // it must come off, or the method had not been said
  CHECK(holds(b, room_mm + 1));
  b.box.opens = Opens::none;
  CHECK_FALSE(holds(b, room_mm + 1));
  CHECK_FALSE(assess(b, room_mm + 1).works);
}

TEST_CASE("by hand holds up to the limit") {
  Build b = by_hand();
  const double area = Study(b, {}).row().face_area_mm2;
  // 150 N of push are 250 N on the face: p = 250 / A, squeeze = 160 / 180 ln(1 + p / 0.06).
  const double most = 160.0 / 180 * std::log1p(250 / area / 0.06);
  CHECK(holds(b, room_mm + most - 1e-4));
  CHECK_FALSE(holds(b, room_mm + most + 1e-4));
  b.build.push_limit_n = 300;
  CHECK(holds(b, room_mm + most + 1e-4));
}

TEST_CASE("a clamp takes the interference and half a millimetre out of the other cells") {
  Build b = sample::known();
  b.build.method = BuildMethod::clamp;
  const Study study(b, {});
  const double interference = 0.3;
  Build hand = by_hand();
  const InsertionResult result = assess(hand, room_mm + interference);
  const WayOutResult& clamp = way(result, WayOut::clamp);
  const double pressure = pressure_mpa(3, interference + 0.5);
  CHECK(clamp.face_pressure_mpa == Approx(pressure));
  CHECK(clamp.force_n == Approx(pressure * study.row().face_area_mm2));

  // Beyond the band's top, judged with the model margin: 0.25 / 1.1 MPa.
  const double most = 120.0 / 180 * std::log1p(0.25 / 1.1 / 0.06) - 0.5;
  CHECK(holds(b, room_mm + most - 1e-4));
  CHECK_FALSE(holds(b, room_mm + most + 1e-4));
  // A known limit decides instead of the band's top.
  b.cell.limit_mpa = 0.35;
  const double with_limit = 120.0 / 180 * std::log1p(0.35 / 1.1 / 0.06) - 0.5;
  CHECK(holds(b, room_mm + with_limit - 1e-4));
  CHECK_FALSE(holds(b, room_mm + with_limit + 1e-4));
}

TEST_CASE("walls are spread no further than the row may ever bend them") {
  Build b = sample::known();
  b.build.method = BuildMethod::walls_spread;
  CHECK_FALSE(holds(b, room_mm));  // rigid ones are not spread at all

  b.box.end_walls = WallBow{1.0, 2000};
  const Study study(b, {});
  const double give = study.model().box_give_mm_per_n();
  REQUIRE(give > 0);
  const double most = 0.25 * study.row().face_area_mm2 * give - 0.5;
  REQUIRE(most > 0);
  CHECK(holds(b, room_mm + most - 1e-4));
  CHECK_FALSE(holds(b, room_mm + most + 1e-4));

  Build hand = b;
  hand.build.method = BuildMethod::hand;
  const InsertionResult result = assess(hand, room_mm + 1.5);
  const WayOutResult& spread = way(result, WayOut::walls_spread);
  CHECK(spread.spread_mm == Approx(2.0));
  CHECK(spread.force_n == Approx(2.0 / give));
}

TEST_CASE("the ways out come in their order, with what each then takes") {
  Build b = by_hand();
  b.cell.mass_kg = 4;
  const InsertionResult result = assess(b, room_mm + 0.5);
  REQUIRE(result.ways_out.size() == 5);
  CHECK(result.ways_out[0].way == WayOut::end_wall_last);
  CHECK(result.ways_out[1].way == WayOut::walls_spread);
  CHECK(result.ways_out[2].way == WayOut::lower_charge);
  CHECK(result.ways_out[3].way == WayOut::clamp);
  CHECK(result.ways_out[4].way == WayOut::slip_film);

  CHECK(result.ways_out[0].works);
  CHECK(result.ways_out[0].force_n == Approx(result.wall_force_n));
  CHECK_FALSE(result.ways_out[1].works);
  const double film = 0.24 * result.wall_force_n - 4 * kgf_n;
  CHECK(result.ways_out[4].force_n == Approx(film));
  CHECK(result.ways_out[4].works == (film <= 150));

  b.box.opens = Opens::none;
  CHECK_FALSE(assess(b, room_mm + 0.5).ways_out[0].works);
}

TEST_CASE("a lower charge is the highest that a hand can do, and never below the lowest allowed") {
  // Straight swing of 1 % of thickness: four cells lose 1.6 mm from full to empty.
  Build b = by_hand();
  b.cell.swing = SwingTable{{0, 1}, {0, 0.01}};
  const double area = Study(b, {}).row().face_area_mm2;
  const double most = 160.0 / 180 * std::log1p(250 / area / 0.06);
  const double interference = most + 0.2;  // 12.5 points of charge too much
  const InsertionResult result = assess(b, room_mm + interference);
  const WayOutResult& lower = way(result, WayOut::lower_charge);
  CHECK(lower.works);
  CHECK(lower.charge == Approx(0.27));
  CHECK(lower.force_n == Approx(0.6 * area * pressure_mpa(4, interference - 0.13 * 1.6)));

  b.cell.minimum_charge = 0.27;
  CHECK(way(assess(b, room_mm + interference), WayOut::lower_charge).works);
  b.cell.minimum_charge = 0.28;
  CHECK_FALSE(way(assess(b, room_mm + interference), WayOut::lower_charge).works);
  b.cell.minimum_charge.reset();

  // 30 points to give down to 10 %: the tenth is the last, whatever the maker allows below it.
  const double at_ten = most + 0.3 * 1.6;
  CHECK(way(assess(b, room_mm + at_ten - 1e-4), WayOut::lower_charge).charge == Approx(0.10));
  b.cell.minimum_charge = 0.02;
  CHECK_FALSE(way(assess(b, room_mm + at_ten + 1e-4), WayOut::lower_charge).works);
}
