// SPDX-License-Identifier: GPL-3.0-or-later
//
// fixtures/broken: each file's problems, with place and words.
#include <string>
#include <vector>

#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"

namespace stackfit::cli {
namespace {

struct Expected {
  const char* pointer;
  int line;
  const char* part;  ///< of what was found, is allowed, or to try
};

struct BrokenFile {
  const char* name;
  std::vector<Expected> problems;  ///< all of them, in order
};

const std::vector<BrokenFile>& broken_files() {
  static const std::vector<BrokenFile> files{
      {"trailing_comma.json", {{"/cells", 4, "take this comma out"}}},
      {"missing_comma.json", {{"/cells/0", 4, "comma is missing"}}},
      {"not_closed.json", {{"/box", 7, "the { in line 6"}}},
      {"twice.json", {{"/cells/0/edge", 5, "a second time"}, {"/title", 7, "line 3 already"}}},
      {"unknown_keys.json",
       {{"/box", 1, "no \"box\""},
        {"/cell/thickness", 3, "no \"thickness\""},
        {"/cell/chemistry", 4, "did you mean \"LFP\""},
        {"/cell/face/width", 5, "no \"width\""},
        {"/cell/face/widht", 5, "did you mean \"width\""},
        {"/cell/thicknes", 6, "did you mean \"thickness\""},
        {"/cell/makers_force/when", 7, "did you mean \"assembly\""},
        {"/cells/0/egde", 9, "did you mean \"edge\""},
        {"/boks", 10, "did you mean \"box\""}}},
      {"wrong_types.json",
       {{"/series", 3, "whole number"},
        {"/parallel", 4, "whole number"},
        {"/cell/face", 6, "width, height"},
        {"/cell/thickness", 7, "a list of 1"},
        {"/cell/makers_force", 8, "240kgf"},
        {"/cell/limit", 9, "90 kPa"},
        {"/cells", 11, "a list of the cells"},
        {"/measured_charge", 12, "as shipped"},
        {"/box/inner/length", 13, "at least 1"},
        {"/kit/0/count", 14, "without quotes"},
        {"/kit/1", 14, "a pile of like shims"}}},
      {"wrong_units.json",
       {{"/cell/face/width", 4, "kg is a unit of mass"},
        {"/cell/face/height", 4, "not a unit"},
        {"/cell/face/corner_radius", 4, "mm wide"},
        {"/cell/thickness", 5, "a force needs its unit"},
        {"/cell/makers_force", 6, "mm is a unit of length"},
        {"/cell/range/low", 7, "a pressure needs its unit"},
        {"/cell/range/high", 7, "decimal point"},
        {"/cell/mass", 8, "stone"},
        {"/cells/0/edge", 10, "nan"},
        {"/cells/0/charge", 10, "0 to 100 %"},
        {"/cells/1/edge", 10, "decimal point"},
        {"/measured_charge", 11, "needs its %"},
        {"/box/inner/length", 12, "larger"}}},
      {"impossible_values.json",
       {{"/series", 3, "a list of 3"},
        {"/cell/face/corner_radius", 6, "70.5 mm"},
        {"/cell/range", 8, "upside down"},
        {"/cells/1/id", 12, "a second time"},
        {"/cells/1/edge", 12, "inches in a mm column?"},
        {"/cells/2", 13, "no thickness reading"},
        {"/box/inner/width", 15, "141 mm"},
        {"/box/inner/height", 15, "183 mm"},
        {"/kit/0/thickness", 16, "above zero"},
        {"/placed/0/gap", 17, "3-wall"},
        {"/use/charge", 18, "upside down"},
        {"/use/temperature", 18, "120 C"}}},
      {"bad_tables.json",
       {{"/cell/swing/charge/2", 7, "above the one before"},
        {"/cell/softness/pressure", 8, "as many values"},
        {"/pads/0/foam/strain/0", 13, "starts at rest"},
        {"/pads/0/foam/strain/2", 13, "below 1"},
        {"/pads/1", 14, "D1056"}}},
      {"blanks.json",
       {{"/series", 3, "a blank"},
        {"/cell/face/width", 4, "a blank"},
        {"/cell/face/height", 4, "a blank"},
        {"/cell/thickness", 4, "a blank"},
        {"/cell/makers_force/value", 4, "a blank"},
        {"/box/inner/length", 5, "a blank"}}},
      {"bad_table.json",
       {{"", 1, "did you mean \"voltage\""},
        {"/cells/1/edge", 3, "decimal point"},
        {"/cells/1/charge", 3, "with its %"},
        {"", 4, "more fields"}}},
      {"points.json",
       {{"/cells/2/points", 7, "no such file"},
        {"/cells/4/points", 9, "no points of cell E"},
        {"/cells/5", 10, "tell the dome alone: read the edge too"},
        {"/cells/5/straightedge/front", 10, "from -6 to 6 mm"},
        {"/cells/6/points", 11, "the column is z, not common_z"},
        {"/cells/9/points/front", 14, "6 points or more"},
        {"/cells/9/points/front/0", 14, "a point [x, y, z]"},
        {"/cells/9/points/bak", 14, "did you mean \"back\""},
        {"/cells/9/straightedge", 14, "no gaps"},
        {"/cells/10/points", 15, "one face alone"},
        {"", 1, "a table without a column: y"},
        {"", 1, "the column \"hight (mm)\""},
        {"/cells/8/points/back/3", 5, "measured from a corner?"},
        {"/cells/3/points/front", 2, "3 points on a face"},
        {"/cells/3/points/back", 5, "a dome from a tilt"},
        {"/cells/1/points/front", 2, "inches in a mm column?"},
        {"/cells/0/points/front/3", 5, "outside the face"},
        {"/cells/0/points/front/8", 10, "point 1 of this face has it already"},
        {"/cells/0/points/front/12", 14, "slip of the decimal point"},
        {"", 16, "did you mean \"front\""},
        {"", 18, "a height without its x"},
        {"/cells/0/points/front/18/2", 22, "kg is a unit of mass"}}},
      {"no_box_no_frame.json",
       {{"/box", 1, "or \"frame\" in its place"}, {"/fram", 5, "did you mean \"frame\""}}},
      {"box_and_frame.json",
       {{"/frame", 6, "\"frame\" beside \"box\""},
        {"/frame/rods/spread", 11, "\"spread\" beside \"at\""},
        {"/frame/springs/helical", 15, "\"helical\" beside \"disc\""}}},
      {"frame_keys.json",
       {{"/frame/plates/height", 6, "no \"height\""},
        {"/frame/plates/heigth", 6, "did you mean \"height\""},
        {"/frame/plates/material", 6, "one of aluminium"},
        {"/frame/rods/at", 7, "or \"spread\" in its place"},
        {"/frame/rods/size", 7, "one of M4, M5"},
        {"/frame/rods/grade", 7, "did you mean \"8.8\""},
        {"/frame/rods/torque", 7, "prevailing_torque"},
        {"/frame/springs/disc", 8, "or \"helical\" in its place"},
        {"/frame/springs/disk", 8, "did you mean \"disc\""},
        {"/frame/rods_length", 9, "plates, rods, springs, force"}}},
      {"frame_units.json",
       {{"/frame/plates/width", 6, "kg is a unit of mass"},
        {"/frame/plates/height", 6, "above zero"},
        {"/frame/plates/thickness", 6, "above zero"},
        {"/frame/rods/at/1", 9, "a list of 1"},
        {"/frame/rods/at/2/1", 9, "N is a unit of force"},
        {"/frame/rods/length", 10, "not a unit"},
        {"/frame/rods/prevailing_torque", 11, "a torque needs its unit"},
        {"/frame/springs/helical/wire", 14, "V is a unit of voltage"},
        {"/frame/springs/helical/active_turns", 14, "from 1 to 200"},
        {"/frame/springs/helical/modulus", 14, "together with its unit"},
        {"/frame/force", 16, "mm is a unit of length"}}},
      {"rods_astray.json",
       {{"/frame/rods/at/1", 11, "on the plate of 220 x 240 mm"},
        {"/frame/rods/at/3", 13, "74.5 mm or more to the side"},
        {"/frame/rods/at/4", 14, "2 mm from rod 1"}}},
      {"rods_in_line.json", {{"/frame/rods/at", 7, "all rods on one line"}}},
      {"rods_spread.json", {{"/frame/rods/spread", 8, "face of 285.175 x 183 mm"}}},
      {"frame_springs.json",
       {{"/frame/springs/disc/inner", 11, "smaller than the disc"},
        {"/frame/springs/disc/inner", 11, "a rod of 16 mm"},
        {"/frame/springs/disc/reduced_thickness", 14, "at most the thickness"},
        {"/frame/springs/parallel", 16, "a whole number from 1 to 20"},
        {"/frame/springs/series", 17, "a whole number from 1 to 100"}}},
      {"frame_helical.json",
       {{"/frame/springs/helical/mean_diameter", 11, "14 mm wide inside"},
        {"/frame/springs/helical/solid_length", 14, "less than the length without load"},
        {"/frame/springs/series", 16, "count disc springs"}}},
      {"wall_edges.json",
       {{"/box/end_walls/0/joint/left", 10, "did you mean \"welded\""},
        {"/box/end_walls/0/joint/right/0", 12, "from 30 to 10 mm"},
        {"/box/end_walls/0/joint/right/1/to", 13, "190 mm long"},
        {"/box/end_walls/0/joint/right/2", 14, "over the part from 100 to 200 mm"},
        {"/box/end_walls/0/joint/botom", 16, "did you mean \"bottom\""},
        {"/box/end_walls/0/joint/top", 17, "or a list of the parts"},
        {"/box/end_walls/0/in_plane", 19, "one of free, held"},
        {"/box/end_walls/1", 21, "or bow and at_force; or rigid"},
        {"/box/end_walls/1", 21, "bow alone"},
        {"/box/end_walls/1/joint", 21, "one of folded, welded, screwed"}}},
      {"walls_not_held.json",
       {{"/box/end_walls/0/joint", 8, "open at every edge"},
        {"/box/end_walls/1/joint", 9, "swing open"}}},
      {"wall_ribs.json",
       {{"/box/end_walls/0/ribs/0/at", 11, "from 1.5 to 188.5 mm"},
        {"/box/end_walls/0/ribs/1/at", 12, "150 mm wide inside"},
        {"/box/end_walls/0/ribs/2/height", 13, "above zero"},
        {"/box/end_walls/0/ribs/3", 14, "on the one at 95 mm"},
        {"/box/end_walls/0/ribs/4/along", 15, "one of width, height"},
        {"/box/end_walls/0/ribs/4/height", 15, "kg is a unit of mass"},
        {"/box/end_walls/0/ribs/5/height", 16, "no \"height\""},
        {"/box/end_walls/0/ribs/5/at", 16, "above zero"},
        {"/box/end_walls/1", 19, "or bow and at_force; or rigid"},
        {"/box/end_walls/1/ribs/0/joint", 20, "one of welded, screwed"},
        {"/box/end_walls/1/second_plate/thickness", 21, "no \"thickness\""},
        {"/box/end_walls/1/second_plate/thikness", 21, "did you mean \"thickness\""}}},
      {"wall_stiffened_twice.json",
       {{"/box/end_walls/ribs/1", 11, "on the one at 95 mm"},
        {"/box/end_walls/second_plate", 13, "ribs or a second plate, not both"}}},
      {"three_walls.json", {{"/box/end_walls", 5, "a list of 3"}}},
      {"rows_uneven.json",
       {{"/rows", 3, "2 rows for 3 cells"}, {"/row", 4, "only where there is one row"}}},
      {"rows_gaps.json",
       {{"/box/inner/width", 6, "2 rows of 141 mm with 2 mm between: 284 mm"},
        {"/kit/0/where/1", 7, "2-wall, wall-3 ... 4-wall"},
        {"/placed/0/gap", 8, "2 rows of 2"}}},
      {"rows_values.json",
       {{"/rows/count", 3, "from 1 to 8"},
        {"/rows/betwen", 3, "did you mean \"between\""},
        {"/rows/between", 3, "not below zero"}}},
      {"frame_form.csv",
       {{"/frame/springs/disc", 0, "no \"disc\""},
        {"/rows", 6, "without quotes"},
        {"/frame/plates/height", 8, "a blank"},
        {"/frame/rods/size", 9, "one of M4, M5"},
        {"/frame/rods/at/2/1", 13, "kgf is a unit of force"},
        {"/frame/force", 15, "together with its unit"}}},
      {"form.csv",
       {{"/box", 0, "no \"box\""},
        {"/series", 2, "a list of 1"},
        {"/cell/face/height", 4, "kg is a unit of mass"},
        {"", 7, "counted from 0"},
        {"/title", 8, "as text"},
        {"/kit/0", 9, "0.8x14"}}},
  };
  return files;
}

}  // namespace

TEST_CASE("broken builds: all problems in one run, each with its place") {
  for (const BrokenFile& file : broken_files()) {
    const ReadBuild read = testing::read_fixture(std::string("broken/") + file.name);
    INFO(file.name << "\n" << testing::all_of(read));
    CHECK_FALSE(read.build);
    REQUIRE(read.problems.size() == file.problems.size());
    for (std::size_t index = 0; index < file.problems.size(); ++index) {
      const Problem& problem = read.problems[index];
      const Expected& expected = file.problems[index];
      CHECK(problem.place.pointer == expected.pointer);
      CHECK(problem.place.line == expected.line);
      CHECK_THAT(problem.found + " / " + problem.allowed + " / " + problem.mend,
                 Catch::Matchers::ContainsSubstring(expected.part));
      CHECK_FALSE(problem.allowed.empty());
    }
  }
}

}  // namespace stackfit::cli
