// SPDX-License-Identifier: GPL-3.0-or-later
//
// Sound used cells that tests change one thing of at a time.
//
// For: tests/solver on conditions and logs.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "solver/check.hpp"

namespace stackfit::sample {

inline Day day(int year, unsigned month, unsigned of_month) {
  return Day{std::chrono::year(year) / std::chrono::month(month) / std::chrono::day(of_month)};
}

/// A cell of 50 mm at 40 %: dome 0.2 mm, which is slack; signs looked for, none there.
inline CellReading used_cell(const std::string& id = "A") {
  CellReading cell;
  cell.id = id;
  cell.edge_mm = 50;
  cell.boards_mm = 50.2;
  cell.charge = 0.4;
  cell.signs = "none";
  return cell;
}

/// Six of them, nominal 50 mm with 0.2 mm of tolerance.
inline Build used_build() {
  Build build;
  build.cell.thickness.nominal_mm = 50;
  build.cell.thickness.tolerance_mm = 0.2;
  for (const char* id : {"A", "B", "C", "D", "E", "F"}) {
    build.cells.push_back(used_cell(id));
  }
  return build;
}

/// One line of a log: edge and boards of cell A.
struct Logged {
  Day day;
  double edge_mm = 50;
  double boards_mm = 50.2;
  double charge = 0.4;
};
inline CellLog log_of(const std::vector<Logged>& lines, const std::string& id = "A") {
  CellLog log;
  for (const Logged& line : lines) {
    CellReading reading = used_cell(id);
    reading.edge_mm = line.edge_mm;
    reading.boards_mm = line.boards_mm;
    reading.charge = line.charge;
    log.push_back({line.day, reading});
  }
  return log;
}

inline const RuleSpoken* spoken(const CellCondition& cell, CellRule rule) {
  const auto found = std::find_if(cell.spoken.begin(), cell.spoken.end(),
                                  [rule](const RuleSpoken& one) { return one.rule == rule; });
  return found == cell.spoken.end() ? nullptr : &*found;
}

}  // namespace stackfit::sample
