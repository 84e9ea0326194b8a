// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/read_pile.hpp"

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <tuple>

#include "cli/blanks.hpp"
#include "cli/cells_csv.hpp"
#include "cli/convert_parts.hpp"
#include "cli/file_reader.hpp"
#include "cli/paths.hpp"
#include "cli/points_csv.hpp"
#include "cli/text_file.hpp"
#include "cli/validate_schema.hpp"

namespace stackfit::cli {
namespace {

using Json = nlohmann::ordered_json;

// So many full rows: a pallet has some hundred cells, and more than this is a wrong file.
constexpr std::size_t rows_in_a_pile = 20;

class ReadingPile {
 public:
  ReadingPile(const PileSource& source, const BuildFiles& files) : source_(source), files_(files) {}

  ReadBuild read() {
    const TextFile file = files_.build(source_.table);
    CellsTable table = read_cells_table(file);
    if (!file.problem) out_.files.push_back(source_.table);
    add(std::move(table.problems));
    if (!out_.problems.empty()) return std::move(out_);
    out_.document = source_.beside.is_object() ? source_.beside : Json::object();
    out_.document["stackfit"] = 1;
    out_.document["cells"] = std::move(table.cells);
    places_ = Places(file.name);
    places_.adopt(table.places, "", "/cells");
    set_values();
    add_points();
    convert();
    return std::move(out_);
  }

 private:
  void add(std::vector<Problem> problems) {
    std::ranges::move(problems, std::back_inserter(out_.problems));
  }

  void set_values() {
    for (const PathValue& set : source_.sets) {
      auto problem = set_path(out_.document, places_, set, {"--set " + set.path, 0, 0, ""});
      if (problem) out_.problems.push_back(std::move(*problem));
    }
  }

  void add_points() {
    LoadedPoints loaded = load_points(
        out_.document, places_, [&](const std::string& name) { return beside_pile(name); },
        files_.tables);
    add(std::move(loaded.problems));
    std::ranges::move(loaded.notes, std::back_inserter(out_.notes));
    std::ranges::move(loaded.files, std::back_inserter(out_.files));
  }

  [[nodiscard]] std::string beside_pile(const std::string& name) const {
    const std::filesystem::path table(name);
    if (table.is_absolute() || source_.table == "-") return name;
    return (std::filesystem::path(source_.table).parent_path() / table).string();
  }

  void convert() {
    WithoutBlanks clean = without_blanks(out_.document, places_);
    out_.document = std::move(clean.document);
    add(validate_schema(out_.document, clean.places, BuildNeeds::cells));
    Converted converted = convert_pile(out_.document, clean.places);
    add(std::move(converted.problems));
    std::ranges::move(converted.notes, std::back_inserter(out_.notes));
    std::ranges::stable_sort(out_.problems, {}, [](const Problem& problem) {
      return std::tuple(problem.place.line, problem.place.column);
    });
    if (out_.problems.empty()) out_.build = std::move(converted.build);
  }

  const PileSource& source_;
  const BuildFiles& files_;
  Places places_;
  ReadBuild out_;
};

}  // namespace

ReadBuild read_pile(const PileSource& source) {
  return read_pile(source, files_on_disk());
}

ReadBuild read_pile(const PileSource& source, const BuildFiles& files) {
  return ReadingPile(source, files).read();
}

Converted convert_pile(const Json& document, const Places& places) {
  Gathering gathering{places, {}, {}};
  const Node root(document, "", gathering);
  Converted out;
  Build& build = out.build;
  build.title = root.text("title").value_or("");
  if (const auto cell = root.child("cell")) build.cell = convert_cell_type(*cell);
  build.cells = convert_cells(root, build.cell, rows_in_a_pile, BuildNeeds::cells);
  if (const auto charge = root.child("measured_charge")) {
    build.measured_charge = convert_measured_charge(*charge);
  }
  out.problems = std::move(gathering.problems);
  out.notes = std::move(gathering.notes);
  return out;
}

}  // namespace stackfit::cli
