// SPDX-License-Identifier: GPL-3.0-or-later
//
// The views of a box: where each stands on the sheet, and what is in it.
//
// For: drawing_box.cpp, which puts them together. Not for: anything else.
//
// Views lie as first-angle projection has them: along the row, to its right the box seen from the
// first end wall, under it the box seen from above.
#pragma once

#include "cli/drawing_row.hpp"
#include "cli/drawing_sheet.hpp"
#include "cli/drawing_svg.hpp"

namespace stackfit::cli {

/// Sizes [mm] that follow from those of the box.
struct BoxOutside {
  double length_mm = 0;
  double width_mm = 0;
  double height_mm = 0;
};
[[nodiscard]] BoxOutside outside_of(const BoxDrawing& box);

/// Outlines of the three views on paper, walls included.
struct BoxViews {
  SheetChoice choice;
  SvgBox along;
  SvgBox across;
  SvgBox above;
};
/// What the views with their dimensions take, and where they stand in that.
[[nodiscard]] PaperNeed views_need(const BoxDrawing& box, int denominator);
[[nodiscard]] BoxViews place_views(const BoxDrawing& box, const SheetChoice& choice,
                                   const SvgBox& area);

void draw_box_along(SvgWriter& svg, const BoxDrawing& box, const BoxViews& views);
void draw_box_across(SvgWriter& svg, const BoxDrawing& box, const BoxViews& views);
void draw_box_above(SvgWriter& svg, const BoxDrawing& box, const BoxViews& views);

/// Floor and the two walls on it as one cuts them: on their own, or folded in one piece.
struct WallsCut {
  SvgBox outline;  ///< without the lid
  double wall_mm = 0;
  double floor_mm = 0;
  double radius_mm = 0;  ///< inside; of folded ones
  bool folded = false;
};
void draw_walls_cut(SvgWriter& svg, const WallsCut& walls);

/// By how much the mark of the wall that comes off reaches past a narrow box seen from above, at
/// each side.
[[nodiscard]] double mark_overhang(const BoxDrawing& box, const SheetChoice& choice);
inline constexpr const char* mark_words = "this end wall";

/// Dimensions of the inside, which decide how far the views stand apart: under the row, to its
/// left, and beside the box seen from above where no wall comes off.
[[nodiscard]] DimensionLine length_dimension(const BoxDrawing& box, const SheetChoice& choice,
                                             const SvgBox& along);
[[nodiscard]] DimensionLine height_dimension(const BoxDrawing& box, const SheetChoice& choice,
                                             const SvgBox& along);
[[nodiscard]] DimensionLine width_dimension(const BoxDrawing& box, const SheetChoice& choice,
                                            const SvgBox& above);
/// From one terminal to the other across the row [mm]; of a share of the face where not said.
[[nodiscard]] double terminal_spacing(const BoxDrawing& box);

}  // namespace stackfit::cli
