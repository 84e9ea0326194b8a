// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/csv_header.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>

#include "cli/nearest_key.hpp"
#include "cli/quantity.hpp"
#include "cli/words.hpp"

namespace stackfit::cli {
namespace {

using Names = std::span<const std::string_view>;

std::optional<std::size_t> find_name(Names names, std::string_view written) {
  const auto found =
      std::ranges::find_if(names, [&](auto name) { return same_words(name, written); });
  if (found == names.end()) return std::nullopt;
  return static_cast<std::size_t>(found - names.begin());
}

std::optional<CsvColumn> with_unit(Names names, std::string_view name, std::string_view unit) {
  const auto found = find_name(names, trimmed(name));
  if (!found) return std::nullopt;
  return CsvColumn{*found, std::string(trimmed(unit))};
}

std::optional<CsvColumn> column_of(Names names, std::string_view header) {
  if (const auto name = find_name(names, header)) return CsvColumn{*name, ""};
  const std::size_t bracket = header.find_first_of("([");
  if (bracket != std::string_view::npos) {
    const std::string_view rest = header.substr(bracket + 1);
    return with_unit(names, header.substr(0, bracket),
                     rest.substr(0, std::min(rest.find_first_of(")]"), rest.size())));
  }
  const std::size_t last = header.find_last_of("_ ");
  if (last == std::string_view::npos) return std::nullopt;
  const std::string_view unit = trimmed(header.substr(last + 1));
  if (find_unit(unit) == nullptr) return std::nullopt;
  return with_unit(names, header.substr(0, last), unit);
}

Problem unknown_column(const TextPlace& place, Names names, const std::string& header,
                       std::string_view example) {
  const std::vector<std::string> known(names.begin(), names.end());
  const auto near = nearest_word(header.substr(0, header.find_first_of("([_ ")), known);
  return {place, fmt::format("the column \"{}\"", header),
          fmt::format("one of {}, with a unit such as \"{}\"", fmt::join(known, ", "), example),
          near ? fmt::format("did you mean \"{}\"?", *near) : ""};
}

// Figures in the first line, or another kind of table: one complaint for all of it.
bool names_nothing(const CsvHeader& header) {
  return header.problems.size() > 1 &&
         std::ranges::none_of(header.columns,
                              [](const auto& column) { return column.has_value(); }) &&
         std::ranges::all_of(header.problems,
                             [](const Problem& problem) { return problem.mend.empty(); });
}

}  // namespace

bool CsvHeader::has(std::size_t name) const {
  return std::ranges::any_of(columns, [&](const auto& c) { return c && c->name == name; });
}

CsvHeader read_csv_header(const Csv& csv, const std::string& file, Names names,
                          std::string_view example) {
  CsvHeader out;
  std::set<std::size_t> seen;
  for (const CsvField& field : csv.header) {
    out.columns.push_back(column_of(names, field.text));
    const TextPlace place{file, field.line, field.column, ""};
    const auto& column = out.columns.back();
    if (!column) {
      if (!field.text.empty()) {
        out.problems.push_back(unknown_column(place, names, field.text, example));
      }
    } else if (!seen.insert(column->name).second) {
      out.problems.push_back({place, fmt::format("a second column \"{}\"", names[column->name]),
                              "each column once", ""});
    }
  }
  if (names_nothing(out)) {
    out.problems.resize(1);
    out.problems.front().found =
        fmt::format("a first line that names no column: {} ...", out.problems.front().found);
    out.problems.front().mend = "write the names of the columns above the figures";
  }
  return out;
}

nlohmann::ordered_json csv_quantity(const Csv& csv, const CsvColumn& column,
                                    const CsvField& field) {
  const std::string text = with_decimal_point(csv, field.text);
  const auto number = read_number(text);
  if (!number) return text;
  if (!column.unit.empty()) return text + ' ' + column.unit;
  return *number;
}

}  // namespace stackfit::cli
