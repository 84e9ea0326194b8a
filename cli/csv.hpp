// SPDX-License-Identifier: GPL-3.0-or-later
//
// Tables as spreadsheet programs write them.
//
// For: fields with their line and column; comma, semicolon or tab, quotes, CRLF.
// Not for: what the columns mean (cells_csv.hpp, paths.hpp).
#pragma once

#include <string>
#include <vector>

#include "cli/read_build.hpp"
#include "cli/text_file.hpp"

namespace stackfit::cli {

struct CsvField {
  std::string text;
  int line = 0;
  int column = 0;  ///< in letters, of the field's first letter
  bool quoted = false;
};
using CsvRow = std::vector<CsvField>;

struct Csv {
  char separator = ',';
  /// With the semicolon between fields, a comma in a number is its decimal point.
  bool decimal_comma = false;
  CsvRow header;
  std::vector<CsvRow> rows;  ///< without empty lines
  std::vector<Problem> problems;
};

[[nodiscard]] Csv read_csv(const TextFile& file);

/// A field as it is written: quoted where it holds what parts fields or lines.
[[nodiscard]] std::string csv_field(const std::string& text, char separator = ',');

/// `63,5` -> `63.5` where the table writes decimals with a comma and this is a number so written.
[[nodiscard]] std::string with_decimal_point(const Csv& csv, const std::string& text);

}  // namespace stackfit::cli
