// SPDX-License-Identifier: GPL-3.0-or-later
//
// The box: inside, walls, lid, floor. What one end wall is stands in convert_end_wall.cpp.
#include <fmt/format.h>

#include <cmath>

#include "cli/convert_parts.hpp"

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

// One wall stands for both. Of two, only what differs is kept as the last one.
void convert_end_walls(const Node& node, Box& box) {
  if (!node.json().is_array()) {
    box.end_walls = convert_end_wall(node, box);
    return;
  }
  const std::vector<Node> walls = node.items();
  if (walls.size() != 2) return;  // the schema's to complain of
  box.end_walls = convert_end_wall(walls[0], box).value_or(PlateWall{});
  const auto last = convert_end_wall(walls[1], box);
  if (walls[0].json() != walls[1].json()) box.last_end_wall = last.value_or(PlateWall{});
}

}  // namespace

Box convert_box(const Node& box) {
  Box out;
  if (const auto inner = box.child("inner")) {
    if (const auto length = inner->child("length")) out.inner_length_mm = convert_lengths(*length);
    out.inner_width_mm = inner->quantity("width", Dimension::length);
    out.inner_height_mm = inner->quantity("height", Dimension::length);
  }
  if (const auto walls = box.child("end_walls")) convert_end_walls(*walls, out);
  if (const auto sides = box.child("side_walls")) {
    out.side_walls = {convert_plate_thickness(*sides),
                      sides->word("material", wall_material_words())};
  }
  out.lid = box.word("lid", lid_words()).value_or(Lid::not_said);
  out.opens = box.word("opens", opens_words()).value_or(Opens::not_said);
  out.floor = box.word("floor", floor_words()).value_or(Floor::not_said);
  return out;
}

}  // namespace stackfit::cli
