// SPDX-License-Identifier: GPL-3.0-or-later
//
// The tables of measurements, from text to readings. The input's first line names the kind:
// cells, pile, points, log or press; the table stands below.
//
// Held: 1 every problem has a place in the table, says what was found and what is allowed, and is
// safe to print; 2 fields written down and read again are the same fields; 3 readings that are
// accepted are finite and have a size, the days of a log are in order and none is to come; 4 the
// copy of a log is its text with lines added, can be read again and then holds today's readings
// (contract of log_csv.hpp); 5 a pile has cells with figures.
#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <map>
#include <string>
#include <string_view>

#include "cli/cells_csv.hpp"
#include "cli/csv.hpp"
#include "cli/file_reader.hpp"
#include "cli/log_csv.hpp"
#include "cli/points_csv.hpp"
#include "cli/press_csv.hpp"
#include "cli/read_pile.hpp"
#include "solver/assumptions.hpp"
#include "tests/fuzz/build_figures.hpp"
#include "tests/fuzz/hold.hpp"
#include "tests/fuzz/reading.hpp"

namespace {

using namespace stackfit;
using namespace stackfit::cli;
using stackfit::fuzz::BuildFigures;
using stackfit::fuzz::Files;
using stackfit::fuzz::hold;
using stackfit::fuzz::hold_told;

constexpr const char* table_name = "table.csv";
constexpr Day today = std::chrono::year{2031} / 4 / 5;
constexpr double nominal_mm = 58.4;

void hold_same_fields(const CsvRow& a, const CsvRow& b) {
  // Fields behind the last that holds something say nothing.
  const auto text_at = [](const CsvRow& row, std::size_t at) {
    return at < row.size() ? row[at].text : std::string();
  };
  for (std::size_t i = 0; i < std::max(a.size(), b.size()); ++i) {
    hold(text_at(a, i) == text_at(b, i), "a field written down is the same when read again",
         text_at(a, i) + " | " + text_at(b, i));
  }
}

std::string line_of(const CsvRow& row, char separator) {
  std::string line;
  for (const CsvField& field : row) {
    if (&field != &row.front()) line += separator;
    line += csv_field(field.text, separator);
  }
  return line + '\n';
}

void try_fields(const TextFile& file) {
  const Csv csv = read_csv(file);
  // A table that begins like JSON is told to be one.
  if (!csv.problems.empty() || csv.header.empty() || csv.header[0].text.find_first_of("{/") == 0) {
    return;
  }
  std::string text = line_of(csv.header, csv.separator);
  for (const CsvRow& row : csv.rows) text += line_of(row, csv.separator);
  const Csv again = read_csv({table_name, text, {}});
  if (again.separator != csv.separator) return;  // a header of one field shows no separator
  for (const Problem& problem : again.problems) {
    hold(false, "a table written down has no problems", describe(problem));
  }
  hold_same_fields(csv.header, again.header);
  hold(csv.rows.size() == again.rows.size(), "a table written down has the same lines");
  for (std::size_t i = 0; i < csv.rows.size(); ++i) hold_same_fields(csv.rows[i], again.rows[i]);
}

void try_cells(const TextFile& file, const Files& files) {
  const CellsTable table = read_cells_table(file);
  hold_told(table.problems, {}, files);
  hold(table.cells.is_array(), "a table of cells is a list");
  hold(!table.cells.empty() || !table.problems.empty(), "cells, or problems");
}

void try_pile(const Files& files) {
  const FileReader reader = [&](const std::string& name) { return files.read(name); };
  const ReadBuild pile = read_pile({table_name, {}, {}}, {reader, reader});
  hold_told(pile.problems, pile.notes, files);
  hold(pile.build.has_value() == pile.problems.empty(), "a pile, or problems");
  if (!pile.build) return;
  hold(!pile.build->cells.empty(), "a pile has cells");
  hold(!BuildFigures(*pile.build, false).text().empty(), "a pile has figures");
}

void try_points(const TextFile& file, const Files& files) {
  const PointsTable table = read_points_table(file);
  hold_told(table.problems, {}, files);
  hold(!table.lines.empty() || !table.problems.empty(), "points, or problems");
  for (const PointsLine& line : table.lines) {
    hold(!table.by_cell || !line.cell.empty(), "a line of a table by cells has its cell");
    for (const PointsField* field : {&line.x, &line.y, &line.z}) {
      hold(field->value.is_string() || std::isfinite(field->value.get<double>()),
           "a height and its place are text or finite");
      fuzz::hold_place(field->place, files.text(table_name), "a field of points");
    }
  }
}

LogOf log_of() {
  LogOf of{{}, {"A", "B", "7"}, today};
  of.type.thickness.nominal_mm = nominal_mm;
  return of;
}

void hold_log(const CellLog& lines) {
  std::map<std::string, Day> last;
  for (const DatedReading& line : lines) {
    hold(line.day <= today, "no day of a log is to come", line.reading.id);
    const auto [before, is_first] = last.emplace(line.reading.id, line.day);
    hold(is_first || before->second < line.day, "the days of a cell are in order", line.reading.id);
    before->second = line.day;
    BuildFigures().reading(line.reading);
  }
}

CellReading read_today() {
  CellReading cell;
  cell.id = "B";
  cell.edge_mm = 58.51;
  cell.middle_mm = 58.93;
  cell.charge = 0.385;
  cell.temperature_c = 21.5;
  cell.voltage_v = 3.2875;
  cell.signs = "dent; \"small\", left";
  return cell;
}

// Twelve figures of ten are written.
bool same_reading(const std::optional<double>& written, const std::optional<double>& read) {
  constexpr double written_error = 1e-9;
  return !read || (written && std::abs(*written - *read) <= written_error * (1 + std::abs(*read)));
}

void hold_copy(const ReadLog& log) {
  const CellReading cell = read_today();
  const LogCopy copy = with_lines_of_today(log, {cell}, today);
  hold(copy.text.starts_with(log.text), "a copy of a log is its text with lines added", log.text);
  const auto is_today = [&](const DatedReading& line) {
    return line.day == today && line.reading.id == cell.id;
  };
  const bool had_one = std::ranges::any_of(log.lines, is_today);
  hold(copy.added == (had_one ? 0 : 1), "a cell gets one line a day", log.text);
  const ReadLog again = read_log(check_text("copy.csv", copy.text), log_of());
  for (const Problem& problem : again.problems) {
    hold(false, "a copy of a log can be read again", describe(problem));
  }
  const auto line = std::ranges::find_if(again.lines, is_today);
  hold(line != again.lines.end(), "a copy of a log holds today's reading", copy.text);
  if (had_one) return;
  const CellReading& read = line->reading;
  hold(same_reading(cell.edge_mm, read.edge_mm) && same_reading(cell.middle_mm, read.middle_mm) &&
           same_reading(cell.charge, read.charge) && same_reading(cell.voltage_v, read.voltage_v) &&
           same_reading(cell.temperature_c, read.temperature_c),
       "a copy of a log holds today's figures", copy.text);
  hold(!read.signs || read.signs == cell.signs, "a copy of a log holds today's signs", copy.text);
}

void try_log(const TextFile& file, const Files& files) {
  const ReadLog log = read_log(file, log_of());
  hold_told(log.problems, log.notes, files);
  if (!log.problems.empty()) return;
  hold_log(log.lines);
  hold_copy(log);
}

void try_press(const TextFile& file, const Files& files) {
  const PressTable table = read_press_table(file);
  hold_told(table.problems, table.notes, files);
  if (!table.problems.empty()) return;
  for (const PressLine& line : table.lines) {
    hold(line.force_n.has_value() != line.pressure_mpa.has_value(), "a force or a pressure");
    const double load = line.force_n.value_or(line.pressure_mpa.value_or(-1));
    hold(std::isfinite(load) && load >= 0, "a load is finite and not negative");
    hold(std::isfinite(line.thickness_mm), "a thickness is finite");
  }
  const PressTestTaken taken =
      take_press_test(table, {141.0 * 183.0, nominal_mm, {}}, Assumptions());
  hold_told(taken.problems, {}, files);
  if (!taken.problems.empty()) return;
  hold(taken.test.loading.size() >= 2, "a press test has two loads at least");
  for (const PressReading& reading : taken.test.loading) {
    hold(std::isfinite(reading.pressure_mpa) && reading.thickness_mm > 0, "a reading has figures");
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text = stackfit::fuzz::text_of(data, size);
  const std::size_t end = text.find('\n');
  if (end == std::string::npos) return 0;
  const std::string_view kind = std::string_view(text).substr(0, end);
  const Files files(table_name, std::string_view(text).substr(end + 1));
  const TextFile file = files.read(table_name);
  if (!file.problem) try_fields(file);
  if (kind == "cells") try_cells(file, files);
  if (kind == "pile") try_pile(files);
  if (kind == "points") try_points(file, files);
  if (kind == "log") try_log(file, files);
  if (kind == "press") try_press(file, files);
  return 0;
}
