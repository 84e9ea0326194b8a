// SPDX-License-Identifier: GPL-3.0-or-later
//
// The header of a table of measurements: names of columns, with their units.
//
// For: "edge (mm)", "edge_mm", "edge [mm]", "edge mm"; a name alone has no unit.
// Not for: what the columns mean (cells_csv.hpp, points_csv.hpp), or the fields as such (csv.hpp).
#pragma once

#include <cstddef>
#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "cli/csv.hpp"

namespace stackfit::cli {

struct CsvColumn {
  std::size_t name = 0;  ///< place in the list of known names
  std::string unit;      ///< empty where the header gives none
};

struct CsvHeader {
  std::vector<std::optional<CsvColumn>> columns;  ///< of each field; empty: unknown or unnamed
  std::vector<Problem> problems;                  ///< unknown names, names met twice

  [[nodiscard]] bool has(std::size_t name) const;
};

/// `example` is a column as it could be written, such as `edge (mm)`.
[[nodiscard]] CsvHeader read_csv_header(const Csv& csv, const std::string& file,
                                        std::span<const std::string_view> names,
                                        std::string_view example);

/// A number takes the header's unit; a field with a unit of its own keeps that.
[[nodiscard]] nlohmann::ordered_json csv_quantity(const Csv& csv, const CsvColumn& column,
                                                  const CsvField& field);

}  // namespace stackfit::cli
