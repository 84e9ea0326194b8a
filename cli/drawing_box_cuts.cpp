// SPDX-License-Identifier: GPL-3.0-or-later
//
// A box cut along its row, cut across it, and seen from above.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/drawing_box_parts.hpp"
#include "cli/drawing_looks.hpp"

namespace stackfit::cli {
namespace {

SvgBox without_lid(const BoxDrawing& box, const SheetChoice& choice, SvgBox view) {
  const double lid = choice.paper(box.lid_mm.value_or(0));
  return {view.x, view.y + lid, view.width, view.height - lid};
}

void draw_lid(SvgWriter& svg, const BoxDrawing& box, const SheetChoice& choice,
              const SvgBox& view) {
  if (box.lid_mm) svg.rect({view.x, view.y, view.width, choice.paper(*box.lid_mm)}, wall_look);
}

// Sheets on the floor and under the lid, over the width of `inside`.
void draw_lying_sheets(SvgWriter& svg, const BoxDrawing& box, const SheetChoice& choice,
                       const SvgBox& inside) {
  const double floor = choice.paper(box.floor_sheet_mm);
  const double raise = choice.paper(box.raise_mm);
  const double lid = choice.paper(box.lid_sheet_mm);
  svg.rect({inside.x, inside.bottom() - floor, inside.width, floor}, sheet_look);
  if (raise > 0) {
    svg.rect({inside.x, inside.bottom() - floor - raise, inside.width, raise}, part_look);
  }
  svg.rect({inside.x, inside.y, inside.width, lid}, sheet_look);
}

double cells_base(const BoxDrawing& box, const SheetChoice& choice, const SvgBox& inside) {
  return inside.bottom() - choice.paper(box.floor_sheet_mm + box.raise_mm);
}

void draw_heights(SvgWriter& svg, const BoxDrawing& box, const BoxViews& views) {
  const SvgBox& view = views.along;
  draw_dimension(svg, height_dimension(box, views.choice, view));
  draw_dimension(svg, {.along = Along::upright,
                       .from_mm = view.y,
                       .to_mm = view.bottom(),
                       .line_mm = view.x - far_line_mm,
                       .witness_mm = view.x,
                       .text = size_text(outside_of(box).height_mm)});
}

// --- Across -------------------------------------------------------------------------------

// The face of one cell seen along the row, near side to the right.
void draw_face(SvgWriter& svg, const BoxDrawing& box, const SheetChoice& choice, const SvgBox& face,
               const DrawnCell& cell) {
  const double terminal = choice.paper(box.terminal_height_mm);
  const double middle = face.x + face.width / 2;
  const double apart = choice.paper(terminal_spacing(box)) / 2;
  const double wide = 0.12 * face.width;
  for (const double side : {-1.0, 1.0}) {
    const double x = middle + side * apart;
    if (terminal > 0) {
      svg.rect({x - wide / 2, face.y - terminal, wide, terminal}, {SvgLine::thin, SvgFill::white});
    }
  }
  svg.rect(face, {SvgLine::thin, SvgFill::light}, {"", "The cell nearest to the first end wall"},
           choice.paper(box.face_corner_radius_mm));
  for (const double side : {-1.0, 1.0}) {
    const bool plus = (side > 0) == cell.plus_near;
    const SvgPoint at{middle + side * apart, face.y + 2.5};
    svg.line({at.x - 1, at.y}, {at.x + 1, at.y}, SvgLine::wide);
    if (plus) svg.line({at.x, at.y - 1}, {at.x, at.y + 1}, SvgLine::wide);
  }
  const std::string corners = "corners R " + size_text(box.face_corner_radius_mm);
  if (text_width_mm(corners, least_text_mm) + 3 > face.width || face.height < 16 ||
      box.face_corner_radius_mm == 0) {
    return;
  }
  svg.text({middle, face.y + face.height / 2 + 1}, corners, {.anchor = SvgAnchor::middle});
}

// Cells of all rows beside each other, in the middle of the box; the near row to the right.
SvgBox draw_faces(SvgWriter& svg, const BoxDrawing& box, const SheetChoice& choice,
                  const SvgBox& inside) {
  const auto rows = static_cast<double>(box.rows.size());
  const double wide = rows * box.face_width_mm + (rows - 1) * box.between_rows_mm;
  const double height = choice.paper(box.face_height_mm);
  double right = inside.x + inside.width / 2 + choice.paper(wide) / 2;
  SvgBox near_face;
  for (std::size_t i = 0; i < box.rows.size(); ++i) {
    const double width = choice.paper(box.face_width_mm);
    const SvgBox face{right - width, cells_base(box, choice, inside) - height, width, height};
    draw_face(svg, box, choice, face, box.rows[i].cells.front());
    if (i == 0) near_face = face;
    right -= choice.paper(box.face_width_mm + box.between_rows_mm);
  }
  return near_face;
}

// The face is the cell's, not the shop's: it is dimensioned where there is room, and noted.
void dimension_across(SvgWriter& svg, const BoxDrawing& box, const BoxViews& views,
                      const SvgBox& face) {
  const SvgBox& view = views.across;
  const SheetChoice& choice = views.choice;
  const DimensionLine across{.from_mm = face.x,
                             .to_mm = face.right(),
                             .line_mm = view.bottom() + near_line_mm,
                             .witness_mm = view.bottom(),
                             .text = size_text(box.face_width_mm)};
  DimensionLine upright{.along = Along::upright,
                        .from_mm = face.y,
                        .to_mm = face.bottom(),
                        .line_mm = view.right() + near_line_mm,
                        .witness_mm = view.right(),
                        .text = size_text(box.face_height_mm)};
  if (!across.text_outside()) draw_dimension(svg, across);
  if (!upright.text_outside()) draw_dimension(svg, upright);
  upright.line_mm = view.right() + far_line_mm;
  upright.from_mm = view.bottom() - choice.paper(box.floor_mm);
  upright.to_mm = view.bottom();
  upright.text = size_text(box.floor_mm);
  draw_dimension(svg, upright);
  if (!box.lid_mm) return;
  upright.from_mm = view.y;
  upright.to_mm = view.y + choice.paper(*box.lid_mm);
  upright.text = size_text(*box.lid_mm);
  upright.beyond = TextBeyond::first;
  draw_dimension(svg, upright);
}

void note_end_wall(SvgWriter& svg, const BoxDrawing& box, const BoxViews& views) {
  const SvgBox& view = views.across;
  if (box.join == BoxJoin::folded) {
    const double off =
        views.choice.paper(box.end_wall_mm) + 0.3 * views.choice.paper(box.bend_radius_mm);
    draw_leader(svg, {{view.x + off, view.bottom() - off},
                      {view.x - 2, view.bottom() + 5},
                      SvgAnchor::end,
                      "R " + size_text(box.bend_radius_mm) + " inside"});
    return;
  }
  const bool between = box.join == BoxJoin::sides_between_ends;
  const double width = between ? outside_of(box).width_mm : box.inner_width_mm;
  const std::string sizes = fmt::format("{} x {} x {}", size_text(width),
                                        size_text(box.inner_height_mm), size_text(box.end_wall_mm));
  // In the middle under the view, but clear of what stands to its left.
  const double middle = view.x + (view.width - text_width_mm(sizes, least_text_mm)) / 2;
  const double left = std::max(view.x - 6, middle);
  svg.text({left, view.bottom() + far_line_mm - 1}, "end walls:", {});
  svg.text({left, view.bottom() + far_line_mm + 2.6}, sizes, {});
}

// --- From above ---------------------------------------------------------------------------

void draw_walls_above(SvgWriter& svg, const BoxDrawing& box, const BoxViews& views) {
  const SvgBox& view = views.above;
  const double end = views.choice.paper(box.end_wall_mm);
  const double side = views.choice.paper(box.side_wall_mm);
  const bool over_ends = box.join == BoxJoin::sides_over_ends;
  const bool over_sides = box.join == BoxJoin::sides_between_ends;
  const double side_in = over_ends ? 0 : end;
  const double end_in = over_sides ? 0 : side;
  for (const double y : {view.y, view.bottom() - side}) {
    svg.rect({view.x + side_in, y, view.width - 2 * side_in, side}, wall_look);
  }
  for (const double x : {view.x, view.right() - end}) {
    svg.rect({x, view.y + end_in, end, view.height - 2 * end_in}, wall_look);
  }
}

void draw_rows_above(SvgWriter& svg, const BoxDrawing& box, const BoxViews& views,
                     const SvgBox& inside) {
  const SheetChoice& choice = views.choice;
  const double sheet = choice.paper(box.side_sheet_mm);
  svg.rect({inside.x, inside.y, inside.width, sheet}, sheet_look);
  svg.rect({inside.x, inside.bottom() - sheet, inside.width, sheet}, sheet_look);
  const auto rows = static_cast<double>(box.rows.size());
  const double wide = rows * box.face_width_mm + (rows - 1) * box.between_rows_mm;
  double near = inside.y + inside.height / 2 + choice.paper(wide) / 2;
  int number = 1;
  for (std::size_t i = 0; i < box.rows.size(); ++i) {
    const double far = near - choice.paper(box.face_width_mm);
    draw_row_from_above(svg,
                        {&box.rows[i], row_spots(box.rows[i], box.inner_length_mm), choice,
                         inside.x, fmt::format("above-{}", i + 1), number},
                        {far, near, choice.paper(terminal_spacing(box))});
    near = far - choice.paper(box.between_rows_mm);
    number += static_cast<int>(box.rows[i].cells.size());
  }
}

// Both end walls are alike: one is dimensioned, away from the upright dimensions.
void dimension_ends_above(SvgWriter& svg, const BoxDrawing& box, const BoxViews& views,
                          const SvgBox& inside) {
  const SvgBox& view = views.above;
  const bool at_first = box.comes_off == WallOff::first;
  DimensionLine dimension{
      .from_mm = at_first ? view.x : inside.right(),
      .to_mm = at_first ? inside.x : view.right(),
      .line_mm = view.bottom() + near_line_mm + mark_overhang(box, views.choice),
      .witness_mm = view.bottom(),
      .text = size_text(box.end_wall_mm),
      .beyond = at_first ? TextBeyond::first : TextBeyond::last};
  draw_dimension(svg, dimension);
  const RowSpots spots = row_spots(box.rows.front(), box.inner_length_mm);
  if (spots.cells.size() < 2) return;
  const double first = spots.cells.front().middle_mm();
  const double last = spots.cells.back().middle_mm();
  dimension.from_mm = inside.x + views.choice.paper(first);
  dimension.to_mm = inside.x + views.choice.paper(last);
  dimension.text = size_text(std::round((last - first) * 10) / 10);
  if (!dimension.text_outside()) draw_dimension(svg, dimension);
}

// Upright dimensions stand where no wall comes off.
void dimension_width_above(SvgWriter& svg, const BoxDrawing& box, const BoxViews& views,
                           const SvgBox& inside) {
  const SvgBox& view = views.above;
  const double out = box.comes_off == WallOff::first ? 1 : -1;
  DimensionLine dimension = width_dimension(box, views.choice, view);
  draw_dimension(svg, dimension);
  dimension.tolerance.reset();
  dimension.bold = false;
  dimension.from_mm = view.y;
  dimension.to_mm = inside.y;
  dimension.beyond = TextBeyond::first;
  dimension.text = size_text(box.side_wall_mm);
  draw_dimension(svg, dimension);
  dimension.to_mm = view.bottom();
  dimension.line_mm = dimension.witness_mm + out * far_line_mm;
  dimension.text = size_text(outside_of(box).width_mm);
  draw_dimension(svg, dimension);
}

void mark_wall_off(SvgWriter& svg, const BoxDrawing& box, const BoxViews& views) {
  if (box.comes_off == WallOff::none) return;
  const SvgBox& view = views.above;
  const bool last = box.comes_off == WallOff::last;
  const double out = last ? 1 : -1;
  const double wall = last ? view.right() : view.x;
  const double y = view.y + view.height / 2;
  constexpr double arrow = 8;
  svg.line({wall + out, y}, {wall + out * (arrow - 2), y}, SvgLine::wide);
  svg.polygon({{wall + out * arrow, y},
               {wall + out * (arrow - 3), y - 1},
               {wall + out * (arrow - 3), y + 1}},
              {SvgLine::none, SvgFill::black});
  const double first_line = last ? wall + arrow + 3.5 : wall - arrow - 5;
  const SvgText look{least_text_mm, SvgAnchor::middle, true, true};
  svg.text({first_line, y}, mark_words, look);
  svg.text({first_line + 3.5, y}, "comes off", look);
}

}  // namespace

void draw_box_along(SvgWriter& svg, const BoxDrawing& box, const BoxViews& views) {
  const SheetChoice& choice = views.choice;
  const SvgBox& view = views.along;
  const double end = choice.paper(box.end_wall_mm);
  const double floor = choice.paper(box.floor_mm);
  const SvgBox walls = without_lid(box, choice, view);
  const SvgBox inside{walls.x + end, walls.y, walls.width - 2 * end, walls.height - floor};
  svg.open_group({"along", "The box cut along the row"});
  svg.rect(inside, part_look, {"along-inside", ""});
  draw_walls_cut(
      svg, {walls, end, floor, choice.paper(box.bend_radius_mm), box.join == BoxJoin::folded});
  draw_lid(svg, box, choice, view);
  draw_lying_sheets(svg, box, choice, inside);
  const RowOnPaper row{&box.rows.front(),
                       row_spots(box.rows.front(), box.inner_length_mm),
                       choice,
                       inside.x,
                       "along-1",
                       1};
  draw_row_from_side(svg, row,
                     {cells_base(box, choice, inside), box.face_height_mm, box.terminal_height_mm});
  if (gap_figures_fit(box.rows.front(), choice)) draw_gap_figures(svg, row, view.y - 1.5);
  const double figures = gap_figures_height(box.rows.front());
  svg.text({view.x - near_line_mm, view.y - figures - 4}, "Cut along the row", view_title);
  draw_dimension(svg, length_dimension(box, choice, view));
  draw_dimension(svg, {.from_mm = view.x,
                       .to_mm = view.right(),
                       .line_mm = view.bottom() + far_line_mm,
                       .witness_mm = view.bottom(),
                       .text = size_text(outside_of(box).length_mm)});
  draw_heights(svg, box, views);
  svg.close_group();
}

void draw_box_across(SvgWriter& svg, const BoxDrawing& box, const BoxViews& views) {
  const SheetChoice& choice = views.choice;
  const SvgBox& view = views.across;
  const double side = choice.paper(box.side_wall_mm);
  const double floor = choice.paper(box.floor_mm);
  const SvgBox walls = without_lid(box, choice, view);
  const SvgBox inside{walls.x + side, walls.y, walls.width - 2 * side, walls.height - floor};
  svg.open_group({"across", "The box cut across the row, seen from the first end wall"});
  svg.rect(inside, part_look, {"across-inside", ""});
  draw_walls_cut(
      svg, {walls, side, floor, choice.paper(box.bend_radius_mm), box.join == BoxJoin::folded});
  draw_lid(svg, box, choice, view);
  const double sheet = choice.paper(box.side_sheet_mm);
  svg.rect({inside.x, inside.y, sheet, inside.height}, sheet_look);
  svg.rect({inside.right() - sheet, inside.y, sheet, inside.height}, sheet_look);
  draw_lying_sheets(svg, box, choice, inside);
  const SvgBox face = draw_faces(svg, box, choice, inside);
  const double figures = gap_figures_height(box.rows.front());
  svg.text({view.x, view.y - figures - 4}, "Cut across", view_title);
  dimension_across(svg, box, views, face);
  note_end_wall(svg, box, views);
  svg.close_group();
}

void draw_box_above(SvgWriter& svg, const BoxDrawing& box, const BoxViews& views) {
  const SvgBox& view = views.above;
  const double end = views.choice.paper(box.end_wall_mm);
  const double side = views.choice.paper(box.side_wall_mm);
  const SvgBox inside{view.x + end, view.y + side, view.width - 2 * end, view.height - 2 * side};
  svg.open_group({"above", "The box from above, without its lid"});
  draw_walls_above(svg, box, views);
  svg.rect(inside, part_look, {"above-inside", ""});
  draw_rows_above(svg, box, views, inside);
  // Clear of the side wall's figure, which stands to the right where the first wall comes off.
  const double title = box.comes_off == WallOff::first ? view.x - far_line_mm : view.x;
  svg.text({title, view.y - 2.5 - mark_overhang(box, views.choice)}, "From above", view_title);
  dimension_ends_above(svg, box, views, inside);
  dimension_width_above(svg, box, views, inside);
  mark_wall_off(svg, box, views);
  svg.close_group();
}

}  // namespace stackfit::cli
