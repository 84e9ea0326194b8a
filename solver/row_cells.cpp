// SPDX-License-Identifier: GPL-3.0-or-later
//
// Cells: from readings to free thicknesses, by how, at what charge and under what load.
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/dome.hpp"
#include "solver/dome_reading.hpp"
#include "solver/row_parts.hpp"

namespace stackfit {
namespace {

/// A whole-row reading further than this from the sum of the singles is flagged [mm].
constexpr double row_reading_flag_mm = 0.5;

bool has_both_faces_in_one_system(const FacePoints& points) {
  return points.common_z && !points.front.empty() && !points.back.empty();
}

/// No thickness was read in any way.
bool unmeasured(const CellReading& reading) {
  return !reading.edge_mm && !reading.middle_mm && !reading.boards_mm && !reading.pressed &&
         !has_both_faces_in_one_system(reading.points);
}

double measured_charge(const Resolution& r, const CellReading& reading) {
  if (reading.charge) {
    return *reading.charge;
  }
  const auto& line = r.build.cell.thickness.at_charge;
  if (unmeasured(reading) && line) {
    return 0.5 * (line->low + line->high);
  }
  const auto& common = r.build.measured_charge;
  if (common && common->between) {
    return 0.5 * (common->between->low + common->between->high);
  }
  if (common && !common->as_shipped) {
    return common->charge;
  }
  r.findings.note(Assumed::shipped_charge);
  return r.assumptions[Assumed::shipped_charge];
}

/// Highest reading over the face, where one was taken.
std::optional<double> highest_reading(const CellReading& reading) {
  return reading.boards_mm ? reading.boards_mm : reading.middle_mm;
}

/// Free thickness by the data sheet's line: what its force squeezed is given back.
double data_sheet_free_mm(const Resolution& r, const Row& row) {
  const ThicknessLine& line = r.build.cell.thickness;
  const double pressure = line.under_force_n.value_or(0) / row.face_area_mm2;
  return line.nominal_mm + row.nominal_mm * row.cell_law->strain_at(pressure).value;
}

/// A dome above the edge: its slack, and the mean of the rest over the face.
void take_dome(const Resolution& r, const Row& row, double dome_mm, RowCell& cell) {
  cell.dome_mm = dome_mm;
  if (dome_mm > 0) {
    r.findings.note(Assumed::dome_slack);
    cell.slack_mm = std::min(dome_mm, r.assumptions.fraction(Assumed::dome_slack) * row.nominal_mm);
  }
  if (dome_mm != 0 && cell.dome.exponent_assumed) {
    r.findings.note(Assumed::dome_exponent);
  }
  cell.free_mm = cell.edge_mm + mean_bulge_mm({cell.dome_mm, cell.slack_mm, cell.dome.exponent});
}

/// A dome known by points or straightedge is held against that of the thicknesses, where both were
/// read: one of them is a slip.
void compare_domes(const Resolution& r, const CellReading& reading, double dome_mm,
                   const RowCell& cell) {
  constexpr double flag_mm = 0.3;
  const std::optional<double> highest = highest_reading(reading);
  if (!reading.edge_mm || !highest) {
    return;
  }
  // Boards do not see a hollow.
  const double seen = reading.boards_mm ? dome_beyond_edge_mm(cell.dome) : dome_mm;
  const double read = *highest - *reading.edge_mm;
  if (std::abs(read - seen) > flag_mm) {
    r.findings.warn({WarningCode::dome_readings_differ, cell.id, -1, seen, read, 0});
  }
}

/// The edge under a dome measured by itself, where calipers did not read it.
void find_edge_below_dome(const CellReading& reading, const MeasuredDome& measured, RowCell& cell) {
  if (reading.edge_mm) {
    return;
  }
  if (reading.boards_mm) {
    cell.edge_mm = *reading.boards_mm - dome_beyond_edge_mm(measured.dome);
  } else if (reading.middle_mm) {
    cell.edge_mm = *reading.middle_mm - measured.height_mm;
  } else if (measured.edge_mm) {
    cell.edge_mm = *measured.edge_mm;
  } else {
    return;
  }
  cell.edge_measured = true;
}

void take_thickness(const Resolution& r, const Row& row, const CellReading& reading,
                    RowCell& cell) {
  const std::optional<double> highest = highest_reading(reading);
  const std::optional<MeasuredDome> measured = measured_dome(r, cell.id, reading);
  cell.from_data_sheet = unmeasured(reading);
  cell.dome.exponent = row.dome_exponent;
  cell.edge_measured = reading.edge_mm.has_value();
  cell.dome_measured = measured || (reading.edge_mm && highest);
  if (reading.edge_mm) {
    cell.edge_mm = *reading.edge_mm;
  } else if (highest) {
    cell.edge_mm = *highest;  // taken flat at the boards' value; the bracket shows what if not
  } else if (cell.from_data_sheet) {
    cell.edge_mm = data_sheet_free_mm(r, row);
  }
  if (measured) {
    cell.dome = measured->dome;
    find_edge_below_dome(reading, *measured, cell);
    take_dome(r, row, measured->height_mm, cell);
    compare_domes(r, reading, measured->height_mm, cell);
  } else if (cell.dome_measured) {
    cell.dome.by = DomeBy::thickness;
    take_dome(r, row, *highest - *reading.edge_mm, cell);
  } else {
    cell.free_mm = cell.edge_mm;
  }
  if (reading.pressed) {
    const double pressure = reading.pressed->force_n / row.face_area_mm2;
    cell.free_mm =
        reading.pressed->thickness_mm + row.nominal_mm * row.cell_law->strain_at(pressure).value;
    if (!cell.edge_measured && !highest) {
      const double bulge =
          measured ? mean_bulge_mm({cell.dome_mm, cell.slack_mm, cell.dome.exponent}) : 0;
      cell.edge_mm = cell.free_mm - bulge;
    }
  }
}

/// How far the highest points of both faces stand out beyond the edge.
double beyond_edge_mm(const RowCell& cell) {
  return cell.dome.faces.empty() ? std::max(0.0, cell.dome_mm) : dome_beyond_edge_mm(cell.dome);
}

/// One reading of the whole row, between boards, corrects the sum of the singles, shared alike.
/// Boards meet the tops of the domes: what is more than the edges' sum is dome on a cell whose
/// dome was not measured, and closes or resists as any dome does.
void correct_by_row_reading(const Resolution& r, const Row& row, std::vector<RowCell>& cells) {
  if (!r.build.row_mm) {
    return;
  }
  double sum = 0;
  for (const RowCell& cell : cells) {
    sum += cell.edge_mm + beyond_edge_mm(cell);
  }
  const double miss = *r.build.row_mm - sum;
  if (std::abs(miss) > row_reading_flag_mm) {
    r.findings.warn({WarningCode::row_differs_from_sum, "row", -1, miss, row_reading_flag_mm, 0});
  }
  const double share = miss / static_cast<double>(cells.size());
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const bool pressed = r.build.cells[i].pressed.has_value();
    if (share > 0 && cells[i].edge_measured && !cells[i].dome_measured && !pressed) {
      take_dome(r, row, share, cells[i]);
    } else {
      cells[i].edge_mm += share;
      cells[i].free_mm += share;
    }
  }
}

double mean_of(const std::vector<RowCell>& cells, double RowCell::*member) {
  double sum = 0;
  for (const RowCell& cell : cells) {
    sum += cell.*member;
  }
  return sum / static_cast<double>(cells.size());
}

/// Readings off from the data sheet by about the squeeze itself: were they free or pressed?
void compare_with_data_sheet(const Resolution& r, const Row& row,
                             const std::vector<RowCell>& cells) {
  const ThicknessLine& line = r.build.cell.thickness;
  const auto& makers = r.build.cell.makers_force;
  const double force = line.under_force_n ? *line.under_force_n : makers ? makers->force_n : 0;
  if (force <= 0) {
    return;
  }
  const double squeeze = row.nominal_mm * row.cell_law->strain_at(force / row.face_area_mm2).value;
  const double miss = mean_of(cells, &RowCell::free_mm) - data_sheet_free_mm(r, row);
  constexpr double about_low = 0.7;
  constexpr double about_high = 1.3;
  if (std::abs(miss) < about_low * squeeze || std::abs(miss) > about_high * squeeze) {
    return;
  }
  const bool pressed = std::all_of(r.build.cells.begin(), r.build.cells.end(),
                                   [](const CellReading& c) { return c.pressed.has_value(); });
  if (pressed && miss > 0) {
    r.findings.warn({WarningCode::readings_may_be_free, "cells", -1, miss, squeeze, 0});
  } else if (!pressed && miss < 0) {
    r.findings.warn({WarningCode::readings_may_be_pressed, "cells", -1, miss, squeeze, 0});
  }
}

/// A single cell far thicker than the data sheet's line allows. Known at its highest point only,
/// the excess may be swelling and counts as such; known at its edge, the can may be deformed.
void look_for_thick_cells(const Resolution& r, const Row& row, std::vector<RowCell>& cells) {
  const double slack = r.assumptions.fraction(Assumed::dome_slack) * row.nominal_mm;
  const double watch = r.assumptions.fraction(Assumed::dome_watch) * row.nominal_mm;
  const double expected =
      data_sheet_free_mm(r, row) + r.build.cell.thickness.tolerance_mm.value_or(slack);
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const CellReading& reading = r.build.cells[i];
    const double excess = cells[i].edge_mm - expected;
    if (excess - slack <= watch) {
      continue;
    }
    if (!cells[i].edge_measured && highest_reading(reading)) {
      cells[i].excess_mm = excess - slack;
    } else {
      r.findings.warn({WarningCode::thicker_than_data_sheet, cells[i].id, -1, excess, expected, 0});
    }
  }
}

/// A rested voltage that cannot belong to the charge that is taken. Of an LFP cell it says
/// nothing in between.
void compare_voltages(const Resolution& r, const std::vector<RowCell>& cells) {
  if (r.build.cell.chemistry != Chemistry::lfp_graphite) {
    return;
  }
  // Rested LFP cells: below 3.20 V under a fifth, from 3.38 V on nearly full; from memory.
  constexpr double low_v = 3.20;
  constexpr double full_v = 3.38;
  constexpr Span flat{0.2, 0.9};
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const auto& volts = r.build.cells[i].voltage_v;
    const double charge = cells[i].measured_charge;
    if (volts &&
        ((*volts < low_v && charge > flat.low) || (*volts > full_v && charge < flat.high))) {
      r.findings.warn({WarningCode::voltage_contradicts_charge, cells[i].id, charge, *volts, 0, 0});
    }
  }
}

void note_how_measured(const Resolution& r, const Row& row, const std::vector<RowCell>& cells) {
  int flat = 0;
  int boards_only = 0;
  int unmeasured = 0;
  int one_face = 0;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const bool has_highest = highest_reading(r.build.cells[i]).has_value();
    flat += cells[i].edge_measured && !cells[i].dome_measured ? 1 : 0;
    unmeasured += cells[i].from_data_sheet ? 1 : 0;
    boards_only += !cells[i].edge_measured && has_highest ? 1 : 0;
    one_face += cells[i].dome.one_face ? 1 : 0;
  }
  if (unmeasured > 0) {
    r.findings.note({"thickness of the cells", "the data sheet's",
                     "not measured; cells of one lot lie together within its tolerance"});
    r.findings.warn({WarningCode::cells_not_measured, "cells", -1, static_cast<double>(unmeasured),
                     static_cast<double>(cells.size()),
                     r.build.cell.thickness.tolerance_mm.value_or(0)});
  }
  if (one_face > 0) {
    r.findings.note({"the face that was not measured", "domed as the other one",
                     "one face only was read, and cells seldom swell to one side"});
    r.findings.warn({WarningCode::dome_of_one_face, "cells", -1, static_cast<double>(one_face),
                     static_cast<double>(cells.size()), 0});
  }
  if (flat > 0) {
    r.findings.warn({WarningCode::dome_not_measured, "cells", -1, static_cast<double>(flat),
                     static_cast<double>(cells.size()), 0});
  }
  if (boards_only > 0) {
    r.findings.note(Assumed::dome_when_not_measured);
    r.findings.warn({WarningCode::flat_at_boards_value, "cells", -1,
                     static_cast<double>(boards_only), static_cast<double>(cells.size()),
                     r.assumptions.fraction(Assumed::dome_when_not_measured) * row.nominal_mm});
  }
}

}  // namespace

std::vector<RowCell> resolve_cells(const Resolution& r, const Row& row) {
  std::vector<RowCell> cells;
  for (const CellReading& reading : r.build.cells) {
    RowCell cell;
    const std::size_t before = static_cast<std::size_t>(row.face) * r.build.cells.size();
    cell.id = reading.id.empty() ? std::to_string(before + cells.size() + 1) : reading.id;
    cell.measured_charge = measured_charge(r, reading);
    cell.measured_temperature_c = r.take(reading.temperature_c, Assumed::reference_temperature);
    cell.signs = reading.signs.value_or("");
    take_thickness(r, row, reading, cell);
    cells.push_back(std::move(cell));
  }
  compare_with_data_sheet(r, row, cells);
  correct_by_row_reading(r, row, cells);
  look_for_thick_cells(r, row, cells);
  compare_voltages(r, cells);
  note_how_measured(r, row, cells);
  return cells;
}

}  // namespace stackfit
