// SPDX-License-Identifier: GPL-3.0-or-later
//
// The parts convert_build is made of, one per block of the build file.
//
// For: convert_*.cpp only.
#pragma once

#include <string>
#include <vector>

#include "cli/node.hpp"
#include "solver/build.hpp"

namespace stackfit::cli {

[[nodiscard]] CellType convert_cell_type(const Node& cell);
[[nodiscard]] SwingInput convert_swing(const Node& swing);
[[nodiscard]] SoftnessInput convert_softness(const Node& softness);

/// `type` is to tell an implausible reading.
[[nodiscard]] std::vector<CellReading> convert_cells(const Node& document, const CellType& type,
                                                     std::size_t rows, BuildNeeds needs);
/// One line of a log: a reading as in the list of cells, held against the same data sheet.
[[nodiscard]] CellReading convert_logged_reading(const Node& line, const CellType& type);
/// Heights read over the faces of one cell, with all that can be told of them alone.
[[nodiscard]] FacePoints convert_points(const Node& points, const CellType& type);
[[nodiscard]] StraightedgeReading convert_straightedge(const Node& straightedge);
[[nodiscard]] std::optional<MeasuredCharge> convert_measured_charge(const Node& said);

[[nodiscard]] Box convert_box(const Node& box);
/// Thickness of a wall or frame plate said as a value of its own; foil is refused.
[[nodiscard]] std::optional<double> convert_plate_thickness(const Node& plate);
/// None where nothing is said of it. `inside` gives the lengths of the wall's edges.
[[nodiscard]] std::optional<EndWallInput> convert_end_wall(const Node& node, const Box& inside);

[[nodiscard]] Frame convert_frame(const Node& frame);
/// What the cells cover of a plate: all rows and the room between them.
struct CoveredFace {
  double width_mm = 0;
  double height_mm = 0;
  double corner_radius_mm = 0;
};
/// Rods on the plate, clear of the cells and of each other.
void check_rods(const Node& frame, const Frame& said, const CoveredFace& cells);

/// All cells, and how many equally long rows they stand in. No cells: nothing is known of the gaps.
struct CellRows {
  std::size_t cells = 0;
  std::size_t rows = 1;
};
[[nodiscard]] std::vector<SheetInput> convert_fixed_sheets(const Node& document,
                                                           const CellRows& rows);
[[nodiscard]] std::vector<KitShim> convert_kit(const Node& document, const CellRows& rows);
[[nodiscard]] std::vector<PadInput> convert_pads(const Node& document, const CellRows& rows);
[[nodiscard]] std::vector<PlacedSheets> convert_placed(const Node& document, const CellRows& rows,
                                                       const std::vector<KitShim>& kit);
[[nodiscard]] Place convert_place(const Node& where, const CellRows& rows);
[[nodiscard]] std::optional<SheetOutline> convert_outline(const Node& sheet);

[[nodiscard]] FoamTable convert_foam(const Node& foam);

/// How far the figures may be off.
[[nodiscard]] Uncertainty convert_uncertainty(const Node& uncertainty);
/// What is to be made or bought.
[[nodiscard]] Order convert_order(const Node& order);

/// A table of two columns: as long as each other, rising, and from (0, 0) where that is asked.
struct TableShape {
  std::string_view across;  ///< key of the first column
  std::string_view up;      ///< key of the second
  bool from_zero = false;
  bool up_rises = false;
};
/// Notes what is wrong with the table; the columns are as read.
void check_table(const Node& node, const TableShape& shape, const std::vector<double>& across,
                 const std::vector<double>& up);

}  // namespace stackfit::cli
