// SPDX-License-Identifier: GPL-3.0-or-later
//
// Sheets, pads and kit: where they may go, how much of the face they cover, what insulates.
#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/materials.hpp"
#include "solver/pad_laws.hpp"
#include "solver/row_parts.hpp"

namespace stackfit {
namespace {

/// A sheet counts as full-outline when it misses no more of the face than rounding [share].
constexpr double full_cover = 1 - 1e-9;

geometry::Outline polygon_of(const std::vector<OutlinePoint>& points) {
  std::vector<geometry::Point> corners;
  corners.reserve(points.size());
  for (const OutlinePoint& point : points) {
    corners.push_back({point.x_mm, point.y_mm});
  }
  return geometry::polygon(corners);
}

geometry::Outline outline_of(const SheetOutline& sheet) {
  geometry::Outline outline =
      sheet.points.empty()
          ? geometry::rounded_rectangle({sheet.width_mm, sheet.height_mm, sheet.corner_radius_mm})
          : polygon_of(sheet.points);
  for (const auto& hole : sheet.holes) {
    outline = geometry::difference(outline, polygon_of(hole));
  }
  return outline;
}

/// The part of the face that a sheet covers; the whole face where no outline was said.
geometry::Outline covered(const Resolution& r, const std::optional<SheetOutline>& outline) {
  const geometry::Outline face = face_outline(r);
  return outline ? geometry::intersection(face, outline_of(*outline)) : face;
}

/// Number of a partial outline among the row's, added where it is new; -1 for the whole face.
int outline_number(const std::optional<SheetOutline>& said, const geometry::Outline& covers,
                   Row& row) {
  if (!said || geometry::area_mm2(covers) >= full_cover * row.face_area_mm2) {
    return -1;
  }
  const auto known = std::find_if(
      row.outlines.begin(), row.outlines.end(),
      [&](const RowOutline& other) { return geometry::identical(other.outline, covers); });
  const auto number = static_cast<int>(known - row.outlines.begin());
  if (known == row.outlines.end()) {
    row.outlines.push_back({covers, said->points.empty() && said->holes.empty()});
  }
  return number;
}

void require_on_face(const std::string& name, double area_mm2) {
  if (!(area_mm2 > 0)) {
    throw UnusableBuild("the outline of " + name +
                        " does not meet the cell's face; x and y are from the face's middle");
  }
}

bool may_lie_in(const Place& place, const RowGap& gap) {
  switch (place.word) {
    case PlaceWord::every_gap:
      return true;
    case PlaceWord::ends:
      return gap.at_end;
    case PlaceWord::between_cells:
      return !gap.at_end;
    case PlaceWord::named_gaps:
      return std::find(place.gaps.begin(), place.gaps.end(), gap.name) != place.gaps.end();
  }
  return false;
}

RowSheet resolve_sheet(const Resolution& r, Row& row, const SheetInput& input) {
  const Material& made_of = material(input.material.value_or(sheet_when_not_said));
  if (!input.material) {
    r.findings.note({"material of " + input.name, std::string(made_of.name),
                     "not said; taken as an insulating plastic: check that it is"});
    r.findings.warn({WarningCode::material_not_said, input.name});
  } else if (!input.modulus_mpa) {
    r.findings.note({"stiffness of " + std::string(made_of.name),
                     std::to_string(std::lround(made_of.modulus_mpa)) + " MPa",
                     "middle of the published range", true});
  }
  RowSheet sheet;
  sheet.name = input.name;
  sheet.thickness_mm = input.thickness_mm;
  const geometry::Outline covers = covered(r, input.outline);
  sheet.area_mm2 = geometry::area_mm2(covers);
  require_on_face(input.name, sheet.area_mm2);
  sheet.outline = outline_number(input.outline, covers, row);
  sheet.modulus_mpa = input.modulus_mpa.value_or(made_of.modulus_mpa);
  sheet.expansion_per_k = made_of.expansion_per_k;
  sheet.insulates = !made_of.metal && sheet.area_mm2 >= full_cover * row.face_area_mm2;
  sheet.slippery_face = input.slippery_face;
  return sheet;
}

void give_law(const Resolution& r, const geometry::Outline& outline, const PadInput& input,
              RowPad& pad) {
  if (const auto* table = std::get_if<FoamTable>(&input.law)) {
    pad.soft_edge = std::make_shared<TableLaw>(table->strain, table->stress_mpa);
    pad.stiff_edge = pad.soft_edge;
    pad.relaxes = true;
  } else if (const auto* grade = std::get_if<FoamGrade>(&input.law)) {
    const Span band = d1056_band_mpa(grade->d1056_grade);
    pad.soft_edge = generic_foam(band.low);
    if (grade->d1056_grade == 0) {
      r.findings.note({"lower edge of grade 0", "a tenth of the upper",
                       "the grade has none; at nothing the pad would carry nothing"});
    }
    pad.stiff_edge = generic_foam(band.high);
    pad.relaxes = true;
    r.findings.note({"curve of " + input.name, "a generic foam's, scaled to the grade's band",
                     "the maker's curve is better; both edges of the band are solved"});
  } else {
    const double modulus = rubber_modulus_mpa({std::get<RubberInput>(input.law), input.thickness_mm,
                                               pad.area_mm2, geometry::perimeter_mm(outline)});
    pad.soft_edge = std::make_shared<LinearLaw>(modulus, rubber_known_strain * modulus);
    pad.stiff_edge = pad.soft_edge;
    r.findings.note({"faces of " + input.name, "bonded",
                     "dry faces slip and are softer; a thin full-face sheet is almost rigid"});
  }
}

RowPad resolve_pad(const Resolution& r, Row& row, const PadInput& input) {
  RowPad pad;
  pad.name = input.name;
  pad.thickness_mm = input.thickness_mm;
  const geometry::Outline outline = covered(r, input.outline);
  pad.area_mm2 = geometry::area_mm2(outline);
  require_on_face(input.name, pad.area_mm2);
  pad.outline = outline_number(input.outline, outline, row);
  pad.insulates = input.insulates && !input.outline;
  give_law(r, outline, input, pad);
  return pad;
}

}  // namespace

std::vector<RowGap> resolve_gaps(const Resolution& r, Row& row) {
  std::vector<RowGap> gaps;
  const auto index = static_cast<std::size_t>(row.face);
  const std::vector<std::string> names = row_gap_names((index + 1) * row.cells.size(), index + 1);
  const std::size_t in_a_row = row.cells.size() + 1;
  for (std::size_t i = 0; i < in_a_row; ++i) {
    RowGap gap;
    gap.name = names[index * in_a_row + i];
    gap.at_end = i == 0 || i + 1 == in_a_row;
    gap.insulation_due = !gap.at_end || walls_are_metal(r.build);
    gaps.push_back(std::move(gap));
  }
  for (const SheetInput& input : r.build.fixed_sheets) {
    const RowSheet sheet = resolve_sheet(r, row, input);
    for (RowGap& gap : gaps) {
      if (may_lie_in(input.where, gap)) {
        gap.fixed.push_back(sheet);
      }
    }
  }
  for (const PadInput& input : r.build.pads) {
    // One law object for all pads of an entry, so that a row can take them together.
    const RowPad pad = resolve_pad(r, row, input);
    for (RowGap& gap : gaps) {
      if (may_lie_in(input.where, gap)) {
        gap.pads.push_back(pad);
      }
    }
  }
  return gaps;
}

std::vector<RowKind> resolve_kit(const Resolution& r, Row& row) {
  std::vector<RowKind> kit;
  for (const KitShim& shim : r.build.kit) {
    RowKind kind;
    kind.sheet = resolve_sheet(r, row, shim.sheet);
    kind.count = shim.count;
    for (const RowGap& gap : row.gaps) {
      kind.allowed.push_back(may_lie_in(shim.sheet.where, gap));
    }
    kit.push_back(std::move(kind));
  }
  return kit;
}

}  // namespace stackfit
