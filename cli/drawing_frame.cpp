// SPDX-License-Identifier: GPL-3.0-or-later
//
// The drawing of a clamp frame: along the row with rods, springs and nuts, and a plate.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <set>
#include <stdexcept>
#include <utility>

#include "cli/drawing_looks.hpp"
#include "cli/drawing_row.hpp"
#include "cli/drawing_svg.hpp"

namespace stackfit::cli {
namespace {

// Paper round the views.
constexpr double left_mm = 20;
constexpr double title_mm = 6;
constexpr double least_over_mm = 16;
constexpr double under_mm = 28;
constexpr double third_line_mm = 24;
constexpr double between_mm = 24;
constexpr double right_mm = 21;
// Hexagon nuts and washers over the thread's diameter: about as ISO 4032 and ISO 7089 (from
// memory); drawn only, not dimensioned.
constexpr double nut_over_thread = 1.7;
constexpr double washer_over_thread = 2.1;
constexpr std::size_t most_listed_holes = 12;

void require(bool holds, const char* what) {
  if (!holds) throw std::invalid_argument(std::string("frame_drawing: ") + what);
}

bool all_positive(std::initializer_list<double> sizes) {
  return std::all_of(sizes.begin(), sizes.end(),
                     [](double mm) { return std::isfinite(mm) && mm > 0; });
}

// Places along a rod, from the outside of the first plate.
struct AlongRod {
  double rod_from_mm = 0;
  double rod_to_mm = 0;
  double last_plate_mm = 0;  ///< its inside
  double outside_mm = 0;     ///< of the last plate
};

// From a plate to the outside of its nut.
double beyond_plate(const FrameDrawing& frame, bool springs) {
  const double under_nut = frame.washer_mm + frame.nut_height_mm;
  return springs ? under_nut + frame.washer_mm + frame.springs_built_mm : under_nut;
}

bool springs_at_first(const FrameDrawing& frame) {
  return frame.springs_at_both && frame.springs_built_mm > 0;
}

AlongRod along_rod(const FrameDrawing& frame) {
  const double outside = frame.row_mm + 2 * frame.plate_mm;
  const double first = beyond_plate(frame, springs_at_first(frame));
  const double last = beyond_plate(frame, frame.springs_built_mm > 0);
  // What the rod is longer than all it goes through stands out at both ends alike.
  const double out = (frame.rod_length_mm - outside - first - last) / 2;
  require(out >= 0, "rods are shorter than what they go through");
  return {-first - out, outside + last + out, frame.plate_mm + frame.row_mm, outside};
}

void check(const FrameDrawing& frame) {
  require(all_positive({frame.plate_width_mm, frame.plate_height_mm, frame.plate_mm,
                        frame.rod_diameter_mm, frame.rod_length_mm, frame.nut_height_mm,
                        frame.row_mm, frame.face_width_mm, frame.face_height_mm}),
          "a size is not above zero");
  require(std::min({frame.washer_mm, frame.springs_built_mm, frame.springs_outer_mm,
                    frame.terminal_height_mm}) >= 0,
          "a size is below zero");
  require(!frame.holes.empty(), "no holes for rods");
  for (const CutHole& hole : frame.holes) {
    const double radius = hole.diameter_mm / 2;
    require(radius > 0 && std::abs(hole.x_mm) + radius < frame.plate_width_mm / 2 &&
                std::abs(hole.y_mm) + radius < frame.plate_height_mm / 2,
            "a hole that the plate does not hold");
  }
}

struct FrameViews {
  SheetChoice choice;
  SvgBox along;  ///< over the rods' whole length, as high as the plates
  SvgBox plate;
  double origin = 0;  ///< x of the first plate's outside

  [[nodiscard]] double x(double along_mm) const { return origin + choice.paper(along_mm); }
  [[nodiscard]] double y(double up_mm) const {
    return along.y + along.height / 2 - choice.paper(up_mm);
  }
};

double over_views(const FrameDrawing& frame) {
  return std::max(least_over_mm, title_mm + gap_figures_height(frame.row) + 3);
}

PaperNeed views_need(const FrameDrawing& frame, int denominator) {
  const SheetChoice choice{{}, denominator};
  return {left_mm + choice.paper(frame.rod_length_mm) + between_mm +
              choice.paper(frame.plate_width_mm) + right_mm,
          over_views(frame) + choice.paper(frame.plate_height_mm) + under_mm};
}

FrameViews place_views(const FrameDrawing& frame, const SheetChoice& choice, const SvgBox& area) {
  const PaperNeed need = views_need(frame, choice.denominator);
  const double length = choice.paper(frame.rod_length_mm);
  const double height = choice.paper(frame.plate_height_mm);
  const double x = area.x + (area.width - need.width_mm) / 2 + left_mm;
  const double y = area.y + (area.height - need.height_mm) / 2 + over_views(frame);
  FrameViews views;
  views.choice = choice;
  views.along = {x, y, length, height};
  views.plate = {x + length + between_mm, y, choice.paper(frame.plate_width_mm), height};
  views.origin = x - choice.paper(along_rod(frame).rod_from_mm);
  return views;
}

// --- Along the row ------------------------------------------------------------------------

// A round part on a rod, from one place along it to another.
SvgBox on_rod(const FrameViews& views, RowSpot along, double up_mm, double diameter_mm) {
  const double wide = views.choice.paper(diameter_mm);
  return {views.x(along.from_mm), views.y(up_mm) - wide / 2,
          views.choice.paper(along.to_mm - along.from_mm), wide};
}

void draw_springs(SvgWriter& svg, const SvgBox& box) {
  svg.rect(box, part_look);
  svg.line({box.x, box.y}, {box.right(), box.bottom()});
  svg.line({box.x, box.bottom()}, {box.right(), box.y});
}

// Washer, springs, washer and nut outwards from a plate's outside; `out` is +1 at the last one.
void draw_rod_end(SvgWriter& svg, const FrameDrawing& frame, const FrameViews& views, double up_mm,
                  double out) {
  const bool last = out > 0;
  const bool springs = last ? frame.springs_built_mm > 0 : springs_at_first(frame);
  double at = last ? along_rod(frame).outside_mm : 0;
  const auto next = [&](double long_mm) {
    const double from = at;
    at += out * long_mm;
    return RowSpot{std::min(from, at), std::max(from, at)};
  };
  const double washer = washer_over_thread * frame.rod_diameter_mm;
  if (springs) {
    svg.rect(on_rod(views, next(frame.washer_mm), up_mm, washer), part_look);
    const double outer = frame.springs_outer_mm > 0 ? frame.springs_outer_mm : washer;
    draw_springs(svg, on_rod(views, next(frame.springs_built_mm), up_mm, outer));
  }
  svg.rect(on_rod(views, next(frame.washer_mm), up_mm, washer), part_look);
  svg.rect(on_rod(views, next(frame.nut_height_mm), up_mm, nut_over_thread * frame.rod_diameter_mm),
           wall_look);
}

std::set<double> hole_places(const FrameDrawing& frame, double CutHole::*place) {
  std::set<double> places;
  for (const CutHole& hole : frame.holes) places.insert(hole.*place);
  return places;
}

void draw_rods(SvgWriter& svg, const FrameDrawing& frame, const FrameViews& views) {
  const AlongRod along = along_rod(frame);
  for (const double up : hole_places(frame, &CutHole::y_mm)) {
    svg.rect(on_rod(views, {along.rod_from_mm, along.rod_to_mm}, up, frame.rod_diameter_mm),
             part_look, {"", "Rod"});
    svg.line({views.along.x - 2, views.y(up)}, {views.along.right() + 2, views.y(up)},
             SvgLine::centre);
  }
}

void dimension_springs(SvgWriter& svg, const FrameDrawing& frame, const FrameViews& views) {
  if (frame.springs_built_mm == 0) return;
  const double from = along_rod(frame).outside_mm + frame.washer_mm;
  DimensionLine dimension{.from_mm = views.x(from),
                          .to_mm = views.x(from + frame.springs_built_mm),
                          .line_mm = views.along.bottom() + far_line_mm,
                          .witness_mm = views.along.bottom(),
                          .text = size_text(frame.springs_built_mm)};
  draw_dimension(svg, dimension);
  if (!frame.springs_at_both) return;
  dimension.from_mm = views.x(-frame.washer_mm - frame.springs_built_mm);
  dimension.to_mm = views.x(-frame.washer_mm);
  dimension.beyond = TextBeyond::first;
  draw_dimension(svg, dimension);
}

void dimension_along(SvgWriter& svg, const FrameDrawing& frame, const FrameViews& views) {
  const AlongRod along = along_rod(frame);
  const double bottom = views.along.bottom();
  draw_dimension(svg, {.from_mm = views.x(frame.plate_mm),
                       .to_mm = views.x(along.last_plate_mm),
                       .line_mm = bottom + near_line_mm,
                       .witness_mm = bottom,
                       .text = size_text(frame.row_mm),
                       .text_size_mm = 3.5,
                       .bold = true});
  draw_dimension(svg, {.from_mm = views.x(0),
                       .to_mm = views.x(frame.plate_mm),
                       .line_mm = bottom + near_line_mm,
                       .witness_mm = bottom,
                       .text = size_text(frame.plate_mm),
                       .beyond = TextBeyond::first});
  dimension_springs(svg, frame, views);
  draw_dimension(svg, {.from_mm = views.along.x,
                       .to_mm = views.along.right(),
                       .line_mm = bottom + third_line_mm,
                       .witness_mm = bottom,
                       .text = size_text(frame.rod_length_mm)});
}

void draw_along(SvgWriter& svg, const FrameDrawing& frame, const FrameViews& views) {
  const SheetChoice& choice = views.choice;
  const double thick = choice.paper(frame.plate_mm);
  svg.open_group({"along", "The frame along its row"});
  const double left = views.x(frame.plate_mm);
  svg.rect({left, views.along.y, choice.paper(frame.row_mm), views.along.height},
           {SvgLine::none, SvgFill::white}, {"along-inside", ""});
  const RowOnPaper row{&frame.row, row_spots(frame.row, frame.row_mm), choice, left, "along-1", 1};
  draw_row_from_side(
      svg, row,
      {views.y(-frame.face_height_mm / 2), frame.face_height_mm, frame.terminal_height_mm});
  draw_rods(svg, frame, views);
  for (const double from : {0.0, frame.plate_mm + frame.row_mm}) {
    svg.rect({views.x(from), views.along.y, thick, views.along.height}, wall_look);
  }
  for (const double up : hole_places(frame, &CutHole::y_mm)) {
    draw_rod_end(svg, frame, views, up, -1);
    draw_rod_end(svg, frame, views, up, 1);
  }
  if (gap_figures_fit(frame.row, choice)) draw_gap_figures(svg, row, views.along.y - 2);
  svg.text({views.along.x, views.along.y - gap_figures_height(frame.row) - 5}, "Along the row",
           view_title);
  dimension_along(svg, frame, views);
  svg.close_group();
}

// --- Plate --------------------------------------------------------------------------------

// From edge to hole to hole; what is left to the other edge follows from the whole. A figure that
// has no room among others is left to the notes.
void dimension_chain(SvgWriter& svg, DimensionLine dimension, const std::vector<double>& places,
                     double denominator) {
  for (std::size_t i = 0; i + 1 < places.size(); ++i) {
    dimension.from_mm = places[i];
    dimension.to_mm = places[i + 1];
    dimension.text = size_text((places[i + 1] - places[i]) * denominator);
    const bool first = i == 0;
    dimension.beyond = first ? TextBeyond::first : TextBeyond::last;
    if (first || !dimension.text_outside()) draw_dimension(svg, dimension);
  }
}

void dimension_plate(SvgWriter& svg, const FrameDrawing& frame, const FrameViews& views) {
  const SvgBox& plate = views.plate;
  const double n = views.choice.denominator;
  const SvgPoint middle{plate.x + plate.width / 2, plate.y + plate.height / 2};
  std::vector<double> across{plate.x};
  for (const double x : hole_places(frame, &CutHole::x_mm)) across.push_back(middle.x + x / n);
  std::vector<double> upright{plate.y};
  const std::set<double> ups = hole_places(frame, &CutHole::y_mm);
  for (auto up = ups.rbegin(); up != ups.rend(); ++up) upright.push_back(middle.y - *up / n);

  DimensionLine dimension{
      .line_mm = plate.bottom() + near_line_mm, .witness_mm = plate.bottom(), .text = ""};
  dimension_chain(svg, dimension, across, n);
  dimension.line_mm = plate.bottom() + far_line_mm;
  dimension_chain(svg, dimension, {plate.x, plate.right()}, n);
  dimension.along = Along::upright;
  dimension.line_mm = plate.right() + near_line_mm;
  dimension.witness_mm = plate.right();
  dimension_chain(svg, dimension, upright, n);
  dimension.line_mm = plate.right() + far_line_mm;
  dimension_chain(svg, dimension, {plate.y, plate.bottom()}, n);
}

std::string holes_text(const FrameDrawing& frame) {
  // U+00D8 for a diameter: ISO 129-1's own sign is missing in many fonts.
  return fmt::format("{} x \u00d8 {}", frame.holes.size(),
                     size_text(frame.holes.front().diameter_mm));
}

void draw_plate(SvgWriter& svg, const FrameDrawing& frame, const FrameViews& views) {
  const SvgBox& plate = views.plate;
  const SheetChoice& choice = views.choice;
  const SvgPoint middle{plate.x + plate.width / 2, plate.y + plate.height / 2};
  svg.open_group({"plate", "A plate, seen from the first end"});
  svg.rect(plate, {SvgLine::wide, SvgFill::light}, {"plate-outline", ""});
  const double width = choice.paper(frame.face_width_mm);
  const double height = choice.paper(frame.face_height_mm);
  svg.rect({middle.x - width / 2, middle.y - height / 2, width, height},
           {SvgLine::hidden, SvgFill::none}, {"", "Where the cells' faces lie"});
  SvgPoint corner{plate.right(), plate.bottom()};
  for (const CutHole& hole : frame.holes) {
    const SvgPoint at{middle.x + choice.paper(hole.x_mm), middle.y - choice.paper(hole.y_mm)};
    const double radius = choice.paper(hole.diameter_mm) / 2;
    svg.circle(at, radius, {SvgLine::wide, SvgFill::white});
    svg.line({at.x - radius - 1, at.y}, {at.x + radius + 1, at.y}, SvgLine::centre);
    svg.line({at.x, at.y - radius - 1}, {at.x, at.y + radius + 1}, SvgLine::centre);
    if (at.x + at.y < corner.x + corner.y) corner = at;
  }
  draw_leader(svg, {corner, {plate.x - 2, plate.y - 3}, SvgAnchor::end, holes_text(frame)});
  svg.text({plate.x, plate.y - gap_figures_height(frame.row) - 5}, "Plate, two alike", view_title);
  dimension_plate(svg, frame, views);
  svg.close_group();
}

// --- Notes --------------------------------------------------------------------------------

std::string holes_note(const FrameDrawing& frame) {
  std::string text = "Holes from the plate's middle, across / up: ";
  const std::size_t listed = std::min(frame.holes.size(), most_listed_holes);
  for (std::size_t i = 0; i < listed; ++i) {
    text += fmt::format("{}{} / {}", i == 0 ? "" : ", ", size_text(frame.holes[i].x_mm),
                        size_text(frame.holes[i].y_mm));
  }
  return text + (listed < frame.holes.size() ? " and more." : ". Drill both plates together.");
}

std::vector<DrawingNote> notes_of(const FrameDrawing& frame) {
  std::vector<DrawingNote> notes;
  notes.push_back({fmt::format("Plates: {} x {} x {}. Rods: {} of {} mm thread, {} long.",
                               size_text(frame.plate_width_mm), size_text(frame.plate_height_mm),
                               size_text(frame.plate_mm), frame.holes.size(),
                               size_text(frame.rod_diameter_mm), size_text(frame.rod_length_mm)),
                   false});
  notes.push_back({holes_note(frame), false});
  if (frame.springs_built_mm > 0) {
    notes.push_back({fmt::format("Springs: {} long as built in, at {}. Set them by this length.",
                                 size_text(frame.springs_built_mm),
                                 frame.springs_at_both ? "both ends" : "the last end"),
                     false});
  }
  notes.push_back({fmt::format("Cells: {}. Over the row: sheets in each gap, P with a pad.",
                               frame.row.cells.size()),
                   false});
  add_kit_notes(notes, frame.kit);
  return notes;
}

}  // namespace

std::string frame_drawing(const FrameDrawing& frame) {
  check(frame);
  const std::vector<DrawingNote> notes = notes_of(frame);
  const NeedAt need = [&](int denominator) { return views_need(frame, denominator); };
  const SheetChoice choice = choose_sheet(need, notes);
  const FrameViews views = place_views(frame, choice, view_area(choice.sheet, notes));
  SvgWriter svg({choice.sheet.width_mm,
                 choice.sheet.height_mm,
                 frame.head.title,
                 fmt::format("A clamp frame for {} cells, drawn {}: along its row, and a plate. "
                             "{} between the plates, rods {} long; all in mm.",
                             frame.row.cells.size(), scale_text(choice.denominator),
                             size_text(frame.row_mm), size_text(frame.rod_length_mm)),
                 frame.head.inline_id,
                 {.classes = "wide", .data = {}}});
  draw_sheet(svg, choice,
             {frame.head, "clamp frame", "row", size_text(frame.row_mm) + " between the plates"},
             notes);
  draw_along(svg, frame, views);
  draw_plate(svg, frame, views);
  return std::move(svg).finish();
}

}  // namespace stackfit::cli
