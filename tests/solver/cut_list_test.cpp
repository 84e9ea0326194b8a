// SPDX-License-Identifier: GPL-3.0-or-later
//
// Parts lists worked by hand, and held against volumes and outer sizes.
#include "solver/cut_list.hpp"

#include <algorithm>
#include <cmath>

#include "solver/fasteners.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;
using Catch::Approx;

namespace {

/// 200 x 150 x 100 mm inside; ends 5, sides 2, floor 3 and lid 1.5 mm.
BoxToCut box(BoxJoin join) {
  BoxToCut b;
  b.inner_length_mm = 200;
  b.length_tolerance_mm = 1;
  b.inner_width_mm = 150;
  b.inner_height_mm = 100;
  b.end_wall_mm = 5;
  b.side_wall_mm = 2;
  b.floor_mm = 3;
  b.lid_mm = 1.5;
  b.join = join;
  return b;
}

BoxToCut folded(double thickness_mm, double radius_mm) {
  BoxToCut b = box(BoxJoin::folded);
  b.end_wall_mm = b.side_wall_mm = b.floor_mm = thickness_mm;
  b.bend_radius_mm = radius_mm;
  return b;
}

const CutPart& part(const std::vector<CutPart>& parts, CutCode code) {
  for (const CutPart& p : parts) {
    if (p.code == code) {
      return p;
    }
  }
  FAIL("no such part");
  return parts.front();
}

double volume_mm3(const std::vector<CutPart>& parts) {
  double sum = 0;
  for (const CutPart& p : parts) {
    sum += p.count * p.length_mm * p.width_mm * p.thickness_mm;
  }
  return sum;
}

/// Two plates of 200 x 160 x 10 mm on four rods of M8, a row of 300 mm.
FrameToCut frame() {
  FrameToCut cut;
  cut.frame.plates = {10, WallMaterial::aluminium, 200, 160};
  cut.frame.rods.size = "M8";
  cut.frame.rods.at = {{-85, -65}, {85, -65}, {-85, 65}, {85, 65}};
  cut.rods.count = 4;
  cut.rods.rod.thread = {8, 1.25};
  cut.plate_mm = 10;
  cut.row_mm = 300;
  return cut;
}

}  // namespace

TEST_CASE("cut list: side walls over the end walls, worked by hand") {
  const std::vector<CutPart> parts = box_parts(box(BoxJoin::sides_over_ends));
  REQUIRE(parts.size() == 4);
  const CutPart& end = part(parts, CutCode::end_wall);
  CHECK(end.count == 2);
  CHECK(end.length_mm == 150);
  CHECK(end.width_mm == 100);
  CHECK(end.thickness_mm == 5);
  CHECK(end.remark == CutRemark::set_to_inner_length);
  const CutPart& side = part(parts, CutCode::side_wall);
  CHECK(side.length_mm == 210);
  CHECK(side.remark == CutRemark::over_end_walls);
  REQUIRE(side.tolerance);
  CHECK(side.tolerance->plus_mm == 1);
  CHECK(side.tolerance->minus_mm == 0);
  CHECK(part(parts, CutCode::floor).length_mm == 210);
  CHECK(part(parts, CutCode::floor).width_mm == 154);
  CHECK(part(parts, CutCode::lid).thickness_mm == 1.5);
}

TEST_CASE("cut list: side walls between the end walls set the inner length") {
  const std::vector<CutPart> parts = box_parts(box(BoxJoin::sides_between_ends));
  CHECK(part(parts, CutCode::end_wall).length_mm == 154);
  CHECK(part(parts, CutCode::end_wall).remark == CutRemark::over_side_walls);
  CHECK(part(parts, CutCode::side_wall).length_mm == 200);
  CHECK(part(parts, CutCode::side_wall).remark == CutRemark::sets_inner_length);
}

TEST_CASE("cut list: however joined, the plates fill the box's outside less its inside") {
  const double outside = 210.0 * 154.0 * (100 + 3 + 1.5);
  const double inside = 200.0 * 150.0 * 100.0;
  CHECK(volume_mm3(box_parts(box(BoxJoin::sides_over_ends))) == Approx(outside - inside));
  CHECK(volume_mm3(box_parts(box(BoxJoin::sides_between_ends))) == Approx(outside - inside));
  BoxToCut open = box(BoxJoin::sides_over_ends);
  open.lid_mm.reset();
  CHECK(volume_mm3(box_parts(open)) == Approx(210.0 * 154.0 * 103.0 - inside));
}

TEST_CASE("cut list: a bend's allowance") {
  // A public calculator by DIN 6935 prints for r = t = 2 mm: K about 0.33, allowance 4.16 mm.
  CHECK(bend_neutral_share(2, 2) == Approx(0.325));
  CHECK(bend_allowance_mm(2, 2) == Approx(4.16).margin(0.005));
  // From r = 5 t on the fibre lies in the middle, without a jump.
  CHECK(bend_neutral_share(10, 2) == Approx(0.5).margin(0.001));
  CHECK(bend_neutral_share(20, 2) == 0.5);
  CHECK(bend_neutral_share(1e-6, 2) == 0);
  double before = 0;
  for (const double radius : {0.5, 1.0, 2.0, 4.0, 8.0, 16.0}) {
    CHECK(bend_allowance_mm(radius, 2) > before);
    before = bend_allowance_mm(radius, 2);
  }
  CHECK_THROWS_AS(bend_allowance_mm(0, 2), std::invalid_argument);
}

TEST_CASE("cut list: a folded blank, worked by hand and by outer sizes") {
  const std::vector<CutPart> parts = box_parts(folded(2, 2));
  const CutPart& blank = part(parts, CutCode::folded_blank);
  // Between tangents 200 - 4, two bends of 4.163, two walls of 100 - 2: 400.33 mm.
  CHECK(blank.length_mm == Approx(196 + 2 * 4.1626 + 2 * 98).margin(0.001));
  CHECK(blank.width_mm == Approx(146 + 2 * 4.1626 + 2 * 98).margin(0.001));
  // The same by outer sizes less a deduction of 2 (r + t) - allowance for each bend, 3.84 mm as
  // that calculator prints.
  CHECK(blank.length_mm == Approx(204 + 2 * 102 - 2 * 3.84).margin(0.01));
  CHECK(blank.remark == CutRemark::flat_before_folding);
  // What is left between the notches is as wide as the box inside.
  CHECK(blank.length_mm - 2 * blank.notch_length_mm == Approx(200));
  CHECK(blank.width_mm - 2 * blank.notch_width_mm == Approx(150));
  CHECK(part(parts, CutCode::lid).length_mm == 204);
}

TEST_CASE("cut list: a folded box is of one thickness and has room for its bends") {
  BoxToCut thick_ends = folded(2, 2);
  thick_ends.end_wall_mm = 5;
  CHECK_THROWS_AS(box_parts(thick_ends), std::invalid_argument);
  CHECK_THROWS_AS(box_parts(folded(2, 0)), std::invalid_argument);
  CHECK_THROWS_AS(box_parts(folded(2, 80)), std::invalid_argument);
  BoxToCut flat = box(BoxJoin::sides_over_ends);
  flat.inner_height_mm = 0;
  CHECK_THROWS_AS(box_parts(flat), std::invalid_argument);
}

TEST_CASE("cut list: the lining stands and lies without a gap, never longer than the box") {
  LiningToCut lining;
  lining.inner_length_mm = 200;
  lining.length_tolerance_mm = 0.5;
  lining.inner_width_mm = 150;
  lining.inner_height_mm = 100;
  lining.side_mm = 1;
  lining.floor_mm = 2;
  const std::vector<CutPart> parts = lining_parts(lining);
  REQUIRE(parts.size() == 2);  // no lid's sheet
  const CutPart& side = part(parts, CutCode::side_sheet);
  CHECK(side.count == 2);
  CHECK(side.width_mm == 98);
  CHECK(side.tolerance->plus_mm == 0);
  CHECK(side.tolerance->minus_mm == 0.5);
  CHECK(part(parts, CutCode::floor_sheet).width_mm == 150);
  CHECK(volume_mm3(parts) == Approx(200.0 * 150 * 100 - 200.0 * 148 * 98));
  lining.floor_mm = 100;
  CHECK_THROWS_AS(lining_parts(lining), std::invalid_argument);
}

TEST_CASE("cut list: shims as used, fixed sheets and pads as they lie") {
  Build b = sample::placed_evenly(sample::known(4), "thick", 2);
  b.fixed_sheets.push_back(sample::sheet("film", 0.2, {PlaceWord::ends, {}}));
  PadInput pad;
  pad.name = "pad";
  pad.thickness_mm = 2;
  pad.law = RubberInput{1, 0.6, 1000};
  pad.where = {PlaceWord::between_cells, {}};
  pad.outline = SheetOutline{};
  pad.outline->points = {{-50, -40}, {50, -40}, {0, 45}};
  b.pads.push_back(pad);
  const Study study(b, {});
  const std::vector<CutPart> parts = row_parts(study, study.as_placed());
  REQUIRE(parts.size() == 3);  // none of "thin"
  CHECK(parts[0].code == CutCode::shim);
  CHECK(parts[0].name == "thick");
  CHECK(parts[0].count == 10);
  CHECK(parts[0].length_mm == 120);
  CHECK(parts[0].width_mm == 100);
  CHECK(parts[0].remark == CutRemark::whole_face);
  CHECK(parts[1].code == CutCode::fixed_sheet);
  CHECK(parts[1].count == 2);
  CHECK(parts[2].code == CutCode::pad);
  CHECK(parts[2].count == 3);
  CHECK(parts[2].length_mm == 100);
  CHECK(parts[2].width_mm == 85);
  CHECK(parts[2].material == "rubber");
  CHECK(parts[2].remark == CutRemark::own_outline);
  const CutPart filler = filler_part(b.cell.face, {6, SheetMaterial::glass_epoxy, 2});
  CHECK(filler.count == 2);
  CHECK(filler.thickness_mm == 6);
}

TEST_CASE("cut list: a frame of four rods, worked by hand") {
  const std::vector<CutPart> parts = frame_parts(frame());
  REQUIRE(parts.size() == 4);
  const CutPart& plate = part(parts, CutCode::frame_plate);
  CHECK(plate.count == 2);
  REQUIRE(plate.holes.size() == 4);
  CHECK(plate.holes[0].x_mm == -85);
  CHECK(plate.holes[0].diameter_mm == 9);  // ISO 273, medium, M8
  // 300 + 2 x 10 + 2 washers of 1.6 + 2 nuts of 6.8 + 4 pitches of 1.25 = 341.8 mm.
  const CutPart& rod = part(parts, CutCode::rod);
  CHECK(rod.count == 4);
  CHECK(rod.length_mm == 345);
  CHECK(part(parts, CutCode::nut).count == 8);
  CHECK(part(parts, CutCode::washer).count == 8);
}

TEST_CASE("cut list: springs and locking nuts lengthen the rods and are counted") {
  FrameToCut cut = frame();
  DiscSprings discs;
  discs.outer_mm = 16;
  discs.inner_mm = 8.2;
  discs.thickness_mm = 0.9;
  discs.cone_height_mm = 0.35;
  discs.parallel = 2;
  discs.series = 4;
  cut.frame.springs = discs;
  cut.rods.springs =
      SpringSet::discs({16, 8.2, 0.9, 0.35, {}, 206000, 0.3}, {discs.parallel, discs.series});
  // A stack of two is 0.9 + 1.25 mm high, four of them 8.6 mm, and a washer more: 352.0 mm.
  std::vector<CutPart> parts = frame_parts(cut);
  CHECK(part(parts, CutCode::rod).length_mm == 355);
  CHECK(part(parts, CutCode::washer).count == 12);
  CHECK(part(parts, CutCode::disc_spring).count == 32);
  CHECK(part(parts, CutCode::disc_spring).length_mm == Approx(1.25));
  cut.rods.ends = SpringEnds::both;
  parts = frame_parts(cut);
  CHECK(part(parts, CutCode::rod).length_mm == 365);  // 362.2
  CHECK(part(parts, CutCode::disc_spring).count == 64);
  cut = frame();
  cut.frame.rods.prevailing_torque_nmm = 6000;
  CHECK(part(frame_parts(cut), CutCode::rod).length_mm == 355);  // 341.8 + 2 x 5.6 = 353.0
  CHECK(part(frame_parts(cut), CutCode::nut).remark == CutRemark::locking);
}

TEST_CASE("cut list: rods are never shorter for a longer row, holes stay on the plate") {
  FrameToCut cut = frame();
  double before = 0;
  for (cut.row_mm = 100; cut.row_mm < 130; cut.row_mm += 0.7) {
    const double length = part(frame_parts(cut), CutCode::rod).length_mm;
    CHECK(length >= before);
    constexpr double rounding = 1e-6;
    CHECK(length >= cut.row_mm + 41.8 - rounding);
    CHECK(length < cut.row_mm + 41.8 + rod_length_step_mm + rounding);
    before = length;
  }
  cut.frame.rods.at[0].x_mm = -96;
  CHECK_THROWS_AS(frame_parts(cut), std::invalid_argument);
  cut = frame();
  cut.rods.rod.thread = {9, 1.25};
  CHECK_THROWS_AS(frame_parts(cut), std::invalid_argument);
}

TEST_CASE("fasteners: holes are wider than threads, and every coarse thread has its own") {
  for (const Thread& thread : coarse_threads()) {
    const auto found = fastener(thread.diameter_mm);
    REQUIRE(found);
    CHECK(found->medium_hole_mm > thread.diameter_mm);
    CHECK(found->medium_hole_mm <= thread.diameter_mm + 1.5);
    CHECK(found->nut_mm >= 0.75 * thread.diameter_mm);
    CHECK(found->nut_mm <= 0.95 * thread.diameter_mm);
    CHECK(found->washer_outer_mm > 1.8 * thread.diameter_mm);
  }
  CHECK_FALSE(fastener(9));
}
