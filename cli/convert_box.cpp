// SPDX-License-Identifier: GPL-3.0-or-later
//
// The box: inside, walls, lid, floor.
#include <fmt/format.h>

#include <cmath>

#include "cli/convert_parts.hpp"
#include "cli/data_lines.hpp"

namespace stackfit::cli {
namespace {

// Readings of one inside length lie closer together than this, or one of them is a slip.
constexpr double largest_spread = 0.1;

std::vector<double> convert_lengths(const Node& node) {
  std::vector<double> lengths;
  if (!node.json().is_array()) {
    if (const auto length = node.quantity(Dimension::length, Sign::positive)) {
      lengths.push_back(*length);
    }
    return lengths;
  }
  for (const Node& item : node.items()) {
    const auto length = item.quantity(Dimension::length, Sign::positive);
    if (!length) continue;
    if (!lengths.empty() && std::abs(*length - lengths[0]) > largest_spread * lengths[0]) {
      item.problem(fmt::format("a reading near the first, {:g} mm", lengths[0]),
                   "measure this place again");
    }
    lengths.push_back(*length);
  }
  return lengths;
}

PlateWall plate_of(const Node& node) {
  return {node.quantity("thickness", Dimension::length),
          node.word("material", wall_material_words()), node.word("joint", joint_words())};
}

std::optional<EndWallInput> convert_end_walls(const Node& node) {
  if (const auto text = node.text()) {
    const auto wall = node.accept(read_wall(*text));
    if (!wall) return std::nullopt;
    if (wall->thickness_mm && *wall->thickness_mm <= 0) node.problem("a thickness above zero");
    return *wall;
  }
  const bool plate = node.has("thickness") || node.has("material") || node.has("joint");
  const bool bow = node.has("bow") || node.has("at_force");
  const bool rigid = node.flag("rigid").value_or(false);
  if (static_cast<int>(plate) + static_cast<int>(bow) + static_cast<int>(rigid) > 1) {
    node.problem("one of: thickness, material and joint; or bow and at_force; or rigid",
                 "keep what was measured: the bow, if you have it");
  }
  if (rigid) return RigidWall{};
  if (!bow) return plate ? std::optional<EndWallInput>(plate_of(node)) : std::nullopt;
  if (node.has("bow") != node.has("at_force")) {
    node.problem_found(node.has("bow") ? "bow alone" : "at_force alone",
                       "bow and at_force together: the bow at the middle, and the force then");
  }
  return WallBow{node.quantity("bow", Dimension::length).value_or(0),
                 node.quantity("at_force", Dimension::force).value_or(0)};
}

}  // namespace

Box convert_box(const Node& box) {
  Box out;
  if (const auto inner = box.child("inner")) {
    if (const auto length = inner->child("length")) out.inner_length_mm = convert_lengths(*length);
    out.inner_width_mm = inner->quantity("width", Dimension::length);
    out.inner_height_mm = inner->quantity("height", Dimension::length);
  }
  if (const auto walls = box.child("end_walls")) out.end_walls = convert_end_walls(*walls);
  if (const auto sides = box.child("side_walls")) {
    out.side_walls = {sides->quantity("thickness", Dimension::length),
                      sides->word("material", wall_material_words())};
  }
  out.lid = box.word("lid", lid_words()).value_or(Lid::not_said);
  out.opens = box.word("opens", opens_words()).value_or(Opens::not_said);
  out.floor = box.word("floor", floor_words()).value_or(Floor::not_said);
  return out;
}

}  // namespace stackfit::cli
