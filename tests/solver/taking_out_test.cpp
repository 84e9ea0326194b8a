// SPDX-License-Identifier: GPL-3.0-or-later
//
// Taking a cell out of a row as it stands: pulls by hand arithmetic, charges by trying them all.
#include "solver/taking_out.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "solver/plan_result.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;
using Catch::Approx;

namespace {

constexpr double kgf_n = 9.80665;
/// Room less cells: what the shims are in excess of it presses.
constexpr double room_mm = 5.5;

/// Shims of no softness and no expansion that press the sample by so much.
ShimLoad pressing(double interference_mm) {
  ShimLoad load;
  load.thickness_mm = room_mm + interference_mm;
  return load;
}

TakingOut assess(const Build& build, double interference_mm, bool set_aside = false) {
  const Study study(as_it_stands(build), {});
  return assess_taking_out(study, pressing(interference_mm), set_aside);
}

double area_mm2(const Build& build) {
  return Study(build, {}).row().face_area_mm2;
}

/// Force of four cells of 40 mm, A = 0.06 and B = 180, squeezed by so much together.
double force_n(double area_mm2, double squeeze_mm) {
  return area_mm2 * 0.06 * (std::exp(180 * squeeze_mm / 160) - 1);
}
double squeeze_at_mm(double area_mm2, double force_n) {
  return 160.0 / 180 * std::log1p(force_n / area_mm2 / 0.06);
}

/// Up to a hump at 30 %, down to a dip at 60 %.
Build humped(double charge) {
  Build b = sample::known();
  b.cell.swing = SwingTable{{0, 0.3, 0.6, 1}, {0, 0.006, 0.003, 0.009}};
  b.measured_charge = MeasuredCharge{charge, {}, false};
  return b;
}

}  // namespace

TEST_CASE("taking out: the pull is friction on both faces and the cell's weight (1)") {
  Build b = sample::known();
  b.cell.mass_kg = 4;
  const TakingOut out = assess(b, 0.5);
  const double force = force_n(area_mm2(b), 0.5);
  CHECK(out.at_today.force_n == Approx(force));
  CHECK(out.at_today.pull_n == Approx(0.6 * force + 4 * kgf_n));
  CHECK(out.pull_limit_n == 150);
  CHECK(out.at_today.charge == 0.4);
}

TEST_CASE("taking out: a hand does it up to its limit, and no film is laid afterwards (1)") {
  const Build b = sample::known();
  const double most = squeeze_at_mm(area_mm2(b), 250);  // 150 N of pull
  CHECK(assess(b, most - 1e-4).way == WayToOpen::draw_out);
  CHECK_FALSE(assess(b, most + 1e-4).way == WayToOpen::draw_out);
  Build film = b;
  film.build.slip_film = true;  // it was laid at the build
  CHECK(assess(film, most + 1e-4).way == WayToOpen::draw_out);
}

TEST_CASE("taking out: a loose row lets its cells go by their weight") {
  Build b = sample::known();
  b.cell.mass_kg = 2;
  const TakingOut out = assess(b, -0.4);
  CHECK(out.way == WayToOpen::draw_out);
  CHECK(out.at_today.pull_n == Approx(2 * kgf_n));
  CHECK(out.released_force_n == 0);
  CHECK(out.spring_back_mm == 0);
  CHECK(out.today.loose_by_mm == Approx(0.4));
  CHECK_FALSE(out.press);
}

TEST_CASE("taking out: the charge at which a hand can, by a straight swing (2)") {
  // 1 % of thickness from empty to full: four cells lose 1.6 mm. 0.2 mm too much are 12.5 points.
  Build b = sample::known();
  b.cell.swing = SwingTable{{0, 1}, {0, 0.01}};
  const double most = squeeze_at_mm(area_mm2(b), 250);
  const TakingOut out = assess(b, most + 0.2);
  CHECK(out.way == WayToOpen::draw_out_at_charge);
  REQUIRE(out.at_charge);
  CHECK(out.at_charge->charge == Approx(0.27));
  CHECK(out.at_charge->pull_n == Approx(0.6 * force_n(area_mm2(b), most + 0.2 - 0.13 * 1.6)));
  CHECK(out.easiest.charge == Approx(0.10));

  // Down to the maker's lowest charge and no further.
  b.cell.minimum_charge = 0.27;
  CHECK(assess(b, most + 0.2).at_charge);
  b.cell.minimum_charge = 0.28;
  CHECK_FALSE(assess(b, most + 0.2).at_charge);
  CHECK(assess(b, most + 0.2).easiest.charge == Approx(0.28));
  CHECK(assess(b, most + 0.2).way == WayToOpen::end_wall);
}

TEST_CASE("taking out: no charge is offered beyond a hump that presses harder (2)") {
  // At 10 % the cells are thinner than at the dip, but the way there leads over the hump.
  const Build dip = humped(0.6);
  const double most = squeeze_at_mm(area_mm2(dip), 250);
  // From 60 % to 10 % four cells lose 0.16 mm.
  const TakingOut out = assess(dip, most + 0.1);
  CHECK_FALSE(out.at_charge);
  CHECK(out.easiest.charge == Approx(0.6));
  CHECK(out.way == WayToOpen::end_wall);
  // From the hump's top either side is easier: discharging comes first.
  const TakingOut top = assess(humped(0.3), most + 0.1);
  REQUIRE(top.at_charge);
  CHECK(top.at_charge->charge < 0.3);
}

TEST_CASE("taking out: a row is charged to its dip, but not with a cell set aside in it (2)") {
  const Build b = humped(0.45);
  const double most = squeeze_at_mm(area_mm2(b), 250);
  const TakingOut out = assess(b, most + 0.1);
  REQUIRE(out.at_charge);
  CHECK(out.at_charge->charge > 0.45);
  CHECK(out.easiest.charge == Approx(0.6));
  const TakingOut aside = assess(b, most + 0.1, true);
  CHECK(aside.discharge_only);
  CHECK_FALSE(aside.at_charge);
  CHECK(aside.easiest.charge == Approx(0.45));
}

TEST_CASE("taking out: a cell with a sign is neither charged nor discharged (2)") {
  Build b = sample::known();
  b.cell.swing = SwingTable{{0, 1}, {0, 0.01}};
  b.cells[1].signs = "smells sweet";
  const TakingOut out = assess(b, squeeze_at_mm(area_mm2(b), 250) + 0.2);
  CHECK(out.charge_barred);
  CHECK_FALSE(out.at_charge);
  CHECK(out.easiest.charge == out.at_today.charge);
  CHECK(out.way == WayToOpen::end_wall);
}

TEST_CASE("taking out: against every whole per cent, over drawn swings (2)") {
  REQUIRE(rc::check("the nearest that may be gone to, lower ones first", [] {
    Build b = sample::known();
    std::vector<double> fraction{0};
    for (int i = 0; i < 4; ++i) {
      fraction.push_back(*rc::gen::inRange(-50, 120) * 1e-4);
    }
    b.cell.swing = SwingTable{{0, 0.25, 0.5, 0.75, 1}, fraction};
    const double today = *rc::gen::inRange(10, 91) / 100.0;
    b.measured_charge = MeasuredCharge{today, {}, false};
    const double interference = *rc::gen::inRange(10, 150) * 0.01;
    const Study study(as_it_stands(b), {});
    const ShimLoad load = pressing(interference);
    const TakingOut out = assess_taking_out(study, load);

    // Pull at each tenth of a per cent; the table's own knots are among them.
    const auto pull = [&](int permille) {
      RowState state = study.model().build_state();
      state.charge = permille / 1000.0;
      return 0.6 * study.model().solve(state, load).force_n;
    };
    const auto from = static_cast<int>(std::lround(today * 1000));
    const double now = pull(from);
    if (now <= 150) {
      RC_ASSERT(out.way == WayToOpen::draw_out);
      return;
    }
    const auto search = [&](int step) -> std::optional<int> {
      for (int at = from + step; at >= 100 && at <= 900; at += step) {
        if (pull(at) > now * (1 + 1e-9)) {
          return std::nullopt;
        }
        if (at % 10 == 0 && pull(at) <= 150) {
          return at;
        }
      }
      return std::nullopt;
    };
    std::optional<int> expected = search(-1);
    if (!expected) {
      expected = search(1);
    }
    RC_ASSERT(out.at_charge.has_value() == expected.has_value());
    if (expected) {
      RC_ASSERT(std::abs(out.at_charge->charge - *expected / 1000.0) < 1e-9);
    }
  }));
}

TEST_CASE("taking out: what comes free is today's force, and the spring back all gives (3)") {
  Build b = sample::placed_evenly(sample::known(4, 3.2), "thick");
  b.box.end_walls = PlateWall{3.0, WallMaterial::aluminium, WallJoint::screwed};
  b.box.inner_width_mm = 130;
  b.box.inner_height_mm = 110;
  b.box.inner_length_mm = {162.7};
  const Build today = as_it_stands(b);
  const Study study(today, {});
  const ShimPlan placed = study.as_placed();
  const TakingOut out = assess_taking_out(study, study.load_of(placed.used));
  const Answer answer = answer_pressure(today);
  REQUIRE(answer.plan.as_built.force_n > 500);
  CHECK(out.released_force_n == Approx(answer.plan.as_built.force_n));
  CHECK(out.spring_back_mm == Approx(answer.plan.cells_give_mm + answer.plan.sheets_give_mm +
                                     answer.plan.pads_give_mm + answer.plan.walls_give_mm));
  CHECK(out.give.walls_mm > 0);
  // All of it is what the row is too long by.
  CHECK(out.spring_back_mm == Approx(answer.plan.interference_mm).epsilon(0.02));
  CHECK_FALSE(out.released_span_n);
  CHECK(out.most_released_n() == out.released_force_n);

  Build assumed = today;
  assumed.cell.softness.reset();
  const Study doubtful(assumed, {});
  const TakingOut span = assess_taking_out(doubtful, doubtful.load_of(placed.used));
  REQUIRE(span.released_span_n);
  CHECK(span.released_span_n->low < span.released_force_n);
  CHECK(span.most_released_n() > span.released_force_n);
}

TEST_CASE("taking out: what opens decides the way") {
  Build b = sample::known();
  const double tight = squeeze_at_mm(area_mm2(b), 4000);
  for (const Opens opens : {Opens::one_end_wall, Opens::both_end_walls}) {
    b.box.opens = opens;
    CHECK(assess(b, tight).way == WayToOpen::end_wall);
    CHECK(assess(b, tight).wall_opens);
  }
  b.box.opens = Opens::none;
  CHECK(assess(b, tight).way == WayToOpen::nothing_opens);
  CHECK(assess(b, tight).opens_said);
  b.box.opens = Opens::not_said;
  CHECK(assess(b, tight).way == WayToOpen::nothing_opens);
  CHECK_FALSE(assess(b, tight).opens_said);
}

TEST_CASE("taking out: a press is a row above its band or limit today") {
  Build b = sample::known();
  const double area = area_mm2(b);
  // The band's top is judged with the model margin: 0.25 / 1.1 MPa.
  const double top = squeeze_at_mm(area, 0.25 / 1.1 * area);
  CHECK_FALSE(assess(b, top - 1e-3).press);
  CHECK(assess(b, top + 1e-3).press);
  b.cell.limit_mpa = 0.2;
  CHECK(assess(b, top - 1e-3).press);
}

TEST_CASE("as it stands: the readings' charge and temperature count, not the build's") {
  Build b = sample::known();
  b.build.charge = 0.2;
  b.build.temperature_c = 5;
  b.box.lid = Lid::screwed;
  for (CellReading& cell : b.cells) {
    cell.temperature_c = 30;
  }
  b.cells[0].charge = 0.8;
  const Build today = as_it_stands(b);
  const Study study(today, {});
  CHECK(study.row().build_charge == Approx(0.5));  // 80, 40, 40, 40
  CHECK(study.row().build_temperature_c == Approx(30));
  CHECK(today.box.lid == Lid::none);
  b.cells[0].temperature_c.reset();
  CHECK(Study(as_it_stands(b), {}).row().build_temperature_c == 20);
}

TEST_CASE("taking out: a clamp frame is let go by its nuts, by the turns that closed it") {
  Build b = sample::known();
  b.box = {};
  b.box.floor = Floor::insulated;
  Frame frame;
  frame.plates = {12, WallMaterial::aluminium, 200, 140};
  frame.rods.size = "M8";
  frame.rods.grade = "8.8";
  frame.rods.at = {{-80, -40}, {80, -40}, {-80, 40}, {80, 40}};
  frame.force_n = 1500;
  b.frame = frame;
  b = sample::placed_evenly(b, "thin");
  const Study study(as_it_stands(b), {});
  const ShimPlan placed = study.as_placed();
  const TakingOut out = assess_taking_out(study, study.load_of(placed.used));
  const PlanResult plan = describe_plan(study, placed);
  REQUIRE(plan.frame);
  CHECK(out.way == WayToOpen::frame_nuts);
  CHECK(out.rods == 4);
  CHECK(out.released_force_n == Approx(1500).epsilon(1e-3));
  CHECK(out.turns_to_free == Approx(plan.frame->turns_past_snug));
  CHECK(out.turns_to_free > 0);
  CHECK_FALSE(out.at_charge);
}
