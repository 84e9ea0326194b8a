// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/log_csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <iterator>
#include <map>
#include <optional>
#include <set>
#include <string_view>
#include <utility>

#include "cli/convert_parts.hpp"
#include "cli/csv.hpp"
#include "cli/csv_header.hpp"
#include "cli/days.hpp"
#include "cli/nearest_key.hpp"

namespace stackfit::cli {
namespace {

using Json = nlohmann::ordered_json;

enum LogColumn : std::size_t {
  date_column,
  cell_column,
  edge_column,
  middle_column,
  boards_column,
  pressed_column,
  pressed_force_column,
  charge_column,
  temperature_column,
  voltage_column,
  capacity_column,
  resistance_column,
  signs_column,
  note_column,
  log_columns
};

constexpr std::array<std::string_view, log_columns> names{
    "date",   "cell",        "edge",    "middle",   "boards",     "pressed", "pressed_force",
    "charge", "temperature", "voltage", "capacity", "resistance", "signs",   "note"};
// Where each stands in a reading of the build file; the day is none of its keys.
constexpr std::array<const char*, log_columns> pointers{
    nullptr,          "/id",     "/edge",        "/middle",  "/boards",   "/pressed/value",
    "/pressed/force", "/charge", "/temperature", "/voltage", "/capacity", "/resistance",
    "/signs",         "/note"};
constexpr const char* new_header =
    "date,cell,edge (mm),middle (mm),boards (mm),pressed (mm),pressed_force (N),charge (%),"
    "temperature (C),voltage (V),capacity (Ah),resistance (mohm),signs\n";

bool is_text(std::size_t column) {
  return column == cell_column || column == signs_column || column == note_column;
}

// What a reading has for a column, in the program's unit; empty where nothing was read.
struct Entry {
  Dimension dimension = Dimension::length;
  std::optional<double> value;
};

Entry entry_of(const CellReading& cell, std::size_t column) {
  const auto& pressed = cell.pressed;
  switch (column) {
    case edge_column:
      return {Dimension::length, cell.edge_mm};
    case middle_column:
      return {Dimension::length, cell.middle_mm};
    case boards_column:
      return {Dimension::length, cell.boards_mm};
    case pressed_column:
      return {Dimension::length, pressed ? std::optional(pressed->thickness_mm) : std::nullopt};
    case pressed_force_column:
      return {Dimension::force, pressed ? std::optional(pressed->force_n) : std::nullopt};
    case charge_column:
      return {Dimension::charge, cell.charge};
    case temperature_column:
      return {Dimension::temperature, cell.temperature_c};
    case voltage_column:
      return {Dimension::voltage, cell.voltage_v};
    case capacity_column:
      return {Dimension::capacity, cell.capacity_ah};
    case resistance_column:
      return {Dimension::resistance, cell.resistance_mohm};
    default:
      return {};
  }
}

class LogReader {
 public:
  LogReader(const TextFile& file, const LogOf& of)
      : file_(file), of_(of), csv_(read_csv(file)), places_(file.name) {}

  ReadLog read() {
    out_.exists = true;
    out_.text = file_.text;
    out_.problems = csv_.problems;
    header_ = read_csv_header(csv_, file_.name, names, "edge (mm)");
    std::ranges::copy(header_.problems, std::back_inserter(out_.problems));
    for (const std::size_t needed : {date_column, cell_column}) {
      if (!header_.has(needed) && !csv_.header.empty()) problem_no_column(needed);
    }
    if (!header_.has(date_column) || !header_.has(cell_column)) return std::move(out_);
    for (const CsvRow& row : csv_.rows) add_row(row);
    convert_rows();
    // A pointer into lines counted from 0 helps nobody who looks at a table.
    for (Problem& problem : out_.problems) problem.place.pointer.clear();
    std::ranges::stable_sort(out_.problems, {}, [](const Problem& problem) {
      return std::pair(problem.place.line, problem.place.column);
    });
    return std::move(out_);
  }

 private:
  // One line of the table with what is needed to compare lines.
  struct Line {
    TextPlace place;
    std::optional<Day> day;
    TextPlace day_place;
  };

  void problem_no_column(std::size_t column) {
    out_.problems.push_back({{file_.name, 1, 1, ""},
                             fmt::format("a log without a column \"{}\"", names[column]),
                             "the columns date and cell, and those that were read",
                             "a header such as date,cell,edge (mm),middle (mm),charge (%)"});
  }

  void add_row(const CsvRow& row) {
    const std::string pointer = child_pointer("", rows_.size());
    Line line{{file_.name, row.front().line, row.front().column, ""}, {}, {}};
    line.day_place = line.place;
    Json value = Json::object();
    places_.set_value(pointer, {file_.name, line.place.line, line.place.column, pointer});
    bool dated = false;
    for (std::size_t i = 0; i < std::min(row.size(), header_.columns.size()); ++i) {
      const auto& column = header_.columns[i];
      const CsvField& field = row[i];
      if (!column || is_blank(field.text)) continue;
      if (column->name == date_column) {
        dated = true;
        line.day_place = {file_.name, field.line, field.column, ""};
        line.day = day_of(field, line.day_place);
        continue;
      }
      const char* const below = pointers.at(column->name);
      value[Json::json_pointer(below)] =
          is_text(column->name) ? Json(field.text) : csv_quantity(csv_, *column, field);
      places_.set_value(pointer + below, {file_.name, field.line, field.column, pointer + below});
    }
    if (!dated) {
      out_.problems.push_back(
          {line.place, "a line without a date", "a day as YYYY-MM-DD in each line", ""});
    }
    if (!value.contains("id")) {
      out_.problems.push_back(
          {line.place, "a line without a cell", "the cell's mark, as in the list of cells", ""});
    }
    rows_.push_back(std::move(value));
    lines_.push_back(std::move(line));
  }

  std::optional<Day> day_of(const CsvField& field, const TextPlace& place) {
    const Parsed<Day> day = read_day(field.text);
    if (!day.ok()) {
      out_.problems.push_back({place, fmt::format("\"{}\"", field.text), day.allowed, day.mend});
    } else if (*day.value > of_.today) {
      out_.problems.push_back({place, day_text(*day.value),
                               fmt::format("a day up to {}, on which the cells of the build were "
                                           "measured",
                                           day_text(of_.today)),
                               "look at the year; or say that day with --date"});
    }
    return day.value;
  }

  void convert_rows() {
    Gathering gathering{places_, {}, {}};
    const Node root(rows_, "", gathering);
    std::size_t index = 0;
    for (const Node& node : root.items()) {
      DatedReading dated{{}, convert_logged_reading(node, of_.type)};
      const Line& line = lines_[index++];
      if (!node.has("id")) continue;
      look_for_cell(dated.reading.id, line.place);
      if (!line.day) continue;
      dated.day = *line.day;
      look_at_order(dated.reading.id, line);
      out_.lines.push_back(std::move(dated));
    }
    std::ranges::move(gathering.problems, std::back_inserter(out_.problems));
    std::ranges::move(gathering.notes, std::back_inserter(out_.notes));
  }

  void look_for_cell(const std::string& id, const TextPlace& place) {
    if (std::ranges::find(of_.cell_ids, id) != of_.cell_ids.end() || !unknown_.insert(id).second) {
      return;
    }
    const auto near = nearest_word(id, of_.cell_ids);
    out_.notes.push_back(
        {place, fmt::format("no cell \"{}\" is in the build: its lines are kept, and not used{}",
                            id, near ? fmt::format(" (did you mean \"{}\"?)", *near) : "")});
  }

  // Lines of one cell stand in the order of their days, one for each day.
  void look_at_order(const std::string& id, const Line& line) {
    const auto [before, is_first] = last_of_.emplace(id, line);
    if (is_first) return;
    const std::string last = day_text(*before->second.day);
    if (*line.day < *before->second.day) {
      out_.problems.push_back({line.day_place,
                               fmt::format("{} behind {} (line {}) of cell {}", day_text(*line.day),
                                           last, before->second.place.line, id),
                               "the days of each cell in order",
                               "mend the date, or move the line up"});
      return;
    }
    if (*line.day == *before->second.day) {
      out_.problems.push_back({line.day_place,
                               fmt::format("a second line of cell {} on {}", id, last),
                               "one line for each cell and day",
                               fmt::format("line {} has it already", before->second.place.line)});
    }
    before->second = line;
  }

  const TextFile& file_;
  const LogOf& of_;
  Csv csv_;
  CsvHeader header_;
  Places places_;
  Json rows_ = Json::array();
  std::vector<Line> lines_;
  std::map<std::string, Line> last_of_;
  std::set<std::string> unknown_;
  ReadLog out_;
};

std::string number_field(double number, bool decimal_comma) {
  std::string text = fmt::format("{:.10g}", number);
  if (decimal_comma) std::ranges::replace(text, '.', ',');
  return text;
}

// Today's lines in the columns of a table.
class LogWriter {
 public:
  LogWriter(const Csv& csv, const CsvHeader& header, Day today)
      : csv_(csv), header_(header), today_(today) {}

  [[nodiscard]] std::string line(const CellReading& cell) const {
    std::string text;
    for (std::size_t i = 0; i < header_.columns.size(); ++i) {
      if (i > 0) text += csv_.separator;
      if (const auto& column = header_.columns[i]) text += field(cell, *column);
    }
    return text;
  }

  // Readings of this cell that no column takes.
  [[nodiscard]] std::vector<std::string> without_column(const CellReading& cell) const {
    std::vector<std::string> out;
    for (std::size_t column = edge_column; column < signs_column; ++column) {
      if (entry_of(cell, column).value && !header_.has(column)) out.emplace_back(names[column]);
    }
    if (cell.signs && !header_.has(signs_column)) out.emplace_back(names[signs_column]);
    return out;
  }

 private:
  [[nodiscard]] std::string field(const CellReading& cell, const CsvColumn& column) const {
    if (column.name == date_column) return day_text(today_);
    if (column.name == cell_column) return csv_field(cell.id, csv_.separator);
    if (column.name == signs_column) return csv_field(cell.signs.value_or(""), csv_.separator);
    const Entry entry = entry_of(cell, column.name);
    return entry.value ? quantity(*entry.value, entry.dimension, column.unit) : "";
  }

  // In the header's unit; without one, in the unit of a bare number, or with its own.
  [[nodiscard]] std::string quantity(double value, Dimension dimension,
                                     const std::string& header_unit) const {
    const Unit* unit =
        header_unit.empty() ? bare_unit(dimension) : find_unit(dimension, header_unit);
    if (unit != nullptr) return number_field(in_unit(value, *unit), csv_.decimal_comma);
    const UnitChoice usual;
    const Unit& own = usual.of(dimension);
    return number_field(in_unit(value, own), csv_.decimal_comma) + ' ' + own.name;
  }

  const Csv& csv_;
  const CsvHeader& header_;
  Day today_;
};

bool has_line(const CellLog& lines, const std::string& id, Day day) {
  return std::ranges::any_of(
      lines, [&](const DatedReading& line) { return line.reading.id == id && line.day == day; });
}

}  // namespace

ReadLog read_log(const std::string& path, const LogOf& of) {
  std::error_code error;
  if (!std::filesystem::exists(path, error) && !error) return {};
  return read_log(read_text_file(path), of);
}

ReadLog read_log(const TextFile& file, const LogOf& of) {
  if (file.problem) {
    ReadLog out;
    out.exists = true;
    out.problems.push_back(*file.problem);
    return out;
  }
  return LogReader(file, of).read();
}

LogCopy with_lines_of_today(const ReadLog& log, const std::vector<CellReading>& cells, Day today) {
  LogCopy copy{log.exists ? log.text : new_header, 0, {}};
  const TextFile file = check_text("log", copy.text);
  const Csv csv = read_csv(file);
  const CsvHeader header = read_csv_header(csv, file.name, names, "edge (mm)");
  const LogWriter writer(csv, header, today);
  const std::string line_end = copy.text.find("\r\n") != std::string::npos ? "\r\n" : "\n";
  if (!copy.text.empty() && copy.text.back() != '\n') copy.text += line_end;
  std::set<std::string> left_out;
  for (const CellReading& cell : cells) {
    if (has_line(log.lines, cell.id, today)) continue;
    copy.text += writer.line(cell) + line_end;
    ++copy.added;
    for (std::string& name : writer.without_column(cell)) left_out.insert(std::move(name));
  }
  copy.left_out.assign(left_out.begin(), left_out.end());
  return copy;
}

std::string copy_name(const std::string& path, Day today) {
  const std::filesystem::path whole(path);
  std::string stem = whole.stem().string();
  const std::string day = day_text(today);
  const std::size_t tail = day.size() + 1;
  if (stem.size() > tail && stem[stem.size() - tail] == '-' &&
      read_day(std::string_view(stem).substr(stem.size() - day.size())).ok()) {
    stem.resize(stem.size() - tail);
  }
  return (whole.parent_path() / (stem + "-" + day + whole.extension().string())).string();
}

}  // namespace stackfit::cli
