// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/cells_csv.hpp"

#include <algorithm>
#include <array>
#include <iterator>
#include <optional>
#include <string>
#include <string_view>

#include "cli/csv.hpp"
#include "cli/csv_header.hpp"
#include "cli/quantity.hpp"

namespace stackfit::cli {
namespace {

struct ColumnName {
  const char* name;
  const char* pointer;  ///< below the cell
  bool is_text;
};

constexpr std::array column_names{
    ColumnName{"id", "/id", true},
    ColumnName{"edge", "/edge", false},
    ColumnName{"middle", "/middle", false},
    ColumnName{"boards", "/boards", false},
    ColumnName{"pressed", "/pressed/value", false},
    ColumnName{"pressed_force", "/pressed/force", false},
    ColumnName{"straightedge_front", "/straightedge/front", false},
    ColumnName{"straightedge_back", "/straightedge/back", false},
    ColumnName{"points", "/points", true},
    ColumnName{"charge", "/charge", false},
    ColumnName{"temperature", "/temperature", false},
    ColumnName{"voltage", "/voltage", false},
    ColumnName{"capacity", "/capacity", false},
    ColumnName{"resistance", "/resistance", false},
    ColumnName{"signs", "/signs", true},
    ColumnName{"note", "/note", true},
};

std::vector<std::string_view> known_names() {
  std::vector<std::string_view> names;
  names.reserve(column_names.size());
  for (const ColumnName& column : column_names) names.emplace_back(column.name);
  return names;
}

nlohmann::ordered_json field_value(const Csv& csv, const CsvColumn& column, const CsvField& field) {
  if (column_names.at(column.name).is_text) return field.text;
  return csv_quantity(csv, column, field);
}

void add_cell(const Csv& csv, const std::vector<std::optional<CsvColumn>>& columns,
              const CsvRow& row, CellsTable& table) {
  const std::string cell = child_pointer("", table.cells.size());
  nlohmann::ordered_json value = nlohmann::ordered_json::object();
  table.places.set_value(cell, {table.places.file(), row.front().line, row.front().column, cell});
  for (std::size_t index = 0; index < std::min(row.size(), columns.size()); ++index) {
    const auto& column = columns[index];
    if (!column || is_blank(row[index].text)) continue;
    const char* const below = column_names.at(column->name).pointer;
    const std::string pointer = cell + below;
    value[nlohmann::ordered_json::json_pointer(below)] = field_value(csv, *column, row[index]);
    table.places.set_value(pointer,
                           {table.places.file(), row[index].line, row[index].column, pointer});
  }
  table.cells.push_back(std::move(value));
}

}  // namespace

CellsTable read_cells_table(const TextFile& file) {
  CellsTable table;
  table.places = Places(file.name);
  if (file.problem) {
    table.problems.push_back(*file.problem);
    return table;
  }
  const Csv csv = read_csv(file);
  table.problems = csv.problems;
  const CsvHeader header = read_csv_header(csv, file.name, known_names(), "edge (mm)");
  std::ranges::copy(header.problems, std::back_inserter(table.problems));
  for (const CsvRow& row : csv.rows) add_cell(csv, header.columns, row, table);
  if (csv.rows.empty() && table.problems.empty()) {
    table.problems.push_back({{file.name, 1, 1, ""},
                              "a header without cells",
                              "one line below the header for each cell",
                              ""});
  }
  return table;
}

}  // namespace stackfit::cli
