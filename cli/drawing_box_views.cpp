// SPDX-License-Identifier: GPL-3.0-or-later
//
// Where the views of a box stand, and its walls as cut.
#include <fmt/format.h>

#include <algorithm>

#include "cli/drawing_box_parts.hpp"
#include "cli/drawing_looks.hpp"

namespace stackfit::cli {
namespace {

// Paper round the views, for their titles, dimensions and marks.
constexpr double left_mm = 23;               ///< two upright dimension lines
constexpr double title_mm = 6;               ///< over a view
constexpr double least_under_along_mm = 21;  ///< two dimension lines
constexpr double least_under_above_mm = 14;  ///< one
constexpr double between_mm = 22;            ///< what comes off, a leader
constexpr double right_mm = 19;              ///< two upright dimension lines
constexpr double least_over_along_mm = 14;
constexpr double leader_room_mm = 20;  ///< of a bend's radius

/// Where no data sheet says it: a share of the face's width that looks like most cells.
constexpr double usual_terminal_spacing = 0.6;

double over_along(const BoxDrawing& box) {
  return std::max(least_over_along_mm, title_mm + gap_figures_height(box.rows.front()) + 2);
}

// Upright figures that have no room between their arrows stand under the view.
double under_above(const BoxDrawing& box, const SheetChoice& choice) {
  return std::max(least_under_above_mm, width_dimension(box, choice, {}).overhang_mm() + 2);
}

// There the figure of the side wall's thickness comes up from the view below.
double under_along(const BoxDrawing& box, const SheetChoice& choice) {
  const double height = height_dimension(box, choice, {}).overhang_mm();
  if (height == 0) return least_under_along_mm;
  DimensionLine side = width_dimension(box, choice, {});
  side.to_mm = side.from_mm + choice.paper(box.side_wall_mm);
  side.text = size_text(box.side_wall_mm);
  side.tolerance.reset();
  return std::max(least_under_along_mm, height + side.overhang_mm() + 2 - title_mm);
}

// The inner length's figure may stand beyond a short box.
double between_views(const BoxDrawing& box, const SheetChoice& choice) {
  const double over = length_dimension(box, choice, {}).overhang_mm();
  if (over == 0) return between_mm;
  const double leader = box.join == BoxJoin::folded ? leader_room_mm : 0;
  return std::max(between_mm, over - choice.paper(box.end_wall_mm) + 2 + leader);
}

}  // namespace

BoxOutside outside_of(const BoxDrawing& box) {
  return {box.inner_length_mm + 2 * box.end_wall_mm, box.inner_width_mm + 2 * box.side_wall_mm,
          box.floor_mm + box.inner_height_mm + box.lid_mm.value_or(0)};
}

double terminal_spacing(const BoxDrawing& box) {
  return box.terminal_spacing_mm.value_or(usual_terminal_spacing * box.face_width_mm);
}

double mark_overhang(const BoxDrawing& box, const SheetChoice& choice) {
  if (box.comes_off == WallOff::none) return 0;
  const double mark = text_width_mm(mark_words, least_text_mm) + 1;
  return std::max(0.0, (mark - choice.paper(outside_of(box).width_mm)) / 2);
}

DimensionLine length_dimension(const BoxDrawing& box, const SheetChoice& choice,
                               const SvgBox& along) {
  const double from = along.x + choice.paper(box.end_wall_mm);
  return {.along = Along::across,
          .from_mm = from,
          .to_mm = from + choice.paper(box.inner_length_mm),
          .line_mm = along.bottom() + near_line_mm,
          .witness_mm = along.bottom(),
          .text = size_text(box.inner_length_mm),
          .tolerance = box.length_tolerance,
          .text_size_mm = 3.5,
          .bold = true};
}

DimensionLine height_dimension(const BoxDrawing& box, const SheetChoice& choice,
                               const SvgBox& along) {
  const double bottom = along.bottom() - choice.paper(box.floor_mm);
  return {.along = Along::upright,
          .from_mm = bottom - choice.paper(box.inner_height_mm),
          .to_mm = bottom,
          .line_mm = along.x - near_line_mm,
          .witness_mm = along.x,
          .text = size_text(box.inner_height_mm),
          .tolerance = box.height_tolerance,
          .bold = true};
}

DimensionLine width_dimension(const BoxDrawing& box, const SheetChoice& choice,
                              const SvgBox& above) {
  const bool right = box.comes_off == WallOff::first;
  const double from = above.y + choice.paper(box.side_wall_mm);
  return {.along = Along::upright,
          .from_mm = from,
          .to_mm = from + choice.paper(box.inner_width_mm),
          .line_mm = right ? above.right() + near_line_mm : above.x - near_line_mm,
          .witness_mm = right ? above.right() : above.x,
          .text = size_text(box.inner_width_mm),
          .tolerance = box.width_tolerance,
          .bold = true};
}

PaperNeed views_need(const BoxDrawing& box, int denominator) {
  const SheetChoice choice{{}, denominator};
  const BoxOutside outside = outside_of(box);
  const double width = choice.paper(outside.width_mm);
  return {left_mm + choice.paper(outside.length_mm) + between_views(box, choice) + width + right_mm,
          over_along(box) + choice.paper(outside.height_mm) + under_along(box, choice) + title_mm +
              width + under_above(box, choice) + 2 * mark_overhang(box, choice)};
}

BoxViews place_views(const BoxDrawing& box, const SheetChoice& choice, const SvgBox& area) {
  const PaperNeed need = views_need(box, choice.denominator);
  const BoxOutside outside = outside_of(box);
  const double length = choice.paper(outside.length_mm);
  const double width = choice.paper(outside.width_mm);
  const double height = choice.paper(outside.height_mm);
  const double x = area.x + (area.width - need.width_mm) / 2 + left_mm;
  const double y = area.y + (area.height - need.height_mm) / 2 + over_along(box);
  BoxViews views;
  views.choice = choice;
  views.along = {x, y, length, height};
  views.across = {x + length + between_views(box, choice), y, width, height};
  views.above = {x, y + height + under_along(box, choice) + title_mm + mark_overhang(box, choice),
                 length, width};
  return views;
}

void draw_walls_cut(SvgWriter& svg, const WallsCut& walls) {
  const SvgBox& out = walls.outline;
  const double inner_bottom = out.bottom() - walls.floor_mm;
  if (!walls.folded) {
    svg.rect({out.x, inner_bottom, out.width, walls.floor_mm}, wall_look);
    svg.rect({out.x, out.y, walls.wall_mm, out.height - walls.floor_mm}, wall_look);
    svg.rect({out.right() - walls.wall_mm, out.y, walls.wall_mm, out.height - walls.floor_mm},
             wall_look);
    return;
  }
  const double inside = walls.radius_mm;
  const double outside = inside + walls.wall_mm;
  const double left = out.x + walls.wall_mm;
  const double right = out.right() - walls.wall_mm;
  const auto n = [](double value) { return svg_number(value); };
  // Down the outside of one wall and up the other's, then the inside back again.
  svg.path(fmt::format("M {} {} V {} a {} {} 0 0 0 {} {} H {} a {} {} 0 0 0 {} {} V {} H {} V {} "
                       "a {} {} 0 0 1 {} {} H {} a {} {} 0 0 1 {} {} V {} Z",
                       n(out.x), n(out.y), n(out.bottom() - outside), n(outside), n(outside),
                       n(outside), n(outside), n(out.right() - outside), n(outside), n(outside),
                       n(outside), n(-outside), n(out.y), n(right), n(inner_bottom - inside),
                       n(inside), n(inside), n(-inside), n(inside), n(left + inside), n(inside),
                       n(inside), n(-inside), n(-inside), n(out.y)),
           wall_look);
}

}  // namespace stackfit::cli
