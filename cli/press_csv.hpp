// SPDX-License-Identifier: GPL-3.0-or-later
//
// The table of a press test -> readings: force or pressure, thickness, branch, note.
//
// For: columns with units in the header or the fields ("force (kgf)", "thickness_mm"), every
// problem with its place. Not for: the table of a pack's cells (cells_csv.hpp), or the fit.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/read_build.hpp"
#include "cli/text_file.hpp"
#include "solver/press_test.hpp"

namespace stackfit::cli {

/// One line of the table in the program's units.
struct PressLine {
  std::optional<double> force_n;       ///< either this
  std::optional<double> pressure_mpa;  ///< or this
  double thickness_mm = 0;
  bool unloading = false;
  TextPlace load_place;
  TextPlace thickness_place;
};

struct PressTable {
  std::string file;  ///< as the person named it
  std::vector<PressLine> lines;
  std::vector<Problem> problems;
  std::vector<ReadingNote> notes;
  [[nodiscard]] bool by_force() const;
};

[[nodiscard]] PressTable read_press_table(const TextFile& file);

/// The cell that was pressed.
struct PressedCell {
  double face_area_mm2 = 0;  ///< not used where the table has pressures
  double nominal_mm = 0;
  std::optional<double> reading_error_mm;
};

/// The table's readings as a test, or every reason why they cannot be one: thicknesses in another
/// unit than said, loads no cell is meant to see, too few loads, a thickness that rises.
struct PressTestTaken {
  PressTest test;
  std::vector<Problem> problems;
};
[[nodiscard]] PressTestTaken take_press_test(const PressTable& table, const PressedCell& cell,
                                             const Assumptions& assumptions);

}  // namespace stackfit::cli
