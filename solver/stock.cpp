// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/stock.hpp"

namespace stackfit {
namespace {

constexpr double metric_plate[] = {3, 4, 5, 6, 8, 10, 12, 15, 20};
constexpr double plywood[] = {6.5, 9, 12, 15, 18, 21, 24, 27, 30};

}  // namespace

std::span<const double> metric_plate_stock_mm() {
  return metric_plate;
}

std::span<const double> plywood_stock_mm() {
  return plywood;
}

std::span<const double> plate_stock_mm(WallMaterial material) {
  return material == WallMaterial::plywood ? plywood_stock_mm() : metric_plate_stock_mm();
}

}  // namespace stackfit
