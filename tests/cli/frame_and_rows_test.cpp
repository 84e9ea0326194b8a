// SPDX-License-Identifier: GPL-3.0-or-later
//
// Clamp frames, springy end walls and several rows: each key read, with its unit, and kept.
#include <fmt/format.h>

#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "cli/blank_form.hpp"
#include "cli/pretty_json.hpp"
#include "cli/save_build.hpp"
#include "cli/units.hpp"
#include "solver/row.hpp"
#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"

namespace stackfit::cli {
namespace {

using Catch::Approx;
using Catch::Matchers::ContainsSubstring;
using testing::all_of;
using testing::problem_at;
using testing::read_text;

constexpr double newtons_per_kgf = 9.80665;  // exact, NIST SP 811

// Four cells, so that two rows are possible; no box and no frame.
std::string build_with(const std::string& housing) {
  return R"({ "stackfit": 1,
    "cell": { "face": { "width": 141, "height": 183, "corner_radius": 3 },
              "thickness": "58.4±0.5 mm" },
    "cells": [ { "edge": 58.4 }, { "edge": 58.5 }, { "edge": 58.3 }, { "edge": 58.6 } ],
    "kit": [ { "name": "thin", "thickness": 0.5, "count": 9 } ],
    )" + housing +
         "}";
}

constexpr const char* whole_frame = R"("frame": {
    "plates": { "width": 220, "height": "24 cm", "thickness": "0.5 in", "material": "aluminum" },
    "rods": { "size": "M8", "grade": "A2-70",
              "at": [[-95, -105], ["95 mm", -105], [95, "4 in"], [-95, 105]],
              "length": "300 mm", "prevailing_torque": "10 in-lb" },
    "springs": { "disc": { "outer": 25, "inner": 12.2, "thickness": "0.9 mm", "cone_height": 0.7,
                           "reduced_thickness": 0.85 },
                 "parallel": 2, "series": 4 },
    "force": "215kgf" })";

constexpr const char* whole_box = R"("box": {
    "inner": { "length": 240, "width": 300, "height": 200 },
    "end_walls": [
      { "thickness": "1/8 in", "material": "steel", "in_plane": "held",
        "joint": { "left": "welded", "bottom": "open", "top": "screwed",
                   "right": [ { "joint": "screwed", "from": 10, "to": "2 in" },
                              { "joint": "welded", "from": 60, "to": "9 cm" } ] } },
      { "thickness": 4, "joint": "folded", "in_plane": "free" } ] })";

Build built(const std::string& text, std::vector<PathValue> sets = {}) {
  const ReadBuild read = read_text(text, std::move(sets));
  INFO(all_of(read));
  REQUIRE(read.build);
  return *read.build;
}

// What a Build says of its housing and rows, written out: equal where the Builds are.
class Said {
 public:
  explicit Said(const Build& build) {
    add("rows", build.rows);
    add("between", build.between_rows_mm);
    for (const double length : build.box.inner_length_mm) add("inner", length);
    if (build.box.end_walls) add_wall(*build.box.end_walls);
    text_ += "last\n";
    if (build.box.last_end_wall) add_wall(*build.box.last_end_wall);
    if (build.frame) add_frame(*build.frame);
    for (const PlacedSheets& placed : build.placed) text_ += placed.gap + '\n';
  }
  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  // Ten figures: two units of one length differ in the last bits.
  void add(const char* name, double value) { text_ += fmt::format("{} {:.10g}\n", name, value); }
  template <class Value>
  void add(const char* name, const std::optional<Value>& value) {
    if (value) add(name, static_cast<double>(*value));
  }
  void add_edge(const char* name, const std::vector<EdgeJoint>& edge) {
    for (const EdgeJoint& part : edge) {
      add(name, static_cast<double>(part.joint));
      if (part.part_mm) add("from", part.part_mm->low);
      if (part.part_mm) add("to", part.part_mm->high);
    }
  }
  void add_wall(const EndWallInput& wall) {
    add("kind", static_cast<double>(wall.index()));
    const auto* plate = std::get_if<PlateWall>(&wall);
    if (plate == nullptr) return;
    add("thickness", plate->thickness_mm);
    add("material", plate->material);
    add("joint", plate->joint);
    add("in plane", plate->in_plane);
    if (!plate->edges) return;
    add_edge("left", plate->edges->left);
    add_edge("right", plate->edges->right);
    add_edge("bottom", plate->edges->bottom);
    add_edge("top", plate->edges->top);
  }
  void add_frame(const Frame& frame) {
    add("plate", frame.plates.width_mm);
    add("plate", frame.plates.height_mm);
    add("plate", frame.plates.thickness_mm);
    add("plate", frame.plates.material);
    text_ += frame.rods.size + ' ' + frame.rods.grade.value_or("") + '\n';
    for (const RodPosition& rod : frame.rods.at) {
      add("x", rod.x_mm);
      add("y", rod.y_mm);
    }
    add("length", frame.rods.length_mm);
    add("torque", frame.rods.prevailing_torque_nmm);
    if (frame.springs) add_springs(*frame.springs);
    add("force", frame.force_n);
  }
  void add_springs(const RodSprings& springs) {
    if (const auto* disc = std::get_if<DiscSprings>(&springs)) {
      add("outer", disc->outer_mm);
      add("inner", disc->inner_mm);
      add("thickness", disc->thickness_mm);
      add("cone", disc->cone_height_mm);
      add("reduced", disc->reduced_thickness_mm);
      add("parallel", disc->parallel);
      add("series", disc->series);
      return;
    }
    const auto& helical = std::get<HelicalSprings>(springs);
    add("wire", helical.wire_mm);
    add("mean", helical.mean_diameter_mm);
    add("turns", helical.active_turns);
    add("free", helical.free_length_mm);
    add("solid", helical.solid_length_mm);
    add("modulus", helical.modulus_mpa);
  }

  std::string text_;
};

}  // namespace

TEST_CASE("frame: every key in its place and unit") {
  const Build build = built(build_with(whole_frame));
  REQUIRE(build.frame);
  const Frame& frame = *build.frame;
  CHECK(frame.plates.width_mm == 220);
  CHECK(frame.plates.height_mm == Approx(240));
  CHECK(frame.plates.thickness_mm == Approx(12.7));
  CHECK(frame.plates.material == WallMaterial::aluminium);
  CHECK(frame.rods.size == "M8");
  CHECK(frame.rods.grade == "A2-70");
  REQUIRE(frame.rods.at.size() == 4);
  CHECK(frame.rods.at[0].x_mm == -95);
  CHECK(frame.rods.at[0].y_mm == -105);
  CHECK(frame.rods.at[2].x_mm == 95);
  CHECK(frame.rods.at[2].y_mm == Approx(101.6));
  CHECK(frame.rods.length_mm == 300);
  CHECK(frame.rods.prevailing_torque_nmm == Approx(10 * 112.9848290276167));  // NIST SP 811
  const auto& disc = std::get<DiscSprings>(frame.springs.value());
  CHECK(disc.outer_mm == 25);
  CHECK(disc.inner_mm == 12.2);
  CHECK(disc.thickness_mm == 0.9);
  CHECK(disc.cone_height_mm == 0.7);
  CHECK(disc.reduced_thickness_mm == 0.85);
  CHECK(disc.parallel == 2);
  CHECK(disc.series == 4);
  CHECK(frame.force_n == Approx(215 * newtons_per_kgf));
  CHECK(build.box.inner_length_mm.empty());
}

TEST_CASE("frame: what was not said stays empty") {
  const Build build = built(build_with(R"("frame": { "plates": { "width": 220, "height": 240 },
      "rods": { "size": "M6", "spread": { "width": "190 mm", "height": 210 } } })"));
  REQUIRE(build.frame);
  const Frame& frame = *build.frame;
  CHECK_FALSE(frame.plates.thickness_mm);
  CHECK_FALSE(frame.plates.material);
  CHECK_FALSE(frame.rods.grade);
  CHECK_FALSE(frame.rods.length_mm);
  CHECK_FALSE(frame.rods.prevailing_torque_nmm);
  CHECK_FALSE(frame.springs);
  CHECK_FALSE(frame.force_n);
  CHECK_FALSE(build.rows);
  REQUIRE(frame.rods.at.size() == 4);
  for (const RodPosition& rod : frame.rods.at) {
    CHECK(std::abs(rod.x_mm) == 95);
    CHECK(std::abs(rod.y_mm) == 105);
  }
  CHECK(frame.rods.at[0].x_mm * frame.rods.at[2].x_mm < 0);
  CHECK(frame.rods.at[0].y_mm * frame.rods.at[1].y_mm > 0);
}

TEST_CASE("frame: helical springs, --set, and a class without quotes") {
  const Build build =
      built(build_with(R"("frame": { "plates": { "width": 220, "height": 240 },
          "rods": { "size": "M8", "spread": { "width": 190, "height": 210 } } })"),
            {{"frame.force", "2.2 kN"},
             {"frame.rods.grade", "10.9"},
             {"frame.rods.prevailing_torque", "1.2 N.m"},
             {"frame.springs",
              R"({"helical": {"wire": "2 mm", "mean_diameter": 16, "active_turns": 6.5,
            "free_length": "30 mm", "solid_length": 18, "modulus": "79.3 GPa"}})"}});
  const Frame& frame = build.frame.value();
  CHECK(frame.force_n == Approx(2200));
  CHECK(frame.rods.grade == "10.9");
  CHECK(frame.rods.prevailing_torque_nmm == Approx(1200));
  const auto& helical = std::get<HelicalSprings>(frame.springs.value());
  CHECK(helical.wire_mm == 2);
  CHECK(helical.mean_diameter_mm == 16);
  CHECK(helical.active_turns == 6.5);
  CHECK(helical.free_length_mm == 30);
  CHECK(helical.solid_length_mm == 18);
  CHECK(helical.modulus_mpa == Approx(79300));
}

TEST_CASE("frame: a rod may stand in the rounded corner of the face, and just beside it") {
  // A face of 141 x 183 mm with corners of 30 mm: its corner arc's middle is at 40.5, 61.5, and
  // along the diagonal a rod of 8 mm is clear beyond 34 mm from there, at 40.5 + 24.05.
  const auto with_rod = [](double x, double y) {
    return read_text(
        build_with(fmt::format(R"("frame": {{ "plates": {{ "width": 220, "height": 240 }},
            "rods": {{ "size": "M8", "at": [[-95, -105], [95, -105], [{}, {}]] }} }})",
                               x, y)),
        {{"cell.face.corner_radius", "30"}});
  };
  CHECK(with_rod(64.6, 85.6).build);
  CHECK(problem_at(with_rod(64.5, 85.5), "/frame/rods/at/2").place.line > 0);
  CHECK(with_rod(74.5, 0).build);
  CHECK_FALSE(with_rod(74.4, 0).build);
}

TEST_CASE("end walls: joints edge by edge, two that differ") {
  const Build build = built(build_with(whole_box));
  const auto& first = std::get<PlateWall>(build.box.end_walls.value());
  CHECK(first.thickness_mm == Approx(3.175));
  CHECK(first.material == WallMaterial::carbon_steel);
  CHECK_FALSE(first.joint);
  CHECK(first.in_plane == InPlane::held);
  REQUIRE(first.edges);
  REQUIRE(first.edges->left.size() == 1);
  CHECK(first.edges->left[0].joint == WallJoint::welded);
  CHECK_FALSE(first.edges->left[0].part_mm);
  CHECK(first.edges->bottom.at(0).joint == WallJoint::open);
  CHECK(first.edges->top.at(0).joint == WallJoint::screwed);
  REQUIRE(first.edges->right.size() == 2);
  CHECK(first.edges->right[0].part_mm->low == 10);
  CHECK(first.edges->right[0].part_mm->high == Approx(50.8));
  CHECK(first.edges->right[1].joint == WallJoint::welded);
  CHECK(first.edges->right[1].part_mm->high == Approx(90));
  const auto& last = std::get<PlateWall>(build.box.last_end_wall.value());
  CHECK(last.thickness_mm == 4);
  CHECK(last.joint == WallJoint::folded);
  CHECK(last.in_plane == InPlane::free);
  CHECK_FALSE(last.edges);
}

TEST_CASE("end walls: edges not named are left to the joint, and two alike are one") {
  const auto walls = [](const char* value) {
    return built(build_with(R"("box": { "inner": { "length": 240 } })"), {{"box.end_walls", value}})
        .box;
  };
  const Box named = walls(R"({"joint": {"top": "welded"}})");
  CHECK(std::get<PlateWall>(named.end_walls.value()).edges->left.empty());
  CHECK_FALSE(named.last_end_wall);
  const Box alike = walls(R"(["3 mm steel", "3 mm steel"])");
  CHECK(std::get<PlateWall>(alike.end_walls.value()).thickness_mm == 3);
  CHECK_FALSE(alike.last_end_wall);
  const Box mixed = walls(R"(["Rigid", {"bow": 0.9, "at_force": "200 kgf"}])");
  CHECK(std::holds_alternative<RigidWall>(mixed.end_walls.value()));
  CHECK(std::get<WallBow>(mixed.last_end_wall.value()).bow_mm == 0.9);
  CHECK(std::holds_alternative<RigidWall>(walls("rigid").end_walls.value()));
  const Box unknown = walls(R"([{"note": "behind the panel"}, "rigid"])");
  CHECK(std::holds_alternative<PlateWall>(unknown.end_walls.value()));
  CHECK(unknown.last_end_wall);
}

TEST_CASE("end walls: open is for one edge, not for a wall") {
  const ReadBuild read = read_text(build_with(R"("box": { "inner": { "length": 240 },
                                                          "end_walls": "3 mm steel open" })"));
  CHECK_THAT(problem_at(read, "/box/end_walls").allowed, ContainsSubstring("folded, welded"));
  // A single edge may hold the wall where it cannot turn there.
  CHECK(read_text(build_with(R"("box": { "inner": { "length": 240 }, "end_walls": { "joint":
      { "left": "open", "right": "open", "bottom": "welded" } } })"))
            .build);
}

TEST_CASE("rows: a count, or a count and the room between") {
  const std::string text = build_with(R"("box": { "inner": { "length": 240, "width": 284 } })");
  const Build plain = built(text, {{"rows", "2"}});
  CHECK(plain.rows == 2);
  CHECK_FALSE(plain.between_rows_mm);
  const Build apart = built(text, {{"rows", R"({"count": 2, "between": "2 mm"})"}});
  CHECK(apart.rows == 2);
  CHECK(apart.between_rows_mm == 2);
  // Two faces of 141 mm and 2 mm are the box's 284 mm to the hair.
  CHECK_FALSE(read_text(text, {{"rows", R"({"count": 2, "between": "2.1 mm"})"}}).build);
  CHECK_FALSE(read_text(text, {{"rows", "4"}}).build);
  CHECK(built(text, {{"rows", "1"}, {"row", "233.8 mm"}}).row_mm == Approx(233.8));
}

TEST_CASE("rows: gap names run on from row to row") {
  CHECK(row_gap_names(3, 1) == gap_names(3));
  CHECK(row_gap_names(4, 2) ==
        std::vector<std::string>{"wall-1", "1-2", "2-wall", "wall-3", "3-4", "4-wall"});
  CHECK(row_gap_names(2, 2) == std::vector<std::string>{"wall-1", "1-wall", "wall-2", "2-wall"});
  const std::vector<std::string> long_rows = row_gap_names(16, 2);
  CHECK(long_rows.size() == 18);
  CHECK(long_rows[8] == "8-wall");
  CHECK(long_rows[9] == "wall-9");
  CHECK(long_rows.back() == "16-wall");
  const Build build = built(build_with(R"("box": { "inner": { "length": 120 } }, "rows": 2,
      "fixed_sheets": [ { "where": ["Wall - 3", "2-wall"], "thickness": 0.2 } ],
      "placed": [ { "gap": "3-4", "sheets": [] } ])"));
  CHECK(build.fixed_sheets.at(0).where.gaps == std::vector<std::string>{"wall-3", "2-wall"});
  CHECK(build.placed.at(0).gap == "3-4");
}

TEST_CASE("rows: as many cells as the rows hold") {
  const auto with = [](int series, int parallel, int rows) {
    return read_text(fmt::format(R"({{"stackfit": 1, "series": {}, "parallel": {}, "rows": {},
          "cell": {{"face": {{"width": 141, "height": 183}}, "thickness": 58.4}},
          "box": {{"inner": {{"length": 119}}}}}})",
                                 series, parallel, rows));
  };
  CHECK(with(512, 2, 2).build->cells.size() == 1024);
  CHECK_FALSE(with(512, 2, 1).build);
  CHECK_THAT(problem_at(with(512, 3, 2), "/cells").allowed, ContainsSubstring("1 to 1024 cells"));
  CHECK_THAT(problem_at(with(7, 1, 2), "/rows").found, ContainsSubstring("2 rows for 7 cells"));
}

TEST_CASE("housing: millimetres and inches are the same Build") {
  const auto text = [](bool inches) {
    const auto length = [&](double mm) {
      return inches ? fmt::format("\"{:.17g} in\"", mm / mm_per_inch) : fmt::format("{}", mm);
    };
    return build_with(fmt::format(
        R"("rows": {{ "count": 2, "between": {} }}, "frame": {{
          "plates": {{ "width": {}, "height": {}, "thickness": {} }},
          "rods": {{ "size": "M8", "at": [[{}, {}], [{}, {}], [{}, {}]], "length": {},
                    "prevailing_torque": "{}" }},
          "springs": {{ "disc": {{ "outer": {}, "inner": {}, "thickness": {}, "cone_height": {} }} }},
          "force": "{}" }})",
        length(2), length(360), length(240), length(12), length(-160), length(-105), length(160),
        length(-105), length(0), length(105), length(200),
        inches ? "1 in-lb" : "0.1129848290276167 N.m", length(25), length(12.2), length(0.9),
        length(0.7), inches ? "500 lbf" : "2224.11080763025 N"));
  };
  CHECK(Said(built(text(true))).text() == Said(built(text(false))).text());
}

TEST_CASE("housing: saved and read again, it is the same Build") {
  for (const std::string& housing :
       {std::string(whole_frame), std::string(whole_box),
        std::string(whole_frame) + R"(, "rows": { "count": 2, "between": "1 mm" })"}) {
    std::string text = build_with(housing);
    // Two rows need a wider plate.
    if (testing::holds(housing, "rows\"")) text.replace(text.find("220"), 3, "360");
    const std::vector<PathValue> wide = {
        {"frame.rods.at", "[[-160, -105], [160, -105], [160, 105], [-160, 105]]"}};
    const bool rows = testing::holds(housing, "\"count\": 2");
    const ReadBuild read = read_text(text, rows ? wide : std::vector<PathValue>{});
    INFO(all_of(read));
    REQUIRE(read.build);
    Answer answer;
    for (const std::string& gap : row_gap_names(4, rows ? 2 : 1)) {
      GapResult result;
      result.name = gap;
      answer.plan.gaps.push_back(result);
    }
    const ReadBuild again = read_text(pretty_json(saved_document(read, answer, "2031-04-05")));
    INFO(all_of(again));
    REQUIRE(again.build);
    Build before = *read.build;
    CHECK(again.build->placed.size() == answer.plan.gaps.size());
    before.placed = again.build->placed;
    CHECK(Said(*again.build).text() == Said(before).text());
  }
}

TEST_CASE("housing: the spreadsheet form knows the same paths") {
  const std::string head =
      "path,value,note\nseries,4,\ncell.face.width,141,\ncell.face.height,183,\n"
      "cell.face.corner_radius,3,\ncell.thickness,58.4,\n";
  const auto form = [&](const std::string& lines) {
    const ReadBuild read = read_text(head + lines, {}, "form.csv");
    INFO(all_of(read));
    REQUIRE(read.build);
    return *read.build;
  };
  const Build frame = form(
      "frame.plates.width,220,\nframe.plates.height,24 cm,\nframe.plates.thickness,0.5 in,\n"
      "frame.plates.material,aluminum,\nframe.rods.size,M8,\nframe.rods.grade,A2-70,\n"
      "frame.rods.at.0,\"[-95, -105]\",\nframe.rods.at.1,\"[95, -105]\",\n"
      "frame.rods.at.2.0,95,\nframe.rods.at.2.1,4 in,\nframe.rods.at.+,\"[-95, 105]\",\n"
      "frame.rods.length,300,\nframe.rods.prevailing_torque,10 in-lb,\n"
      "frame.springs.disc.outer,25,\nframe.springs.disc.inner,12.2,\n"
      "frame.springs.disc.thickness,0.9,\nframe.springs.disc.cone_height,0.7,\n"
      "frame.springs.disc.reduced_thickness,0.85,\nframe.springs.parallel,2,\n"
      "frame.springs.series,4,\nframe.force,215kgf,\nbox.inner.length,,not a box\n");
  CHECK(Said(frame).text() == Said(built(build_with(whole_frame))).text());
  const Build box = form(
      "box.inner.length,240,\nrows.count,2,\nrows.between,2 mm,\n"
      "box.end_walls.0.joint.left,welded,\nbox.end_walls.0.joint.right.0.joint,screwed,\n"
      "box.end_walls.0.joint.right.0.from,10,\nbox.end_walls.0.joint.right.0.to,2 in,\n"
      "box.end_walls.0.in_plane,held,\nbox.end_walls.1,4 mm steel folded,\n");
  const auto& first = std::get<PlateWall>(box.box.end_walls.value());
  CHECK(first.edges->right.at(0).part_mm->high == Approx(50.8));
  CHECK(std::get<PlateWall>(box.box.last_end_wall.value()).joint == WallJoint::folded);
  CHECK(box.between_rows_mm == 2);
}

TEST_CASE("housing: --set reaches into a wall, a rod and the form's keys") {
  const Build box = built(build_with(whole_box), {{"box.end_walls.1.in_plane", "held"},
                                                  {"box.end_walls.0.joint.right.1.to", "7 cm"}});
  CHECK(std::get<PlateWall>(box.box.last_end_wall.value()).in_plane == InPlane::held);
  CHECK(std::get<PlateWall>(box.box.end_walls.value()).edges->right[1].part_mm->high == Approx(70));
  const ReadBuild wrong = read_text(build_with(whole_frame), {{"frame.force", "215"}});
  CHECK(problem_at(wrong, "/frame/force").place.file == "--set frame.force");
  // The one is taken out and the other put in.
  CHECK(read_text(build_with(whole_frame), {{"frame", ""}, {"box.inner.length", "240 mm"}}).build);
}

TEST_CASE("housing: the blank form holds a frame's keys, and either may be filled in") {
  const std::string form = blank_form_json();
  for (const char* key : {"\"frame\"", "\"plates\"", "\"prevailing_torque\"", "\"cone_height\"",
                          "\"active_turns\"", "\"spread\"", "\"rows\""}) {
    INFO(key);
    CHECK_THAT(form, ContainsSubstring(key));
  }
  const std::vector<PathValue> known{{"series", "4"},
                                     {"cell.face.width", "141"},
                                     {"cell.face.height", "183"},
                                     {"cell.thickness", "58.4"}};
  std::vector<PathValue> framed = known;
  framed.insert(framed.end(), {{"frame.plates.width", "220"},
                               {"frame.plates.height", "240"},
                               {"frame.rods.size", "M8"},
                               {"frame.rods.spread.width", "190"},
                               {"frame.rods.spread.height", "210"}});
  const ReadBuild frame = read_text(form, framed);
  INFO(all_of(frame));
  REQUIRE(frame.build);
  CHECK(frame.build->frame->rods.at.size() == 4);
  std::vector<PathValue> boxed = known;
  boxed.insert(boxed.end(), {{"box.inner.length", "240"},
                             {"box.end_walls.1.thickness", "4"},
                             {"box.end_walls.0.joint.left", "welded"},
                             {"rows.count", "2"}});
  // The blank of a whole makes way for its parts, but a list begins at its first.
  CHECK(read_text(form, boxed).problems.back().place.file == "--set box.end_walls.1.thickness");
  std::swap(boxed[boxed.size() - 3], boxed[boxed.size() - 2]);
  const ReadBuild box = read_text(form, boxed);
  INFO(all_of(box));
  REQUIRE(box.build);
  CHECK(box.build->rows == 2);
  CHECK(std::get<PlateWall>(box.build->box.last_end_wall.value()).thickness_mm == 4);
  const ReadBuild neither = read_text(form, known);
  REQUIRE(neither.problems.size() == 1);
  CHECK(neither.problems[0].place.pointer == "/box/inner/length");
  CHECK_THAT(neither.problems[0].allowed, ContainsSubstring("or \"frame\" in its place"));
}

}  // namespace stackfit::cli
