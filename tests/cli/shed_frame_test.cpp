// SPDX-License-Identifier: GPL-3.0-or-later
//
// A frame that is still to be made: its file says neither plate thickness nor springs.
#include "solver/frame_order.hpp"
#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"

using namespace stackfit;

TEST_CASE("a frame without plate thickness is read and ordered: plates, springs, force") {
  const cli::ReadBuild read = cli::testing::read_fixture("order/shed_frame.json");
  REQUIRE(read.build);
  const Build& build = *read.build;
  REQUIRE(build.frame);
  CHECK_FALSE(build.frame->plates.thickness_mm);
  CHECK_FALSE(build.frame->springs);
  const FrameOrder order = order_frame(build);
  REQUIRE(order.problem == FrameProblem::none);
  CHECK(order.rods.said_mm == 8);
  CHECK(order.rods.said_holds);
  REQUIRE(order.plates);
  CHECK(order.plates->lasting_wood);
  CHECK(order.plates->chosen.holds());
  CHECK(order.rods_alone.empty());
  REQUIRE(order.springs);
  REQUIRE(order.plan);
  CHECK(order.plan->passes);
  CHECK(order.plan->frame->overall_length_mm > 8 * 52.7 + 9 * 0.8 + 2 * 9);
  CHECK(order.rods.length_mm > order.plan->frame->overall_length_mm);
  CAPTURE(order.rods.thread_mm, order.rods.length_mm, order.plates->chosen.thickness_mm,
          order.springs->series, order.springs->disc.outer_mm, order.springs->disc.parallel,
          order.springs->disc.series, order.windows.front().force_n.low,
          order.windows.front().force_n.high, order.force_n, order.springs->setting_mm);
  CHECK(order.springs->setting_mm >= least_setting_mm);
}
