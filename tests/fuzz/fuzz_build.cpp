// SPDX-License-Identifier: GPL-3.0-or-later
//
// A build file, with the tables it names, from text to Build. The file is called build.json, or as
// the input's first line says; its name tells what it is read for:
//     === cells.csv          a table of cells, where cells alone are enough
//     === order.json         what is still to be made
// Lines below `=== --set` are path=value each.
//
// Held: 1 a build or problems, never both or neither; 2 a problem says where, what was found and
// what is allowed, its place is in the file, and it is safe to print; 3 an accepted build has
// finite figures of the right sign, sizes, spans the right way up, tables that rise; 4 what was
// read, written down and read again, is the same build.
#include <cstdint>
#include <string>
#include <vector>

#include "cli/file_reader.hpp"
#include "cli/paths.hpp"
#include "cli/read_build.hpp"
#include "tests/fuzz/build_figures.hpp"
#include "tests/fuzz/hold.hpp"
#include "tests/fuzz/reading.hpp"

namespace {

using namespace stackfit;
using namespace stackfit::cli;
using stackfit::fuzz::BuildFigures;
using stackfit::fuzz::Files;
using stackfit::fuzz::hold;

constexpr const char* sets_name = "--set";

BuildNeeds needs_of(const std::string& name) {
  if (name.starts_with("order")) return BuildNeeds::to_order;
  return name.starts_with("cells") ? BuildNeeds::cells : BuildNeeds::whole_row;
}

// As the input's first line names it.
std::string name_of_build(std::string_view text) {
  static constexpr std::string_view mark = "=== ";
  if (!text.starts_with(mark)) return "build.json";
  return std::string(text.substr(mark.size(), text.find('\n') - mark.size()));
}

std::vector<PathValue> sets_in(const Files& files) {
  std::vector<PathValue> sets;
  std::string_view rest;
  const std::string text = files.text(sets_name);
  for (rest = text; !rest.empty();) {
    const std::size_t end = std::min(rest.find('\n'), rest.size());
    const PathRead read = read_path_value(rest.substr(0, end));
    hold(read.value.has_value() != !read.problem.empty(), "--set is read, or refused with a word");
    if (read.value) sets.push_back(*read.value);
    rest.remove_prefix(std::min(end + 1, rest.size()));
  }
  return sets;
}

ReadBuild read(const BuildSource& source, const Files& files) {
  const FileReader reader = [&](const std::string& name) { return files.read(name); };
  return read_build(source, {reader, reader});
}

bool is_whole(const ReadBuild& read, BuildNeeds needs) {
  return needs == BuildNeeds::whole_row || read.document.contains("box") ||
         read.document.contains("frame");
}

// Contract of save_build.hpp: the copy stands alone, and gives the same figures.
void hold_read_again(const ReadBuild& once, const BuildSource& source, bool whole) {
  const Files saved("copy.json", once.document.dump() + "\n");
  const ReadBuild again = read({"copy.json", {}, {}, source.needs}, saved);
  for (const Problem& problem : again.problems) {
    hold(false, "what was read can be read again", describe(problem));
  }
  hold(BuildFigures(*once.build, whole).text() == BuildFigures(*again.build, whole).text(),
       "what was read again is the same build");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text = stackfit::fuzz::text_of(data, size);
  const std::string name = name_of_build(text);
  const Files files(name, text);
  const BuildSource source{name, {}, sets_in(files), needs_of(name)};
  const ReadBuild once = read(source, files);
  hold(once.build.has_value() == once.problems.empty(), "a build, or problems");
  stackfit::fuzz::hold_told(once.problems, once.notes, files);
  if (!once.build) return 0;
  const bool whole = is_whole(once, source.needs);
  hold(!whole || source.needs != BuildNeeds::whole_row || !once.build->cells.empty(),
       "a row has cells");
  hold_read_again(once, source, whole);
  return 0;
}
