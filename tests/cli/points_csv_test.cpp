// SPDX-License-Identifier: GPL-3.0-or-later
//
// Tables of heights and straightedge gaps, read into a build.
#include "cli/points_csv.hpp"

#include <fmt/format.h>
#include <rapidcheck.h>

#include <cmath>
#include <string>

#include "cli/view_json.hpp"
#include "solver/row.hpp"
#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"

namespace stackfit::cli {
namespace {

using Catch::Matchers::ContainsSubstring;

/// Lines of a 3 by 3 grid on a dome of 0.4 mm and exponent 2, behind `front`.
std::string lines(const std::string& front) {
  std::string text;
  for (const double eta : {-0.8, 0.0, 0.8}) {
    for (const double xi : {-0.8, 0.0, 0.8}) {
      const double u = (1 - xi * xi) * (1 - eta * eta);
      text += fmt::format("{},{},{},{}\n", front, 70.5 * xi, 91.5 * eta, 0.4 * u * u);
    }
  }
  return text;
}

std::string build_of(const std::string& cells) {
  return R"({ "stackfit": 1,
  "cell": { "face": { "width": 141, "height": 183 }, "thickness": "58.4±0.5 mm" },
  "cells": [ )" +
         cells + R"( ],
  "box": { "inner": { "length": 130 } } })";
}

ReadBuild read_with(const std::string& cells, const std::string& table,
                    const std::string& name = "points.csv") {
  const testing::Folder folder;
  folder.write(name, table);
  return read_build({folder.write("build.json", build_of(cells)), {}, {}});
}

}  // namespace

TEST_CASE("one table for many cells, by their ids") {
  const ReadBuild read = read_with(
      R"({ "id": 7, "edge": 58.4, "points": "points.csv" },
         { "id": "B", "edge": 58.4, "points": "points.csv" })",
      "cell,face,x (mm),y (mm),z (mm)\n" + lines("7,front") + lines("B,Back") + lines("C,front"));
  INFO(testing::all_of(read));
  REQUIRE(read.build);
  CHECK(read.build->cells[0].points.front.size() == 9);
  CHECK(read.build->cells[0].points.back.empty());
  CHECK(read.build->cells[1].points.back.size() == 9);
  CHECK(read.build->cells[0].points.front[4].z_mm == 0.4);
  CHECK_FALSE(read.build->cells[0].points.common_z);
  // The third cell is not in the build: passed over, and said.
  REQUIRE_FALSE(read.notes.empty());
  CHECK_THAT(read.notes[0].text, ContainsSubstring(R"("C")"));
  CHECK(read.notes[0].place.line == 20);
  // The table is among the files read, once.
  CHECK(read.files.size() == 2);
}

TEST_CASE("a table of one cell, with units in header and field, semicolons and commas") {
  std::string table = "note;face;z (mm);x [in];y (cm)\n";
  for (const char* at : {"0;0;0", "0,1;2;7", "0,1;-2;7", "0,1;2;-7", "0,1;-2;-7", "0,2 mm;0;5"}) {
    table += std::string("read twice;front;") + at + "\n";
  }
  const ReadBuild read =
      read_with(R"({ "edge": 58.4, "points": "points.csv" })", "\xEF\xBB\xBF" + table);
  INFO(testing::all_of(read));
  REQUIRE(read.build);
  const FacePoint& second = read.build->cells[0].points.front[1];
  CHECK(std::abs(second.x_mm - 50.8) < 1e-12);
  CHECK(std::abs(second.y_mm - 70) < 1e-12);
  CHECK(second.z_mm == 0.1);
  CHECK(read.build->cells[0].points.front[5].z_mm == 0.2);
}

TEST_CASE("a place that was not read is passed over") {
  const ReadBuild read = read_with(R"({ "edge": 58.4, "points": "points.csv" })",
                                   "face,x,y,z\nfront,10,20,\nfront,5,5,?\n" + lines("back"));
  INFO(testing::all_of(read));
  REQUIRE(read.build);
  CHECK(read.build->cells[0].points.front.empty());
  CHECK(read.build->cells[0].points.back.size() == 9);
}

TEST_CASE("the table of cells names straightedge gaps and tables of points") {
  const testing::Folder folder;
  folder.write("cells.csv",
               "id,edge (mm),straightedge_front (mm),straightedge back mm,points\n"
               "A,58.4,0.3,-0.1,\nB,58.5,,,points.csv\n");
  folder.write("points.csv", "face,x,y,z\n" + lines("front"));
  std::string text = build_of("");
  text.replace(text.find("\"cells\": [  ]"), 13, "\"measured\": \"cells.csv\"");
  const ReadBuild read = read_build({folder.write("build.json", text), {}, {}});
  INFO(testing::all_of(read));
  REQUIRE(read.build);
  CHECK(read.build->cells[0].straightedge.front_mm == 0.3);
  CHECK(read.build->cells[0].straightedge.back_mm == -0.1);
  CHECK(read.build->cells[1].points.front.size() == 9);
  CHECK_FALSE(read.build->cells[1].straightedge.front_mm);
}

TEST_CASE("points may stand in the build itself, and both faces in one coordinate system") {
  const ReadBuild read = read_with(
      R"({ "id": "A", "points": "points.csv" })",
      "face,x,y,common_z\nfront,0,0,58.9\nfront,60,80,58.4\nfront,-60,80,58.4\n"
      "front,60,-80,58.4\nfront,-60,-80,58.4\nfront,0,80,58.5\nback,0,0,-0.4\nback,60,80,0\n"
      "back,-60,80,0\nback,60,-80,0\nback,-60,-80,0\nback,0,80,0\n");
  INFO(testing::all_of(read));
  REQUIRE(read.build);
  CHECK(read.build->cells[0].points.common_z);
  // The document holds the points, so that a saved copy stands alone.
  const auto& points = read.document["cells"][0]["points"];
  REQUIRE(points.is_object());
  CHECK(points["front"][1][2] == 58.4);
  CHECK(points["common_z"] == true);
  const testing::Folder alone;
  const ReadBuild again = read_build({alone.write("build.json", read.document.dump()), {}, {}});
  INFO(testing::all_of(again));
  REQUIRE(again.build);
  CHECK(again.build->cells[0].points.back[0].z_mm == -0.4);
  CHECK(again.build->cells[0].points.common_z);
}

TEST_CASE("columns that leave the heights in doubt") {
  const auto words = [](const std::string& table) {
    return testing::all_of(read_with(R"({ "edge": 58.4, "points": "points.csv" })", table));
  };
  CHECK_THAT(words("face,x,y,z,common_z\nfront,0,0,0,0\n"), ContainsSubstring("both z and"));
  CHECK_THAT(words("x,y,z\n0,0,0\n"), ContainsSubstring("a column: face"));
  CHECK_THAT(words("face,x,y,z\n"), ContainsSubstring("a header without points"));
  CHECK_THAT(words("face,x,y,z\nside,0,0,0\n"), ContainsSubstring("front or back"));
  CHECK_THAT(words("cell,face,x,y,z\n,front,0,0,0\n"), ContainsSubstring("without its cell"));
}

TEST_CASE("x and y in other units or from another corner are guessed at") {
  const auto words = [](const char* unit, double scale, double from) {
    std::string table = std::string("face,x (") + unit + "),y (" + unit + "),z\n";
    for (int i = -2; i <= 2; ++i) {
      for (int j = -2; j <= 2; ++j) {
        table += "front," + std::to_string((30 * i + from) * scale) + "," +
                 std::to_string((40 * j + from) * scale) + ",0." + std::to_string(i + 5) + "\n";
      }
    }
    return testing::all_of(read_with(R"({ "edge": 58.4, "points": "points.csv" })", table));
  };
  CHECK(words("mm", 1, 0).empty());
  CHECK_THAT(words("mm", 1 / 25.4, 0), ContainsSubstring("inches in a mm column?"));
  CHECK_THAT(words("mm", 0.1, 0), ContainsSubstring("centimetres in a mm column?"));
  CHECK_THAT(words("in", 1, 0), ContainsSubstring("millimetres in an inch column?"));
  CHECK_THAT(words("mm", 1, 81), ContainsSubstring("from a corner?"));
}

TEST_CASE("heights from a plane in another country are refused") {
  std::string table = "face,x,y,z\n";
  for (const char* at : {"0,0", "50,70", "-50,70", "50,-70", "-50,-70", "0,70"}) {
    table += std::string("front,") + at + ",9e4\n";
  }
  const ReadBuild read = read_with(R"({ "edge": 58.4, "points": "points.csv" })", table);
  CHECK(read.problems.size() == 6);
  CHECK(read.problems.at(0).place.pointer == "/cells/0/points/front/0/2");
  CHECK_THAT(read.problems.at(0).allowed, ContainsSubstring("up to 65536 mm"));
}

TEST_CASE("points that are let through make a row") {
  // Few lines on a coarse grid: many are refused, for one reason or another; none may be accepted
  // and then thrown out by the solver.
  int resolved = 0;
  CHECK(rc::check([&] {
    std::string table = "face,x,y,z\n";
    for (int face = *rc::gen::inRange(0, 2); face < 2; ++face) {
      const double high = *rc::gen::inRange(-5, 6) * 0.05;
      for (int i = -2; i <= 2; ++i) {
        for (int j = -2; j <= 2; ++j) {
          if (*rc::gen::inRange(0, 3) == 0) continue;
          const double off = *rc::gen::inRange(0, 20) == 0 ? 0.5 : 0;
          table += std::string(face == 0 ? "front," : "back,") + std::to_string(30 * i) + "," +
                   std::to_string(40 * j) + "," +
                   std::to_string(off + high * (4 - i * i) * (4 - j * j) / 16) + "\n";
        }
      }
    }
    const ReadBuild read =
        read_with(R"({ "id": "A", "edge": 58.4, "points": "points.csv", "signs": "none" })", table);
    RC_ASSERT(read.build.has_value() == read.problems.empty());
    if (!read.build) return;
    for (const double exponent : {1.0, 2.0}) {
      Findings findings;
      const Row row =
          resolve_row(*read.build, Assumptions().with(Assumed::dome_exponent, exponent), findings);
      RC_ASSERT(std::isfinite(row.cells.at(0).dome_mm));
      RC_ASSERT(std::isfinite(row.cells.at(0).free_mm));
    }
    ++resolved;
  }));
  CHECK(resolved > 20);
}

TEST_CASE("the answer carries each face's dome") {
  const ReadBuild read = read_with(
      R"({ "id": "A", "edge": 58.4, "points": "points.csv", "signs": "none" },
         { "id": "B", "edge": 58.4, "straightedge": { "front": 0.1 }, "signs": "none" })",
      "face,x,y,z\n" + lines("front") + lines("back"));
  INFO(testing::all_of(read));
  REQUIRE(read.build);
  const auto json = json_of(answer_pressure(*read.build));
  const auto& points = json["cells"][0]["dome"];
  CHECK(std::abs(json["cells"][0]["dome_mm"].get<double>() - 0.8) < 1e-4);
  CHECK(points["by"] == "points");
  CHECK(std::abs(points["exponent"].get<double>() - 2) < 1e-3);
  CHECK(points["exponent_assumed"] == false);
  CHECK(points["faces"][0]["exponent_from"] == "fitted");
  CHECK(points["faces"][1]["face"] == "back");
  CHECK(points["faces"][0]["points_used"] == 9);
  CHECK(points["faces"][0]["flatness_mm"].get<double>() > 0.3);
  CHECK(points["faces"][0]["outliers"].empty());
  const auto& gap = json["cells"][1]["dome"];
  CHECK(gap["by"] == "straightedge");
  CHECK(gap["one_face"] == true);
  CHECK(gap["error_mm"].is_null());
  CHECK(gap["faces"][0]["residual_mm"].is_null());
  CHECK(gap["faces"][0]["exponent_from"].is_null());
}

}  // namespace stackfit::cli
