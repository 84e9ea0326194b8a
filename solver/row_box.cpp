// SPDX-License-Identifier: GPL-3.0-or-later
//
// The box: inner length, its walls as plates, what ties them together, its own expansion.
#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "solver/materials.hpp"
#include "solver/row_frame.hpp"
#include "solver/row_parts.hpp"
#include "solver/row_ribs.hpp"

namespace stackfit {
namespace {

/// Readings of one inside length agree to this, or a word is said [mm].
constexpr double readings_agree_mm = 1.0;

PlateEdge support(WallJoint joint) {
  // A screwed joint turns a little at its line of screws; a fold or a weld hardly does.
  switch (joint) {
    case WallJoint::folded:
    case WallJoint::welded:
      return PlateEdge::fixed;
    case WallJoint::screwed:
      return PlateEdge::held;
    case WallJoint::open:
      return PlateEdge::free;
  }
  return PlateEdge::held;
}

int rows_of(const Build& build) {
  return std::max(1, build.rows.value_or(1));
}

double faces_width_mm(const Build& build) {
  const int rows = rows_of(build);
  return rows * build.cell.face.width_mm + (rows - 1) * build.between_rows_mm.value_or(0);
}

struct WallSize {
  double width_mm = 0;
  double height_mm = 0;
};

WallSize wall_size(const Resolution& r) {
  const Box& box = r.build.box;
  if (!box.inner_width_mm || !box.inner_height_mm) {
    r.findings.note({"inside width and height of the box", "the cell's face",
                     "not said; a larger wall bows more"});
  }
  return {box.inner_width_mm.value_or(faces_width_mm(r.build)),
          box.inner_height_mm.value_or(r.build.cell.face.height_mm)};
}

std::vector<WallEdgePart> edge_parts(const std::vector<EdgeJoint>& said, PlateEdge otherwise,
                                     double length_mm) {
  if (said.empty()) {
    return {{0, length_mm, otherwise}};
  }
  std::vector<WallEdgePart> parts;
  for (const EdgeJoint& joint : said) {
    const Span part = joint.part_mm.value_or(Span{0, length_mm});
    parts.push_back({part.low, part.high, support(joint.joint)});
  }
  return parts;
}

/// The plate of one end wall. The top is free where nothing else is said: the row is built with
/// the lid off, and a lid acts only on what comes later.
WallPlate wall_plate(const Resolution& r, const PlateWall& said, const WallSize& size) {
  const Material& metal = material(said.material.value_or(wall_when_not_said));
  if (!said.material) {
    r.findings.note({"metal of the end walls", std::string(metal.name), "not said"});
  }
  if (!said.joint && !said.edges) {
    r.findings.note({"joint of the end walls", "screwed", "not said; the softest of the joints"});
  }
  const PlateEdge edge = support(said.joint.value_or(joint_when_not_said));
  const WallEdges edges = said.edges.value_or(WallEdges{});
  note_yield(r, metal);
  WallPlate plate;
  plate.section = {r.take(said.thickness_mm, Assumed::wall_thickness), metal.modulus_mpa,
                   metal.poisson};
  plate.yield_mpa = metal.yield_mpa;
  plate.left = edge_parts(edges.left, edge, size.height_mm);
  plate.right = edge_parts(edges.right, edge, size.height_mm);
  plate.bottom = edge_parts(edges.bottom, edge, size.width_mm);
  plate.top = edge_parts(edges.top, PlateEdge::free, size.width_mm);
  stiffen(r, said, {size.width_mm, size.height_mm}, plate);
  plate.in_plane =
      said.in_plane.value_or(InPlane::free) == InPlane::held ? EdgeDraw::held : EdgeDraw::free;
  return plate;
}

/// A wall known by its bow at a force: the shape is that of a screwed wall.
WallPlate bowed_plate(const Resolution& r, const WallBow& bow, const WallSize& size) {
  r.findings.note({"shape of the measured bow", "that of a screwed wall", "joint not known"});
  Findings scratch;
  WallPlate plate = wall_plate({r.build, r.assumptions, scratch}, PlateWall{}, size);
  plate.measured_bow = {bow.bow_mm, bow.force_n};
  return plate;
}

std::optional<WallPlate> one_wall(const Resolution& r, const EndWallInput& said,
                                  const WallSize& size) {
  if (const auto* plate = std::get_if<PlateWall>(&said)) {
    return wall_plate(r, *plate, size);
  }
  if (const auto* bow = std::get_if<WallBow>(&said)) {
    return bowed_plate(r, *bow, size);
  }
  return std::nullopt;
}

/// What was said of an end wall as a plate; nothing where it is rigid or known by a bow.
PlateWall plate_said(const std::optional<EndWallInput>& wall) {
  const auto* plate = wall ? std::get_if<PlateWall>(&*wall) : nullptr;
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

double mean_length_mm(const Resolution& r) {
  const std::vector<double>& readings = r.build.box.inner_length_mm;
  if (readings.empty()) {
    throw std::invalid_argument("the box has no inner length");
  }
  const auto [shortest, longest] = std::minmax_element(readings.begin(), readings.end());
  if (*longest - *shortest > readings_agree_mm) {
    r.findings.warn({WarningCode::box_readings_differ, "box.inner.length", -1, *longest - *shortest,
                     readings_agree_mm, 0});
  }
  return std::accumulate(readings.begin(), readings.end(), 0.0) /
         static_cast<double>(readings.size());
}

bool alike(const std::vector<WallEdgePart>& a, const std::vector<WallEdgePart>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](const WallEdgePart& x, const WallEdgePart& y) {
                      return x.from_mm == y.from_mm && x.to_mm == y.to_mm && x.support == y.support;
                    });
}

/// Left and right alike: edges, rods, and what lies between.
bool symmetric(const WallPlate& wall, double width_mm) {
  const auto mirrored_rod = [&](const PlatePoint& rod) {
    return std::any_of(wall.rods.begin(), wall.rods.end(), [&](const PlatePoint& other) {
      return std::abs(other.at.x_mm + rod.at.x_mm - width_mm) < 1e-9 * width_mm &&
             other.at.y_mm == rod.at.y_mm;
    });
  };
  // Every part of a flat edge has its mirror image.
  const auto mirrored_edge = [&](const std::vector<WallEdgePart>& parts) {
    return std::all_of(parts.begin(), parts.end(), [&](const WallEdgePart& part) {
      return std::any_of(parts.begin(), parts.end(), [&](const WallEdgePart& other) {
        return other.support == part.support &&
               std::abs(other.from_mm + part.to_mm - width_mm) < 1e-9 * width_mm &&
               std::abs(other.to_mm + part.from_mm - width_mm) < 1e-9 * width_mm;
      });
    });
  };
  return alike(wall.left, wall.right) && ribs_alike(wall, width_mm) && mirrored_edge(wall.bottom) &&
         mirrored_edge(wall.top) && std::all_of(wall.rods.begin(), wall.rods.end(), mirrored_rod);
}

}  // namespace

void note_yield(const Resolution& r, const Material& metal) {
  r.findings.note({"yield stress of the end walls",
                   std::to_string(std::lround(metal.yield_mpa)) + " MPa",
                   "alloy and temper are not asked: a soft one of " + std::string(metal.name) +
                       "; it decides no verdict",
                   true});
}

geometry::Outline shifted(geometry::Outline outline, geometry::Point by) {
  for (geometry::Loop& loop : outline.loops) {
    for (geometry::Edge& edge : loop) {
      edge.from = {edge.from.x_mm + by.x_mm, edge.from.y_mm + by.y_mm};
      edge.centre = {edge.centre.x_mm + by.x_mm, edge.centre.y_mm + by.y_mm};
    }
  }
  return outline;
}

void place_faces(const Resolution& r, const Row& row, double middle_y_mm, WallPair& walls) {
  const FaceSize& face = r.build.cell.face;
  const double step = face.width_mm + r.build.between_rows_mm.value_or(0);
  const int rows = rows_of(r.build);
  for (int i = 0; i < rows; ++i) {
    const geometry::Point middle{0.5 * walls.width_mm + (i - 0.5 * (rows - 1)) * step, middle_y_mm};
    walls.faces.push_back(shifted(face_outline(r), middle));
    for (const RowOutline& sheet : row.outlines) {
      walls.sheets.push_back(shifted(sheet.outline, middle));
    }
  }
  const auto even = [&](const std::optional<WallPlate>& wall) {
    return !wall || symmetric(*wall, walls.width_mm);
  };
  walls.mirrored = rows == 1 && even(walls.first) && even(walls.last) &&
                   std::all_of(row.outlines.begin(), row.outlines.end(),
                               [](const RowOutline& sheet) { return sheet.symmetric; });
}

double RowBox::thinnest_wall_mm() const {
  double thinnest = 0;
  for (const auto& wall : {walls.first, walls.last}) {
    if (!wall || wall->measured_bow) {
      continue;
    }
    // Of two plates that lie on each other each stretches by itself, the thinner one first.
    const double own = wall->second
                           ? std::min(wall->section.thickness_mm, wall->second->thickness_mm)
                           : wall->section.thickness_mm;
    thinnest = thinnest == 0 ? own : std::min(thinnest, own);
  }
  return thinnest;
}

bool walls_are_metal(const Build& build) {
  if (build.frame) {
    return material(build.frame->plates.material.value_or(wall_when_not_said)).metal;
  }
  const auto metal = [&](const std::optional<EndWallInput>& wall) {
    return material(plate_said(wall).material.value_or(wall_when_not_said)).metal;
  };
  return metal(build.box.end_walls) || (build.box.last_end_wall && metal(build.box.last_end_wall));
}

RowBox resolve_box(const Resolution& r, const Row& row) {
  if (r.build.frame) {
    return resolve_frame(r, row);
  }
  const Box& said = r.build.box;
  RowBox box;
  box.inner_length_mm = mean_length_mm(r);
  box.tie_length_mm = box.inner_length_mm;
  box.assumed = !said.end_walls.has_value();
  if (box.assumed) {
    r.findings.warn({WarningCode::walls_assumed, "box.end_walls", -1,
                     r.assumptions[Assumed::wall_thickness], 0, 0});
  }
  box.metal = walls_are_metal(r.build);
  const PlateWall plate = plate_said(said.end_walls);
  const Material& metal = material(plate.material.value_or(wall_when_not_said));
  // The box is as long as its side walls.
  box.expansion_per_k = said.side_walls.material
                            ? material(*said.side_walls.material).expansion_per_k
                            : metal.expansion_per_k;
  const EndWallInput first = said.end_walls.value_or(PlateWall{});
  const EndWallInput last = said.last_end_wall.value_or(first);
  const bool rigid =
      std::holds_alternative<RigidWall>(first) && std::holds_alternative<RigidWall>(last);
  // A rigid box needs no size: the face's own will do for the columns.
  const WallSize size =
      rigid ? WallSize{faces_width_mm(r.build), r.build.cell.face.height_mm} : wall_size(r);
  box.walls.width_mm = std::max(size.width_mm, faces_width_mm(r.build));
  box.walls.height_mm = size.height_mm;
  box.walls.first = one_wall(r, first, size);
  box.walls.last = said.last_end_wall ? one_wall(r, last, size) : box.walls.first;
  if (!rigid) {
    box.sides_give_mm_per_n = sides_give(r, plate, box.inner_length_mm);
  }
  box.lid_holds = said.lid == Lid::screwed && !rigid;
  // The cells stand on the floor.
  place_faces(r, row, 0.5 * r.build.cell.face.height_mm, box.walls);
  return box;
}

}  // namespace stackfit
