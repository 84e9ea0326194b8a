// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/read_build.hpp"

#include <string>
#include <variant>
#include <vector>

#include "cli/file_reader.hpp"
#include "cli/text_file.hpp"
#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"

namespace stackfit::cli {

using Catch::Approx;
using Catch::Matchers::ContainsSubstring;
using testing::all_of;
using testing::problem_at;
using testing::read_text;

TEST_CASE("read: a whole build, every key in its place") {
  const ReadBuild read = testing::read_fixture("shed_bank.json");
  INFO(all_of(read));
  REQUIRE(read.build);
  const Build& build = *read.build;
  CHECK(build.series == 8);
  CHECK(build.cell.chemistry_said);
  CHECK(build.cell.face.corner_radius_mm == 3.0);
  CHECK(build.cell.thickness.tolerance_mm == Approx(0.5));
  REQUIRE(build.cell.makers_force);
  CHECK(build.cell.makers_force->when == ForceWhen::assembly);
  CHECK(build.cell.surface == CellSurface::bare_can);
  REQUIRE(build.cells.size() == 8);
  CHECK(build.cells[4].id == "E");
  CHECK(build.cells[4].middle_mm.has_value());
  CHECK(build.cells[0].signs == "none");
  CHECK(build.measured_charge->charge == Approx(0.38));
  CHECK_FALSE(build.measured_charge->between);
  CHECK(build.box.inner_length_mm.size() == 5);
  REQUIRE(build.box.end_walls);
  CHECK(std::get<PlateWall>(*build.box.end_walls).joint.has_value());
  CHECK(build.box.opens == Opens::one_end_wall);
  CHECK(build.box.floor == Floor::insulated);
  CHECK(build.kit.at(0).sheet.material == SheetMaterial::polypropylene);
  CHECK(build.use.charge->high == Approx(0.9));
  CHECK(build.build.method == BuildMethod::end_wall_last);
  CHECK(read.files.size() == 1);
}

TEST_CASE("read: cells from a table with decimal commas") {
  const ReadBuild read = testing::read_fixture("van_sixteen.json");
  INFO(all_of(read));
  REQUIRE(read.build);
  REQUIRE(read.build->cells.size() == 16);
  CHECK(read.build->cells[0].edge_mm == Approx(36.58));
  CHECK(read.build->cells[0].resistance_mohm == Approx(0.41));
  CHECK(read.build->measured_charge->as_shipped);
  REQUIRE(read.build->measured_charge->between);
  CHECK(read.build->measured_charge->between->low == Approx(0.3));
  CHECK(read.files.size() == 2);
  CHECK_FALSE(read.document.contains("measured"));
  CHECK(read.document["cells"].size() == 16);
}

TEST_CASE("read: every fixture") {
  for (const char* name : {"boat_hand_slid.json", "too_few_shims.json"}) {
    const ReadBuild read = testing::read_fixture(name);
    INFO(all_of(read));
    CHECK(read.build.has_value());
  }
}

TEST_CASE("read: nothing is filled in that was not said") {
  const ReadBuild read = read_text(R"({"stackfit": 1, "series": 2,
    "cell": {"face": {"width": 141, "height": 183}, "thickness": 58.4},
    "box": {"inner": {"length": 119}}})");
  INFO(all_of(read));
  REQUIRE(read.build);
  const Build& build = *read.build;
  CHECK_FALSE(build.cell.chemistry_said);
  CHECK_FALSE(build.cell.thickness.tolerance_mm);
  CHECK_FALSE(build.cell.makers_force);
  CHECK_FALSE(build.cell.range);
  CHECK_FALSE(build.measured_charge);
  CHECK_FALSE(build.box.end_walls);
  CHECK(build.box.lid == Lid::not_said);
  CHECK_FALSE(build.use.charge);
  CHECK_FALSE(build.build.method);
  REQUIRE(build.cells.size() == 2);
  CHECK_FALSE(build.cells[0].edge_mm);
  CHECK(read.notes.size() == 2);
}

TEST_CASE("read: the same figures in inches and millimetres") {
  const ReadBuild mm = read_text(testing::plain_build);
  const ReadBuild inch =
      read_text(testing::plain_build, {{"cell.face.width", "5.551181102362205 in"},
                                       {"cells.0.edge", "2.299212598425197 in"},
                                       {"box.inner.length", "4.68503937007874 in"}});
  REQUIRE(mm.build);
  REQUIRE(inch.build);
  CHECK(inch.build->cell.face.width_mm == Approx(mm.build->cell.face.width_mm).epsilon(1e-14));
  CHECK(*inch.build->cells[0].edge_mm == Approx(*mm.build->cells[0].edge_mm).epsilon(1e-14));
  CHECK(inch.build->box.inner_length_mm[0] ==
        Approx(mm.build->box.inner_length_mm[0]).epsilon(1e-14));
}

TEST_CASE("read: short forms say the same as long ones") {
  const ReadBuild read = read_text(
      testing::plain_build, {{"cell.range", "50-150 kPa"},
                             {"cell.makers_force", R"({"value": "215 kg", "when": "always"})"},
                             {"box.end_walls", "3 mm steel welded"}});
  INFO(all_of(read));
  REQUIRE(read.build);
  CHECK(read.build->cell.range->low_mpa == Approx(0.05));
  CHECK(read.build->cell.makers_force->when == ForceWhen::always);
  CHECK(std::get<PlateWall>(*read.build->box.end_walls).material == WallMaterial::carbon_steel);
  CHECK(read.notes.size() == 1);  // kg read as kgf
  CHECK(read.build->kit[0].sheet.name == "0.8 mm polypropylene");
}

TEST_CASE("read: laws, pads, outlines, places") {
  const ReadBuild read = read_text(
      testing::plain_build,
      {{"cell.swing", R"({"net": 0.6, "hump": "0.3 %"})"},
       {"cell.softness",
        R"({"squeeze": [0, "0.2 %", 0.004], "pressure": ["0 kPa", "20 kPa", "60 kPa"]})"},
       {"cell.expansion", "40e-6/K"},
       {"pads.+", R"({"where": "ends", "thickness": 8, "grade": 2, "insulates": true})"},
       {"pads.+", R"({"where": ["wall-1"], "thickness": 3,
                      "rubber": {"e0": "2 MPa", "k": 0.64, "bulk": "1.2 GPa"}})"},
       {"fixed_sheets.+", R"({"where": "1-2", "thickness": "0.25 mm", "material": "PET film",
           "outline": {"points": [[-50,-60],[50,-60],[50,60],[-50,60]],
                       "holes": [[[-5,-5],[5,-5],[0,5]]]}})"},
       {"placed.+",
        R"({"gap": "2-wall", "sheets": [{"name": "0.8 mm polypropylene", "count": 2}]})"},
       {"box.end_walls", R"({"bow": "0.9 mm", "at_force": "200 kgf"})"}});
  INFO(all_of(read));
  REQUIRE(read.build);
  const Build& build = *read.build;
  CHECK(std::get<SwingFigures>(*build.cell.swing).net_fraction == Approx(0.006));
  CHECK(std::get<SwingFigures>(*build.cell.swing).hump_fraction == Approx(0.003));
  CHECK(std::get<SoftnessTable>(*build.cell.softness).squeeze_fraction[1] == Approx(0.002));
  CHECK(build.cell.expansion_per_k == Approx(40e-6));
  CHECK(build.pads[0].where.word == PlaceWord::ends);
  CHECK(std::get<FoamGrade>(build.pads[0].law).d1056_grade == 2);
  CHECK(std::get<RubberInput>(build.pads[1].law).bulk_mpa == Approx(1200));
  CHECK(build.pads[1].where.gaps == std::vector<std::string>{"wall-1"});
  CHECK(build.fixed_sheets[0].outline->points.size() == 4);
  CHECK(build.fixed_sheets[0].outline->holes.size() == 1);
  CHECK(build.placed[0].sheets[0].second == 2);
  CHECK(std::get<WallBow>(*build.box.end_walls).force_n == Approx(200 * 9.80665));
}

TEST_CASE("read: a note may stand in every block") {
  const ReadBuild read = read_text(testing::plain_build, {{"note", "n"},
                                                          {"cell.note", "n"},
                                                          {"cell.face.note", "n"},
                                                          {"cells.0.note", "n"},
                                                          {"box.note", "n"},
                                                          {"box.inner.note", "n"},
                                                          {"use.note", "n"},
                                                          {"build.note", "n"}});
  INFO(all_of(read));
  CHECK(read.build.has_value());
}

TEST_CASE("read: blanks count as not said, and those needed are named") {
  const ReadBuild half =
      read_text(testing::plain_build, {{"cell.limit", "\"\""},
                                       {"cell.range", R"({"low": "", "high": "?"})"},
                                       {"cells.+", R"({"id": "", "edge": ""})"}});
  INFO(all_of(half));
  REQUIRE(half.build);
  CHECK(half.build->cells.size() == 2);
  CHECK_FALSE(half.build->cell.range);
  const ReadBuild blank = testing::read_fixture("broken/blanks.json");
  for (const char* pointer : {"/series", "/cell/face/width", "/cell/face/height", "/cell/thickness",
                              "/box/inner/length"}) {
    INFO(pointer << "\n" << all_of(blank));
    CHECK(problem_at(blank, pointer).found == "a blank");
    CHECK(problem_at(blank, pointer).place.line > 1);
  }
}

TEST_CASE("read: no file, a missing file, a folder") {
  CHECK(read_build({}).problems.size() == 1);
  const ReadBuild none = read_build({"no_such_build.json", {}, {}});
  REQUIRE(none.problems.size() == 1);
  CHECK_THAT(none.problems[0].found, ContainsSubstring("no such file"));
  CHECK_THAT(read_build({STACKFIT_FIXTURES_DIR, {}, {}}).problems.at(0).found,
             ContainsSubstring("folder"));
}

TEST_CASE("read: a table of cells beside the file, or missing") {
  const testing::Folder folder;
  std::string text = testing::plain_build;
  const std::string list =
      text.substr(text.find("\"cells\""), text.find("\"box\"") - text.find("\"cells\""));
  text.replace(text.find(list), list.size(), "\"measured\": \"cells.csv\",\n");
  const std::string file = folder.write("build.json", text);
  CHECK_THAT(all_of(read_build({file, {}, {}})), ContainsSubstring("no such file"));
  static_cast<void>(folder.write("cells.csv", "id,edge (mm)\nA,58.4\nB,5.84\n"));
  const ReadBuild read = read_build({file, {}, {}});
  const Problem problem = problem_at(read, "/cells/1/edge");
  CHECK(testing::holds(problem.place.file, "cells.csv"));
  CHECK(problem.place.line == 3);
  CHECK_THAT(problem.mend, ContainsSubstring("centimetres"));
  // --set reaches into the table's cells.
  CHECK(read_build({file, {}, {{"cells.1.edge", "58.4"}}}).build.has_value());
}

TEST_CASE("read: a table is a file, whatever the build calls it") {
  CHECK(read_table_file("/dev/null").problem->found == "a device or a pipe");
  CHECK(read_table_file("-").problem->found == "no such file");
  CHECK(read_table_file("-").problem->place.file == "-");
  const testing::Folder folder;
  CHECK(read_table_file(folder.path("")).problem->found == "a folder");
  const TextFile file = read_table_file(folder.write("-", "id\nA\n"));
  CHECK_FALSE(file.problem);
  CHECK(file.name == folder.path("-"));
}

TEST_CASE("read: files of memory alone, and nothing of the disk") {
  std::vector<std::string> asked;
  const FileReader reader = [&](const std::string& name) {
    asked.push_back(name);
    if (name == "build.json") {
      return check_text(name, R"({"stackfit": 1, "cell": {"face": {"width": 141, "height": 183},
        "thickness": 58.4}, "measured": "cells.csv", "box": {"inner": {"length": 119}}})");
    }
    return check_text(name, "id,edge (mm)\nA,58.4\nB,58.5\n");
  };
  const ReadBuild read = read_build({"build.json", {}, {}}, {reader, reader});
  INFO(all_of(read));
  REQUIRE(read.build);
  CHECK(read.build->cells.at(1).edge_mm == 58.5);
  CHECK(asked == std::vector<std::string>{"build.json", "cells.csv"});
}

TEST_CASE("describe: one block, with what to try, safe to print") {
  const std::string text = describe({{"a.json", 3, 5, "/x"}, "\x1b[31mred", "blue", "paint it"});
  CHECK_THAT(text, ContainsSubstring("a.json:3:5  /x\n"));
  CHECK_THAT(text, ContainsSubstring("found: ?[31mred"));
  CHECK_THAT(text, ContainsSubstring("try: paint it"));
  CHECK(text.find('\x1b') == std::string::npos);
}

}  // namespace stackfit::cli
