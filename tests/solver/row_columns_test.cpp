// SPDX-License-Identifier: GPL-3.0-or-later
//
// A resolved row as columns: its regions, domes and stages against the same put together by hand.
#include "solver/row_columns.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
#include <vector>

#include "tests/catch.hpp"
#include "tests/column_rows.hpp"
#include "tests/solver/sample_build.hpp"

namespace {

using namespace stackfit;
using namespace stackfit::testing;

/// Domed cells between unlike walls with a lid; a pad and the thin shims each leave a part of the
/// face free, the shims' part within the pad's.
Build build_of_parts() {
  Build b = sample::known(4);
  b.box.inner_width_mm = 130;
  b.box.inner_height_mm = 112;
  PlateWall wall;
  wall.thickness_mm = 4;
  wall.material = WallMaterial::aluminium;
  wall.joint = WallJoint::folded;
  b.box.end_walls = wall;
  wall.thickness_mm = 6;
  b.box.last_end_wall = wall;
  b.box.lid = Lid::screwed;
  for (CellReading& cell : b.cells) {
    cell.middle_mm = 40.5;
  }
  PadInput pad;
  pad.name = "pad";
  pad.thickness_mm = 3;
  pad.law =
      FoamTable{{0, 0.1, 0.25, 0.4, 0.5, 0.6, 0.7}, {0, 0.044, 0.08, 0.128, 0.192, 0.336, 0.72}};
  pad.where.word = PlaceWord::ends;
  pad.outline = SheetOutline{};
  pad.outline->width_mm = 100;
  pad.outline->height_mm = 84;
  b.pads.push_back(pad);
  SheetOutline shim;
  shim.width_mm = 80;
  shim.height_mm = 60;
  b.kit.front().sheet.outline = shim;
  return b;
}

/// The face as the box has it: in the middle of the wall's width, on the floor.
Rectangle on_face(const Row& row, double width_mm, double height_mm) {
  return {0.5 * (row.box.walls.width_mm - width_mm), 50 - 0.5 * height_mm, width_mm, height_mm};
}

/// What build_of_parts is, with so many of its thin shims.
HandRow hand_row(const Row& row, int shims) {
  HandRow hand;
  hand.face = on_face(row, 120, 100);
  hand.cell_law = row.cell_law;
  hand.cells_mm = 4 * 40.0;
  for (const RowCell& cell : row.cells) {
    hand.domes.push_back({cell.dome_mm, cell.slack_mm});
  }
  const double shim_mm = shims * row.kit.front().sheet.thickness_mm;
  const HandPad pads{row.gaps.front().pads.front().soft_edge, 6, on_face(row, 100, 84), 6};
  const HandPad shim{std::make_shared<LinearLaw>(row.kit.front().sheet.modulus_mpa, 1e9), shim_mm,
                     on_face(row, 80, 60), shim_mm};
  // In the order of the row's outlines.
  hand.pads = row.kit.front().sheet.outline == 0 ? std::vector<HandPad>{shim, pads}
                                                 : std::vector<HandPad>{pads, shim};
  return hand;
}

double relative(double found, double should) {
  return std::abs(found / should - 1);
}

}  // namespace

TEST_CASE("a resolved row is the columns that its build describes", "[columns]") {
  Findings findings;
  const Build build = build_of_parts();
  const Row row = resolve_row(build, Assumptions(), findings);
  REQUIRE(row.outlines.size() == 2);
  const RowColumns columns(row, std::make_shared<WallStore>());
  const double slack_mm = row.cells.front().slack_mm;
  REQUIRE(slack_mm > 0);
  for (const int shims : {1, 4}) {
    ShimLoad load;
    load.add(row.kit.front().sheet, shims);
    RowColumns::Asked asked;
    // Enough that what the shims leave free is pressed as well where they are few.
    asked.built_mm = 2.5;
    asked.now_mm = 3.5;
    const RowColumns::Full full = columns.solve_fully(asked, load);
    REQUIRE(!columns.walls_stretch());

    const std::vector<HandRow> hand{hand_row(row, shims)};
    const HandSetup open = hand_setup(columns.walls().open, hand);
    const HandSetup closed = hand_setup(columns.walls().closed, hand);
    const TieLaw sides = TieLaw::linear(row.box.sides_give_mm_per_n);
    ColumnsLoad building = open.load({2.5});
    building.tie = &sides;
    const ColumnsState built = Columns(open.setup).solve_fully(building);
    ColumnsLoad later = closed.load({3.5});
    later.tie = &sides;
    later.built = &built;
    const ColumnsState now = Columns(closed.setup).solve_fully(later);

    INFO(shims << " shims: " << full.figures.force_n << " N");
    CHECK(relative(full.built.total_force_n(), built.total_force_n()) < 1e-8);
    CHECK(relative(full.now.total_force_n(), now.total_force_n()) < 1e-8);
    CHECK(relative(full.figures.highest_local_mpa, now.pressure_mpa.maxCoeff()) < 1e-8);
    CHECK(relative(full.now.first_bow_mm, now.first_bow_mm) < 1e-8);
    CHECK(full.now.first_bow_mm > 1.5 * full.now.last_bow_mm);
    const double face = 120 * 100;
    const double free = 1 - 80 * 60 / face;
    if (shims == 1) {
      CHECK(full.figures.contact_share > 1 - 0.9 * free);
    }
  }
}

TEST_CASE("settled pads lose what was squeezed, column by column", "[columns]") {
  Build build = sample::known(4);
  build.box.inner_width_mm = 130;
  build.box.inner_height_mm = 112;
  PadInput pad;
  pad.name = "pad";
  pad.thickness_mm = 3;
  pad.law =
      FoamTable{{0, 0.1, 0.25, 0.4, 0.5, 0.6, 0.7}, {0, 0.044, 0.08, 0.128, 0.192, 0.336, 0.72}};
  pad.where.word = PlaceWord::ends;
  build.pads.push_back(pad);
  PlateWall wall;
  wall.thickness_mm = 4;
  wall.material = WallMaterial::aluminium;
  wall.joint = WallJoint::folded;
  build.box.end_walls = wall;
  Findings findings;
  const Row row = resolve_row(build, Assumptions(), findings);
  REQUIRE(row.foam_set > 0);
  REQUIRE(row.foam_share < 1);
  const RowColumns columns(row, std::make_shared<WallStore>());
  RowColumns::Asked asked;
  asked.built_mm = 2.5;
  asked.now_mm = 2.8;
  asked.settled = true;
  const RowColumns::Full full = columns.solve_fully(asked, {});

  const LawPtr fresh = row.gaps.front().pads.front().soft_edge;
  HandRow hand;
  hand.face = on_face(row, 120, 100);
  hand.cell_law = row.cell_law;
  hand.cells_mm = 4 * 40.0;
  hand.pads = {{fresh, 6, std::nullopt, 0}};
  HandRow aged = hand;
  aged.pads.front().law = std::make_shared<RelaxedLaw>(fresh, row.foam_share);
  const HandSetup before = hand_setup(columns.walls().open, {hand});
  const HandSetup after = hand_setup(columns.walls().open, {aged});
  const TieLaw sides = TieLaw::linear(row.box.sides_give_mm_per_n);
  ColumnsLoad building = before.load({2.5});
  building.tie = &sides;
  const ColumnsState built = Columns(before.setup).solve_fully(building);
  ColumnsLoad later = after.load({2.8});
  later.tie = &sides;
  later.less_mm = built.pressure_mpa;
  for (double& each : later.less_mm) {
    each = row.foam_set * 6 * fresh->strain_at(each).value;
  }
  const ColumnsState now = Columns(after.setup).solve_fully(later);
  CHECK(relative(full.now.total_force_n(), now.total_force_n()) < 1e-8);
  CHECK(now.total_force_n() < built.total_force_n());
}
