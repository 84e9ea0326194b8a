// SPDX-License-Identifier: GPL-3.0-or-later
//
// A row of cells as drawings show it: cells, their numbers and terminals, what lies in the gaps.
//
// For: drawing_box.cpp and drawing_frame.cpp. Not for: what is round the row.
#pragma once

#include <string>
#include <vector>

#include "cli/drawing_sheet.hpp"
#include "cli/drawing_svg.hpp"

namespace stackfit::cli {

/// From one place along the row to another [mm], from the first end wall.
struct RowSpot {
  double from_mm = 0;
  double to_mm = 0;

  [[nodiscard]] double middle_mm() const { return (from_mm + to_mm) / 2; }
};
struct RowSpots {
  std::vector<RowSpot> cells;
  std::vector<RowSpot> gaps;
};
/// No row is pressed shorter than this share of its free length: more is a mistake of the caller.
inline constexpr double least_pressed_share = 0.9;
/// Where all stands in a room of this length. A row that is longer is pressed into it, each cell
/// by the same share; one that is shorter leaves the rest at the last end. Throws
/// std::invalid_argument for gaps that are not one more than the cells, sizes that make no sense,
/// and what does not go in.
[[nodiscard]] RowSpots row_spots(const DrawnRow& row, double length_mm);

/// A row on paper.
struct RowOnPaper {
  const DrawnRow* row = nullptr;
  RowSpots spots;
  SheetChoice choice;
  double left_mm = 0;    ///< x of the first end wall's inner face
  std::string prefix;    ///< of the shapes' ids
  int first_number = 1;  ///< of its first cell: rows are counted on

  [[nodiscard]] double x(double along_mm) const { return left_mm + choice.paper(along_mm); }
};

/// From the side, on a base line; with a sign over each near terminal where there is room.
struct RowHeights {
  double base_mm = 0;  ///< y on paper
  double face_mm = 0;  ///< of the part
  double terminal_mm = 0;
};
void draw_row_from_side(SvgWriter& svg, const RowOnPaper& row, const RowHeights& heights);

/// From above: cells from y to y with their numbers between their terminals.
struct RowAcross {
  double far_mm = 0;  ///< y on paper
  double near_mm = 0;
  double terminals_mm = 0;  ///< from one to the other, on paper
};
void draw_row_from_above(SvgWriter& svg, const RowOnPaper& row, const RowAcross& across);

/// Whether the sheets of every gap can be written over it.
[[nodiscard]] bool gap_figures_fit(const DrawnRow& row, const SheetChoice& choice);
/// The height on paper that they take.
[[nodiscard]] double gap_figures_height(const DrawnRow& row);
/// Over each gap, upright from `bottom_mm`, what lies in it; `P` where a pad is among it.
void draw_gap_figures(SvgWriter& svg, const RowOnPaper& row, double bottom_mm);

/// Every how many cells a number is written: 1, 2, 5 or 10.
[[nodiscard]] int number_step(const DrawnRow& row, const SheetChoice& choice);

}  // namespace stackfit::cli
