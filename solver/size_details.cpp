// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/size_details.hpp"

#include <algorithm>
#include <iterator>
#include <string>
#include <utility>
#include <variant>

#include "solver/materials.hpp"

namespace stackfit {
namespace {

PlateWall end_wall(const Build& build) {
  const auto* plate = build.box.end_walls ? std::get_if<PlateWall>(&*build.box.end_walls) : nullptr;
  return plate != nullptr ? *plate : PlateWall{};
}

/// The box of bare metal. Walls of which nothing is known are as thick as the end walls.
BoxToCut box_to_cut(const Build& build, const BoxSection& section, const LengthOffer& length,
                    double paint_mm, double usual_wall_mm) {
  const PlateWall end = end_wall(build);
  BoxToCut box;
  box.inner_length_mm = length.nominal_mm + 2 * paint_mm;
  box.length_tolerance_mm = length.tolerance_mm;
  // What was said is read in the finished box.
  const auto bare = [&](const InnerSize& size) {
    return size.said_mm ? *size.said_mm + 2 * paint_mm : size.nominal_mm;
  };
  box.inner_width_mm = bare(section.width);
  box.inner_height_mm = bare(section.height);
  box.end_wall_mm = end.thickness_mm.value_or(usual_wall_mm);
  box.side_wall_mm = build.box.side_walls.thickness_mm.value_or(box.end_wall_mm);
  box.floor_mm = box.side_wall_mm;
  if (build.box.lid != Lid::none) {
    box.lid_mm = box.side_wall_mm;
  }
  box.end_material = end.material.value_or(wall_when_not_said);
  box.other_material = build.box.side_walls.material.value_or(box.end_material);
  const bool one_piece = box.end_wall_mm == box.side_wall_mm &&
                         box.end_material == box.other_material && build.order.floor_bend_mm &&
                         *build.order.floor_bend_mm > 0;
  if (end.joint == WallJoint::folded && one_piece) {
    box.join = BoxJoin::folded;
    box.bend_radius_mm = *build.order.floor_bend_mm;
  }
  return box;
}

/// Sheets to buy, all of them, whichever of them the cells will ask for.
std::vector<CutPart> bought_parts(const Build& build) {
  std::vector<CutPart> parts;
  for (const KitShim& shim : build.kit) {
    CutPart part;
    part.code = shim.sheet.where.word == PlaceWord::ends ? CutCode::filler_plate : CutCode::shim;
    part.name = shim.sheet.name;
    part.count = shim.count;
    part.length_mm = build.cell.face.width_mm;
    part.width_mm = build.cell.face.height_mm;
    part.thickness_mm = shim.sheet.thickness_mm;
    part.material = std::string(material(shim.sheet.material.value_or(sheet_when_not_said)).name);
    part.remark = CutRemark::whole_face;
    parts.push_back(std::move(part));
  }
  return parts;
}

double part_of(const InnerSize& size, SectionPart which) {
  double sum = 0;
  for (const SectionPartSize& part : size.parts) {
    sum += part.part == which ? part.mm : 0;
  }
  return sum;
}

LiningToCut lining_of(const BoxToCut& box, const BoxSection& section) {
  LiningToCut lining;
  lining.inner_length_mm = box.inner_length_mm;
  lining.inner_width_mm = box.inner_width_mm;
  lining.inner_height_mm = box.inner_height_mm;
  lining.side_mm = 0.5 * part_of(section.width, SectionPart::side_sheets);
  lining.floor_mm = part_of(section.height, SectionPart::floor_sheet);
  lining.lid_mm = part_of(section.height, SectionPart::lid_sheet);
  return lining;
}

void append(std::vector<CutPart>& to, std::vector<CutPart> more) {
  std::move(more.begin(), more.end(), std::back_inserter(to));
}

/// A last wall of its own thickness or metal is a line of its own, and what runs over the walls'
/// edges is as much longer or shorter.
void list_last_wall(const Build& build, std::vector<CutPart>& parts) {
  const auto* last =
      build.box.last_end_wall ? std::get_if<PlateWall>(&*build.box.last_end_wall) : nullptr;
  if (last == nullptr || !last->thickness_mm) {
    return;
  }
  const Material& metal = material(last->material.value_or(wall_when_not_said));
  const auto first = std::find_if(parts.begin(), parts.end(), [](const CutPart& part) {
    return part.code == CutCode::end_wall;
  });
  if (first == parts.end() ||
      (first->thickness_mm == *last->thickness_mm && first->material == metal.name)) {
    return;
  }
  const double thicker = *last->thickness_mm - first->thickness_mm;
  for (CutPart& part : parts) {
    if (part.code == CutCode::side_wall || part.code == CutCode::floor ||
        part.code == CutCode::lid) {
      part.length_mm += thicker;
    }
  }
  CutPart other = *first;
  first->count = 1;
  other.count = 1;
  other.thickness_mm = *last->thickness_mm;
  other.material = std::string(metal.name);
  parts.insert(first + 1, std::move(other));
}

std::vector<CutPart> parts_of(const Study& ordered, const ShimPlan& plan, const BoxToCut& box,
                              const BoxSection& section) {
  std::vector<CutPart> parts = box_parts(box);
  list_last_wall(ordered.build(), parts);
  append(parts, bought_parts(ordered.build()));
  for (CutPart& part : row_parts(ordered, plan)) {
    if (part.code != CutCode::shim) {
      parts.push_back(std::move(part));
    }
  }
  append(parts, lining_parts(lining_of(box, section)));
  return parts;
}

double box_kg(const BoxToCut& box) {
  const double length = box.inner_length_mm + 2 * box.end_wall_mm;
  const double width = box.inner_width_mm + 2 * box.side_wall_mm;
  std::vector<PlatePiece> pieces{
      {"end walls", box.inner_width_mm, box.inner_height_mm, box.end_wall_mm, box.end_material, 2},
      {"side walls", length, box.inner_height_mm, box.side_wall_mm, box.other_material, 2},
      {"floor", length, width, box.floor_mm, box.other_material, 1}};
  if (box.lid_mm) {
    pieces.push_back({"lid", length, width, *box.lid_mm, box.other_material, 1});
  }
  return plates_kg(pieces);
}

}  // namespace

namespace {

/// Terminals, hold and the row as it stands: alike in a box and in a frame.
SizeDetails detail_row(const Study& ordered, const ShimPlan& plan, Findings& findings) {
  const PlanPressures pressures = ordered.model().evaluate(ordered.load_of(plan.used));
  SizeDetails details;
  details.terminals = terminal_slots(ordered, plan, pressures, findings);
  details.hold = hold(ordered, plan, pressures, findings);
  for (const RowCell& cell : ordered.row().cells) {
    details.cell_mm.push_back(cell.free_mm);
  }
  for (std::size_t gap = 0; gap < ordered.row().gaps.size(); ++gap) {
    double total = ordered.row().gaps[gap].fixed_mm();
    for (std::size_t kind = 0; kind < plan.used.size(); ++kind) {
      total += plan.counts[gap][kind] * ordered.row().kit[kind].sheet.thickness_mm;
    }
    details.gap_mm.push_back(total);
  }
  return details;
}

/// `frame_kg`: box or plates.
void weigh(const Study& ordered, const ShimPlan& plan, double frame_kg, Findings& findings,
           SizeDetails& details) {
  const RowMass row = row_mass(ordered, plan, findings);
  details.lifting =
      lifting({row.cell_kg, row.cells, row.sheets_kg, frame_kg}, ordered.assumptions(), findings);
}

}  // namespace

SizeDetails detail_order(const Study& ordered, const BoxSection& section, const LengthOffer& length,
                         double paint_mm, Findings& findings) {
  const ShimPlan plan = ordered.choose();
  SizeDetails details = detail_row(ordered, plan, findings);
  details.box = box_to_cut(ordered.build(), section, length, paint_mm,
                           ordered.assumptions()[Assumed::wall_thickness]);
  details.cuts = parts_of(ordered, plan, details.box, section);
  weigh(ordered, plan, box_kg(details.box), findings, details);
  return details;
}

SizeDetails detail_frame(const Study& ordered, const FrameOrder& frame, Findings& findings) {
  const ShimPlan plan = ordered.choose();
  SizeDetails details = detail_row(ordered, plan, findings);
  const Frame& said = *ordered.build().frame;
  FrameToCut cut;
  cut.frame = said;
  cut.rods = *ordered.row().box.rods;
  cut.plate_mm = frame.plates->chosen.thickness_mm;
  cut.plate_material = frame.plates->material;
  cut.row_mm = ordered.model().free_row_mm(ordered.load_of(plan.used));
  details.cuts = frame_parts(cut);
  append(details.cuts, row_parts(ordered, plan));
  const PlatePiece plates{"plates",     said.plates.width_mm, said.plates.height_mm,
                          cut.plate_mm, cut.plate_material,   2};
  weigh(ordered, plan, plates_kg({plates}), findings, details);
  return details;
}

}  // namespace stackfit
