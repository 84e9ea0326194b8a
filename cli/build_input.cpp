// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/build_input.hpp"

#include <fmt/format.h>

#include <filesystem>

#include <algorithm>
#include <iterator>
#include <ostream>
#include <utility>

#include "cli/answer_words.hpp"
#include "cli/paths.hpp"
#include "cli/text_lines.hpp"

namespace stackfit::cli {
namespace {

// More than anybody mends before the next run: a wrong file may have thousands.
constexpr std::size_t most_problems_shown = 50;

// What stands between the options and a build, gathered so that all of it is told in one run.
struct Source {
  BuildSource source;
  std::vector<Problem> problems;
  std::vector<ReadingNote> notes;
};

void add_set(Source& gathered, const std::string& assignment) {
  const PathRead read = read_path_value(assignment);
  if (read.value) {
    gathered.source.sets.push_back(*read.value);
  } else {
    gathered.problems.push_back(
        {{"--set", 0, 0, ""}, fmt::format("\"{}\"", assignment), read.problem, ""});
  }
}

// Cells alone are held against their own median, and that is said with the answer.
void forget_mean_thickness(OptionsRead& read) {
  std::erase_if(read.values,
                [](const PathValue& value) { return value.path.starts_with("cell.thickness."); });
  std::erase_if(read.notes,
                [](const ReadingNote& note) { return note.place.pointer == "/cell/thickness"; });
}

void add_plain_options(Source& gathered, const BuildInput& options) {
  if (!options.plain.any()) {
    return;
  }
  if (!options.file.empty()) {
    gathered.problems.push_back({{all_options, 0, 0, ""},
                                 "a build file and options such as --cells together",
                                 "one of the two",
                                 "change single values of the file with --set path=value"});
    return;
  }
  OptionsRead read = read_options(options.plain);
  if (options.needs == BuildNeeds::cells && options.plain.thickness.empty()) {
    forget_mean_thickness(read);
  }
  gathered.source.options = std::move(read.values);
  gathered.problems = std::move(read.problems);
  gathered.notes = std::move(read.notes);
}

Source gather(const BuildInput& options) {
  Source gathered;
  gathered.source.file = options.file;
  gathered.source.needs = options.needs;
  add_plain_options(gathered, options);
  for (const std::string& assignment : options.sets) {
    add_set(gathered, assignment);
  }
  return gathered;
}

}  // namespace

std::string file_name(const BuildInput& input) {
  return input.file == "-" ? "standard input"
                           : std::filesystem::path(input.file).filename().string();
}

int refuse(Console& console, const std::vector<Problem>& problems) {
  const std::size_t shown = std::min(problems.size(), most_problems_shown);
  for (std::size_t i = 0; i < shown; ++i) {
    console.err << describe(problems[i]);
  }
  console.err << counted(static_cast<int>(problems.size()), "problem")
              << (shown < problems.size() ? fmt::format(", the first {} shown", shown) : "")
              << ": nothing was worked out\n";
  return exit_unusable;
}

void tell(Console& console, const std::vector<ReadingNote>& notes) {
  TextLines lines(false);
  for (const ReadingNote& note : notes) {
    const TextPlace& place = note.place;
    std::string text = "note: " + place.file;
    if (place.line > 0) {
      text += fmt::format(":{}:{}", place.line, place.column);
    }
    if (!place.pointer.empty()) {
      text += ' ' + place.pointer;
    }
    lines.wrapped(text + ": " + printable(note.text), {.first = 0, .next = 2});
  }
  console.err << lines.text();
}

std::optional<BuildTaken> take_build(const BuildInput& input, Console& console,
                                     std::vector<Problem> more) {
  const UnitChoiceRead units = read_unit_choice(input.units);
  Source gathered = gather(input);
  if (!units.problem.empty()) {
    gathered.problems.push_back({{"--units", 0, 0, ""}, input.units, units.problem, ""});
  }
  if (!gathered.problems.empty()) {
    std::ranges::move(more, std::back_inserter(gathered.problems));
    refuse(console, gathered.problems);
    return {};
  }
  ReadBuild read = read_build(gathered.source);
  std::ranges::move(more, std::back_inserter(read.problems));
  if (!read.problems.empty()) {
    refuse(console, read.problems);
    return {};
  }
  tell(console, gathered.notes);
  tell(console, read.notes);
  return BuildTaken{std::move(read), units.choice};
}

}  // namespace stackfit::cli
