// SPDX-License-Identifier: GPL-3.0-or-later
//
// The box: inner length, how far its walls give, its own expansion.
#include <algorithm>
#include <numeric>
#include <stdexcept>

#include "solver/materials.hpp"
#include "solver/row_parts.hpp"
#include "solver/wall.hpp"

namespace stackfit {
namespace {

/// Readings of one inside length agree to this, or a word is said [mm].
constexpr double readings_agree_mm = 1.0;

EdgeSupport support(WallJoint joint) {
  // A screwed joint turns a little at its line of screws; a fold or a weld hardly does.
  return joint == WallJoint::screwed ? EdgeSupport::held : EdgeSupport::fixed;
}

struct WallSize {
  double width_mm = 0;
  double height_mm = 0;
};

WallSize wall_size(const Resolution& r) {
  const FaceSize& face = r.build.cell.face;
  const Box& box = r.build.box;
  if (!box.inner_width_mm || !box.inner_height_mm) {
    r.findings.note({"inside width and height of the box", "the cell's face",
                     "not said; a larger wall bows more"});
  }
  return {box.inner_width_mm.value_or(face.width_mm), box.inner_height_mm.value_or(face.height_mm)};
}

/// The plate of one end wall. The top is free: the row is built with the lid off, and a lid
/// acts only on what comes later.
RectangularPlate end_wall(const Resolution& r, const PlateWall& said) {
  const Material& metal = material(said.material.value_or(wall_when_not_said));
  if (!said.material) {
    r.findings.note({"metal of the end walls", std::string(metal.name), "not said"});
  }
  if (!said.joint) {
    r.findings.note({"joint of the end walls", "screwed", "not said; the softest of the joints"});
  }
  const EdgeSupport edge = support(said.joint.value_or(joint_when_not_said));
  const WallSize size = wall_size(r);
  return {size.width_mm,     size.height_mm, r.take(said.thickness_mm, Assumed::wall_thickness),
          metal.modulus_mpa, metal.poisson,  {edge, edge, edge, EdgeSupport::free}};
}

/// The cell's face on the wall: in the middle of the width, standing on the floor.
LoadPatch pressed_patch(const Resolution& r, const RectangularPlate& wall) {
  const FaceSize& face = r.build.cell.face;
  const double side = std::max(0.0, 0.5 * (wall.width_mm - face.width_mm));
  return {side, wall.width_mm - side, 0, std::min(face.height_mm, wall.height_mm)};
}

/// Tangent stiffness of the row per area of face [MPa/mm] at mid-band, pads at their stiff edge:
/// what decides how far pressure moves to the stiff edges of a bowing wall. The kit's shims are
/// left out: they are far stiffer than cells.
double row_stiffness(const Row& row) {
  const double pressure = 0.5 * (row.band.low_mpa + row.band.high_mpa);
  const double force = pressure * row.face_area_mm2;
  const auto cells = static_cast<double>(row.cells.size());
  double mm_per_mpa = cells * row.nominal_mm * row.cell_law->strain_at(pressure).per_mpa;
  for (const RowGap& gap : row.gaps) {
    for (const RowSheet& sheet : gap.fixed) {
      mm_per_mpa += sheet.give_mm_per_n() * row.face_area_mm2;
    }
    for (const RowPad& pad : gap.pads) {
      mm_per_mpa += pad.thickness_mm * pad.stiff_edge->strain_at(force / pad.area_mm2).per_mpa *
                    row.face_area_mm2 / pad.area_mm2;
    }
  }
  return 1 / mm_per_mpa;
}

/// Both end walls as plates under this row.
void resolve_plates(const Resolution& r, const Row& row, const PlateWall& said, RowBox& box) {
  constexpr double both = 2;
  const RectangularPlate wall = end_wall(r, said);
  const PlateGive give = plate_give(wall, pressed_patch(r, wall), both * row_stiffness(row));
  box.give_mm_per_n += both * give.mean_over_patch;
  box.bow_mm_per_n = give.middle_of_plate;
  box.wall_mm = wall.thickness_mm;
}

/// Both end walls by a measured bow. It is read at the middle of the wall; the row feels the mean
/// over the face. Their ratio depends on the wall's shape and joint only, not on its metal or
/// thickness.
void resolve_bow(const Resolution& r, const WallBow& bow, RowBox& box) {
  constexpr double both = 2;
  r.findings.note({"shape of the measured bow", "that of a screwed wall", "joint not known"});
  Findings scratch;
  const RectangularPlate shape = end_wall({r.build, r.assumptions, scratch}, PlateWall{});
  const PlateGive give = plate_give(shape, pressed_patch(r, shape));
  box.give_mm_per_n +=
      both * bow.bow_mm / bow.force_n * give.mean_over_patch / give.middle_of_plate;
  box.bow_mm_per_n = bow.bow_mm / bow.force_n;
}

/// What was said of the end walls as plates; nothing where they are rigid or known by a bow.
PlateWall plate_said(const Resolution& r) {
  const auto& said = r.build.box.end_walls;
  const auto* plate = said ? std::get_if<PlateWall>(&*said) : nullptr;
  return plate != nullptr ? *plate : PlateWall{};
}

/// Two side walls stretched by the row's force.
double sides_give(const Resolution& r, const PlateWall& end, double length_mm) {
  const SideWalls& said = r.build.box.side_walls;
  const auto made_of = said.material ? said.material : end.material;
  const auto thickness = said.thickness_mm ? said.thickness_mm : end.thickness_mm;
  const double section = 2 * r.take(thickness, Assumed::wall_thickness) * wall_size(r).height_mm;
  return length_mm / (material(made_of.value_or(wall_when_not_said)).modulus_mpa * section);
}

}  // namespace

RowBox resolve_box(const Resolution& r) {
  const Box& said = r.build.box;
  if (said.inner_length_mm.empty()) {
    throw std::invalid_argument("the box has no inner length");
  }
  const auto [shortest, longest] =
      std::minmax_element(said.inner_length_mm.begin(), said.inner_length_mm.end());
  if (*longest - *shortest > readings_agree_mm) {
    r.findings.warn({WarningCode::box_readings_differ, "box.inner.length", -1, *longest - *shortest,
                     readings_agree_mm, 0});
  }
  RowBox box;
  box.inner_length_mm =
      std::accumulate(said.inner_length_mm.begin(), said.inner_length_mm.end(), 0.0) /
      static_cast<double>(said.inner_length_mm.size());
  box.assumed = !said.end_walls.has_value();
  if (box.assumed) {
    r.findings.warn({WarningCode::walls_assumed, "box.end_walls", -1,
                     r.assumptions[Assumed::wall_thickness], 0, 0});
  }
  const Material& metal = material(plate_said(r).material.value_or(wall_when_not_said));
  box.metal = metal.metal;
  box.expansion_per_k = metal.expansion_per_k;
  return box;
}

void resolve_walls(const Resolution& r, const Row& row, RowBox& box) {
  const EndWallInput walls = r.build.box.end_walls.value_or(PlateWall{});
  if (std::holds_alternative<RigidWall>(walls)) {
    return;
  }
  if (const auto* bow = std::get_if<WallBow>(&walls)) {
    resolve_bow(r, *bow, box);
  } else {
    resolve_plates(r, row, std::get<PlateWall>(walls), box);
  }
  box.give_mm_per_n += sides_give(r, plate_said(r), box.inner_length_mm);
}

}  // namespace stackfit
