// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/size_drawing.hpp"

#include <fmt/format.h>

#include "cli/drawing_svg.hpp"
#include "cli/view_size_parts.hpp"
#include "solver/plan_result.hpp"

namespace stackfit::cli {
namespace {

DrawnRow row_of(const SizeAnswer& answer) {
  const SizeDetails& details = *answer.details;
  const auto parallel = static_cast<std::size_t>(parallel_of(answer.as_ordered));
  DrawnRow row;
  for (std::size_t i = 0; i < details.cell_mm.size(); ++i) {
    const std::string& id = answer.as_ordered.cells[i].id;
    row.cells.push_back({id, details.cell_mm[i], (i / parallel) % 2 == 0});
  }
  for (std::size_t i = 0; i < details.gap_mm.size(); ++i) {
    const bool first = i == 0;
    const bool last = i + 1 == details.gap_mm.size();
    const bool pad = answer.pad && (first || (last && answer.pad->both_ends));
    row.gaps.push_back({details.gap_mm[i], pad});
  }
  return row;
}

double part_mm(const InnerSize& size, SectionPart which) {
  double sum = 0;
  for (const SectionPartSize& part : size.parts) {
    sum += part.part == which ? part.mm : 0;
  }
  return sum;
}

std::vector<std::string> kit_lines(const SizeAnswer& answer) {
  std::vector<std::string> lines;
  for (const KitShim& shim : answer.as_ordered.kit) {
    lines.push_back(fmt::format("{} sheets of {:g} mm, each as the cell's face", shim.count,
                                shim.sheet.thickness_mm));
  }
  return lines;
}

double terminal_height_mm(const SizeAnswer& answer) {
  const auto& terminals = answer.as_ordered.cell.terminals;
  return terminals && terminals->height_mm ? *terminals->height_mm
         : answer.section                  ? part_mm(answer.section->height, SectionPart::terminals)
                                           : assumption(Assumed::terminal_height).value;
}

BoxDrawing box_of(const SizeAnswer& answer) {
  const BoxToCut& cut = answer.details->box;
  const BoxSection& section = *answer.section;
  const Build& build = answer.as_ordered;
  BoxDrawing box;
  box.after_paint = false;
  box.paint_mm = answer.paint_mm;
  box.inner_length_mm = cut.inner_length_mm;
  box.inner_width_mm = cut.inner_width_mm;
  box.inner_height_mm = cut.inner_height_mm;
  box.length_tolerance = DrawnTolerance{cut.length_tolerance_mm, 0};
  if (!section.width.said_mm) {
    box.width_tolerance = DrawnTolerance{section.width.tolerance_mm, 0};
  }
  if (!section.height.said_mm) {
    box.height_tolerance = DrawnTolerance{section.height.tolerance_mm, 0};
  }
  box.end_wall_mm = cut.end_wall_mm;
  box.side_wall_mm = cut.side_wall_mm;
  box.floor_mm = cut.floor_mm;
  box.lid_mm = cut.lid_mm;
  box.join = cut.join;
  box.bend_radius_mm = cut.bend_radius_mm;
  box.comes_off = build.box.opens == Opens::none ? WallOff::none : WallOff::last;
  box.rows = {row_of(answer)};
  box.face_width_mm = build.cell.face.width_mm;
  box.face_height_mm = build.cell.face.height_mm;
  box.face_corner_radius_mm = build.cell.face.corner_radius_mm.value_or(0);
  box.terminal_height_mm = terminal_height_mm(answer);
  box.side_sheet_mm = 0.5 * part_mm(section.width, SectionPart::side_sheets);
  box.floor_sheet_mm = part_mm(section.height, SectionPart::floor_sheet);
  box.raise_mm = part_mm(section.height, SectionPart::raise);
  box.lid_sheet_mm = part_mm(section.height, SectionPart::lid_sheet);
  box.kit = kit_lines(answer);
  return box;
}

FrameDrawing frame_of(const SizeAnswer& answer) {
  const FrameOrder& frame = *answer.frame;
  const Frame& said = *answer.as_ordered.frame;
  const FrameResult& set = *frame.plan->frame;
  FrameDrawing drawing;
  drawing.plate_width_mm = said.plates.width_mm;
  drawing.plate_height_mm = said.plates.height_mm;
  drawing.plate_mm = frame.plates->chosen.thickness_mm;
  for (const CutPart& part : answer.details->cuts) {
    if (part.code == CutCode::frame_plate) {
      drawing.holes = part.holes;
    }
  }
  drawing.rod_diameter_mm = frame.rods.thread_mm;
  drawing.rod_length_mm = frame.rods.length_mm;
  drawing.nut_height_mm = frame.rods.nut_height_mm;
  drawing.washer_mm = frame.rods.washer_mm;
  if (frame.springs) {
    drawing.springs_built_mm = set.as_built.spring_length_mm;
    drawing.springs_outer_mm = frame.springs->disc.outer_mm;
  }
  drawing.row = row_of(answer);
  drawing.row_mm = set.overall_length_mm - 2 * drawing.plate_mm;
  drawing.face_width_mm = answer.as_ordered.cell.face.width_mm;
  drawing.face_height_mm = answer.as_ordered.cell.face.height_mm;
  drawing.terminal_height_mm = terminal_height_mm(answer);
  drawing.kit = kit_lines(answer);
  return drawing;
}

}  // namespace

std::string drawing_of(const SizeAnswer& answer, const std::string& file, const std::string& date,
                       const std::string& inline_id) {
  const DrawingHead head{answer.title, file, date, "", inline_id};
  if (answer.frame) {
    FrameDrawing frame = frame_of(answer);
    frame.head = head;
    return frame_drawing(frame);
  }
  BoxDrawing box = box_of(answer);
  box.head = head;
  return box_drawing(box);
}

}  // namespace stackfit::cli
