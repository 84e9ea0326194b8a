// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/read_build.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <iterator>
#include <tuple>

#include "cli/blanks.hpp"
#include "cli/cells_csv.hpp"
#include "cli/convert_build.hpp"
#include "cli/explain_schema.hpp"
#include "cli/file_reader.hpp"
#include "cli/json_text.hpp"
#include "cli/options_build.hpp"
#include "cli/paths.hpp"
#include "cli/points_csv.hpp"
#include "cli/quantity.hpp"
#include "cli/text_file.hpp"
#include "cli/text_lines.hpp"
#include "cli/validate_schema.hpp"

namespace stackfit::cli {
namespace {

using Json = nlohmann::ordered_json;

// A file may be one word of megabytes; so much of what was found tells it.
constexpr std::size_t longest_told = 300;

constexpr const char* table_key = "measured";
constexpr const char* cells_key = "cells";

// The document on its way from text to build: each step adds to it or to the problems.
class Reading {
 public:
  Reading(const BuildSource& source, const BuildFiles& files) : source_(source), files_(files) {}

  ReadBuild read() {
    if (!open()) return std::move(out_);
    set_values(true);
    load_table();
    set_values(false);
    add_points();
    convert();
    return std::move(out_);
  }

 private:
  void add(std::vector<Problem> problems) {
    std::ranges::move(problems, std::back_inserter(out_.problems));
  }

  // False where there is no document to go on with.
  bool open() {
    if (!source_.file.empty()) return open_file();
    if (source_.options.empty()) {
      out_.problems.push_back({{"the command line", 0, 0, ""},
                               "no build",
                               "a build file, or options such as --cells, --face and --box",
                               "stackfit new writes a build file by asking"});
      return false;
    }
    out_.document = Json::object();
    places_ = Places(all_options);
    for (const PathValue& option : source_.options) {
      auto problem = set_path(out_.document, places_, option, {option_of(option.path), 0, 0, ""});
      if (problem) out_.problems.push_back(std::move(*problem));
    }
    return true;
  }

  bool open_file() {
    const TextFile file = files_.build(source_.file);
    if (file.problem) {
      out_.problems.push_back(*file.problem);
      return false;
    }
    out_.files.push_back(source_.file);
    if (is_form(file)) {
      FormText form = read_form(file);
      add(std::move(form.problems));
      out_.document = std::move(form.document);
      places_ = std::move(form.places);
      return true;
    }
    if (is_table(file)) return open_table(file);
    JsonText json = read_json_text(file);
    add(std::move(json.problems));
    places_ = std::move(json.places);
    if (!json.document) return false;
    out_.document = std::move(*json.document);
    return true;
  }

  // Where cells alone are enough, standard input may hold a table too.
  [[nodiscard]] bool is_table(const TextFile& file) const {
    if (source_.file.ends_with(".csv")) return true;
    const std::size_t first = file.text.find_first_not_of(" \t\r\n");
    return source_.needs == BuildNeeds::cells && source_.file == "-" &&
           first != std::string::npos && file.text[first] != '{' && file.text[first] != '/';
  }

  bool open_table(const TextFile& file) {
    if (source_.needs != BuildNeeds::cells) return refuse_table();
    out_.document = {{"stackfit", 1}};
    places_ = Places(file.name);
    take_table(read_cells_table(file));
    return true;
  }

  bool refuse_table() {
    out_.problems.push_back(
        {{source_.file, 1, 1, ""},
         "a table that is no build file",
         "JSON, or a table whose header is path,value",
         R"(for a table of cells, name it in the build file: "measured": "cells.csv")"});
    return false;
  }

  // The table of cells is named before it is read; all else may speak of its cells.
  void set_values(bool the_table) {
    for (const PathValue& set : source_.sets) {
      if ((set.path == table_key) != the_table) continue;
      auto problem = set_path(out_.document, places_, set, {"--set " + set.path, 0, 0, ""});
      if (problem) out_.problems.push_back(std::move(*problem));
    }
  }

  void load_table() {
    if (!out_.document.is_object()) return;
    const auto named = out_.document.find(table_key);
    if (named == out_.document.end() || !named->is_string()) return;
    const auto name = named->get<std::string>();
    if (is_blank(name)) return;
    const std::string pointer = child_pointer("", std::string_view(table_key));
    if (out_.document.contains(cells_key)) {
      out_.problems.push_back({places_.key(pointer), R"("measured" beside "cells")",
                               "the cells in one of the two", "keep one of them"});
      return;
    }
    const std::string path = beside_build(name);
    out_.files.push_back(path);
    out_.document.erase(table_key);
    TextFile file = files_.tables(path);
    // A file that is not there is complained of where it is named.
    if (file.problem && file.problem->place.line == 0) {
      file.problem->found = file.name + ": " + file.problem->found;
      file.problem->place = places_.value(pointer);
    }
    take_table(read_cells_table(file));
  }

  void take_table(CellsTable table) {
    table_failed_ = table.cells.empty() && !table.problems.empty();
    add(std::move(table.problems));
    out_.document[cells_key] = std::move(table.cells);
    places_.adopt(table.places, "", child_pointer("", std::string_view(cells_key)));
  }

  // Tables of heights take the place of their names.
  void add_points() {
    LoadedPoints loaded = load_points(
        out_.document, places_, [&](const std::string& name) { return beside_build(name); },
        files_.tables);
    add(std::move(loaded.problems));
    std::ranges::move(loaded.notes, std::back_inserter(out_.notes));
    std::ranges::move(loaded.files, std::back_inserter(out_.files));
  }

  [[nodiscard]] std::string beside_build(const std::string& name) const {
    const std::filesystem::path table(name);
    if (table.is_absolute() || source_.file.empty() || source_.file == "-") return name;
    return (std::filesystem::path(source_.file).parent_path() / table).string();
  }

  void convert() {
    WithoutBlanks clean = without_blanks(out_.document, places_);
    out_.document = std::move(clean.document);
    const BuildNeeds needs = needs_of_document();
    add(validate_schema(out_.document, clean.places, needs));
    if (!out_.document.is_object()) return;
    Converted converted = convert_build(out_.document, clean.places, needs);
    add(std::move(converted.problems));
    std::ranges::move(converted.notes, std::back_inserter(out_.notes));
    if (source_.file.empty()) name_options();
    if (table_failed_) forget_empty_list();
    put_in_order();
    if (out_.problems.empty()) out_.build = std::move(converted.build);
  }

  // Who speaks of a box is asked for all that goes into it.
  [[nodiscard]] BuildNeeds needs_of_document() const {
    if (source_.needs == BuildNeeds::to_order) return source_.needs;
    const bool boxed = out_.document.is_object() &&
                       (out_.document.contains("box") || out_.document.contains("frame"));
    return boxed ? BuildNeeds::whole_row : source_.needs;
  }

  // Why the table has no cells was said; that the list is empty follows from it.
  void forget_empty_list() {
    std::erase_if(out_.problems, [](const Problem& problem) {
      return problem.place.pointer == child_pointer("", std::string_view(cells_key));
    });
  }

  // Where no file was read, what is missing is an option, not a key.
  void name_options() {
    for (Problem& problem : out_.problems) {
      if (problem.place.file != all_options || problem.place.pointer.empty()) continue;
      std::string path = problem.place.pointer.substr(1);
      std::ranges::replace(path, '/', '.');
      const std::string option = option_of(path);
      if (option != all_options) problem.mend = "give " + option;
    }
  }

  // As one reads: the build file from top to bottom, then other files.
  void put_in_order() {
    std::ranges::stable_sort(out_.problems, {}, [&](const Problem& problem) {
      const TextPlace& place = problem.place;
      return std::tuple(place.file != source_.file, place.file, place.line, place.column);
    });
  }

  const BuildSource& source_;
  const BuildFiles& files_;
  Places places_;
  bool table_failed_ = false;
  ReadBuild out_;
};

}  // namespace

BuildFiles files_on_disk() {
  return {read_text_file, read_table_file};
}

ReadBuild read_build(const BuildSource& source) {
  return read_build(source, files_on_disk());
}

ReadBuild read_build(const BuildSource& source, const BuildFiles& files) {
  return Reading(source, files).read();
}

std::string describe(const Problem& problem) {
  static constexpr TextLines::Indent indent{2, 4};
  const TextPlace& place = problem.place;
  std::string where = place.file;
  if (place.line > 0) where += fmt::format(":{}:{}", place.line, place.column);
  if (!place.pointer.empty()) {
    where += (where.empty() ? "" : "  ") + shortened(place.pointer, longest_told);
  }
  // What stands in a file may hold anything, and this goes to a terminal.
  TextLines lines(false);
  lines.verbatim(printable(where));
  lines.wrapped(printable("found: " + shortened(problem.found, longest_told)), indent);
  lines.wrapped(printable("allowed: " + problem.allowed), indent);
  if (!problem.mend.empty()) {
    lines.wrapped(printable("try: " + shortened(problem.mend, longest_told)), indent);
  }
  return lines.text();
}

}  // namespace stackfit::cli
