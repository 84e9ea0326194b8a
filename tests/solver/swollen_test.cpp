// SPDX-License-Identifier: GPL-3.0-or-later
//
// A swollen cell is never pressed flat: not by the plan, not by a remedy, not by what is placed.
#include <algorithm>

#include "solver/remedy.hpp"
#include "solver/study.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

namespace {

using Catch::Approx;
using namespace stackfit;

constexpr double may_touch = 0.95;

/// Four cells, the second swollen by `swelling_mm` beyond its slack of 0.2; they hardly breathe.
/// Without any sheet the row is as long as the box where it is flat: the dome alone stands out.
Build with_swollen(double swelling_mm, double room_mm, double low_mpa) {
  Build b = sample::known(4, room_mm);
  b.cells[1].middle_mm = 40.2 + swelling_mm;
  b.cell.swing = SwingFigures{0.0002, 0.0001};
  b.cell.range = PressureRange{low_mpa, 0.25, RangeAppliesTo::use};
  b.use.temperature_c = Span{19, 21};
  b.kit.clear();
  KitShim film;
  film.sheet = sample::sheet("film", 0.1);
  film.count = 40;
  b.kit.push_back(film);
  return b;
}

double most_touching(const PlanResult& plan) {
  double most = plan.as_built.contact_share;
  for (const StateResult& state : plan.states) {
    most = std::max(most, state.contact_share);
  }
  return most;
}

TEST_CASE("a plan that leaves a watched dome its room is given, with how much of it touches") {
  const Answer answer = answer_pick(with_swollen(0.6, 0.9, 0.002));
  REQUIRE(answer.inside());
  CHECK(answer.cells[1].beyond_watch);
  CHECK_FALSE(answer.cells[1].refused);
  CHECK(answer.plan.spares_swollen);
  CHECK(answer.plan.swollen_contact == Approx(most_touching(answer.plan)));
  CHECK(answer.plan.swollen_contact <= may_touch);
  CHECK(answer.plan.swollen_contact > 0.1);
  const Warning* watched = sample::find_warning(answer.warnings, WarningCode::swollen_watched);
  REQUIRE(watched != nullptr);
  CHECK(watched->where == "2");
  CHECK(watched->size == answer.plan.swollen_contact);
  if (answer.looser) {
    CHECK(most_touching(*answer.looser) <= may_touch);
  }
}

TEST_CASE("where only a flattened dome reaches the band the plan is refused and not shown") {
  // 30 kPa over the face are not to be had from the dome's middle alone.
  const Answer answer = answer_pick(with_swollen(0.6, 0.9, 0.03));
  CHECK(answer.verdict == Verdict::does_not_fit);
  CHECK(answer.failure.rule == FailedRule::swollen_pressed_flat);
  CHECK_FALSE(answer.has_plan);
  // The same cells, the second not swollen, do fit.
  Build flat = with_swollen(0.0, 0.9, 0.03);
  CHECK(answer_pick(flat).inside());
}

TEST_CASE("no remedy presses a watched cell flat") {
  const Build b = with_swollen(0.6, 0.9, 0.03);
  for (const Remedy& remedy : answer_pick(b).remedies) {
    const Answer mended = answer_pick(apply(remedy, b));
    CHECK(mended.inside());
    CHECK(most_touching(mended.plan) <= may_touch);
  }
}

TEST_CASE("what is placed is judged by the same rule, whatever the pressure") {
  int flat = 0;
  int spared = 0;
  for (int each = 1; each <= 4; ++each) {
    const Build b = sample::placed_evenly(with_swollen(0.6, 0.9, 0.0005), "film", each);
    const Answer answer = answer_pressure(b);
    const bool pressed_flat = most_touching(answer.plan) > may_touch;
    CHECK(answer.plan.spares_swollen == !pressed_flat);
    CHECK((sample::find_warning(answer.warnings, WarningCode::swollen_pressed_flat) != nullptr) ==
          pressed_flat);
    if (pressed_flat) {
      CHECK_FALSE(answer.inside());
      CHECK(answer.failure.rule == FailedRule::swollen_pressed_flat);
    }
    (pressed_flat ? flat : spared) += 1;
  }
  CHECK(flat > 0);
  CHECK(spared > 0);
}

TEST_CASE("watch and set aside begin beyond 1 and 2.5 per cent of the thickness") {
  // 0.4 and 1.0 mm of 40.
  const auto cell = [](double swelling_mm) {
    return answer_pick(with_swollen(swelling_mm, 0.9, 0.002)).cells[1];
  };
  CHECK_FALSE(cell(0.39).beyond_watch);
  CHECK(cell(0.41).beyond_watch);
  CHECK_FALSE(cell(0.99).refused);
  CHECK(cell(1.01).refused);
  CHECK(answer_pick(with_swollen(1.01, 0.9, 0.002)).verdict == Verdict::stop);
}

TEST_CASE("a watched dome's local pressure is held to the limit") {
  Build b = with_swollen(0.6, 0.9, 0.002);
  const Answer free = answer_pick(b);
  REQUIRE(free.inside());
  b.cell.limit_mpa = 0.5 * free.plan.highest.highest_local_mpa;
  b.cell.range =
      PressureRange{0.002, 0.5 * free.plan.highest.highest_local_mpa, RangeAppliesTo::use};
  const Answer held = answer_pressure(sample::placed_as(b, free.plan));
  CHECK_FALSE(held.inside());
  CHECK(held.plan.worst == Standing::above_limit);
}

TEST_CASE("contact begins in the middle, spreads as the box gets shorter, and peaks there") {
  double before = 0;
  for (const double past_touch_mm : {0.1, 0.25, 0.4, 0.5}) {
    const Study study(with_swollen(0.6, 0.0, 0.002), {});
    ShimLoad load;
    load.thickness_mm = past_touch_mm - 0.6;
    const StateResult state = study.model().solve_fully(study.model().build_state(), load);
    CAPTURE(past_touch_mm, state.contact_share);
    CHECK(state.contact_share > before);
    before = state.contact_share;
    CHECK(state.highest_local_mpa > 2 * state.face_pressure_mpa);
    CHECK(std::abs(state.centre_x_mm) < 1e-6);
    CHECK(state.lowest_local_mpa == 0);
  }
}

TEST_CASE("a hole in the sheet over a dome takes its peak away") {
  const auto peak = [](bool hole) {
    Build b = with_swollen(0.6, 1.0, 0.002);
    SheetInput sheet = sample::sheet("frame", 1.0, {PlaceWord::named_gaps, {"1-2"}});
    if (hole) {
      sheet.outline = SheetOutline{};
      sheet.outline->width_mm = 120;
      sheet.outline->height_mm = 100;
      sheet.outline->holes = {{{-30, -25}, {30, -25}, {30, 25}, {-30, 25}}};
    }
    b.fixed_sheets.push_back(sheet);
    const Study study(b, {});
    ShimLoad load;
    load.thickness_mm = -0.1;
    return study.model().solve_fully(study.model().build_state(), load);
  };
  const StateResult whole = peak(false);
  const StateResult cut = peak(true);
  CHECK(cut.highest_local_mpa < 0.7 * whole.highest_local_mpa);
  CHECK(cut.force_n < whole.force_n);
}

TEST_CASE("a hollow cell beside a domed one takes up its dome") {
  const auto force = [](double hollow_mm) {
    Build b = with_swollen(0.6, 0.0, 0.002);
    b.cells[2].middle_mm = 40 - hollow_mm;
    const Study study(b, {});
    ShimLoad load;
    load.thickness_mm = -0.2;
    return study.model().solve_fully(study.model().build_state(), load).force_n;
  };
  CHECK(force(0.3) < 0.5 * force(0.0));
}

}  // namespace
