// SPDX-License-Identifier: GPL-3.0-or-later
//
// Whole builds with springy boxes, from the file to the answer: a lid on and off, walls that
// stretch, a clamp frame, two rows.
#include <cmath>
#include <string>
#include <utility>

#include "cli/read_build.hpp"
#include "solver/answer.hpp"
#include "solver/tie.hpp"
#include "tests/catch.hpp"

namespace {

using namespace stackfit;
using Catch::Approx;

Build fixture_build(const std::string& name) {
  cli::BuildSource source;
  source.file = std::string(STACKFIT_FIXTURES_DIR "/") + name;
  return cli::read_build(source).build.value();
}

/// The build with the sheets placed that an answer chose.
Build placed_as(const Answer& answer, Build build) {
  const auto place = [&](const PlanResult& plan) {
    for (const GapResult& gap : plan.gaps) {
      PlacedSheets placed{gap.name, {}};
      for (const GapSheet& sheet : gap.sheets) {
        if (sheet.origin == SheetOrigin::kit) {
          placed.sheets.emplace_back(sheet.name, sheet.count);
        }
      }
      build.placed.push_back(placed);
    }
  };
  if (answer.rows.empty()) {
    place(answer.plan);
  }
  for (const Answer& row : answer.rows) {
    place(row.plan);
  }
  return build;
}

PlateWall& end_wall(Build& build) {
  return std::get<PlateWall>(build.box.end_walls.value());
}

}  // namespace

TEST_CASE("a lid screwed on later stiffens what comes after the build, not the build") {
  const Build on = fixture_build("lid_screwed.json");
  const Answer with_lid = answer_pick(on);
  REQUIRE(with_lid.inside());
  Build off = placed_as(with_lid, on);
  off.box.lid = Lid::loose;
  const Answer without = answer_pressure(off);
  CHECK(with_lid.plan.as_built.force_n == Approx(without.plan.as_built.force_n));
  CHECK(with_lid.plan.highest.force_n > 1.002 * without.plan.highest.force_n);
  CHECK(with_lid.plan.lowest.force_n < without.plan.lowest.force_n);
  // Held at the top from the start, more still.
  Build always = off;
  end_wall(always).edges->top = {{WallJoint::screwed, {}}};
  CHECK(answer_pressure(always).plan.as_built.force_n > without.plan.as_built.force_n);
}

TEST_CASE("walls of thin sheet stretch as they bow, held edges make them stiffer still") {
  const Build build = fixture_build("sheet_box.json");
  const Answer free = answer_pick(build);
  REQUIRE(free.has_plan);
  REQUIRE(free.plan.walls.size() == 1);
  const WallResult& wall = free.plan.walls.front();
  CHECK(wall.large_bow);
  CHECK(wall.both);
  CHECK(wall.bow_mm > 0.5 * wall.thickness_mm);
  CHECK(wall.bow_mm == Approx(free.plan.highest.wall_bow_mm).epsilon(1e-6));
  Build held = placed_as(free, build);
  end_wall(held).in_plane = InPlane::held;
  const Answer stiffer = answer_pressure(held);
  CHECK(stiffer.plan.highest.force_n > free.plan.highest.force_n);
  CHECK(stiffer.plan.walls.front().bow_mm < wall.bow_mm);
  Build rigid = held;
  rigid.box.end_walls = RigidWall{};
  const Answer stiffest = answer_pressure(rigid);
  CHECK(stiffest.plan.highest.force_n > stiffer.plan.highest.force_n);
  CHECK(stiffest.plan.walls.empty());
}

TEST_CASE("a clamp frame is built at its force, and its springs keep the swing small") {
  const Build build = fixture_build("bench_frame.json");
  const Answer answer = answer_pick(build);
  REQUIRE(answer.inside());
  REQUIRE(answer.plan.frame);
  const FrameResult& frame = *answer.plan.frame;
  CHECK(answer.plan.as_built.force_n == Approx(*build.frame->force_n));
  CHECK(frame.as_built.rod_force_n == Approx(*build.frame->force_n / 4));
  CHECK(frame.highest.rod_force_n == Approx(answer.plan.highest.force_n / 4).epsilon(1e-6));
  CHECK(frame.lowest.rod_force_n == Approx(answer.plan.lowest.force_n / 4).epsilon(1e-6));
  // Ten discs in series: what the springs give is the change of their length.
  const auto& discs = std::get<DiscSprings>(*build.frame->springs);
  CHECK(frame.spring_free_length_mm ==
        Approx(discs.series * (discs.thickness_mm + discs.cone_height_mm)));
  CHECK(frame.as_built.spring_length_mm < frame.spring_free_length_mm);
  CHECK(frame.highest.spring_length_mm < frame.as_built.spring_length_mm);
  CHECK_FALSE(frame.torque_nmm);  // 441 N on an M6 rod: a torque says nothing
  Build hard = build;
  hard.frame->springs.reset();
  const Answer stiff = answer_pick(hard);
  CHECK(stiff.plan.as_built.force_n == Approx(*build.frame->force_n));
  CHECK(stiff.plan.highest.force_n > answer.plan.highest.force_n);
  CHECK(stiff.plan.lowest.force_n < answer.plan.lowest.force_n);
  Build tighter = build;
  *tighter.frame->force_n *= 1.2;
  const Answer more = answer_pick(tighter);
  CHECK(more.plan.frame->turns_past_snug > frame.turns_past_snug);
  CHECK(more.plan.frame->overall_length_mm < frame.overall_length_mm);
}

TEST_CASE("a frame brought to too little or too much is told the force that serves") {
  Build build = fixture_build("bench_frame.json");
  for (const double share : {0.1, 1.9}) {
    Build off = build;
    *off.frame->force_n *= share;
    const Answer answer = answer_pick(off);
    CHECK(answer.failure.rule == FailedRule::frame_force);
    REQUIRE(answer.remedies.size() == 1);
    CHECK(answer.remedies.front().code == RemedyCode::frame_force);
    off.frame->force_n = answer.remedies.front().value;
    CHECK(answer_pick(off).inside());
  }
}

TEST_CASE("two rows between the same walls each have a plan, and feel each other") {
  const Build build = fixture_build("two_rows_of_eight.json");
  const Answer answer = answer_pick(build);
  REQUIRE(answer.inside());
  REQUIRE(answer.rows.size() == 2);
  CHECK(answer.rows[1].plan.gaps.front().name == "wall-9");
  CHECK(answer.sense_lead_v.size() == 16);
  int used = 0;
  for (const Answer& row : answer.rows) {
    CHECK(row.inside());
    used += row.plan.kit.front().used;
  }
  CHECK(used <= build.kit.front().count);
  // Placed as chosen, the same pressures; the first row loosened, the second is pressed more,
  // since the walls come back.
  const Build placed = placed_as(answer, build);
  const Answer same = answer_pressure(placed);
  for (std::size_t i = 0; i < 2; ++i) {
    CHECK(same.rows[i].plan.highest.force_n == Approx(answer.rows[i].plan.highest.force_n));
  }
  Build looser = placed;
  for (PlacedSheets& gap : looser.placed) {
    if (gap.gap == "8-wall") {
      gap.sheets.clear();
    }
  }
  const Answer uneven = answer_pressure(looser);
  CHECK(uneven.rows[0].plan.highest.force_n < answer.rows[0].plan.highest.force_n);
  CHECK(uneven.rows[1].plan.highest.force_n > 1.0005 * answer.rows[1].plan.highest.force_n);
}

TEST_CASE("a wall known by its bow bows so much under that force") {
  Build build = fixture_build("lid_screwed.json");
  build.box.lid = Lid::loose;
  build.box.end_walls = WallBow{0.6, 2000};
  const Answer answer = answer_pick(build);
  REQUIRE(answer.has_plan);
  REQUIRE(answer.plan.walls.size() == 1);
  const WallResult& wall = answer.plan.walls.front();
  CHECK(wall.by_measured_bow);
  // The row presses the middle less than evenly, so it bows a little less in proportion.
  const double in_proportion = 0.6 * answer.plan.highest.force_n / 2000;
  CHECK(wall.bow_middle_mm < in_proportion);
  CHECK(wall.bow_middle_mm > 0.7 * in_proportion);
}
