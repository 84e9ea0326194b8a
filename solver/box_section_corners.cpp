// SPDX-License-Identifier: GPL-3.0-or-later
//
// What fills the box's corners, and how far the cells must stand off there.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "geometry/section_fit.hpp"
#include "solver/box_section_parts.hpp"

namespace stackfit {
namespace {

using geometry::BodyCorner;
using geometry::CornerFill;

enum class WallEdgeName : std::uint8_t { side, foot };

/// Whether an end wall may be joined so at its foot or at a side: said so, or not said.
bool may_be_joined(const EndWallInput& wall, WallEdgeName where, WallJoint how) {
  const auto* plate = std::get_if<PlateWall>(&wall);
  if (plate == nullptr) {
    return true;
  }
  const WallEdges edges = plate->edges.value_or(WallEdges{});
  const auto may_be = [&](const std::vector<EdgeJoint>& parts) {
    if (parts.empty()) {
      return !plate->joint || *plate->joint == how;
    }
    return std::any_of(parts.begin(), parts.end(),
                       [&](const EdgeJoint& part) { return part.joint == how; });
  };
  return where == WallEdgeName::foot ? may_be(edges.bottom)
                                     : may_be(edges.left) || may_be(edges.right);
}

bool may_be_joined(const Build& build, WallEdgeName where, WallJoint how) {
  const EndWallInput first = build.box.end_walls.value_or(PlateWall{});
  const EndWallInput last = build.box.last_end_wall.value_or(first);
  return may_be_joined(first, where, how) || may_be_joined(last, where, how);
}

/// A size that decides, where nothing was said of it.
void note_not_said(const Resolution& r, const std::optional<double>& said, const char* what) {
  if (!said) {
    r.findings.note({what, "none", "not said; the section says how large they may be"});
  }
}

void require_room(const Resolution& r, const std::optional<double>& said, const char* key) {
  const FaceSize& face = r.build.cell.face;
  const double most = std::min(face.width_mm, face.height_mm) / 2;
  if (said && *said > most) {
    throw UnusableBuild(std::string("order.") + key + ": " + std::to_string(std::lround(*said)) +
                        " mm fills the box; at most half the cell's shorter side, " +
                        std::to_string(std::lround(most)) + " mm: look at the unit");
  }
}

CornerFill fill_of(const SectionCorner& corner) {
  const double size = corner.size_mm.value_or(0);
  return corner.feature == CornerFeature::bend ? CornerFill{size, 0} : CornerFill{0, size};
}

double greatest_mm(CornerFeature feature, const geometry::CornerDistances& off,
                   const BodyCorner& body) {
  return feature == CornerFeature::bend ? geometry::greatest_bend_mm(off, body)
                                        : geometry::greatest_bead_mm(off, body);
}

/// How far the cells are off the wall along which the stand-off of a corner is not counted.
struct Beside {
  double least_mm = 0;
  double middle_mm = 0;
};

/// A corner whose figures follow from its size and from what lies there.
SectionCorner resolved(SectionCorner corner, const Beside& beside, const BodyCorner& body) {
  const CornerFill fill = fill_of(corner);
  corner.greatest_mm =
      greatest_mm(corner.feature, {beside.least_mm, std::max(corner.has_mm, body.clear_mm)}, body);
  corner.need_mm = geometry::least_standoff_mm(fill, beside.least_mm, body);
  corner.in_middle_need_mm = geometry::least_standoff_mm(fill, beside.middle_mm, body);
  corner.sheet_short_mm = std::max(0.0, corner.size_mm.value_or(0) - beside.least_mm);
  return corner;
}

}  // namespace

bool SectionCorner::clear() const {
  return size_mm.value_or(0) == 0 || has_mm >= need_mm - section_same_mm;
}

std::vector<SectionCorner> side_foot_corners(const Resolution& r, const SectionFigures& figures,
                                             const CellPlace& place) {
  const Order& order = r.build.order;
  require_room(r, order.floor_bend_mm, "floor_bend");
  require_room(r, order.weld_bead_mm, "weld_bead");
  note_not_said(r, order.floor_bend_mm, "bends where the floor turns up");
  note_not_said(r, order.weld_bead_mm, "weld beads inside the box");
  const BodyCorner body{figures.face_radius_mm, figures.keep_clear_mm};
  const Beside beside{figures.side_sheet_mm, place.middle_beside_mm};
  std::vector<SectionCorner> corners;
  const auto add = [&](CornerFeature feature, const std::optional<double>& size) {
    corners.push_back(resolved({.place = SectionPlace::side_foot,
                                .feature = feature,
                                .size_mm = size,
                                .has_mm = place.under_mm},
                               beside, body));
  };
  // The floor turns up to the side walls or is welded to them: a bend leaves no seam for a bead.
  const bool bent = order.floor_bend_mm.value_or(0) > 0;
  if (bent || !order.floor_bend_mm) {
    add(CornerFeature::bend, order.floor_bend_mm);
  }
  if (!bent) {
    add(CornerFeature::bead, order.weld_bead_mm);
  }
  return corners;
}

std::vector<SectionCorner> end_corners(const Resolution& r, const SectionFigures& figures,
                                       const CellPlace& place) {
  const Order& order = r.build.order;
  require_room(r, order.corner_radius_mm, "corner_radius");
  const BodyCorner body{0, figures.keep_clear_mm};
  const Beside under{place.under_mm, place.under_mm};
  const Beside beside{figures.side_sheet_mm, place.middle_beside_mm};
  std::vector<SectionCorner> corners;
  const auto add = [&](SectionPlace where, CornerFeature feature,
                       const std::optional<double>& size) {
    const SectionCorner corner{.place = where,
                               .feature = feature,
                               .size_mm = size,
                               .has_mm = place.end_standoff_mm.value_or(figures.keep_clear_mm)};
    corners.push_back(resolved(corner, where == SectionPlace::upright ? beside : under, body));
  };
  if (may_be_joined(r.build, WallEdgeName::foot, WallJoint::folded)) {
    add(SectionPlace::end_foot, CornerFeature::bend, order.floor_bend_mm);
  }
  if (may_be_joined(r.build, WallEdgeName::foot, WallJoint::welded)) {
    add(SectionPlace::end_foot, CornerFeature::bead, order.weld_bead_mm);
  }
  // A radius given for the upright corners is there, however the end walls are joined.
  if (order.corner_radius_mm || may_be_joined(r.build, WallEdgeName::side, WallJoint::folded)) {
    note_not_said(r, order.corner_radius_mm, "radius of the box's upright corners");
    add(SectionPlace::upright, CornerFeature::bend, order.corner_radius_mm);
  }
  if (may_be_joined(r.build, WallEdgeName::side, WallJoint::welded)) {
    add(SectionPlace::upright, CornerFeature::bead, order.weld_bead_mm);
  }
  return corners;
}

void add_corner_conflicts(const SectionFigures& figures, const CellPlace& place,
                          BoxSection& section) {
  for (const SectionCorner& corner : section.corners) {
    if (corner.clear()) {
      continue;
    }
    const double missing = corner.need_mm - corner.has_mm;
    SectionConflict conflict{.code = SectionConflictCode::corner_filled,
                             .place = corner.place,
                             .feature = corner.feature,
                             .mm = missing};
    if (corner.place != SectionPlace::side_foot) {
      conflict.steps.push_back({SectionStep::stand_off, missing});
    }
    if (corner.place == SectionPlace::end_foot) {
      const double off = std::max(corner.has_mm, figures.keep_clear_mm);
      const double raise =
          geometry::least_standoff_mm(fill_of(corner), off, {0, figures.keep_clear_mm});
      conflict.steps.push_back({SectionStep::raise_floor, raise - place.under_mm});
    }
    section.conflicts.push_back(conflict);
  }
}

void add_head_conflicts(const Resolution& r, const SectionFigures& figures, const CellPlace& place,
                        BoxSection& section) {
  const double head = r.build.order.screw_head_mm.value_or(0);
  const bool screwed = may_be_joined(r.build, WallEdgeName::side, WallJoint::screwed) ||
                       may_be_joined(r.build, WallEdgeName::foot, WallJoint::screwed);
  if (!screwed) {
    return;
  }
  note_not_said(r, r.build.order.screw_head_mm, "screw heads and nuts inside the box");
  if (head == 0) {
    return;
  }
  const double need = head + figures.keep_clear_mm;
  // Where the screws sit is not asked: any may stand before a face.
  const bool deep = place.end_standoff_mm.value_or(0) >= need - section_same_mm;
  section.conflicts.push_back(
      {.code = SectionConflictCode::head_in_the_way,
       .place = SectionPlace::end_wall,
       .mm = head,
       .steps = {{deep ? SectionStep::holes_over_heads : SectionStep::spacer_plate, head}}});
  if (figures.side_sheet_mm < need - section_same_mm) {
    section.conflicts.push_back({.code = SectionConflictCode::head_in_the_way,
                                 .place = SectionPlace::side_wall,
                                 .mm = head,
                                 .steps = {{SectionStep::wider, 2 * head}}});
  }
}

}  // namespace stackfit
