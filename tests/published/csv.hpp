// SPDX-License-Identifier: GPL-3.0-or-later
//
// Tables of published figures, from fixtures/published.
//
// For: tests. Lines that start with # are comments (they name the source), the first other
// line names the columns, a field in double quotes may hold commas and doubled quotes.
// Not for: what people measure (cli reads that, with their units and their mistakes).
#pragma once

#include <charconv>
#include <cstddef>
#include <fstream>
#include <functional>
#include <map>
#include <stdexcept>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

namespace stackfit::published {

/// One line of a table: column name to text.
using Row = std::map<std::string, std::string, std::less<>>;

/// The fields of one line, quotes taken off.
inline std::vector<std::string> split_line(std::string_view line) {
  std::vector<std::string> fields{""};
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (c == '"' && quoted && i + 1 < line.size() && line[i + 1] == '"') {
      fields.back() += line[++i];
    } else if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      fields.emplace_back();
    } else {
      fields.back() += c;
    }
  }
  return fields;
}

/// All rows of fixtures/published/`name`. Throws std::runtime_error where the file is missing
/// or a line has another number of fields than the header.
inline std::vector<Row> read_table(const std::string& name) {
  std::ifstream file(std::string(STACKFIT_FIXTURES_DIR "/published/") + name);
  if (!file) {
    throw std::runtime_error("no table " + name);
  }
  std::vector<std::string> columns;
  std::vector<Row> rows;
  for (std::string line; std::getline(file, line);) {
    if (!line.empty() && line.back() == '\r') {
      line.pop_back();
    }
    if (line.empty() || line.front() == '#') {
      continue;
    }
    const std::vector<std::string> fields = split_line(line);
    if (columns.empty()) {
      columns = fields;
      continue;
    }
    if (fields.size() != columns.size()) {
      std::string what = name;
      what += ": not " + std::to_string(columns.size()) + " fields in: ";
      throw std::runtime_error(what += line);
    }
    Row& row = rows.emplace_back();
    for (std::size_t i = 0; i < fields.size(); ++i) {
      row[columns[i]] = fields[i];
    }
  }
  return rows;
}

/// The text of a column. Throws std::runtime_error for a column the table does not have.
inline const std::string& text(const Row& row, std::string_view column) {
  const auto found = row.find(column);
  if (found == row.end()) {
    throw std::runtime_error("no column " + std::string(column));
  }
  return found->second;
}

/// The number in a column, all of the field. Throws std::runtime_error where it is none.
inline double number(const Row& row, const std::string& column) {
  const std::string& field = text(row, column);
  double value = 0;
  const char* const end = field.data() + field.size();
  const auto [stop, error] = std::from_chars(field.data(), end, value);
  if (error != std::errc() || stop != end) {
    throw std::runtime_error("not a number in column " + column + ": '" + field + "'");
  }
  return value;
}

}  // namespace stackfit::published
