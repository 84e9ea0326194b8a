// SPDX-License-Identifier: GPL-3.0-or-later
//
// The thickness of walls to order, held against `pressure`: the row is packed with one sheet until
// its highest state reaches the band's top, and the walls are then as the full solution says.
// All builds are invented.
#include <algorithm>
#include <memory>
#include <vector>

#include "solver/length_window.hpp"
#include "solver/soft_order.hpp"
#include "solver/wall_order.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;

namespace {

Build plated(WallJoint joint) {
  Build b = sample::known();
  PlateWall wall;
  wall.material = WallMaterial::aluminium;
  wall.joint = joint;
  b.box.end_walls = wall;
  b.box.inner_width_mm = 124;
  b.box.inner_height_mm = 130;
  b.cell.range = PressureRange{0.03, 0.16, RangeAppliesTo::use};
  b.order.wall_stock_mm = {1.5, 2, 2.5, 3, 4, 5, 6};
  b.kit.clear();
  return b;
}

/// Packed by bisection of the one sheet's thickness, so that the highest force is `force_n`.
WallResult packed(Build build, double force_n) {
  SheetInput sheet;
  sheet.name = "packing";
  sheet.material = SheetMaterial::glass_epoxy;
  sheet.where.word = PlaceWord::named_gaps;
  sheet.where.gaps = {"wall-1"};
  double low = 0.5;
  double high = 20;
  Answer answer;
  for (int i = 0; i < 24; ++i) {
    sheet.thickness_mm = 0.5 * (low + high);
    build.fixed_sheets = {sheet};
    answer = answer_pressure(build);
    (answer.plan.highest.force_n < force_n ? low : high) = sheet.thickness_mm;
  }
  REQUIRE(answer.plan.walls.size() == 1);
  REQUIRE_THAT(answer.plan.highest.force_n, Catch::Matchers::WithinRel(force_n, 0.005));
  return answer.plan.walls.front();
}

}  // namespace

TEST_CASE("the chosen wall stands the band's top by full solution, the next thinner one does not") {
  for (const WallJoint joint : {WallJoint::screwed, WallJoint::welded}) {
    const Build build = plated(joint);
    Findings findings;
    const WallOrder order = order_walls(build, {}, findings, std::make_shared<WallStore>());
    REQUIRE(order.found);
    REQUIRE(order.thinner);
    CHECK(order.chosen.holds());
    CHECK_FALSE(order.thinner->holds());
    // Neighbours in the stock.
    const auto at =
        std::find(order.stock_mm.begin(), order.stock_mm.end(), order.chosen.thickness_mm);
    REQUIRE(at != order.stock_mm.begin());
    CHECK(*std::prev(at) == order.thinner->thickness_mm);
    for (const WallTried& tried : {order.chosen, *order.thinner}) {
      const WallResult wall = packed(with_wall(build, tried.thickness_mm), order.top_force_n);
      CAPTURE(tried.thickness_mm, wall.bow_mm, wall.stress_mpa, tried.bow_mm, tried.stress_mpa);
      CHECK_THAT(wall.bow_mm, Catch::Matchers::WithinRel(tried.bow_mm, 0.02));
      CHECK_THAT(wall.stress_mpa, Catch::Matchers::WithinRel(tried.stress_mpa, 0.03));
      const bool holds = wall.bow_mm <= 1.2 && wall.stress_mpa <= 110 / 1.5;
      CHECK(holds == tried.holds());
    }
  }
}

TEST_CASE("a welded wall may be thinner than a screwed one, and a lid spares thickness") {
  const auto store = std::make_shared<WallStore>();
  Findings findings;
  const double screwed =
      order_walls(plated(WallJoint::screwed), {}, findings, store).chosen.thickness_mm;
  const double welded =
      order_walls(plated(WallJoint::welded), {}, findings, store).chosen.thickness_mm;
  CHECK(welded <= screwed);
  for (const double thickness : {2.0, 3.0, 4.0}) {
    const auto open = try_wall(with_wall(plated(WallJoint::screwed), thickness), {}, store);
    Build lidded = plated(WallJoint::screwed);
    lidded.box.lid = Lid::screwed;
    const auto closed = try_wall(with_wall(lidded, thickness), {}, store);
    const auto thicker =
        try_wall(with_wall(plated(WallJoint::screwed), 1.3 * thickness), {}, store);
    REQUIRE(open);
    REQUIRE(closed);
    REQUIRE(thicker);
    CHECK(closed->bow_mm <= open->bow_mm * 1.001);
    CHECK(thicker->bow_mm < open->bow_mm);
    CHECK(thicker->stress_mpa < open->stress_mpa);
  }
}

TEST_CASE("rigid walls have no thickness to order, and a weak metal asks for a thicker plate") {
  Findings findings;
  const auto store = std::make_shared<WallStore>();
  CHECK_FALSE(order_walls(sample::known(), {}, findings, store).bends);
  Build soft = plated(WallJoint::screwed);
  Build hard = soft;
  soft.order.yield_mpa = 60;
  hard.order.yield_mpa = 400;
  const WallOrder thick = order_walls(soft, {}, findings, store);
  const WallOrder thin = order_walls(hard, {}, findings, store);
  CHECK(thin.chosen.thickness_mm <= thick.chosen.thickness_mm);
  soft.order.yield_mpa = 1;
  CHECK_FALSE(order_walls(soft, {}, findings, store).found);
}

TEST_CASE("the pad offered is the smallest: every smaller one fails") {
  Build build = sample::known(12);
  build.cell.range = PressureRange{0.05, 0.115, RangeAppliesTo::use};
  build.cell.swing = SwingFigures{0.010, 0.004};
  build.kit.clear();
  build.order.foam = FoamTable{{0, 0.1, 0.25, 0.4, 0.55, 0.65}, {0, 0.045, 0.075, 0.1, 0.15, 0.32}};
  build.order.pad_stock_mm = {3, 5, 8, 12, 16};
  LengthDemand demand;
  demand.sheets_mm = {0.5, 1};
  demand.sheet_material = SheetMaterial::glass_epoxy;
  const auto store = std::make_shared<WallStore>();
  REQUIRE_FALSE(offer_length(build, {}, demand, store).found);
  const auto pad = offer_pad(build, {}, demand, store);
  REQUIRE(pad);
  for (const double thickness : build.order.pad_stock_mm) {
    for (const bool both : {false, true}) {
      const double all = thickness * (both ? 2 : 1);
      if (all >= pad->thickness_mm * (pad->both_ends ? 2 : 1)) {
        continue;
      }
      CAPTURE(thickness, both);
      const PadOffer smaller{thickness, 0, build.order.foam, both, {}};
      CHECK_FALSE(offer_length(with_pad(build, smaller), {}, demand, store).found);
    }
  }
}
