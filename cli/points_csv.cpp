// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/points_csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <iterator>
#include <map>
#include <optional>
#include <set>
#include <string_view>
#include <utility>

#include "cli/csv.hpp"
#include "cli/csv_header.hpp"
#include "cli/nearest_key.hpp"
#include "cli/quantity.hpp"
#include "cli/words.hpp"

namespace stackfit::cli {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::array<std::string_view, 7> column_names{"cell", "face",     "x",   "y",
                                                       "z",    "common_z", "note"};
using Name = std::size_t;  ///< place in column_names
constexpr Name cell_name = 0;
constexpr Name face_name = 1;
constexpr Name x_name = 2;
constexpr Name y_name = 3;
constexpr Name z_name = 4;
constexpr Name common_z_name = 5;

/// One line of the table while it is taken apart.
class LineReader {
 public:
  LineReader(const Csv& csv, const CsvHeader& header, std::string file, PointsTable& table)
      : csv_(csv), header_(header), file_(std::move(file)), table_(table) {}

  void read(const CsvRow& row) {
    PointsLine line;
    line.place = place_of(row.front());
    const auto z = quantity(row, table_.common_z ? common_z_name : z_name);
    if (!z) return;  // a place that was not read
    line.z = *z;
    const bool has_face = read_face(row, line);
    const bool has_cell = read_cell(row, line);
    const auto x = needed(row, x_name);
    const auto y = needed(row, y_name);
    if (!has_face || !has_cell || !x || !y) return;
    line.x = *x;
    line.y = *y;
    table_.lines.push_back(std::move(line));
  }

 private:
  [[nodiscard]] TextPlace place_of(const CsvField& field) const {
    return {file_, field.line, field.column, ""};
  }

  [[nodiscard]] std::optional<std::size_t> index_of(Name name) const {
    for (std::size_t i = 0; i < header_.columns.size(); ++i) {
      if (header_.columns[i] && header_.columns[i]->name == name) return i;
    }
    return std::nullopt;
  }

  // Empty where the field is blank or the line ends before it.
  [[nodiscard]] const CsvField* field(const CsvRow& row, Name name) const {
    const auto index = index_of(name);
    if (!index || *index >= row.size() || is_blank(row[*index].text)) return nullptr;
    return &row[*index];
  }

  [[nodiscard]] std::optional<PointsField> quantity(const CsvRow& row, Name name) const {
    const CsvField* const said = field(row, name);
    if (said == nullptr) return std::nullopt;
    return PointsField{csv_quantity(csv_, *header_.columns[*index_of(name)], *said),
                       place_of(*said)};
  }

  void missing(const CsvRow& row, Name name, std::string allowed) {
    table_.problems.push_back({place_of(row.front()),
                               fmt::format("a height without its {}", column_names.at(name)),
                               std::move(allowed), "fill it in, or take the line out"});
  }

  std::optional<PointsField> needed(const CsvRow& row, Name name) {
    auto found = quantity(row, name);
    if (!found) missing(row, name, "where on the face it was read, from the middle");
    return found;
  }

  bool read_cell(const CsvRow& row, PointsLine& line) {
    if (!table_.by_cell) return true;
    const CsvField* const said = field(row, cell_name);
    if (said == nullptr) {
      missing(row, cell_name, "the id of the cell it was read on");
      return false;
    }
    line.cell = said->text;
    return true;
  }

  bool read_face(const CsvRow& row, PointsLine& line) {
    const CsvField* const said = field(row, face_name);
    if (said == nullptr) {
      missing(row, face_name, "front or back");
      return false;
    }
    line.front = same_words(said->text, "front");
    if (line.front || same_words(said->text, "back")) return true;
    const auto near = nearest_word(said->text, {"front", "back"});
    table_.problems.push_back({place_of(*said), fmt::format("the face \"{}\"", said->text),
                               "front or back",
                               near ? fmt::format("did you mean \"{}\"?", *near)
                                    : "the side with the label is as good a front as the other"});
    return false;
  }

  const Csv& csv_;
  const CsvHeader& header_;
  std::string file_;
  PointsTable& table_;
};

// False where lines could not be told apart.
bool check_columns(const CsvHeader& header, const TextPlace& place, PointsTable& table) {
  std::string lacking;
  for (const Name name : {face_name, x_name, y_name}) {
    if (!header.has(name)) lacking += fmt::format(" {}", column_names.at(name));
  }
  const bool z = header.has(z_name);
  if (!z && !header.has(common_z_name)) lacking += " z";
  if (!lacking.empty()) {
    table.problems.push_back({place, "a table without a column:" + lacking,
                              "face,x (mm),y (mm),z (mm), and cell where it is of several cells",
                              "write the names into its first line"});
  }
  if (z && header.has(common_z_name)) {
    table.problems.push_back({place, "both z and common_z",
                              "z for each face by itself, common_z for both in one system",
                              "keep one of the two columns"});
  }
  return table.problems.empty();
}

/// What was read of each table, by its path.
class Loader {
 public:
  using PathOf = std::function<std::string(std::string)>;
  using ReadTable = std::function<TextFile(const std::string&)>;

  Loader(Json& document, Places& places, const PathOf& path_of, const ReadTable& read_table)
      : document_(document), places_(places), path_of_(path_of), read_table_(read_table) {}

  LoadedPoints load() {
    const auto cells = document_.find("cells");
    if (cells == document_.end() || !cells->is_array()) return std::move(out_);
    for (std::size_t i = 0; i < cells->size(); ++i) {
      Json& cell = (*cells)[i];
      const auto points = cell.is_object() ? cell.find("points") : cell.end();
      if (!cell.is_object() || points == cell.end() || !points->is_string()) continue;
      if (!is_blank(points->get<std::string>())) replace(*points, i, id_of_cell(cell, i));
    }
    tell_of_lines_passed_over();
    return std::move(out_);
  }

 private:
  struct Known {
    PointsTable table;
    std::string file;
    std::set<std::string> cells;  ///< whose points were taken
  };

  // A file that is not there is complained of where it is named.
  Known& table_at(const std::string& path, const std::string& pointer) {
    const auto known = tables_.find(path);
    if (known != tables_.end()) return known->second;
    const TextFile file = read_table_(path);
    Known& read = tables_[path];
    if (file.problem && file.problem->place.line == 0) {
      read.table.problems.push_back({places_.value(pointer),
                                     fmt::format("{}: {}", file.name, file.problem->found),
                                     file.problem->allowed, file.problem->mend});
      out_.problems.push_back(read.table.problems.back());
      return read;
    }
    read.table = read_points_table(file);
    read.file = file.name;
    out_.files.push_back(path);
    std::ranges::copy(read.table.problems, std::back_inserter(out_.problems));
    return read;
  }

  void replace(Json& points, std::size_t index, const std::string& id) {
    const std::string pointer =
        child_pointer(child_pointer(child_pointer("", std::string_view("cells")), index),
                      std::string_view("points"));
    Known& known = table_at(path_of_(points.get<std::string>()), pointer);
    known.cells.insert(id);
    Json taken = Json::object();
    Places where;
    for (const PointsLine& line : known.table.lines) {
      if (!known.table.by_cell || line.cell == id) add(taken, where, line);
    }
    if (taken.empty()) {
      if (known.table.problems.empty()) {
        out_.problems.push_back({places_.value(pointer),
                                 fmt::format("no points of cell {} in {}", id, known.file),
                                 fmt::format("lines with {} in the column \"cell\"", id),
                                 "is it spelt as the cell's id?"});
      }
      return;
    }
    if (known.table.common_z) taken["common_z"] = true;
    points = std::move(taken);
    places_.adopt(where, "", pointer);
  }

  static void add(Json& taken, Places& where, const PointsLine& line) {
    const std::string_view face = line.front ? "front" : "back";
    const std::string list = child_pointer("", face);
    if (!taken.contains(face)) {
      taken[std::string(face)] = Json::array();
      where.set_value(list, line.place);
    }
    Json& points = taken[std::string(face)];
    const std::string point = child_pointer(list, points.size());
    where.set_value(point, line.place);
    std::size_t at = 0;
    Json value = Json::array();
    for (const PointsField* field : {&line.x, &line.y, &line.z}) {
      value.push_back(field->value);
      where.set_value(child_pointer(point, at++), field->place);
    }
    points.push_back(std::move(value));
  }

  // A table may hold more cells than the build; a slip in an id would look the same.
  void tell_of_lines_passed_over() {
    for (const auto& [path, known] : tables_) {
      std::map<std::string, TextPlace> others;
      for (const PointsLine& line : known.table.lines) {
        if (known.table.by_cell && !known.cells.contains(line.cell)) {
          others.emplace(line.cell, line.place);
        }
      }
      for (const auto& [id, place] : others) {
        out_.notes.push_back(
            {place, fmt::format("points of \"{}\", a cell that does not name this table: "
                                "passed over",
                                id)});
      }
    }
  }

  Json& document_;
  Places& places_;
  const PathOf& path_of_;
  const ReadTable& read_table_;
  std::map<std::string, Known> tables_;
  LoadedPoints out_;
};

}  // namespace

PointsTable read_points_table(const TextFile& file) {
  PointsTable table;
  if (file.problem) {
    table.problems.push_back(*file.problem);
    return table;
  }
  const Csv csv = read_csv(file);
  const CsvHeader header = read_csv_header(csv, file.name, column_names, "x (mm)");
  table.problems = csv.problems;
  std::ranges::copy(header.problems, std::back_inserter(table.problems));
  if (!check_columns(header, {file.name, 1, 1, ""}, table)) return table;
  table.by_cell = header.has(cell_name);
  table.common_z = header.has(common_z_name);
  LineReader reader(csv, header, file.name, table);
  for (const CsvRow& row : csv.rows) reader.read(row);
  if (table.lines.empty() && table.problems.empty()) {
    table.problems.push_back({{file.name, 1, 1, ""},
                              "a header without points",
                              "one line below the header for each reading",
                              ""});
  }
  return table;
}

LoadedPoints load_points(Json& document, Places& places,
                         const std::function<std::string(std::string)>& path_of,
                         const std::function<TextFile(const std::string&)>& read_table) {
  if (!document.is_object()) return {};
  return Loader(document, places, path_of, read_table).load();
}

std::string id_of_cell(const Json& cell, std::size_t index) {
  const auto id = cell.find("id");
  if (id != cell.end() && id->is_number_integer()) return id->dump();
  if (id != cell.end() && id->is_string()) return id->get<std::string>();
  return std::to_string(index + 1);
}

}  // namespace stackfit::cli
