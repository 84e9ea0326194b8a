// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/manual/page_words.hpp"

#include <algorithm>
#include <stdexcept>
#include <string>

namespace stackfit::cli::manual {
namespace {

constexpr NamedText build_file{
    "BUILD",
    "JSON with comments, described by share/stackfit/build.schema.json below the folder that "
    "stackfit was installed to; or a spreadsheet saved as CSV with the columns path,value,note. "
    "Quantities are written as on the bench: \"0.8 mm\", \"1/32 in\", \"240 kgf\", \"30-40 %\"."};
constexpr NamedText cells_table{
    "a table of cells",
    "CSV, one cell a line; a build file may name one in place of its list of cells."};

const std::vector<PageWords>& all_words() {
  static const std::vector<PageWords> words{
      {"",
       "compression and fit of prismatic cells in a box",
       "From measured cells, a box or clamp frame, the shims on hand and the maker's data sheet, "
       "stackfit computes the pressure on the cells' faces over charge, temperature and age, "
       "column by column over faces, sheets, pads and walls that bend. "
       "Whatever was not said is assumed; a star in an answer marks what rests on that, and "
       "--assumed lists each assumption with its span, its reason and its worth.",
       "answered with a warning; the page of each command says which",
       {build_file, cells_table}},
      {"pick",
       "",
       "Chooses from the shims on hand what goes into which gap, so that the face pressure stays "
       "in its band in every state in which the build is used. "
       "Says whether the last cell can be slid in or the end wall goes on last, how sure all of "
       "it is, and, where no choice is right, which single change mends it. "
       "The build is a file, or is told by options.",
       "the plan leaves the band or breaks a rule, there is none, or its chance is "
       "below --need-chance",
       {build_file, cells_table}},
      {"pressure",
       "",
       "Says what a build sees exactly as its sheets are placed, state by state; nothing is "
       "chosen. "
       "A build that pick wrote with --save has its sheets placed.",
       "the build leaves the band or breaks a rule, or its chance is below --need-chance",
       {build_file, cells_table}},
      {"size",
       "",
       "Orders a box or clamp frame before it is made: the inner length with its tolerance, end "
       "walls from the stock, the smallest kit of sheets that serves every batch within the data "
       "sheet's tolerance, and the parts to cut.",
       "no order as asked can be given; the nearest offer is printed",
       {build_file, cells_table}},
      {"gauge",
       "",
       "Tells the face pressure of a row that stands from how far an end wall bows, how wide the "
       "gap between the walls is, how long a frame's springs are, or at which torque its nuts "
       "turn on; as a span, with the readings' errors in it. "
       "A build whose sheets are placed is held against what was read.",
       "the pressure may be outside the band, the readings contradict each other, or the build "
       "does not foretell what was read",
       {build_file, cells_table}},
      {"check",
       "",
       "Judges cells one by one by signs, swelling, edge, voltage, capacity, resistance and "
       "growth: no fault found, watch, or set aside, each with the rule and its figure. "
       "Thickness cannot clear a cell. "
       "A row that is placed in a box is judged as well, with what to change.",
       "a cell is to be watched or set aside, or the row is not right in its box",
       {build_file,
        cells_table,
        {"LOG", "CSV of dated readings; a copy with today's lines goes beside it."}}},
      {"new",
       "",
       "Asks for a build in shop words and writes its file; prints a form, or a sheet that shows "
       "where the calipers go. "
       "A file that is there already is left as it is.",
       "",
       {{"FILE", "A build file as JSON; where the name ends in .csv, with --blank, as a table."}}},
      {"softness",
       "",
       "Fits the squeeze law of a cell, p = A (exp(B squeeze / nominal) - 1), to thicknesses read "
       "between boards under several loads, with the spans of A and B. "
       "Without a table it says how to test, and prints a form.",
       "something in the readings, or in what they say of the band, wants looking at",
       {{"CSV", "One reading a line; the form that is printed without it has the columns."},
        build_file}},
      {"sort",
       "",
       "Sorts a pile of measured cells into several packs and says what it could not make alike.",
       "a pack does not pass, or cells were set aside",
       {{"CSV", "A table of cells, one a line."}, build_file}},
  };
  return words;
}

}  // namespace

const PageWords& words_of(std::string_view command) {
  const auto& words = all_words();
  const auto found = std::ranges::find(words, command, &PageWords::command);
  if (found == words.end()) {
    throw std::logic_error("cli/manual/page_words.cpp says nothing of the command " +
                           std::string(command));
  }
  return *found;
}

std::vector<NamedText> environment() {
  return {{"NO_COLOR", "Set to anything: no colours, also on a terminal."},
          {"TERM", "Not set, or \"dumb\": no colours."}};
}

}  // namespace stackfit::cli::manual
