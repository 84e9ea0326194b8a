// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/interview.hpp"

#include <algorithm>
#include <sstream>
#include <string>

#include "cli/blank_form.hpp"
#include "cli/interview_answers.hpp"
#include "cli/measuring_sheet.hpp"
#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"

namespace stackfit::cli {
namespace {

using Catch::Matchers::ContainsSubstring;

struct Talk {
  std::optional<std::string> file;
  std::string said;
};

Talk talk(const std::string& typed, const InterviewOptions& options = {}) {
  std::istringstream in(typed);
  std::ostringstream out;
  auto file = interview(in, out, options);
  return {std::move(file), out.str()};
}

}  // namespace

TEST_CASE("interview: all answered") {
  const Talk done = talk(
      "lfp\n4s\n152x188\n63.4±0.6 mm 30-40% 240kgf\n240kgf ±15\nassembly\n"
      "edge\n63.5 63.8 63.4 64.0\nmiddle\n63,7 64,0 63,5 64,3\n\n38 %\n258.1 258.0\n"
      "3 mm aluminium folded\nloose\none\n0.8x14 0.5x12\nPP\n10-90 %\n");
  REQUIRE(done.file);
  const ReadBuild read = testing::read_text(*done.file);
  INFO(*done.file << testing::all_of(read));
  REQUIRE(read.build);
  const Build& build = *read.build;
  CHECK(build.series == 4);
  CHECK(build.cells[1].edge_mm == 63.8);
  CHECK(build.cells[1].middle_mm == 64.0);
  CHECK(build.cell.makers_force->when == ForceWhen::assembly);
  CHECK(build.box.inner_length_mm.size() == 2);
  CHECK(build.box.opens == Opens::one_end_wall);
  CHECK(build.kit[0].count == 14);
  CHECK(build.kit[1].sheet.material == SheetMaterial::polypropylene);
  CHECK(read.notes.empty());
}

TEST_CASE("interview: at most twelve questions, and Enter to all but four facts") {
  const Talk done = talk("\n4s\n152x188\n63.4±0.6 30-40% 240kgf\n\n\n\n258\n\n\n\n\n\n");
  REQUIRE(done.file);
  CHECK_THAT(done.said, ContainsSubstring("\n12. "));
  CHECK_THAT(done.said, !ContainsSubstring("\n13. "));
  const ReadBuild read = testing::read_text(*done.file);
  INFO(*done.file << testing::all_of(read));
  REQUIRE(read.build);
  CHECK(read.build->cells.size() == 4);
  CHECK_FALSE(read.build->cell.makers_force);
  CHECK_THAT(*done.file, ContainsSubstring("Not known when this was written"));
}

TEST_CASE("interview: the four facts are asked again once, then left as blanks") {
  const Talk done = talk(std::string(40, '\n'));
  REQUIRE(done.file);
  CHECK_THAT(done.said, ContainsSubstring("Left blank in the file"));
  const ReadBuild read = testing::read_text(*done.file);
  INFO(*done.file << testing::all_of(read));
  CHECK(read.problems.size() == 5);
  for (const char* pointer : {"/series", "/cell/face/width", "/cell/face/height", "/cell/thickness",
                              "/box/inner/length"}) {
    CHECK(testing::problem_at(read, pointer).found == "a blank");
  }
}

TEST_CASE("interview: a slip is explained and asked again") {
  const Talk done = talk(
      "tin\nLFP\nmany\n4\n152 by 188\n152x188\nthick\n63.4 mm\n240\n240 kg\n\n"
      "sideways\nedge\n63.5 63.8\n63.5 63.8 63.4 64.0\n\n40\n40 %\n-3\n258\nwood\n\n\n\n"
      "0.8\n\n90-10 %\n10-90 %\n");
  REQUIRE(done.file);
  CHECK_THAT(done.said, ContainsSubstring("That was not understood"));
  CHECK_THAT(done.said, ContainsSubstring("there are 2"));
  CHECK_THAT(done.said, ContainsSubstring("kg for a force was read as kgf"));
  const ReadBuild read = testing::read_text(*done.file);
  INFO(*done.file << testing::all_of(read));
  REQUIRE(read.build);
  CHECK(read.build->cells.size() == 4);
  CHECK_FALSE(read.build->series);
  CHECK(read.build->kit.empty());
}

TEST_CASE("interview: used cells are asked for signs and history") {
  const InterviewOptions used{true, ""};
  const Talk done = talk(
      "\n4s\n152x188\n63.4 mm\n\n\n\n258\n\n\n\n\n\n9 dent\n3 dent, 4 smell\nfive years in a "
      "shed\n",
      used);
  REQUIRE(done.file);
  const ReadBuild read = testing::read_text(*done.file);
  INFO(*done.file << testing::all_of(read));
  REQUIRE(read.build);
  CHECK(read.build->cells[2].signs == "dent");
  CHECK(read.build->cells[0].signs == "none");
  CHECK_THAT(*done.file, ContainsSubstring("five years in a shed"));
}

TEST_CASE("interview: when the input ends, nothing is made") {
  const Talk done = talk("LFP\n4s\n");
  CHECK_FALSE(done.file);
  CHECK_THAT(done.said, ContainsSubstring("nothing was written"));
}

TEST_CASE("interview: a table of cells is looked at on the spot") {
  const testing::Folder folder;
  static_cast<void>(folder.write("cells.csv", "id,edge (mm)\nA,63.5\nB,63.6\n"));
  const Talk done = talk("\n2s\n152x188\n63.4 mm\n\nnone.csv\ncells.csv\n\n129\n\n\n\n\n\n",
                         {false, folder.path("")});
  REQUIRE(done.file);
  CHECK_THAT(done.said, ContainsSubstring("no such file"));
  const ReadBuild read = read_build({folder.write("b.json", *done.file), {}, {}});
  INFO(testing::all_of(read));
  REQUIRE(read.build);
  CHECK(read.build->cells[1].edge_mm == 63.6);
}

TEST_CASE("interview: counts and lengths as they are said") {
  CHECK(read_cell_count("4s2p").value->cells == 8);
  CHECK(read_cell_count("2p4s").value->series == 4);
  CHECK(read_cell_count("4 in series, 2 parallel").value->parallel == 2);
  CHECK(read_cell_count("8 in series").value->parallel == 1);
  CHECK(read_cell_count("8").value->cells == 8);
  CHECK_FALSE(read_cell_count("8").value->series);
  for (const char* text : {"0", "-", "600", "4s4s", "1s2p3s", "4p", "999999999999s", "8 2"}) {
    INFO(text);
    CHECK_FALSE(read_cell_count(text).ok());
  }
  CHECK(read_lengths("63.5, 63.8").value->size() == 2);
  CHECK(read_lengths("63,5; 63,8").value->at(1) == "63.8");
  CHECK(read_lengths("63,5 63,8").value->at(0) == "63.5");
  CHECK(read_lengths("2 1/2 in").value->size() == 1);
  CHECK_FALSE(read_lengths("63.5 kg").ok());
  CHECK_FALSE(read_lengths("0").ok());
  CHECK(read_kit("0.8 mm x 14 glass-epoxy, 0.5x12").value->size() == 2);
}

TEST_CASE("forms: every key is there, and only blanks are complained of") {
  const ReadBuild json = testing::read_text(blank_form_json());
  const ReadBuild table = testing::read_text(blank_form_table(), {}, "form.csv");
  for (const ReadBuild* read : {&json, &table}) {
    INFO(testing::all_of(*read));
    CHECK(read->problems.size() == 5);
    for (const Problem& problem : read->problems) {
      CHECK(problem.found == "a blank");
      CHECK(problem.place.line > 1);
    }
  }
}

TEST_CASE("measuring sheet: a line for each cell, at most 80 columns") {
  const std::string sheet = measuring_sheet(12, true);
  CHECK_THAT(sheet, ContainsSubstring("\n  12 "));
  CHECK_THAT(sheet, !ContainsSubstring("\n  13 "));
  CHECK_THAT(sheet, ContainsSubstring("10 mm in from the rim"));
  CHECK_THAT(sheet, ContainsSubstring("Rings and watch off"));
  CHECK_THAT(sheet, ContainsSubstring("grid of 5 by 5, the outer ones 10 mm in"));
  CHECK_THAT(sheet, ContainsSubstring("cell,face,x (mm),y (mm),z (mm)"));
  CHECK_THAT(sheet, ContainsSubstring("straightedge_front (mm),straightedge_back (mm)"));
  std::istringstream lines(sheet + measuring_sheet(3, false));
  for (std::string line; std::getline(lines, line);) {
    INFO(line);
    CHECK(line.size() <= 80);
  }
}

}  // namespace stackfit::cli
