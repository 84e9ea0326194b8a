// SPDX-License-Identifier: GPL-3.0-or-later
//
// What is ordered for a clamp frame, held against studies of the frame itself.
#include "solver/frame_order.hpp"

#include <algorithm>
#include <cmath>
#include <memory>

#include "solver/frame_plates.hpp"
#include "solver/frame_rods.hpp"
#include "solver/row_frame.hpp"
#include "solver/series.hpp"
#include "solver/study.hpp"
#include "solver/threads.hpp"
#include "solver/wall_result.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_frame.hpp"

using namespace stackfit;
using Catch::Approx;

namespace {

using sample::narrow_band;
using sample::sample_frame;
using sample::wide_band;

bool passes(Build build, double force_n) {
  build.frame->force_n = force_n;
  const Study study(build, {});
  return study.choose().passes;
}

/// Whether springs of a row stay within their working travel at a force, model margin included.
bool springs_work(const FrameOrder& order, double greatest_n) {
  const SpringSet set = disc_set(order.springs->disc);
  return 1.1 * greatest_n / order.rods.count <= set.force_at(set.recommended_travel_mm()).n;
}

double greatest_n(const Build& said, double force_n) {
  Build build = said;
  build.frame->force_n = force_n;
  const Study study(build, {});
  const PlanPressures p = study.model().evaluate(study.load_of({}));
  return std::max(p.as_built.force_n, p.highest.force_n);
}

/// The ends of every window, one per cent inside and one outside.
void check_ends(const FrameOrder& order) {
  for (const ForceWindow& window : order.windows) {
    CHECK(passes(order.build, 1.01 * window.force_n.low));
    CHECK_FALSE(passes(order.build, 0.99 * window.force_n.low));
    CHECK(passes(order.build, 0.99 * window.force_n.high));
    const double beyond = 1.01 * window.force_n.high;
    if (window.springs_end) {
      CHECK(springs_work(order, greatest_n(order.build, 0.99 * window.force_n.high)));
      CHECK_FALSE(springs_work(order, greatest_n(order.build, beyond)));
    } else {
      CHECK_FALSE(passes(order.build, beyond));
    }
  }
}

}  // namespace

TEST_CASE("rods: the smallest thread that bears the band's top at half its proof load") {
  const FrameOrder order = order_frame(wide_band());
  const Row row = Study(order.build, {}).row();
  const double each_n = 0.35 * row.face_area_mm2 / 4;
  CHECK(order.rods.greatest_each_n == Approx(each_n));
  CHECK(order.rods.thread_mm == 5);
  CHECK(order.rods.proof_share == Approx(each_n / (310 * stress_area_mm2({5, 0.8}))));
  CHECK(order.rods.proof_share <= rod_proof_share);
  // Six times the pressure: the next thinner thread would bear more than half.
  Build hard = sample_frame(0.1, 2.0);
  Findings findings;
  hard.frame->rods.size = "M5";
  const Row hard_row = resolve_row(hard, {}, findings);
  const RodOrder said = size_rods(hard, hard_row, 2.0 * hard_row.face_area_mm2);
  CHECK_FALSE(said.said_holds);
  CHECK(said.thread_mm == 10);
  CHECK(said.proof_share <= rod_proof_share);
  CHECK(said.greatest_each_n > rod_proof_share * proof_load_n({8, 1.25}, 310));
  // A weaker grade needs more, and one for which there is no room beside the cells is refused.
  hard.frame->rods.grade = "4.6";
  CHECK(size_rods(hard, resolve_row(hard, {}, findings), 28000).thread_mm == 12);
  for (RodPosition& rod : hard.frame->rods.at) {
    rod.y_mm = rod.y_mm > 0 ? 40 : -40;
    rod.x_mm = rod.x_mm > 0 ? 65 : -65;
  }
  CHECK(rods_stand_clear(hard, 10));
  CHECK_FALSE(rods_stand_clear(hard, 12));
  CHECK(size_rods(hard, resolve_row(hard, {}, findings), 24000).thread_mm == 10);
  CHECK(size_rods(hard, resolve_row(hard, {}, findings), 28000).thread_mm == 0);
}

TEST_CASE("a rod is as long as what stands between its ends before it is tightened") {
  const FrameOrder order = order_frame(wide_band());
  const FrameResult& frame = *order.plan->frame;
  // M5: washers of 1 mm, nuts of 4.7 mm, two threads of 0.8 mm beyond each.
  const double needed = frame.overall_length_mm + frame.closure_mm + 2 * (1.0 + 4.7 + 2 * 0.8);
  CHECK(order.rods.length_mm >= needed);
  CHECK(order.rods.length_mm < needed + 5);
  CHECK(std::fmod(order.rods.length_mm, 5) == Approx(0).margin(1e-9));
}

TEST_CASE("plates: the chosen thickness holds by a full solution, the next thinner does not") {
  for (const WallMaterial material : {WallMaterial::aluminium, WallMaterial::plywood}) {
    Build build = wide_band();
    build.frame->plates.material = material;
    build.frame->rods.size = "M6";
    const FrameOrder order = order_frame(build);
    REQUIRE(order.plates);
    REQUIRE(order.plates->next_thinner);
    for (const PlateTrial& trial : {order.plates->chosen, *order.plates->next_thinner}) {
      Build tried = build;
      tried.frame->plates.thickness_mm = trial.thickness_mm;
      tried.frame->force_n = order.plates->force_n;
      const Study study(tried, {});
      CHECK(order.plates->force_n == Approx(0.35 * study.row().face_area_mm2));
      const auto full = study.model().columns_at(study.model().build_state(), {});
      REQUIRE(full);
      const WallResult wall = wall_results(study.row(), *full).front();
      // Aluminium: yield over 1.5; plywood: half of what it bears for a short while.
      const double most = material == WallMaterial::plywood ? 25.0 / 2 : 110 / 1.5;
      const bool holds = wall.stress_mpa <= most && wall.bow_mm <= 0.01 * 152;
      CHECK(holds == (&trial != &*order.plates->next_thinner &&
                      trial.thickness_mm == order.plates->chosen.thickness_mm));
      CHECK(trial.stress_mpa == Approx(wall.stress_mpa));
      CHECK(trial.bow_mm == Approx(wall.bow_mm));
      CHECK(trial.most_stress_mpa == Approx(most));
      CHECK(trial.most_bow_mm == Approx(1.52));
    }
  }
}

TEST_CASE("plates: what was said is judged, and what the person can buy is all there is") {
  Build build = wide_band();
  build.frame->rods.size = "M6";
  build.frame->plates.thickness_mm = 3;
  const auto store = std::make_shared<WallStore>();
  const double force = 0.35 * 11992;
  const Assumptions assumptions;
  const PlateOrder thin = size_plates({build, assumptions, store, force});
  REQUIRE(thin.said);
  CHECK_FALSE(thin.said->holds());
  CHECK(thin.chosen.thickness_mm == 8);
  build.frame->plates.thickness_mm = 9;
  const PlateOrder thick = size_plates({build, assumptions, store, force});
  CHECK(thick.chosen.thickness_mm == 9);
  CHECK_FALSE(thick.next_thinner);
  build.frame->plates.thickness_mm.reset();
  build.order.wall_stock_mm = {2, 3, 4};
  CHECK_FALSE(size_plates({build, assumptions, store, force}).chosen.holds());
  CHECK(order_frame(build).problem == FrameProblem::plates_too_thin);
  build.order.wall_stock_mm = {25, 9.5, 10};
  CHECK(size_plates({build, assumptions, store, force}).chosen.thickness_mm == 9.5);
  build.order.most_bow_mm = 0.1;
  CHECK(size_plates({build, assumptions, store, force}).chosen.thickness_mm == 25);
}

TEST_CASE("rods alone hold a wide band: the window's ends are where plans cease to pass") {
  const FrameOrder order = order_frame(wide_band());
  REQUIRE(order.problem == FrameProblem::none);
  CHECK_FALSE(order.springs);
  REQUIRE(order.windows.size() == 1);
  check_ends(order);
  const Span& window = order.windows.front().force_n;
  const double third = (window.high - window.low) / 3;
  CHECK(order.force_n >= window.low + third);
  CHECK(order.force_n <= window.high - third);
  CHECK(order.plan->passes);
  CHECK(order.plan->frame->force_n == order.force_n);
}

TEST_CASE("a narrow band needs springs: the window with them ends where plans or springs do") {
  const FrameOrder order = order_frame(narrow_band());
  REQUIRE(order.problem == FrameProblem::none);
  CHECK(order.rods_alone.empty());
  REQUIRE(order.springs);
  REQUIRE(order.windows.size() == 1);
  check_ends(order);
  CHECK(order.plan->passes);
  CHECK(order.springs->deflection_mm <= order.springs->recommended_travel_mm);
  CHECK_FALSE(order.plan->frame->highest.beyond_recommended);
  CHECK(order.springs->setting_mm >= least_setting_mm);
  // Rods alone, asked for: there is no force.
  FrameAsk never;
  never.springs = FrameAsk::Springs::never;
  CHECK(order_frame(narrow_band(), {}, never).problem == FrameProblem::rods_alone_fail);
}

TEST_CASE("the springs found keep the band by one column and springs, worked by hand") {
  Build build = narrow_band();
  build.frame->plates.material = WallMaterial::carbon_steel;
  build.order.wall_stock_mm = {20};  // hardly bend: one column is then the whole row
  const FrameOrder order = order_frame(build);
  REQUIRE(order.springs);
  const Row row = Study(order.build, {}).row();
  // 120 x 100 mm less its corners of 3 mm.
  const double area = 12000 - (4 - 3.14159265358979) * 9;
  Series column;
  column.add(
      {std::make_shared<ExponentialLaw>(ExponentialLaw::Constants{0.06, 180, 1.0}), 240, area});
  column.add_give(7 * 0.3 / (10000 * area));
  const DiscSprings& d = order.springs->disc;
  const SpringSet springs =
      SpringSet::discs({d.outer_mm, d.inner_mm, d.thickness_mm, d.cone_height_mm, {}, 206000, 0.3},
                       {d.parallel, d.series});
  const double rod_mm = 240 + 7 * 0.3 + 2 * 20;
  const double rod_give = rod_mm / (207000 * stress_area_mm2(*coarse_thread(order.rods.thread_mm)));
  const auto closed = [&](double force_n) {
    const double each = force_n / 4;
    return column.squeeze_mm(force_n) + springs.deflection_at(each) + rod_give * each;
  };
  const auto force_after = [&](double longer_mm) {
    double low = 0;
    double high = 4 * springs.force_at(springs.travel_mm()).n;
    for (int i = 0; i < 60; ++i) {
      const double middle = 0.5 * (low + high);
      (closed(middle) - closed(order.force_n) > longer_mm ? high : low) = middle;
    }
    return low;
  };
  double lowest = order.force_n;
  double highest = order.force_n;
  for (const double charge : row.swing.knots({0.1, 0.9})) {
    for (const double celsius : {5.0, 40.0}) {
      const double swing = 240 * (row.swing.at(charge) - row.swing.at(0.4));
      const double heat = (240 * 40e-6 + 7 * 0.3 * 42.7e-6 - rod_mm * 12e-6) * (celsius - 20);
      lowest = std::min(lowest, force_after(swing + heat));
      highest = std::max(highest, force_after(swing + heat));
    }
  }
  CHECK(lowest / area >= 0.06);
  CHECK(1.1 * highest / area <= 0.11);
  CHECK(order.plan->lowest.force_n == Approx(lowest).epsilon(0.01));
  CHECK(order.plan->highest.force_n == Approx(highest).epsilon(0.01));
}

TEST_CASE("springs in the build are judged, and others found where they do not serve") {
  Build build = narrow_band();
  build.frame->rods.size = "M5";
  build.frame->springs = springs_of({'C', 10, 5.2, 0.25, 0.3}, 1, 2);
  const FrameOrder weak = order_frame(build);
  REQUIRE(weak.said_springs);
  CHECK(weak.said_springs->windows.empty());
  REQUIRE(weak.springs);
  CHECK(weak.springs->disc.series > 2);
  build.frame->springs = weak.springs->disc;
  const FrameOrder serves = order_frame(build);
  REQUIRE(serves.springs);
  CHECK(serves.springs->disc.series == weak.springs->disc.series);
  CHECK(serves.force_n == weak.force_n);
}

TEST_CASE("a band narrower than any spring of the stock can hold is said to be so") {
  const FrameOrder order = order_frame(sample_frame(0.09, 0.101));
  CHECK(order.problem == FrameProblem::no_springs);
  CHECK(order.windows.empty());
  CHECK_FALSE(order.plan);
  CHECK(order.plates);
}

TEST_CASE("what no frame is, and several rows, are refused with the way out") {
  CHECK_THROWS_AS(order_frame(sample::build()), UnusableBuild);
  Build two = wide_band();
  two.rows = 2;
  CHECK_THROWS_AS(order_frame(two), UnusableBuild);
  Build none = wide_band();
  none.frame->rods.at.clear();
  CHECK_THROWS_AS(order_frame(none), UnusableBuild);
}
