// SPDX-License-Identifier: GPL-3.0-or-later
//
// The cells one by one: what the calipers read, and whether it can be true.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>

#include "cli/convert_parts.hpp"
#include "cli/points_csv.hpp"
#include "cli/units.hpp"
#include "solver/check.hpp"
#include "solver/signs.hpp"

namespace stackfit::cli {
namespace {

// More than this in one row is a wrong file.
constexpr std::size_t most_in_a_row = 512;
// An edge reads within a few per cent of the data sheet; a swollen middle may stand out more.
constexpr double thinnest_part = 0.8;
constexpr double thickest_edge = 1.2;
constexpr double thickest_middle = 1.5;
// "As shipped" in words of the trade.
constexpr Span shipped_charge{0.30, 0.40};

double middle_of(const Span& span) {
  return (span.low + span.high) / 2;
}

std::string plausibility_mend(double reading, double nominal) {
  const double in_inches = reading * mm_per_inch / nominal;
  if (in_inches > thinnest_part && in_inches < thickest_middle) return "inches in a mm column?";
  const double in_cm = reading * 10 / nominal;
  if (in_cm > thinnest_part && in_cm < thickest_middle) return "centimetres in a mm column?";
  return "read the cell again, and check the data sheet's thickness";
}

// What a node holds, without a second complaint where it cannot be read.
std::optional<double> read_again(const Node& node) {
  if (const auto text = node.text()) return read_quantity(*text, Dimension::length).value;
  if (!node.json().is_number()) return std::nullopt;
  return read_bare(node.json().get<double>(), Dimension::length).value;
}

// Readings far from the data sheet's thickness are slips of pen or unit.
void check_reading(const Node& node, std::optional<double> reading, double nominal,
                   double thickest) {
  if (!reading || nominal <= 0) return;
  if (*reading >= thinnest_part * nominal && *reading <= thickest * nominal) return;
  node.problem(fmt::format("a reading from {:.1f} to {:.1f} mm for a cell of {:g} mm",
                           thinnest_part * nominal, thickest * nominal, nominal),
               plausibility_mend(*reading, nominal));
}

std::optional<double> reading_of(const Node& cell, std::string_view key, double nominal,
                                 double thickest) {
  const auto node = cell.child(key);
  if (!node) return std::nullopt;
  const auto reading = node->quantity(Dimension::length, Sign::positive);
  check_reading(*node, reading, nominal, thickest);
  return reading;
}

// Boards meet the highest points, so they cannot read less than the edge; one cell has no more
// volts than one cell.
void check_against_each_other(const Node& cell, const CellReading& reading) {
  constexpr double calipers_mm = 0.1;  // two readings of one thing differ by this
  constexpr double most_volts = 4.5;   // of any one cell of this trade, charging included
  if (reading.edge_mm && reading.boards_mm && *reading.boards_mm < *reading.edge_mm - calipers_mm) {
    cell.child("boards")->problem_found(
        fmt::format("{} mm between boards, less than the edge's {} mm", *reading.boards_mm,
                    *reading.edge_mm),
        "the highest points of both faces: at least the edge", "measure both again");
  }
  if (reading.voltage_v && *reading.voltage_v > most_volts) {
    cell.child("voltage")->problem_found(fmt::format("{} V", *reading.voltage_v),
                                         "the volts of one cell, up to 4.5",
                                         "read it across this cell alone");
  }
}

CellReading convert_reading(const Node& cell, std::size_t index, const CellType& type) {
  const double nominal = type.thickness.nominal_mm;
  CellReading out;
  out.id = id_of_cell(cell.json(), index);
  out.edge_mm = reading_of(cell, "edge", nominal, thickest_edge);
  out.middle_mm = reading_of(cell, "middle", nominal, thickest_middle);
  out.boards_mm = reading_of(cell, "boards", nominal, thickest_middle);
  if (const auto pressed = cell.child("pressed")) {
    const auto thickness = reading_of(*pressed, "value", nominal, thickest_edge);
    const auto force = pressed->quantity("force", Dimension::force);
    if (thickness && force) out.pressed = PressedReading{*thickness, *force};
  }
  if (const auto gaps = cell.child("straightedge")) out.straightedge = convert_straightedge(*gaps);
  if (const auto points = cell.child("points")) out.points = convert_points(*points, type);
  out.charge = cell.quantity("charge", Dimension::charge, Sign::not_negative);
  out.temperature_c = cell.quantity("temperature", Dimension::temperature, Sign::any);
  out.voltage_v = cell.quantity("voltage", Dimension::voltage, Sign::not_negative);
  out.capacity_ah = cell.quantity("capacity", Dimension::capacity, Sign::not_negative);
  out.resistance_mohm = cell.quantity("resistance", Dimension::resistance, Sign::not_negative);
  out.signs = cell.text("signs");
  check_against_each_other(cell, out);
  return out;
}

void check_ids(const std::vector<Node>& nodes, const std::vector<CellReading>& cells) {
  std::map<std::string, std::size_t> seen;
  for (std::size_t index = 0; index < cells.size(); ++index) {
    const auto [first, is_new] = seen.emplace(cells[index].id, index);
    if (is_new) continue;
    nodes[index]
        .child("id")
        .value_or(nodes[index])
        .problem_found(fmt::format("the id \"{}\" a second time", cells[index].id),
                       "an id of its own for each "
                       "cell",
                       fmt::format("cell {} of the list has it already", first->second + 1));
  }
}

bool has_reading(const Node& cell) {
  static constexpr std::array keys{"edge", "middle", "boards", "pressed"};
  if (std::ranges::any_of(keys, [&](const char* key) { return cell.has(key); })) return true;
  // Both faces in one coordinate system tell the thickness; of a table that could not be read
  // nothing is known, and that was said.
  const auto points = cell.child("points");
  return points && (points->json().is_string() || points->flag("common_z").value_or(false));
}

// Either none is measured (then the thickness line must do, and says so), or all are.
// A cell that shows a sign is not picked up again for calipers, where cells alone are asked for.
void check_measured(const Node& document, const std::vector<Node>& nodes, BuildNeeds needs) {
  const bool measured = std::ranges::any_of(nodes, [](const Node& cell) {
    return has_reading(cell) || cell.has("points") || cell.has("straightedge");
  });
  if (!measured) {
    if (needs == BuildNeeds::whole_row) {
      document.note("no cell was measured: the data sheet's thickness stands for all of them");
    }
    return;
  }
  for (const Node& cell : nodes) {
    if (has_reading(cell)) continue;
    const bool dome = cell.has("points") || cell.has("straightedge");
    if (!dome && needs == BuildNeeds::cells &&
        signs_in(cell.text("signs").value_or("")) == Signs::seen) {
      continue;
    }
    cell.problem_found(
        dome ? "a cell with a dome, but no thickness reading" : "a cell with no thickness reading",
        "edge, middle, boards or pressed: how it was measured, and what was read",
        dome ? "points and straightedge tell the dome alone: read the edge too"
             : "measure this cell as the others, or take it out");
  }
}

// Without a data sheet the cells' own middle tells a slip of pen or unit.
void check_among_themselves(const std::vector<Node>& nodes, const std::vector<CellReading>& cells) {
  constexpr double thinnest_mm = 5;  // of any prismatic cell: less was read in inches or cm
  Build build;
  build.cells = cells;
  const double usual = nominal_of(build).mm;
  if (usual <= 0) return;
  for (const Node& cell : nodes) {
    for (const char* key : {"edge", "middle", "boards"}) {
      const auto node = cell.child(key);
      const auto reading = node ? read_again(*node) : std::nullopt;
      if (!reading) continue;
      if (usual < thinnest_mm) {
        node->problem("the thickness of a prismatic cell, from 5 mm",
                      "inches or centimetres in a mm column?");
      } else {
        check_reading(*node, reading, usual, thickest_middle);
      }
    }
  }
}

std::vector<CellReading> unmeasured(std::size_t count) {
  std::vector<CellReading> cells(count);
  for (std::size_t index = 0; index < count; ++index) cells[index].id = std::to_string(index + 1);
  return cells;
}

void check_count(const Node& document, std::size_t cells) {
  const auto series = document.whole("series");
  const auto parallel = document.whole("parallel");
  if (!series) return;
  const auto groups = static_cast<std::size_t>(*series);
  const auto wide = static_cast<std::size_t>(parallel.value_or(1));
  // With series alone, the groups may be of any size, but all of the same.
  const bool fits = parallel ? groups * wide == cells : groups > 0 && cells % groups == 0;
  if (fits) return;
  document.child("series")->problem_found(
      parallel
          ? fmt::format("{} in series and {} in parallel, but a list of {}", groups, wide, cells)
          : fmt::format("{} in series, but a list of {}", groups, cells),
      "series times parallel equal to the number of cells",
      "count the cells of the list, then series and parallel");
}

// Without a list the count is series times parallel; a blank is named where it stands.
void report_no_cells(const Node& document, std::size_t count, std::size_t most_cells) {
  const bool blank = document.was_blank("series") && !document.was_blank("cells");
  document.problem_missing(
      blank ? "series" : "cells", count > 0 ? fmt::format("{} cells", count) : "no cells",
      fmt::format(R"("cells", a list of 1 to {} cells; or series and parallel where none was )"
                  "measured; {} in one row at most",
                  most_cells, most_in_a_row),
      R"(write for example "cells": [{ "id": "A", "edge": 63.5 }])");
}

}  // namespace

std::vector<CellReading> convert_cells(const Node& document, const CellType& type, std::size_t rows,
                                       BuildNeeds needs) {
  const std::size_t most_cells = most_in_a_row * rows;
  const auto list = document.child("cells");
  if (!list || !list->json().is_array()) {
    const auto series = document.whole("series");
    const auto count = static_cast<std::size_t>(series.value_or(0)) *
                       static_cast<std::size_t>(document.whole("parallel").value_or(1));
    if (series && count > 0 && count <= most_cells) {
      check_measured(document, {}, needs);
      return unmeasured(count);
    }
    if (!list) report_no_cells(document, count, most_cells);
    return {};
  }
  const std::vector<Node> nodes = list->items();
  if (nodes.empty() || nodes.size() > most_cells) {
    list->problem(rows == 1 ? fmt::format("1 to {} cells in one row", most_in_a_row)
                            : fmt::format("1 to {} cells in {} rows, {} in one row at most",
                                          most_cells, rows, most_in_a_row));
    return {};
  }
  std::vector<CellReading> cells;
  for (std::size_t index = 0; index < nodes.size(); ++index) {
    cells.push_back(convert_reading(nodes[index], index, type));
  }
  check_ids(nodes, cells);
  check_measured(document, nodes, needs);
  if (needs == BuildNeeds::cells && type.thickness.nominal_mm <= 0)
    check_among_themselves(nodes, cells);
  check_count(document, cells.size());
  return cells;
}

CellReading convert_logged_reading(const Node& line, const CellType& type) {
  return convert_reading(line, 0, type);
}

std::optional<MeasuredCharge> convert_measured_charge(const Node& said) {
  const auto text = said.text();
  if (!text) return std::nullopt;
  if (same_words(trimmed(*text), "as shipped")) {
    return MeasuredCharge{middle_of(shipped_charge), shipped_charge, true};
  }
  const auto span = said.span(Dimension::charge);
  if (!span) return std::nullopt;
  const bool single = span->low == span->high;
  return MeasuredCharge{middle_of(*span), single ? std::optional<Span>{} : *span, false};
}

}  // namespace stackfit::cli
