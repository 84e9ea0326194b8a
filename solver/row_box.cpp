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
  if (!said.material || !said.joint) {
    r.findings.note({"end walls", "screwed aluminium", "metal or joint not said"});
  }
  const Material& metal = material(said.material.value_or(wall_when_not_said));
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

double end_walls_give(const Resolution& r, const EndWallInput& said) {
  constexpr double both = 2;
  if (std::holds_alternative<RigidWall>(said)) {
    return 0;
  }
  if (const auto* plate = std::get_if<PlateWall>(&said)) {
    const RectangularPlate wall = end_wall(r, *plate);
    return both * plate_give(wall, pressed_patch(r, wall)).mean_over_patch;
  }
  // A bow is read at the middle of the wall; the row feels the mean over the face. Their ratio
  // depends on the wall's shape and joint only, not on its metal or thickness.
  const auto& bow = std::get<WallBow>(said);
  Findings scratch;
  const RectangularPlate shape = end_wall({r.build, r.assumptions, scratch}, PlateWall{});
  const PlateGive give = plate_give(shape, pressed_patch(r, shape));
  return both * bow.bow_mm / bow.force_n * give.mean_over_patch / give.middle_of_plate;
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
  RowBox box;
  box.inner_length_mm =
      std::accumulate(said.inner_length_mm.begin(), said.inner_length_mm.end(), 0.0) /
      static_cast<double>(said.inner_length_mm.size());
  box.assumed = !said.end_walls.has_value();
  const EndWallInput walls = said.end_walls.value_or(PlateWall{});
  const auto* plate = std::get_if<PlateWall>(&walls);
  const PlateWall end = plate != nullptr ? *plate : PlateWall{};
  if (box.assumed) {
    r.findings.warn({WarningCode::walls_assumed, "box.end_walls", -1,
                     r.assumptions[Assumed::wall_thickness], 0, 0});
  }
  const Material& metal = material(end.material.value_or(wall_when_not_said));
  box.metal = metal.metal;
  box.expansion_per_k = metal.expansion_per_k;
  const bool rigid = std::holds_alternative<RigidWall>(walls);
  box.give_mm_per_n =
      rigid ? 0 : end_walls_give(r, walls) + sides_give(r, end, box.inner_length_mm);
  return box;
}

}  // namespace stackfit
