// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/cut_list.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace stackfit {
namespace {

constexpr double quarter_turn = 3.14159265358979323846 / 2;

void require_positive(double mm, const char* what) {
  if (!(mm > 0) || !std::isfinite(mm)) {
    throw std::invalid_argument(std::string(what) + " is above zero");
  }
}

void require_usable(const BoxToCut& box) {
  require_positive(box.inner_length_mm, "the inner length of a box");
  require_positive(box.inner_width_mm, "the inner width of a box");
  require_positive(box.inner_height_mm, "the inner height of a box");
  require_positive(box.end_wall_mm, "the thickness of end walls");
  require_positive(box.side_wall_mm, "the thickness of side walls");
  require_positive(box.floor_mm, "the thickness of a floor");
  require_positive(box.lid_mm.value_or(1), "the thickness of a lid");
  if (!(box.length_tolerance_mm >= 0)) {
    throw std::invalid_argument("a length tolerance is not below zero");
  }
}

CutPart plate(CutCode code, int count, double length_mm, double width_mm, double thickness_mm) {
  CutPart part;
  part.code = code;
  part.count = count;
  part.length_mm = length_mm;
  part.width_mm = width_mm;
  part.thickness_mm = thickness_mm;
  return part;
}

std::string name_of(WallMaterial which) {
  return std::string(material(which).name);
}
std::string name_of(SheetMaterial which) {
  return std::string(material(which).name);
}

/// A part that covers the box from outside to outside: floor or lid.
CutPart cover(const BoxToCut& box, CutCode code, double thickness_mm) {
  CutPart part = plate(code, 1, box.inner_length_mm + 2 * box.end_wall_mm,
                       box.inner_width_mm + 2 * box.side_wall_mm, thickness_mm);
  part.material = name_of(box.other_material);
  part.remark = CutRemark::outside_the_walls;
  return part;
}

std::vector<CutPart> joined_walls(const BoxToCut& box) {
  const CutTolerance longer{box.length_tolerance_mm, 0};
  const bool over = box.join == BoxJoin::sides_over_ends;
  CutPart end = plate(CutCode::end_wall, 2, box.inner_width_mm + (over ? 0 : 2 * box.side_wall_mm),
                      box.inner_height_mm, box.end_wall_mm);
  end.material = name_of(box.end_material);
  end.remark = over ? CutRemark::set_to_inner_length : CutRemark::over_side_walls;
  CutPart side =
      plate(CutCode::side_wall, 2, box.inner_length_mm + (over ? 2 * box.end_wall_mm : 0),
            box.inner_height_mm, box.side_wall_mm);
  side.material = name_of(box.other_material);
  side.tolerance = longer;
  side.remark = over ? CutRemark::over_end_walls : CutRemark::sets_inner_length;
  return {end, side, cover(box, CutCode::floor, box.floor_mm)};
}

/// A cross: the floor between the bends, four bends, four walls above them. Inner sizes run from
/// tangent to tangent less the inner radius at each bend.
CutPart folded_blank(const BoxToCut& box) {
  const double t = box.floor_mm;
  if (box.end_wall_mm != t || box.side_wall_mm != t || box.end_material != box.other_material) {
    throw std::invalid_argument(
        "a box folded from one sheet has walls and floor of one thickness and material; join "
        "thicker end walls by welding or screws instead");
  }
  const double r = box.bend_radius_mm;
  require_positive(r, "the inner radius of a bend");
  if (box.inner_length_mm <= 2 * r || box.inner_width_mm <= 2 * r || box.inner_height_mm <= r) {
    throw std::invalid_argument("the inner radius of the bends leaves no flat floor or wall");
  }
  const double bend = bend_allowance_mm(r, t);
  const double wall = box.inner_height_mm - r;
  CutPart part = plate(CutCode::folded_blank, 1, box.inner_length_mm - 2 * r + 2 * (bend + wall),
                       box.inner_width_mm - 2 * r + 2 * (bend + wall), t);
  part.material = name_of(box.other_material);
  part.tolerance = CutTolerance{box.length_tolerance_mm, 0};
  part.remark = CutRemark::flat_before_folding;
  // A wall is as wide as the box inside: its edges stand a radius outwards of the floor's tangents.
  part.notch_length_mm = bend + wall - r;
  part.notch_width_mm = bend + wall - r;
  return part;
}

struct Extent {
  double width_mm = 0;
  double height_mm = 0;
  bool own = false;
};

Extent extent_of(const FaceSize& face, const std::optional<SheetOutline>& outline) {
  if (!outline) {
    return {face.width_mm, face.height_mm, false};
  }
  if (outline->points.empty()) {
    return {outline->width_mm, outline->height_mm, true};
  }
  const auto x = std::minmax_element(outline->points.begin(), outline->points.end(),
                                     [](const auto& a, const auto& b) { return a.x_mm < b.x_mm; });
  const auto y = std::minmax_element(outline->points.begin(), outline->points.end(),
                                     [](const auto& a, const auto& b) { return a.y_mm < b.y_mm; });
  return {x.second->x_mm - x.first->x_mm, y.second->y_mm - y.first->y_mm, true};
}

CutPart on_face(CutCode code, const FaceSize& face, const std::optional<SheetOutline>& outline) {
  const Extent extent = extent_of(face, outline);
  CutPart part = plate(code, 0, extent.width_mm, extent.height_mm, 0);
  part.remark = extent.own ? CutRemark::own_outline : CutRemark::whole_face;
  return part;
}

CutPart sheet_part(CutCode code, const FaceSize& face, const SheetInput& sheet) {
  CutPart part = on_face(code, face, sheet.outline);
  part.name = sheet.name;
  part.thickness_mm = sheet.thickness_mm;
  part.material = name_of(sheet.material.value_or(sheet_when_not_said));
  return part;
}

/// How many of one name lie in the gaps, of fixed sheets or of pads.
template <typename Lists>
int count_named(const std::vector<RowGap>& gaps, const std::string& name, const Lists& of) {
  int count = 0;
  for (const RowGap& gap : gaps) {
    const auto& list = of(gap);
    count += static_cast<int>(std::count_if(list.begin(), list.end(),
                                            [&](const auto& part) { return part.name == name; }));
  }
  return count;
}

void keep(std::vector<CutPart>& parts, CutPart part, int count) {
  part.count = count;
  if (count > 0) {
    parts.push_back(std::move(part));
  }
}

}  // namespace

double bend_neutral_share(double radius_mm, double thickness_mm) {
  require_positive(radius_mm, "the inner radius of a bend");
  require_positive(thickness_mm, "the thickness of a bent sheet");
  const double k = 0.65 + 0.5 * std::log10(radius_mm / thickness_mm);
  return 0.5 * std::clamp(k, 0.0, 1.0);
}

double bend_allowance_mm(double radius_mm, double thickness_mm) {
  return quarter_turn * (radius_mm + bend_neutral_share(radius_mm, thickness_mm) * thickness_mm);
}

std::vector<CutPart> box_parts(const BoxToCut& box) {
  require_usable(box);
  std::vector<CutPart> parts =
      box.join == BoxJoin::folded ? std::vector<CutPart>{folded_blank(box)} : joined_walls(box);
  if (box.lid_mm) {
    parts.push_back(cover(box, CutCode::lid, *box.lid_mm));
  }
  return parts;
}

std::vector<CutPart> lining_parts(const LiningToCut& lining) {
  require_positive(lining.inner_length_mm, "the inner length of a box");
  require_positive(lining.inner_width_mm, "the inner width of a box");
  if (!(lining.side_mm >= 0) || !(lining.floor_mm >= 0) || !(lining.lid_mm >= 0)) {
    throw std::invalid_argument("the thickness of a sheet is not below zero");
  }
  const double between_mm = lining.inner_height_mm - lining.floor_mm - lining.lid_mm;
  require_positive(between_mm, "the height between the floor's and the lid's sheet");
  if (!(2 * lining.side_mm < lining.inner_width_mm)) {
    throw std::invalid_argument("the sheets at the side walls leave no width between them");
  }
  std::vector<CutPart> parts;
  const auto add = [&](CutCode code, int count, double width_mm, double thickness_mm) {
    CutPart part = plate(code, 0, lining.inner_length_mm, width_mm, thickness_mm);
    part.material = name_of(lining.material);
    part.tolerance = CutTolerance{0, lining.length_tolerance_mm};
    part.remark = CutRemark::never_longer;
    keep(parts, part, thickness_mm > 0 ? count : 0);
  };
  add(CutCode::side_sheet, 2, between_mm, lining.side_mm);
  add(CutCode::floor_sheet, 1, lining.inner_width_mm, lining.floor_mm);
  add(CutCode::lid_sheet, 1, lining.inner_width_mm, lining.lid_mm);
  return parts;
}

std::vector<CutPart> row_parts(const Study& study, const ShimPlan& plan) {
  const Row& row = study.row();
  const Build& build = study.build();
  if (plan.used.size() != row.kit.size()) {
    throw std::invalid_argument("a plan says how many of each kind of the kit it uses");
  }
  std::vector<CutPart> parts;
  for (std::size_t kind = 0; kind < plan.used.size(); ++kind) {
    keep(parts, sheet_part(CutCode::shim, build.cell.face, build.kit[kind].sheet), plan.used[kind]);
  }
  for (const SheetInput& sheet : build.fixed_sheets) {
    keep(parts, sheet_part(CutCode::fixed_sheet, build.cell.face, sheet),
         count_named(row.gaps, sheet.name, [](const RowGap& gap) { return gap.fixed; }));
  }
  for (const PadInput& pad : build.pads) {
    CutPart part = on_face(CutCode::pad, build.cell.face, pad.outline);
    part.name = pad.name;
    part.thickness_mm = pad.thickness_mm;
    part.material = std::holds_alternative<RubberInput>(pad.law) ? "rubber" : "foam";
    keep(parts, part, count_named(row.gaps, pad.name, [](const RowGap& gap) { return gap.pads; }));
  }
  return parts;
}

CutPart filler_part(const FaceSize& face, const FillerToCut& filler) {
  require_positive(filler.thickness_mm, "the thickness of a filler plate");
  CutPart part = on_face(CutCode::filler_plate, face, {});
  part.count = filler.count;
  part.thickness_mm = filler.thickness_mm;
  part.material = name_of(filler.material);
  return part;
}

}  // namespace stackfit
