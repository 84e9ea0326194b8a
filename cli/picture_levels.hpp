// SPDX-License-Identifier: GPL-3.0-or-later
//
// A map of pressures as levels, and the outline of what lies at or above each.
//
// For: picture_map.cpp. Not for: drawing.
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

#include "solver/picture.hpp"

namespace stackfit::cli {

/// Eight steps of a round number of kPa that hold all pressures of a map.
struct MapLevels {
  static constexpr int count = 8;
  double base_mpa = 0;
  double step_mpa = 0;

  [[nodiscard]] double edge_mpa(int level) const { return base_mpa + level * step_mpa; }
  /// 0 to count - 1.
  [[nodiscard]] int level_of(double mpa) const;
};
[[nodiscard]] MapLevels levels_of(const PressureMap& map);

/// The same with so many squares for one, along and across: straight between their middles. What
/// does not touch stays as it is.
[[nodiscard]] PressureMap finer(const PressureMap& map, int times);

/// Squares of a grid, row by row from the upper left.
struct SquareSet {
  int columns = 0;
  int rows = 0;
  std::vector<bool> in;

  [[nodiscard]] bool has(int column, int row) const;
};
/// The grid's corners in the order in which they bound the set; holes run the other way about.
using CornerLoop = std::vector<std::pair<int, int>>;
[[nodiscard]] std::vector<CornerLoop> outlines_of(const SquareSet& set);

}  // namespace stackfit::cli
