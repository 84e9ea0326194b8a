// SPDX-License-Identifier: GPL-3.0-or-later
//
// The drawing of a box: what is noted beside the views, and all put together.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <stdexcept>
#include <utility>

#include "cli/drawing_box_parts.hpp"

namespace stackfit::cli {
namespace {

void require(bool holds, const char* what) {
  if (!holds) throw std::invalid_argument(std::string("box_drawing: ") + what);
}

bool all_positive(std::initializer_list<double> sizes) {
  return std::all_of(sizes.begin(), sizes.end(),
                     [](double mm) { return std::isfinite(mm) && mm > 0; });
}

bool none_below_zero(std::initializer_list<double> sizes) {
  return std::all_of(sizes.begin(), sizes.end(),
                     [](double mm) { return std::isfinite(mm) && mm >= 0; });
}

double rows_width(const BoxDrawing& box) {
  const auto rows = static_cast<double>(box.rows.size());
  return rows * box.face_width_mm + (rows - 1) * box.between_rows_mm;
}

void check(const BoxDrawing& box) {
  require(
      all_positive({box.inner_length_mm, box.inner_width_mm, box.inner_height_mm, box.end_wall_mm,
                    box.side_wall_mm, box.floor_mm, box.face_width_mm, box.face_height_mm}),
      "a size of box or face is not above zero");
  require(!box.lid_mm || all_positive({*box.lid_mm}), "a lid of no thickness");
  require(none_below_zero({box.bend_radius_mm, box.between_rows_mm, box.face_corner_radius_mm,
                           box.terminal_height_mm, box.side_sheet_mm, box.floor_sheet_mm,
                           box.raise_mm, box.lid_sheet_mm, box.paint_mm}),
          "a size is below zero");
  require(2 * box.face_corner_radius_mm <= std::min(box.face_width_mm, box.face_height_mm),
          "corners rounder than the face");
  require(!box.rows.empty(), "no row");
  require(rows_width(box) + 2 * box.side_sheet_mm <= box.inner_width_mm + 1e-6,
          "rows and side sheets are wider than the box inside");
  require(box.floor_sheet_mm + box.raise_mm + box.face_height_mm <= box.inner_height_mm,
          "cells are higher than the box inside");
  require(box.join != BoxJoin::folded ||
              2 * box.bend_radius_mm <= std::min(box.inner_length_mm, box.inner_width_mm),
          "a bend rounder than the box");
}

const char* join_words(BoxJoin join) {
  switch (join) {
    case BoxJoin::sides_over_ends:
      return "side walls run over the end walls' edges";
    case BoxJoin::sides_between_ends:
      return "side walls stand between the end walls";
    case BoxJoin::folded:
      return "floor and walls folded from one sheet";
  }
  throw std::logic_error("join_words: no such join");
}

std::string walls_note(const BoxDrawing& box) {
  std::string text = fmt::format("Walls: end {}, side {}, floor {}, ", size_text(box.end_wall_mm),
                                 size_text(box.side_wall_mm), size_text(box.floor_mm));
  text += box.lid_mm ? "lid " + size_text(*box.lid_mm) : std::string("no lid");
  text += fmt::format("; {}", join_words(box.join));
  return text + '.';
}

std::string cells_note(const BoxDrawing& box) {
  std::size_t cells = 0;
  for (const DrawnRow& row : box.rows) cells += row.cells.size();
  std::string text = fmt::format("Cells: {}, face {} x {}", cells, size_text(box.face_width_mm),
                                 size_text(box.face_height_mm));
  if (box.face_corner_radius_mm > 0) text += ", corners R " + size_text(box.face_corner_radius_mm);
  if (box.terminal_height_mm > 0) {
    text += fmt::format(", terminals {} high", size_text(box.terminal_height_mm));
  }
  if (!box.terminal_spacing_mm) text += " (places across not to scale)";
  return text + '.';
}

// Where cells stand in their row is not known more finely.
std::string tenth_text(double mm) {
  return size_text(std::round(mm * 10) / 10);
}

// Distances of neighbouring terminals: what busbars must reach.
std::string pitch_note(const BoxDrawing& box) {
  const RowSpots spots = row_spots(box.rows.front(), box.inner_length_mm);
  if (spots.cells.size() < 2) return {};
  double least = box.inner_length_mm;
  double most = 0;
  for (std::size_t i = 1; i < spots.cells.size(); ++i) {
    const double pitch = spots.cells[i].middle_mm() - spots.cells[i - 1].middle_mm();
    least = std::min(least, pitch);
    most = std::max(most, pitch);
  }
  const std::string from = tenth_text(least);
  const std::string to = tenth_text(most);
  return fmt::format("Terminals: {} from cell to cell. ", from == to ? to : from + " to " + to);
}

std::string sheets_note(const BoxDrawing& box) {
  std::string text;
  const auto add = [&](const char* where, double mm) {
    if (mm > 0) text += fmt::format("{}{} {}", text.empty() ? "" : ", ", where, size_text(mm));
  };
  add("at each side", box.side_sheet_mm);
  add("on the floor", box.floor_sheet_mm);
  add("under the cells", box.raise_mm);
  add("under the lid", box.lid_sheet_mm);
  return text.empty() ? text : "Sheets: " + text + '.';
}

bool any_pad(const BoxDrawing& box) {
  return std::any_of(box.rows.begin(), box.rows.end(), [](const DrawnRow& row) {
    return std::any_of(row.gaps.begin(), row.gaps.end(),
                       [](const DrawnGap& gap) { return gap.pad; });
  });
}

std::string gaps_note(const BoxDrawing& box, const SheetChoice& choice) {
  if (!gap_figures_fit(box.rows.front(), choice)) return {};
  return std::string("Over the row: sheets in each gap") + (any_pad(box) ? ", P with a pad." : ".");
}

std::vector<DrawingNote> notes_of(const BoxDrawing& box, const SheetChoice& choice) {
  std::vector<DrawingNote> notes;
  const auto add = [&](std::string text) {
    if (!text.empty()) notes.push_back({std::move(text), false});
  };
  add(walls_note(box));
  add(cells_note(box));
  add(pitch_note(box) + gaps_note(box, choice));
  add(sheets_note(box));
  add_kit_notes(notes, box.kit);
  return notes;
}

std::string sizes_word(const BoxDrawing& box) {
  if (!box.after_paint) return "of bare metal, before paint";
  return box.paint_mm > 0 ? fmt::format("after paint ({} a face)", size_text(box.paint_mm))
                          : std::string("after paint");
}

std::string description(const BoxDrawing& box, const SheetChoice& choice) {
  return fmt::format(
      "A box for {} cells in a row, drawn {}: cut along the row, cut across it, and from above. "
      "Inside {} long, {} wide, {} high; all in mm, {}.",
      box.rows.front().cells.size(), scale_text(choice.denominator), size_text(box.inner_length_mm),
      size_text(box.inner_width_mm), size_text(box.inner_height_mm), sizes_word(box));
}

}  // namespace

std::string box_drawing(const BoxDrawing& box) {
  check(box);
  // The notes' length does not hang on the scale but for one line; the longest is reckoned with.
  const std::vector<DrawingNote> longest = notes_of(box, {{}, 1});
  const NeedAt need = [&](int denominator) { return views_need(box, denominator); };
  const SheetChoice choice = choose_sheet(need, longest);
  const std::vector<DrawingNote> notes = notes_of(box, choice);
  const BoxViews views = place_views(box, choice, view_area(choice.sheet, notes));
  SvgWriter svg({choice.sheet.width_mm,
                 choice.sheet.height_mm,
                 box.head.title,
                 description(box, choice),
                 box.head.inline_id,
                 {.classes = "wide", .data = {}}});
  draw_sheet(svg, choice, {box.head, "box, inside sizes and row", "inside sizes", sizes_word(box)},
             notes);
  draw_box_along(svg, box, views);
  draw_box_across(svg, box, views);
  draw_box_above(svg, box, views);
  return std::move(svg).finish();
}

}  // namespace stackfit::cli
