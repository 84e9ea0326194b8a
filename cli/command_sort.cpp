// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/command_sort.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <filesystem>
#include <iterator>
#include <optional>
#include <ostream>
#include <stdexcept>
#include <utility>

#include "cli/build_input.hpp"
#include "cli/days.hpp"
#include "cli/paths.hpp"
#include "cli/patience.hpp"
#include "cli/read_pile.hpp"
#include "cli/save_packs.hpp"
#include "cli/view_sort.hpp"
#include "cli/whole_file.hpp"

namespace stackfit::cli {
namespace {

constexpr int most_packs = 5'000;
constexpr int most_in_a_pack = 512;  // as in a row

// A count as typed; what is wrong with it is told together with the pile's problems.
std::optional<int> count_of(const std::string& text, const char* option, int most,
                            const char* example, std::vector<Problem>& problems) {
  int count = 0;
  const char* const end = text.data() + text.size();
  const auto read = std::from_chars(text.data(), end, count);
  if (read.ec == std::errc() && read.ptr == end && count >= 1 && count <= most) {
    return count;
  }
  problems.push_back({{option, 0, 0, ""},
                      text.empty() ? "nothing" : fmt::format("\"{}\"", text),
                      fmt::format("a whole number from 1 to {}", most),
                      fmt::format("for example {} {}", option, example)});
  return {};
}

// Two reads: one pack's build, then the pile, whose cells are of the build's kind.
struct Inputs {
  std::optional<ReadBuild> box;
  ReadBuild pile;
  UnitChoice units;
};

// What beside the cells themselves a pile takes from the build.
nlohmann::ordered_json kind_of_cell(const ReadBuild& box) {
  auto kind = nlohmann::ordered_json::object();
  for (const char* key : {"cell", "measured_charge", "title"}) {
    if (box.document.contains(key)) kind[key] = box.document[key];
  }
  return kind;
}

// Beside a table these say what it has no column for; beside a build they change a value of it.
std::vector<PathValue> sets_of(const SortOptions& options, std::vector<Problem>& problems) {
  std::vector<PathValue> sets;
  const auto take = [&](const std::string& value, const char* path) {
    if (!value.empty()) sets.push_back({path, value});
  };
  take(options.thickness, "cell.thickness");
  take(options.charge, "measured_charge");
  if (const std::size_t cross = options.face.find_first_of("xX"); cross != std::string::npos) {
    take(options.face.substr(0, cross), "cell.face.width");
    take(options.face.substr(cross + 1), "cell.face.height");
  }
  for (const std::string& assignment : options.sets) {
    const PathRead read = read_path_value(assignment);
    if (read.value) {
      sets.push_back(*read.value);
    } else {
      problems.push_back(
          {{"--set", 0, 0, ""}, fmt::format("\"{}\"", assignment), read.problem, ""});
    }
  }
  return sets;
}

void check_face(const SortOptions& options, std::vector<Problem>& problems) {
  if (!options.face.empty() && options.face.find_first_of("xX") == std::string::npos) {
    problems.push_back({{"--face", 0, 0, ""},
                        fmt::format("\"{}\"", options.face),
                        "width x height of the large flat side",
                        "for example --face 152x188"});
  }
}

// That a build's own cells were not measured says nothing: the pile's take their place.
std::vector<ReadingNote> notes_of(const ReadBuild& box) {
  std::vector<ReadingNote> notes = box.notes;
  std::erase_if(
      notes, [](const ReadingNote& note) { return note.text.starts_with("no cell was measured"); });
  return notes;
}

// Empty where something cannot be used; every problem has then been told.
std::optional<Inputs> read_inputs(const SortOptions& options, Console& console,
                                  std::vector<Problem> problems) {
  Inputs inputs;
  const UnitChoiceRead units = read_unit_choice(options.units);
  if (!units.problem.empty()) {
    problems.push_back({{"--units", 0, 0, ""}, options.units, units.problem, ""});
  }
  inputs.units = units.choice;
  PileSource pile{options.table, {}, {}};
  std::vector<PathValue> sets = sets_of(options, problems);
  if (options.build.empty()) {
    pile.sets = std::move(sets);
  } else {
    inputs.box = read_build({options.build, {}, std::move(sets), BuildNeeds::whole_row});
    std::ranges::copy(inputs.box->problems, std::back_inserter(problems));
    if (inputs.box->build) {
      pile.beside = kind_of_cell(*inputs.box);
    }
  }
  inputs.pile = read_pile(pile);
  std::ranges::copy(inputs.pile.problems, std::back_inserter(problems));
  if (!problems.empty()) {
    refuse(console, problems);
    return {};
  }
  if (inputs.box) {
    tell(console, notes_of(*inputs.box));
  }
  tell(console, inputs.pile.notes);
  return inputs;
}

// A pack has as many cells as its build; said beside it, it has to be the same.
std::optional<int> cells_each(const std::optional<int>& said, const Inputs& inputs,
                              Console& console) {
  const int in_build =
      inputs.box ? static_cast<int>(inputs.box->build->cells.size()) : said.value_or(0);
  if (!said || *said == in_build) {
    return in_build;
  }
  refuse(console, {{{"--cells", 0, 0, ""},
                    fmt::format("{} cells in a pack, but {} in the build", *said, in_build),
                    "as many as the build has: its gaps and its box are for those",
                    "leave --cells out, or name a build for that many"}});
  return {};
}

// 0, or the exit status with which to end.
int save(const SortOptions& options, const Inputs& inputs, const SortAnswer& answer,
         Console& console) {
  if (options.save.empty()) {
    return 0;
  }
  std::vector<std::string> read = inputs.pile.files;
  if (inputs.box) {
    std::ranges::copy(inputs.box->files, std::back_inserter(read));
  }
  try {
    const std::vector<FileToWrite> files = pack_files(options.save, options.table, inputs.pile,
                                                      inputs.box ? &*inputs.box : nullptr, answer);
    write_whole_files(files, read);
    console.err << fmt::format("packs written: {}{}\n", files.front().path,
                               files.size() > 1 ? " to " + files.back().path : "");
  } catch (const std::runtime_error& error) {
    console.err << "stackfit: " << error.what() << "; no pack was written\n";
    return exit_failed;
  }
  return 0;
}

std::string view_of(const SortAnswer& answer, const SortOptions& options, const TextStyle& style) {
  constexpr int indent = 2;
  if (options.json) {
    return sort_json(answer).dump(indent) + "\n";
  }
  return options.assumed ? sort_assumed_text(answer, style) : sort_text(answer, style);
}

SortAnswer sorted(const Inputs& inputs, const SortAsked& asked, Console& console) {
  const Patience patience(console, "sorting, and choosing shims for every pack ...");
  return answer_sort(*inputs.pile.build, asked);
}

void check_saving(const SortOptions& options, std::vector<Problem>& problems) {
  if (options.table != "-" || options.save.empty() || !options.build.empty()) {
    return;
  }
  problems.push_back({{"--save", 0, 0, ""},
                      "a pile from standard input",
                      "a file, whose lines are copied",
                      "name the table"});
}

}  // namespace

int run_sort(const SortOptions& options, Console& console) {
  if (options.table.empty()) {
    console.err << "No pile was given: name a table of cells, for example\n\n"
                   "  stackfit sort fixtures/sort/pile.csv --packs 3 --cells 8\n";
    return exit_unusable;
  }
  std::vector<Problem> problems;
  const auto packs = count_of(options.packs, "--packs", most_packs, "3", problems);
  std::optional<int> each;
  if (options.build.empty() || !options.cells.empty()) {
    each = count_of(options.cells, "--cells", most_in_a_pack, "8", problems);
  }
  check_face(options, problems);
  check_saving(options, problems);
  const std::optional<Inputs> read = read_inputs(options, console, std::move(problems));
  if (!read) {
    return exit_unusable;
  }
  const Inputs& inputs = *read;
  each = cells_each(each, inputs, console);
  if (!each) {
    return exit_unusable;
  }
  SortAsked asked{*packs, *each, day_today(), {}};
  if (inputs.box) {
    asked.box = *inputs.box->build;
  }
  SortAnswer answer = sorted(inputs, asked, console);
  if (answer.title.empty() && options.table != "-") {
    answer.title = std::filesystem::path(options.table).filename().string();
  }
  const int saved = save(options, inputs, answer, console);
  const TextStyle style{.colour = console.colour, .all = options.all, .units = inputs.units};
  const bool warns = !answer.all_pass() || !answer.aside.empty();
  const int shown =
      deliver(console, view_of(answer, options, style), warns ? exit_warning : exit_inside);
  return saved == 0 ? shown : saved;
}

}  // namespace stackfit::cli
