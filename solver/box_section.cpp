// SPDX-License-Identifier: GPL-3.0-or-later
//
// Inner width and height as sums of parts, and what is left where they are there already.
#include "solver/box_section.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>
#include <utility>
#include <vector>

#include "solver/box_section_parts.hpp"
#include "solver/materials.hpp"

namespace stackfit {
namespace {

double sum_mm(const std::vector<SectionPartSize>& parts) {
  return std::accumulate(parts.begin(), parts.end(), 0.0,
                         [](double sum, const SectionPartSize& part) { return sum + part.mm; });
}

/// Parts in order; what takes no room is not listed.
class Parts {
 public:
  void add(SectionPart part, double mm, bool assumed = false) {
    if (mm != 0) {
      list_.push_back({part, mm, assumed});
    }
  }
  [[nodiscard]] std::vector<SectionPartSize> take() { return std::move(list_); }

 private:
  std::vector<SectionPartSize> list_;
};

bool sides_metal(const Build& build) {
  const auto said = build.box.side_walls.material;
  return said ? material(*said).metal : walls_are_metal(build);
}

/// An insulating sheet: said, or the table's where there is metal.
double sheet_mm(const Resolution& r, const std::optional<double>& said, bool metal) {
  return said || metal ? r.take(said, Assumed::side_sheet) : 0;
}

SectionFigures figures_of(const Resolution& r) {
  const Order& order = r.build.order;
  SectionFigures f;
  f.sides_metal = sides_metal(r.build);
  f.ends_metal = walls_are_metal(r.build);
  f.side_sheet_mm = sheet_mm(r, order.side_sheet_mm, f.sides_metal);
  f.floor_sheet_mm = sheet_mm(r, order.floor_sheet_mm, f.sides_metal);
  const bool lid = r.build.box.lid != Lid::none;
  f.lid_sheet_mm = sheet_mm(r, order.lid_sheet_mm, f.sides_metal && lid);
  f.slide_mm = r.take(order.slide_mm, Assumed::slide_room);
  f.face_radius_mm = r.take(r.build.cell.face.corner_radius_mm, Assumed::corner_radius);
  f.keep_clear_mm = f.sides_metal || f.ends_metal ? std::min(f.side_sheet_mm, f.floor_sheet_mm) : 0;
  return f;
}

/// Paint, then up to the step; and what is left where a reading is there.
InnerSize ordered(const Resolution& r, std::vector<SectionPartSize> parts,
                  const std::optional<double>& said, double soft_room_mm) {
  const Order& order = r.build.order;
  InnerSize size;
  size.parts = std::move(parts);
  const double need = sum_mm(size.parts);
  if (said) {
    size.said_mm = said;
    size.left_mm = *said - need;
    size.hard_left_mm = size.left_mm + soft_room_mm;
  }
  Parts more;
  const double paint = 2 * r.take(order.paint_mm, Assumed::paint);
  more.add(SectionPart::paint, paint, !order.paint_mm);
  const double step = r.take(order.length_step_mm, Assumed::length_step);
  size.nominal_mm = std::ceil((need + paint - section_same_mm) / step) * step;
  size.painted_mm = size.nominal_mm - paint;
  const double rounding = size.nominal_mm - need - paint;
  more.add(SectionPart::rounding, rounding > section_same_mm ? rounding : 0, !order.length_step_mm);
  const std::vector<SectionPartSize> rest = more.take();
  size.parts.insert(size.parts.end(), rest.begin(), rest.end());
  size.tolerance_mm = r.take(order.length_tolerance_mm, Assumed::length_tolerance);
  return size;
}

InnerSize width_of(const Resolution& r, const SectionFigures& f) {
  const FaceSize& face = r.build.cell.face;
  const int rows = std::max(1, r.build.rows.value_or(1));
  Parts parts;
  parts.add(SectionPart::faces, rows * face.width_mm);
  parts.add(SectionPart::face_tolerance,
            rows * r.take(face.width_tolerance_mm, Assumed::face_tolerance),
            !face.width_tolerance_mm);
  parts.add(SectionPart::between_rows, (rows - 1) * r.build.between_rows_mm.value_or(0));
  parts.add(SectionPart::side_sheets, 2 * f.side_sheet_mm, !r.build.order.side_sheet_mm);
  parts.add(SectionPart::slide_room, f.slide_mm, !r.build.order.slide_mm);
  return ordered(r, parts.take(), r.build.box.inner_width_mm, f.slide_mm);
}

InnerSize height_of(const Resolution& r, const SectionFigures& f, double raise_mm) {
  const FaceSize& face = r.build.cell.face;
  const Order& order = r.build.order;
  const bool lid = r.build.box.lid != Lid::none;
  const Terminals terminals = r.build.cell.terminals.value_or(Terminals{});
  const double over =
      lid || order.over_terminals_mm ? r.take(order.over_terminals_mm, Assumed::over_terminals) : 0;
  Parts parts;
  parts.add(SectionPart::floor_sheet, f.floor_sheet_mm, !order.floor_sheet_mm);
  parts.add(SectionPart::raise, raise_mm);
  parts.add(SectionPart::cell_height, face.height_mm);
  parts.add(SectionPart::height_tolerance,
            r.take(face.height_tolerance_mm, Assumed::face_tolerance), !face.height_tolerance_mm);
  parts.add(SectionPart::terminals, r.take(terminals.height_mm, Assumed::terminal_height),
            !terminals.height_mm);
  parts.add(SectionPart::over_terminals, over, !order.over_terminals_mm);
  parts.add(SectionPart::lid_sheet, f.lid_sheet_mm, !order.lid_sheet_mm);
  return ordered(r, parts.take(), r.build.box.inner_height_mm, over);
}

/// How far the cells are off each side wall where they stand in the middle.
double middle_beside_mm(const InnerSize& width, const SectionFigures& f) {
  const double room = width.said_mm ? width.hard_left_mm : f.slide_mm;
  return f.side_sheet_mm + std::max(0.0, room) / 2;
}

void add_size_conflict(const InnerSize& size, SectionPlace place, SectionStep step,
                       BoxSection& section) {
  if (!size.said_mm || size.left_mm >= -section_same_mm) {
    return;
  }
  const bool out = size.hard_left_mm < -section_same_mm;
  section.conflicts.push_back(
      {.code = out ? SectionConflictCode::does_not_go_in : SectionConflictCode::room_short,
       .place = place,
       .mm = out ? -size.hard_left_mm : -size.left_mm,
       .steps = {{step, -size.left_mm}}});
}

std::vector<SectionInsulation> insulation_of(const Resolution& r, const SectionFigures& f) {
  const Order& order = r.build.order;
  std::vector<SectionInsulation> lines;
  for (const bool last : {false, true}) {
    lines.push_back({SectionPlace::end_wall, last, f.ends_metal,
                     f.ends_metal ? r.take({}, Assumed::side_sheet) : 0, f.ends_metal, true});
  }
  for (const bool last : {false, true}) {
    lines.push_back({SectionPlace::side_wall, last, f.sides_metal, f.side_sheet_mm,
                     f.sides_metal && !order.side_sheet_mm, false});
  }
  lines.push_back(
      {SectionPlace::floor, false, f.sides_metal, f.floor_sheet_mm, !order.floor_sheet_mm, false});
  if (r.build.box.lid != Lid::none) {
    lines.push_back(
        {SectionPlace::lid, false, f.sides_metal, f.lid_sheet_mm, !order.lid_sheet_mm, false});
  }
  return lines;
}

/// Metal under or beside the cells with a sheet of no thickness. The lid does not touch them.
void add_bare_conflicts(const Resolution& r, BoxSection& section) {
  for (const SectionInsulation& line : section.insulation) {
    if (line.metal && line.sheet_mm == 0 && !line.last && line.place != SectionPlace::lid) {
      section.conflicts.push_back(
          {.code = SectionConflictCode::no_sheet,
           .place = line.place,
           .mm = 0,
           .steps = {{SectionStep::insulating_sheet, r.assumptions[Assumed::side_sheet]}}});
    }
  }
}

/// Lifts the cells over what fills the floor's corners, by sheets sold or else to measure.
/// Returns by how much.
double raise_cells(const std::vector<double>& stock, BoxSection& section) {
  double raise = 0;
  for (const SectionCorner& corner : section.corners) {
    if (!corner.clear()) {
      raise = std::max(raise, corner.need_mm - corner.has_mm);
    }
  }
  section.raise_sheets_mm = least_pile(stock, raise);
  const std::vector<double>& pile = section.raise_sheets_mm;
  if (!pile.empty()) {
    raise = std::accumulate(pile.begin(), pile.end(), 0.0);
  }
  for (SectionCorner& corner : section.corners) {
    corner.has_mm += raise;
  }
  return raise;
}

void require_section(const Build& build) {
  if (build.frame) {
    throw std::invalid_argument("a clamp frame has no inner width and height");
  }
  if (!(build.cell.face.width_mm > 0 && build.cell.face.height_mm > 0)) {
    throw std::invalid_argument("the cell's face has no size");
  }
}

}  // namespace

BoxSection size_section(const Build& build, const Assumptions& assumptions, Findings& findings,
                        const SectionRequest& request) {
  require_section(build);
  const Resolution r{build, assumptions, findings};
  const SectionFigures f = figures_of(r);
  const std::vector<double>& stock =
      build.order.sheet_stock_mm.empty() ? request.sheets_sold_mm : build.order.sheet_stock_mm;
  BoxSection section;
  section.keep_clear_mm = f.keep_clear_mm;
  section.end_standoff_mm = f.keep_clear_mm;
  section.width = width_of(r, f);
  CellPlace place{f.floor_sheet_mm, middle_beside_mm(section.width, f), request.end_standoff_mm};
  section.corners = side_foot_corners(r, f, place);
  const double raise = raise_cells(stock, section);
  section.height = height_of(r, f, raise);
  place.under_mm += raise;
  for (const SectionCorner& corner : end_corners(r, f, place)) {
    section.end_standoff_mm = std::max(section.end_standoff_mm, corner.need_mm);
    section.corners.push_back(corner);
  }
  section.insulation = insulation_of(r, f);
  section.levelling =
      level_cells(stock, 2 * r.take(build.cell.face.height_tolerance_mm, Assumed::face_tolerance));
  add_size_conflict(section.width, SectionPlace::width, SectionStep::wider, section);
  add_size_conflict(section.height, SectionPlace::height, SectionStep::higher, section);
  add_corner_conflicts(f, place, section);
  add_head_conflicts(r, f, place, section);
  add_bare_conflicts(r, section);
  return section;
}

}  // namespace stackfit
