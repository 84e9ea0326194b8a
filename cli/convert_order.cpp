// SPDX-License-Identifier: GPL-3.0-or-later
//
// What is still to be made or bought.
#include <fmt/format.h>

#include <algorithm>

#include "cli/convert_parts.hpp"
#include "solver/materials.hpp"

namespace stackfit::cli {
namespace {

constexpr double whole_mm = 1;
constexpr double half_mm = 0.5;
// Thinner ones carry nothing of a row, or cannot be counted and handled as shims.
constexpr double thinnest_stock_mm = 0.5;
constexpr double thinnest_sheet_mm = 0.1;

// Thicknesses that are sold: above zero, each once, thinnest first.
std::vector<double> convert_stock(const Node& order, std::string_view key, double least_mm) {
  const auto list = order.child(key);
  if (!list) return {};
  std::vector<double> stock;
  for (const Node& item : list->items()) {
    const auto thickness = item.quantity(Dimension::length, Sign::positive);
    if (!thickness) continue;
    if (*thickness < least_mm) {
      item.problem(fmt::format("a thickness from {:g} mm", least_mm), "another unit was meant?");
    }
    stock.push_back(*thickness);
  }
  std::ranges::sort(stock);
  const auto doubled = std::unique(stock.begin(), stock.end());
  stock.erase(doubled, stock.end());
  return stock;
}

std::optional<double> convert_length_step(const Node& order) {
  const auto step = order.quantity("length_step", Dimension::length);
  if (step && *step != whole_mm && *step != half_mm) {
    order.child("length_step")->problem("1 mm or 0.5 mm");
  }
  return step;
}

std::optional<double> convert_number(const Node& order, std::string_view key, double least) {
  const auto node = order.child(key);
  if (!node || !node->json().is_number()) return std::nullopt;
  const auto value = node->json().get<double>();
  if (value < least) node->problem(fmt::format("a number from {:g}", least));
  return value;
}

}  // namespace

Order convert_order(const Node& order) {
  const auto length = [&](std::string_view key) {
    return order.quantity(key, Dimension::length, Sign::not_negative);
  };
  Order out;
  out.wall_stock_mm = convert_stock(order, "wall_stock", thinnest_stock_mm);
  out.sheet_stock_mm = convert_stock(order, "sheets", thinnest_sheet_mm);
  out.filler_stock_mm = convert_stock(order, "fillers", thinnest_stock_mm);
  out.pad_stock_mm = convert_stock(order, "pads", thinnest_stock_mm);
  if (const auto foam = order.child("foam")) out.foam = convert_foam(*foam);
  out.sheet_material = order.word("sheet_material", sheet_material_words());
  if (out.sheet_material && material(*out.sheet_material).metal) {
    order.child("sheet_material")
        ->problem("a material that insulates", "a metal sheet bridges two cans");
  }
  out.length_step_mm = convert_length_step(order);
  out.length_tolerance_mm = length("length_tolerance");
  out.paint_mm = length("paint");
  out.stress_safety = convert_number(order, "stress_safety", 1);
  out.most_bow_mm = order.quantity("most_bow", Dimension::length);
  out.yield_mpa = order.quantity("yield", Dimension::pressure);
  out.side_sheet_mm = length("side_sheet");
  out.floor_sheet_mm = length("floor_sheet");
  out.lid_sheet_mm = length("lid_sheet");
  out.slide_mm = length("slide");
  out.over_terminals_mm = length("over_terminals");
  out.corner_radius_mm = length("corner_radius");
  out.floor_bend_mm = length("floor_bend");
  out.weld_bead_mm = length("weld_bead");
  out.screw_head_mm = length("screw_head");
  out.acceleration_g = convert_number(order, "acceleration", 0);
  return out;
}

}  // namespace stackfit::cli
