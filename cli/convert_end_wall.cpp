// SPDX-License-Identifier: GPL-3.0-or-later
//
// One end wall: a plate with its joints, edge by edge where they differ, a measured bow, or rigid.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "cli/convert_parts.hpp"
#include "cli/data_lines.hpp"

namespace stackfit::cli {
namespace {

constexpr std::string_view rigid_word = "rigid";

EdgeJoint convert_part(const Node& part, std::optional<double> edge_mm) {
  const auto from = part.quantity("from", Dimension::length, Sign::not_negative);
  const auto to = part.quantity("to", Dimension::length);
  if (from && to && *from >= *to) {
    part.problem_found(fmt::format("from {:g} to {:g} mm", *from, *to),
                       "the end nearer to the left or bottom first, then the farther one");
  }
  if (to && edge_mm && *to > *edge_mm) {
    part.child("to")->problem(
        fmt::format("a place on the edge, which is {:g} mm long inside", *edge_mm));
  }
  const auto joint = part.word("joint", edge_joint_words());
  return {joint.value_or(WallJoint::open), Span{from.value_or(0), to.value_or(0)}};
}

void check_parts(const std::vector<Node>& nodes, const std::vector<EdgeJoint>& parts) {
  for (std::size_t index = 0; index < parts.size(); ++index) {
    for (std::size_t before = 0; before < index; ++before) {
      const Span& one = *parts[before].part_mm;
      const Span& other = *parts[index].part_mm;
      if (other.low >= one.high || one.low >= other.high) continue;
      nodes[index].problem_found(
          fmt::format("from {:g} to {:g} mm, over the part from {:g} to {:g} mm", other.low,
                      other.high, one.low, one.high),
          "parts beside each other");
      return;
    }
  }
}

std::vector<EdgeJoint> convert_edge(const Node& edges, std::string_view key,
                                    std::optional<double> edge_mm) {
  const auto node = edges.child(key);
  if (!node) return {};
  if (const auto word = edges.word(key, edge_joint_words())) return {{*word, std::nullopt}};
  const std::vector<Node> nodes = node->items();
  std::vector<EdgeJoint> parts;
  parts.reserve(nodes.size());
  for (const Node& part : nodes) parts.push_back(convert_part(part, edge_mm));
  check_parts(nodes, parts);
  return parts;
}

bool joined_by(const std::vector<EdgeJoint>& edge, bool (*counts)(WallJoint)) {
  return std::ranges::any_of(edge, [&](const EdgeJoint& part) { return counts(part.joint); });
}

// A plate free at every edge falls out; one that hangs on a single row of screws swings like a
// door.
void check_held(const Node& node, const WallEdges& edges) {
  if (edges.left.empty() || edges.right.empty() || edges.bottom.empty()) return;
  const std::array all{&edges.left, &edges.right, &edges.bottom, &edges.top};
  const auto held = std::ranges::count_if(all, [](const std::vector<EdgeJoint>* edge) {
    return joined_by(*edge, [](WallJoint joint) { return joint != WallJoint::open; });
  });
  const bool stiff = std::ranges::any_of(all, [](const std::vector<EdgeJoint>* edge) {
    return joined_by(*edge, [](WallJoint joint) {
      return joint == WallJoint::folded || joint == WallJoint::welded;
    });
  });
  if (held == 0) {
    node.problem_found("a wall open at every edge", "at least one edge that is joined");
  } else if (held == 1 && !stiff) {
    node.problem_found("a wall screwed at one edge and open at the others",
                       "a second joined edge, or one that is folded or welded",
                       "such a wall would swing open");
  }
}

WallEdges convert_edges(const Node& node, const Box& inside) {
  WallEdges edges;
  edges.left = convert_edge(node, "left", inside.inner_height_mm);
  edges.right = convert_edge(node, "right", inside.inner_height_mm);
  edges.bottom = convert_edge(node, "bottom", inside.inner_width_mm);
  edges.top = convert_edge(node, "top", inside.inner_width_mm);
  check_held(node, edges);
  return edges;
}

// Where the inside of the box was said, a rib has to lie on the wall; else the solver says so.
RibInput convert_rib(const Node& node, const Box& inside) {
  RibInput rib;
  rib.along = node.word("along", rib_along_words()).value_or(RibAlong::width);
  rib.at_mm = node.quantity("at", Dimension::length);
  rib.thickness_mm = node.quantity("thickness", Dimension::length).value_or(0);
  rib.height_mm = node.quantity("height", Dimension::length).value_or(0);
  rib.material = node.word("material", wall_material_words());
  rib.joint = node.word("joint", rib_joint_words());
  const auto& across =
      rib.along == RibAlong::width ? inside.inner_height_mm : inside.inner_width_mm;
  const double half = 0.5 * rib.thickness_mm;
  if (rib.at_mm && across && (*rib.at_mm < half || *rib.at_mm > *across - half)) {
    node.child("at")->problem(
        fmt::format("a place on the wall, which is {:g} mm {} inside: from {:g} to {:g} mm",
                    *across, rib.along == RibAlong::width ? "high" : "wide", half, *across - half),
        "the middle of the rib, from the floor or from the left edge");
  }
  return rib;
}

void check_ribs(const std::vector<Node>& nodes, const std::vector<RibInput>& ribs,
                const Box& inside) {
  const auto at = [&](const RibInput& rib) {
    const auto& across =
        rib.along == RibAlong::width ? inside.inner_height_mm : inside.inner_width_mm;
    return rib.at_mm ? rib.at_mm : across ? std::optional(0.5 * *across) : std::nullopt;
  };
  // What could not be read of a rib has had its word already.
  const auto whole = [&](std::size_t index) {
    const Node& node = nodes[index];
    return node.word("along", rib_along_words()) && ribs[index].thickness_mm > 0 &&
           ribs[index].at_mm.has_value() == node.has("at");
  };
  for (std::size_t index = 0; index < ribs.size(); ++index) {
    for (std::size_t before = 0; before < index; ++before) {
      if (!whole(index) || !whole(before)) continue;
      const auto one = at(ribs[before]);
      const auto other = at(ribs[index]);
      const double apart = 0.5 * (ribs[before].thickness_mm + ribs[index].thickness_mm);
      if (ribs[before].along == ribs[index].along && one && other &&
          std::abs(*one - *other) < apart) {
        nodes[index].problem_found(
            fmt::format("a rib at {:g} mm, on the one at {:g} mm", *other, *one),
            "ribs beside each other", "move one, or say one rib of their thickness together");
      }
    }
  }
}

void convert_stiffening(const Node& node, const Box& inside, PlateWall& plate) {
  const std::vector<Node> ribs = node.items("ribs");
  for (const Node& rib : ribs) plate.ribs.push_back(convert_rib(rib, inside));
  check_ribs(ribs, plate.ribs, inside);
  const auto second = node.child("second_plate");
  if (!second) return;
  plate.second_plate = SecondPlate{second->quantity("thickness", Dimension::length).value_or(0),
                                   second->word("material", wall_material_words())};
  if (!ribs.empty()) {
    second->problem_found("a second plate on a wall with ribs", "ribs or a second plate, not both",
                          "both need the outside of the wall: keep the one that is there");
  }
}

// Thinner is foil: it holds nothing, and a row between such walls has no solution.
constexpr double thinnest_plate_mm = 0.1;

bool is_foil(double thickness_mm) {
  return thickness_mm < thinnest_plate_mm;
}

void refuse_foil(const Node& node) {
  node.problem(fmt::format("a thickness from {:g} mm: foil is no wall", thinnest_plate_mm),
               "check the unit");
}

PlateWall plate_of(const Node& node, const Box& inside) {
  PlateWall plate;
  plate.thickness_mm = convert_plate_thickness(node);
  plate.material = node.word("material", wall_material_words());
  plate.joint = node.word("joint", joint_words());
  const auto joint = node.child("joint");
  if (joint && joint->json().is_object()) plate.edges = convert_edges(*joint, inside);
  plate.in_plane = node.word("in_plane", in_plane_words());
  convert_stiffening(node, inside, plate);
  return plate;
}

std::optional<EndWallInput> wall_of_text(const Node& node, const std::string& text) {
  if (same_words(trimmed(text), rigid_word)) return RigidWall{};
  const auto wall = node.accept(read_wall(text));
  if (!wall) return std::nullopt;
  if (!wall->thickness_mm) return *wall;
  if (is_foil(*wall->thickness_mm)) {
    refuse_foil(node);
  } else if (!node.fits(*wall->thickness_mm, Dimension::length)) {
    return std::nullopt;
  }
  return *wall;
}

}  // namespace

std::optional<double> convert_plate_thickness(const Node& plate) {
  const auto thickness_mm = plate.quantity("thickness", Dimension::length);
  if (thickness_mm && is_foil(*thickness_mm)) refuse_foil(*plate.child("thickness"));
  return thickness_mm;
}

std::optional<EndWallInput> convert_end_wall(const Node& node, const Box& inside) {
  if (const auto text = node.text()) return wall_of_text(node, *text);
  static constexpr std::array plate_keys{"thickness", "material", "joint",
                                         "in_plane",  "ribs",     "second_plate"};
  const bool plate =
      std::ranges::any_of(plate_keys, [&](const char* key) { return node.has(key); });
  const bool bow = node.has("bow") || node.has("at_force");
  const bool rigid = node.flag("rigid").value_or(false);
  if (static_cast<int>(plate) + static_cast<int>(bow) + static_cast<int>(rigid) > 1) {
    node.problem(
        "one of: thickness, material, joint, in_plane, ribs and second_plate; or bow and at_force; "
        "or rigid",
        "keep what was measured: the bow, if you have it");
  }
  if (rigid) return RigidWall{};
  if (!bow) return plate ? std::optional<EndWallInput>(plate_of(node, inside)) : std::nullopt;
  if (node.has("bow") != node.has("at_force")) {
    node.problem_found(node.has("bow") ? "bow alone" : "at_force alone",
                       "bow and at_force together: the bow at the middle, and the force then");
  }
  return WallBow{node.quantity("bow", Dimension::length).value_or(0),
                 node.quantity("at_force", Dimension::force).value_or(0)};
}

}  // namespace stackfit::cli
