// SPDX-License-Identifier: GPL-3.0-or-later
//
// From text to a Build: JSON with comments, the spreadsheet form, --set and plain options.
//
// For: reading, with every problem found in one run and each with its place.
// Not for: corrections or defaults (solver/row.hpp), or for writing (save_build.hpp).
#pragma once

#include <cstdint>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "solver/build.hpp"

namespace stackfit::cli {

/// Where a thing was said. Line and column count from 1; 0 where there is none (options).
struct TextPlace {
  std::string file;
  int line = 0;
  int column = 0;
  std::string pointer;  ///< JSON pointer, e.g. /cells/3/edge
};

/// One thing that makes the input unusable.
struct Problem {
  TextPlace place;
  std::string found;    ///< what stands there
  std::string allowed;  ///< what may stand there
  std::string mend;     ///< what to do, or the nearest key; may be empty
};

/// What was read in a way the person should know of: `kg` read as kgf, and the like.
struct ReadingNote {
  TextPlace place;
  std::string text;
};

/// `name=value` of --set, or path and value of one line of the form.
struct PathValue {
  std::string path;   ///< dotted, from 0: cells.3.edge; `kit.+` appends
  std::string value;  ///< JSON where it parses as one, else a string
};

/// What a command cannot do without.
enum class BuildNeeds : std::uint8_t {
  whole_row,  ///< cells with their face and thickness, in a box or a frame
  cells,      ///< cells alone; a table of them is a build. With a box all of it is needed
  to_order    ///< cells with their face and thickness; of box or frame what is settled already
};

/// The build's sources. Exactly one of file and text document is used; then sets, in order.
struct BuildSource {
  std::string file;                ///< path, "-" for standard input, empty for none
  std::vector<PathValue> options;  ///< from --cells, --face, ... (place: the option's name)
  std::vector<PathValue> sets;     ///< from --set
  BuildNeeds needs = BuildNeeds::whole_row;
};

struct ReadBuild {
  std::optional<Build> build;  ///< empty when there are problems
  std::vector<Problem> problems;
  std::vector<ReadingNote> notes;
  nlohmann::ordered_json document;  ///< what was validated, --set and options worked in
  std::vector<std::string> files;   ///< every file read: --save and --page never write over them
};

/// Reads, validates against the schema and converts. Does not throw on bad input: the problems
/// say what is wrong. Nothing is written.
[[nodiscard]] ReadBuild read_build(const BuildSource& source);

/// One block of text for a problem: `file:line:column /pointer`, found, allowed, what to do.
[[nodiscard]] std::string describe(const Problem& problem);

}  // namespace stackfit::cli
