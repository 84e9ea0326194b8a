// SPDX-License-Identifier: GPL-3.0-or-later
//
// Inner width and height of a box: the sums, the raise over bends and beads against the exact
// outlines, what fits in a box that is there. Geometry needs no source; tolerances and rooms that
// are not said are the table's, common practice.
#include "solver/box_section.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "geometry/section_fit.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

namespace stackfit {
namespace {

using Catch::Matchers::WithinAbs;

constexpr double rounding_mm = 1e-9;

/// Four cells of 120 x 100 mm with everything said that counts in width and height, and a box
/// without bends, beads and heads.
Build said_build() {
  Build b = sample::build(4);
  b.cell.face = {120, 100, 3.0, 0.4, 0.6};
  b.cell.terminals = Terminals{{}, 12.0};
  b.box.end_walls = PlateWall{3.0, WallMaterial::aluminium, {}};
  Order& o = b.order;
  o.side_sheet_mm = 1.0;
  o.floor_sheet_mm = 1.5;
  o.lid_sheet_mm = 0.5;
  o.slide_mm = 0.8;
  o.over_terminals_mm = 8.0;
  o.paint_mm = 0.1;
  o.length_step_mm = 1.0;
  o.length_tolerance_mm = 0.5;
  o.floor_bend_mm = 0.0;
  o.corner_radius_mm = 0.0;
  o.weld_bead_mm = 0.0;
  o.screw_head_mm = 0.0;
  o.sheet_stock_mm = {0.5, 0.8, 1.0};
  return b;
}

BoxSection section_of(const Build& b, const SectionRequest& request = {}) {
  Findings findings;
  return size_section(b, Assumptions{}, findings, request);
}

double part_mm(const InnerSize& size, SectionPart part) {
  double sum = 0;
  for (const SectionPartSize& line : size.parts) {
    sum += line.part == part ? line.mm : 0;
  }
  return sum;
}

double all_parts_mm(const InnerSize& size) {
  double sum = 0;
  for (const SectionPartSize& line : size.parts) {
    sum += line.mm;
  }
  return sum;
}

const SectionCorner* corner_of(const BoxSection& s, SectionPlace place, CornerFeature feature) {
  const auto at = std::find_if(s.corners.begin(), s.corners.end(), [&](const SectionCorner& c) {
    return c.place == place && c.feature == feature;
  });
  return at == s.corners.end() ? nullptr : &*at;
}

const SectionConflict* conflict_of(const BoxSection& s, SectionPlace place) {
  const auto at = std::find_if(s.conflicts.begin(), s.conflicts.end(),
                               [&](const SectionConflict& c) { return c.place == place; });
  return at == s.conflicts.end() ? nullptr : &*at;
}

/// Whether the cells, with the sheet that goes round their edges, stand inside the box across the
/// rows where they have slid to one side: by outlines, at `under` over the floor.
bool stands_across(const Build& b, const BoxSection& s, double under_mm) {
  const geometry::CornerFill fill{
      b.order.floor_bend_mm.value_or(0),
      b.order.floor_bend_mm.value_or(0) > 0 ? 0 : b.order.weld_bead_mm.value_or(0)};
  const double clear = s.keep_clear_mm;
  const double width = part_mm(s.width, SectionPart::faces) +
                       part_mm(s.width, SectionPart::face_tolerance) +
                       part_mm(s.width, SectionPart::between_rows);
  const double height = b.cell.face.height_mm;
  const geometry::Hollow hollow{
      .width_mm = s.width.painted_mm, .height_mm = s.height.painted_mm, .lower = fill};
  const geometry::Point middle{b.order.side_sheet_mm.value_or(0) + width / 2,
                               under_mm + height / 2};
  return geometry::stands_inside(
      geometry::rounded_rectangle(
          {width + 2 * clear, height + 2 * clear, b.cell.face.corner_radius_mm.value_or(0) + clear},
          middle),
      geometry::hollow_outline(hollow));
}

TEST_CASE("width and height are the sums of their parts") {
  const BoxSection s = section_of(said_build());
  // 120 + 0.4 + 2 x 1.0 + 0.8 = 123.2, and 0.2 of paint: 123.4, ordered 124.
  CHECK_THAT(s.width.nominal_mm, WithinAbs(124, rounding_mm));
  CHECK_THAT(s.width.painted_mm, WithinAbs(123.8, rounding_mm));
  CHECK_THAT(part_mm(s.width, SectionPart::rounding), WithinAbs(0.6, rounding_mm));
  // 1.5 + 100 + 0.6 + 12 + 8 + 0.5 = 122.6, and 0.2 of paint: 122.8, ordered 123.
  CHECK_THAT(s.height.nominal_mm, WithinAbs(123, rounding_mm));
  CHECK(s.width.tolerance_mm == 0.5);
  CHECK(s.height.tolerance_mm == 0.5);
  CHECK(s.conflicts.empty());
  CHECK(s.raise_sheets_mm.empty());
  for (const InnerSize* size : {&s.width, &s.height}) {
    CHECK_THAT(all_parts_mm(*size), WithinAbs(size->nominal_mm, rounding_mm));
    CHECK(std::none_of(size->parts.begin(), size->parts.end(),
                       [](const SectionPartSize& part) { return part.assumed; }));
    CHECK_FALSE(size->said_mm);
  }
}

TEST_CASE("a whole number of steps is not rounded up further") {
  Build b = said_build();
  b.order.slide_mm = 1.4;  // 124.0 with paint
  CHECK_THAT(section_of(b).width.nominal_mm, WithinAbs(124, rounding_mm));
  b.order.slide_mm = 1.41;
  CHECK_THAT(section_of(b).width.nominal_mm, WithinAbs(125, rounding_mm));
  b.order.length_step_mm = 0.5;
  CHECK_THAT(section_of(b).width.nominal_mm, WithinAbs(124.5, rounding_mm));
}

TEST_CASE("rows side by side count each with its tolerance, and the room between") {
  Build b = said_build();
  b.rows = 3;
  b.between_rows_mm = 2;
  const BoxSection s = section_of(b);
  CHECK_THAT(part_mm(s.width, SectionPart::faces), WithinAbs(360, rounding_mm));
  CHECK_THAT(part_mm(s.width, SectionPart::face_tolerance), WithinAbs(1.2, rounding_mm));
  CHECK_THAT(part_mm(s.width, SectionPart::between_rows), WithinAbs(4, rounding_mm));
  CHECK_THAT(s.width.nominal_mm, WithinAbs(369, rounding_mm));  // 365.2 + 2 + 0.8 + 0.2 = 368.2
}

TEST_CASE("what was not said is the table's, marked and noted") {
  Build b = sample::build(4);
  Findings findings;
  const Assumptions table;
  const BoxSection s = size_section(b, table, findings);
  const double need = 120 + table[Assumed::face_tolerance] + 2 * table[Assumed::side_sheet] +
                      table[Assumed::slide_room] + 2 * table[Assumed::paint];
  CHECK_THAT(s.width.nominal_mm, WithinAbs(std::ceil(need), rounding_mm));
  const auto all_but = [](const InnerSize& size, SectionPart said) {
    return std::all_of(size.parts.begin(), size.parts.end(), [&](const SectionPartSize& part) {
      return part.assumed == (part.part != said);
    });
  };
  CHECK(all_but(s.width, SectionPart::faces));
  CHECK(all_but(s.height, SectionPart::cell_height));
  for (const Assumed id : {Assumed::face_tolerance, Assumed::side_sheet, Assumed::slide_room,
                           Assumed::over_terminals, Assumed::terminal_height, Assumed::paint,
                           Assumed::length_step, Assumed::length_tolerance}) {
    CAPTURE(assumption(id).key);
    CHECK(std::count(findings.assumed.begin(), findings.assumed.end(), id) == 1);
  }
  // Bends, corners, beads and heads: none is assumed without a word.
  CHECK(findings.words.size() == 4);
  // A face whose radius was said is no assumption.
  CHECK(std::count(findings.assumed.begin(), findings.assumed.end(), Assumed::corner_radius) == 0);
}

TEST_CASE("a bend not said: up to where the cells need no raise") {
  Build b = said_build();
  b.order.floor_bend_mm.reset();
  const BoxSection unsaid = section_of(b);
  CHECK(unsaid.raise_sheets_mm.empty());
  const SectionCorner* corner = corner_of(unsaid, SectionPlace::side_foot, CornerFeature::bend);
  REQUIRE(corner != nullptr);
  CHECK_FALSE(corner->size_mm);
  CHECK(corner->clear());
  // Edge 3 and sheet 1 round it, 0 beyond the sheet at the side, 0.5 at the floor: 3 + 1 + 0.5.
  CHECK_THAT(corner->greatest_mm, WithinAbs(4.5, rounding_mm));
  b.order.floor_bend_mm = 4.5;
  CHECK(section_of(b).raise_sheets_mm.empty());
  b.order.floor_bend_mm = 4.51;
  CHECK(section_of(b).raise_sheets_mm == std::vector<double>{0.5});
}

TEST_CASE("cells are raised over the floor's bend by sheets that are sold") {
  Build b = said_build();
  b.order.floor_bend_mm = 6;
  const BoxSection s = section_of(b);
  const SectionCorner* corner = corner_of(s, SectionPlace::side_foot, CornerFeature::bend);
  REQUIRE(corner != nullptr);
  // Slid to one side only the sheet is left: the cell's round edge of 3 + 1 sees a bend of 2,
  // and stands all of it over the sheet round it. 1.5 of floor sheet are there.
  CHECK_THAT(corner->need_mm, WithinAbs(1 + 2, rounding_mm));
  // In the middle it has 0.4 more beside it.
  CHECK_THAT(corner->in_middle_need_mm, WithinAbs(1 + 2 - std::sqrt(0.4 * 3.6), rounding_mm));
  CHECK(s.raise_sheets_mm == std::vector<double>{1.0, 0.5});
  CHECK_THAT(part_mm(s.height, SectionPart::raise), WithinAbs(1.5, rounding_mm));
  CHECK_THAT(s.height.nominal_mm, WithinAbs(125, rounding_mm));  // 122.8 + 1.5 = 124.3
  CHECK(corner->clear());
  // A flat sheet on the floor ends at the bend, 5 mm inside the cell's side.
  CHECK_THAT(corner->sheet_short_mm, WithinAbs(5, rounding_mm));
  CHECK(corner_of(s, SectionPlace::side_foot, CornerFeature::bead) == nullptr);
  b.order.sheet_stock_mm.clear();
  CHECK_THAT(part_mm(section_of(b).height, SectionPart::raise), WithinAbs(1.5, rounding_mm));
  CHECK(section_of(b, {.sheets_sold_mm = {2.0}}).raise_sheets_mm == std::vector<double>{2.0});
}

TEST_CASE("the need is the least: by outlines a hundredth less does not go, one more does") {
  int raised = 0;
  REQUIRE(rc::check([&] {
    Build b = said_build();
    const bool bend = *rc::gen::arbitrary<bool>();
    (bend ? b.order.floor_bend_mm : b.order.weld_bead_mm) = *rc::gen::inRange(1, 120) / 10.0;
    b.cell.face.corner_radius_mm = *rc::gen::inRange(0, 60) / 10.0;
    b.order.side_sheet_mm = *rc::gen::inRange(1, 30) / 10.0;
    b.order.floor_sheet_mm = *rc::gen::inRange(1, 30) / 10.0;
    b.rows = *rc::gen::inRange(1, 4);
    const BoxSection s = section_of(b);
    const SectionCorner* corner =
        corner_of(s, SectionPlace::side_foot, bend ? CornerFeature::bend : CornerFeature::bead);
    RC_ASSERT(corner != nullptr);
    RC_ASSERT(stands_across(b, s, corner->need_mm + 0.01));
    RC_ASSERT(!stands_across(b, s, corner->need_mm - 0.01));
    // And as it is ordered.
    const double under = *b.order.floor_sheet_mm + part_mm(s.height, SectionPart::raise);
    RC_ASSERT(corner->clear());
    RC_ASSERT(stands_across(b, s, under + 1e-6));
    raised += s.raise_sheets_mm.empty() ? 0 : 1;
  }));
  CHECK(raised >= 10);
}

TEST_CASE("end cells stand off the bend at the end wall, or are raised over it") {
  Build b = said_build();
  b.order.floor_bend_mm = 4;
  const BoxSection s = section_of(b);
  const SectionCorner* foot = corner_of(s, SectionPlace::end_foot, CornerFeature::bend);
  REQUIRE(foot != nullptr);
  // The round edge of 3 with its sheet clears a bend of 4: no raise. The edge towards the end
  // wall is sharp: 1 of sheet, a bend of 3 to it, 0.5 over the sheet: 1 + 3 - sqrt(0.5 x 5.5).
  CHECK(s.raise_sheets_mm.empty());
  const double off = 1 + 3 - std::sqrt(0.5 * 5.5);
  CHECK_THAT(foot->need_mm, WithinAbs(off, rounding_mm));
  CHECK_THAT(s.end_standoff_mm, WithinAbs(off, rounding_mm));
  // Nothing was said of what lies there: one sheet of 1 mm.
  CHECK_THAT(foot->has_mm, WithinAbs(1, rounding_mm));
  const SectionConflict* conflict = conflict_of(s, SectionPlace::end_foot);
  REQUIRE(conflict != nullptr);
  CHECK(conflict->code == SectionConflictCode::corner_filled);
  CHECK(conflict->feature == CornerFeature::bend);
  REQUIRE(conflict->steps.size() == 2);
  CHECK(conflict->steps[0].step == SectionStep::stand_off);
  CHECK_THAT(conflict->steps[0].mm, WithinAbs(off - 1, rounding_mm));
  CHECK(conflict->steps[1].step == SectionStep::raise_floor);
  CHECK_THAT(conflict->steps[1].mm, WithinAbs(4 - 1.5, rounding_mm));
  // Either step, taken, is enough.
  CHECK(section_of(b, {.end_standoff_mm = off + 1e-6}).conflicts.empty());
  CHECK_FALSE(section_of(b, {.end_standoff_mm = off - 0.01}).conflicts.empty());
  b.order.floor_sheet_mm = 4.0;
  CHECK(section_of(b).conflicts.empty());
  b.order.floor_sheet_mm = 3.99;
  CHECK_FALSE(section_of(b).conflicts.empty());
}

TEST_CASE("the end cell's section along the row, by outlines") {
  REQUIRE(rc::check([] {
    Build b = said_build();
    const bool bend = *rc::gen::arbitrary<bool>();
    const double size = *rc::gen::inRange(20, 120) / 10.0;
    (bend ? b.order.floor_bend_mm : b.order.weld_bead_mm) = size;
    b.order.side_sheet_mm = *rc::gen::inRange(1, 20) / 10.0;
    b.order.floor_sheet_mm = *rc::gen::inRange(1, 20) / 10.0;
    const BoxSection s = section_of(b);
    const SectionCorner* foot =
        corner_of(s, SectionPlace::end_foot, bend ? CornerFeature::bend : CornerFeature::bead);
    RC_ASSERT(foot != nullptr);
    const double clear = s.keep_clear_mm;
    const double under = *b.order.floor_sheet_mm + part_mm(s.height, SectionPart::raise);
    const auto stands = [&](double off) {
      const geometry::Hollow along{
          .width_mm = 200, .height_mm = 150, .lower = {bend ? size : 0, bend ? 0 : size}};
      const geometry::Point middle{off + 20, under + 50};
      return geometry::stands_inside(
          geometry::rounded_rectangle({40 + 2 * clear, 100 + 2 * clear, clear}, middle),
          geometry::hollow_outline(along));
    };
    RC_ASSERT(stands(foot->need_mm + 0.01));
    RC_ASSERT(!stands(foot->need_mm - 0.01));
  }));
}

TEST_CASE("upright corners keep the end cells off, wherever they have slid to") {
  Build b = said_build();
  b.order.corner_radius_mm = 5;
  const BoxSection s = section_of(b);
  const SectionCorner* upright = corner_of(s, SectionPlace::upright, CornerFeature::bend);
  REQUIRE(upright != nullptr);
  CHECK_THAT(upright->need_mm, WithinAbs(5, rounding_mm));
  CHECK_THAT(upright->in_middle_need_mm, WithinAbs(1 + 4 - std::sqrt(0.4 * 7.6), rounding_mm));
  CHECK_THAT(upright->sheet_short_mm, WithinAbs(4, rounding_mm));
  REQUIRE(conflict_of(s, SectionPlace::upright) != nullptr);
  CHECK(section_of(b, {.end_standoff_mm = 5.0}).conflicts.empty());
  // In a box that is there, with 3.2 mm beyond cells and sheets, the middle is 1.6 beyond them.
  b.box.inner_width_mm = 125.6;
  const BoxSection there = section_of(b);
  const SectionCorner* wide = corner_of(there, SectionPlace::upright, CornerFeature::bend);
  REQUIRE(wide != nullptr);
  CHECK_THAT(wide->in_middle_need_mm, WithinAbs(1 + 4 - std::sqrt(1.6 * 6.4), rounding_mm));
}

TEST_CASE("a joint that is said leaves out what cannot be there") {
  Build b = said_build();
  b.order.floor_bend_mm = 4;
  b.order.weld_bead_mm = 5;
  PlateWall wall{3.0, WallMaterial::aluminium, WallJoint::welded};
  b.box.end_walls = wall;
  const BoxSection welded = section_of(b);
  CHECK(corner_of(welded, SectionPlace::end_foot, CornerFeature::bend) == nullptr);
  CHECK(corner_of(welded, SectionPlace::end_foot, CornerFeature::bead) != nullptr);
  CHECK(corner_of(welded, SectionPlace::upright, CornerFeature::bead) != nullptr);
  wall.joint = WallJoint::screwed;
  wall.edges = WallEdges{};
  wall.edges->bottom = {{WallJoint::folded, {}}};
  b.box.end_walls = wall;
  const BoxSection mixed = section_of(b);
  CHECK(corner_of(mixed, SectionPlace::end_foot, CornerFeature::bend) != nullptr);
  CHECK(corner_of(mixed, SectionPlace::end_foot, CornerFeature::bead) == nullptr);
  CHECK(corner_of(mixed, SectionPlace::upright, CornerFeature::bead) == nullptr);
  // Only one of two walls is welded: the bead is there all the same.
  b.box.last_end_wall = PlateWall{3.0, WallMaterial::aluminium, WallJoint::welded};
  CHECK(corner_of(section_of(b), SectionPlace::end_foot, CornerFeature::bead) != nullptr);
}

TEST_CASE("screw heads: a spacer plate at the end wall, room at the side walls") {
  Build b = said_build();
  b.order.screw_head_mm = 3;
  const BoxSection s = section_of(b);
  const SectionConflict* end = conflict_of(s, SectionPlace::end_wall);
  REQUIRE(end != nullptr);
  CHECK(end->code == SectionConflictCode::head_in_the_way);
  CHECK(end->steps.at(0).step == SectionStep::spacer_plate);
  CHECK(end->steps.at(0).mm == 3);
  const SectionConflict* side = conflict_of(s, SectionPlace::side_wall);
  REQUIRE(side != nullptr);
  CHECK(side->steps.at(0).step == SectionStep::wider);
  CHECK(side->steps.at(0).mm == 6);
  // Enough lies at the end: it only needs holes.
  const BoxSection deep = section_of(b, {.end_standoff_mm = 4.0});
  CHECK(conflict_of(deep, SectionPlace::end_wall)->steps.at(0).step ==
        SectionStep::holes_over_heads);
  b.box.end_walls = PlateWall{3.0, WallMaterial::aluminium, WallJoint::welded};
  CHECK(section_of(b).conflicts.empty());
}

TEST_CASE("a box that is there: what is left, and whether the cells go in") {
  Build b = said_build();
  b.box.inner_width_mm = 124;   // 123.2 are needed
  b.box.inner_height_mm = 110;  // 122.6, of which 8 over the terminals
  const BoxSection s = section_of(b);
  CHECK_THAT(s.width.left_mm, WithinAbs(0.8, rounding_mm));
  CHECK(conflict_of(s, SectionPlace::width) == nullptr);
  CHECK_THAT(s.height.left_mm, WithinAbs(-12.6, rounding_mm));
  CHECK_THAT(s.height.hard_left_mm, WithinAbs(-4.6, rounding_mm));
  const SectionConflict* height = conflict_of(s, SectionPlace::height);
  REQUIRE(height != nullptr);
  CHECK(height->code == SectionConflictCode::does_not_go_in);
  CHECK_THAT(height->mm, WithinAbs(4.6, rounding_mm));
  CHECK(height->steps.at(0).step == SectionStep::higher);
  CHECK_THAT(height->steps.at(0).mm, WithinAbs(12.6, rounding_mm));
  b.box.inner_width_mm = 122.8;
  const SectionConflict* narrow = nullptr;
  const BoxSection short_of_room = section_of(b);
  narrow = conflict_of(short_of_room, SectionPlace::width);
  REQUIRE(narrow != nullptr);
  CHECK(narrow->code == SectionConflictCode::room_short);
  CHECK_THAT(narrow->mm, WithinAbs(0.4, rounding_mm));
  // Exactly what is needed is enough.
  b.box.inner_width_mm = 123.2;
  CHECK(conflict_of(section_of(b), SectionPlace::width) == nullptr);
}

TEST_CASE("every metal wall, side and floor has a line, and none is bare") {
  Build b = said_build();
  const BoxSection s = section_of(b);
  REQUIRE(s.insulation.size() == 6);
  for (const SectionInsulation& line : s.insulation) {
    CHECK(line.metal);
    CHECK(line.sheet_mm > 0);
    CHECK(line.in_length == (line.place == SectionPlace::end_wall));
  }
  b.order.side_sheet_mm = 0.0;
  b.order.floor_sheet_mm = 0.0;
  const BoxSection bare = section_of(b);
  CHECK(bare.conflicts.size() == 2);
  const SectionConflict* side = conflict_of(bare, SectionPlace::side_wall);
  REQUIRE(side != nullptr);
  CHECK(side->code == SectionConflictCode::no_sheet);
  CHECK(side->steps.at(0).mm == Assumptions{}[Assumed::side_sheet]);
  CHECK(conflict_of(bare, SectionPlace::floor) != nullptr);
}

TEST_CASE("plywood needs no sheet, and none is added") {
  Build b = said_build();
  b.box.end_walls = PlateWall{12.0, WallMaterial::plywood, WallJoint::open};
  b.order.side_sheet_mm.reset();
  b.order.floor_sheet_mm.reset();
  b.order.lid_sheet_mm.reset();
  const BoxSection s = section_of(b);
  CHECK(part_mm(s.width, SectionPart::side_sheets) == 0);
  CHECK(s.keep_clear_mm == 0);
  CHECK(s.conflicts.empty());
  CHECK(std::none_of(s.insulation.begin(), s.insulation.end(),
                     [](const SectionInsulation& line) { return line.metal; }));
  // Sides of steel between ends of plywood.
  b.box.side_walls.material = WallMaterial::carbon_steel;
  const BoxSection mixed = section_of(b);
  CHECK(part_mm(mixed.width, SectionPart::side_sheets) == 2 * Assumptions{}[Assumed::side_sheet]);
  CHECK_FALSE(mixed.insulation.at(0).metal);
  CHECK(mixed.insulation.at(2).metal);
}

TEST_CASE("without a lid nothing stands over the terminals") {
  Build b = said_build();
  b.order.over_terminals_mm.reset();
  b.order.lid_sheet_mm.reset();
  b.box.lid = Lid::none;
  const BoxSection s = section_of(b);
  CHECK(part_mm(s.height, SectionPart::over_terminals) == 0);
  CHECK(part_mm(s.height, SectionPart::lid_sheet) == 0);
  CHECK(s.insulation.size() == 5);
}

TEST_CASE("cells are levelled over twice their height's tolerance") {
  const BoxSection s = section_of(said_build());
  CHECK_THAT(s.levelling.span_mm, WithinAbs(1.2, rounding_mm));
  CHECK(s.levelling.sheets_mm == std::vector<double>{1.0, 0.8, 0.5});
  CHECK_THAT(s.levelling.uneven_mm, WithinAbs(0.5, rounding_mm));
}

TEST_CASE("a bend that fills the box, and a clamp frame, are refused") {
  Build b = said_build();
  b.order.floor_bend_mm = 60;
  CHECK_THROWS_AS(section_of(b), UnusableBuild);
  b.order.floor_bend_mm = 50;
  CHECK_NOTHROW(section_of(b));
  b.frame = Frame{};
  CHECK_THROWS_AS(section_of(b), std::invalid_argument);
}

}  // namespace
}  // namespace stackfit
