// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/cells_csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>
#include <set>
#include <string>
#include <string_view>

#include "cli/csv.hpp"
#include "cli/nearest_key.hpp"
#include "cli/quantity.hpp"
#include "cli/words.hpp"

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
    ColumnName{"charge", "/charge", false},
    ColumnName{"temperature", "/temperature", false},
    ColumnName{"voltage", "/voltage", false},
    ColumnName{"capacity", "/capacity", false},
    ColumnName{"resistance", "/resistance", false},
    ColumnName{"signs", "/signs", true},
    ColumnName{"note", "/note", true},
};

struct Column {
  const ColumnName* name = nullptr;
  std::string unit;
};

const ColumnName* find_name(std::string_view written) {
  const auto* const found = std::ranges::find_if(
      column_names, [&](const ColumnName& column) { return same_words(column.name, written); });
  return found == column_names.end() ? nullptr : found;
}

// "edge (mm)", "edge [mm]", "edge mm", "edge_mm"; a name alone has no unit.
std::optional<Column> column_of(std::string_view header) {
  if (const ColumnName* name = find_name(header)) return Column{name, ""};
  const std::size_t bracket = header.find_first_of("([");
  if (bracket != std::string_view::npos) {
    const std::string_view rest = header.substr(bracket + 1);
    const std::string_view unit = rest.substr(0, std::min(rest.find_first_of(")]"), rest.size()));
    const ColumnName* name = find_name(trimmed(header.substr(0, bracket)));
    if (name != nullptr) return Column{name, std::string(trimmed(unit))};
    return std::nullopt;
  }
  const std::size_t last = header.find_last_of("_ ");
  if (last == std::string_view::npos) return std::nullopt;
  const ColumnName* name = find_name(trimmed(header.substr(0, last)));
  const std::string_view unit = trimmed(header.substr(last + 1));
  if (name == nullptr || find_unit(unit) == nullptr) return std::nullopt;
  return Column{name, std::string(unit)};
}

std::vector<std::string> known_names() {
  std::vector<std::string> names;
  names.reserve(column_names.size());
  for (const ColumnName& column : column_names) names.emplace_back(column.name);
  return names;
}

std::vector<std::optional<Column>> read_header(const Csv& csv, CellsTable& table) {
  std::vector<std::optional<Column>> columns;
  std::set<const ColumnName*> seen;
  for (const CsvField& field : csv.header) {
    columns.push_back(column_of(field.text));
    const TextPlace place{table.places.file(), field.line, field.column, ""};
    if (!columns.back()) {
      if (field.text.empty()) continue;
      const std::string name = field.text.substr(0, field.text.find_first_of("([_ "));
      const auto near = nearest_word(name, known_names());
      table.problems.push_back({place, fmt::format("the column \"{}\"", field.text),
                                fmt::format("one of {}, with a unit such as \"edge (mm)\"",
                                            fmt::join(known_names(), ", ")),
                                near ? fmt::format("did you mean \"{}\"?", *near) : ""});
    } else if (!seen.insert(columns.back()->name).second) {
      table.problems.push_back({place,
                                fmt::format("a second column \"{}\"", columns.back()->name->name),
                                "each column once", ""});
    }
  }
  return columns;
}

// A number takes the header's unit; a field with a unit of its own keeps that.
nlohmann::ordered_json field_value(const Csv& csv, const Column& column, const CsvField& field) {
  if (column.name->is_text) return field.text;
  const std::string text = with_decimal_point(csv, field.text);
  const auto number = read_number(text);
  if (!number) return text;
  if (!column.unit.empty()) return text + ' ' + column.unit;
  return *number;
}

void add_cell(const Csv& csv, const std::vector<std::optional<Column>>& columns, const CsvRow& row,
              CellsTable& table) {
  const std::string cell = child_pointer("", table.cells.size());
  nlohmann::ordered_json value = nlohmann::ordered_json::object();
  table.places.set_value(cell, {table.places.file(), row.front().line, row.front().column, cell});
  for (std::size_t index = 0; index < std::min(row.size(), columns.size()); ++index) {
    const auto& column = columns[index];
    if (!column || is_blank(row[index].text)) continue;
    const std::string pointer = cell + column->name->pointer;
    value[nlohmann::ordered_json::json_pointer(column->name->pointer)] =
        field_value(csv, *column, row[index]);
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
  const auto columns = read_header(csv, table);
  for (const CsvRow& row : csv.rows) add_cell(csv, columns, row, table);
  if (csv.rows.empty() && table.problems.empty()) {
    table.problems.push_back({{file.name, 1, 1, ""},
                              "a header without cells",
                              "one line below the header for each cell",
                              ""});
  }
  return table;
}

}  // namespace stackfit::cli
