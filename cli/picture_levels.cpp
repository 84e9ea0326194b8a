// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/picture_levels.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <tuple>

namespace stackfit::cli {
namespace {

using Corner = std::pair<int, int>;

constexpr double kpa_mpa = 1e-3;

// Sides of squares with nothing of the set behind them, each from corner to corner, the set to
// the right of the way.
std::multimap<Corner, Corner> sides_of(const SquareSet& set) {
  std::multimap<Corner, Corner> sides;
  for (int row = 0; row < set.rows; ++row) {
    for (int column = 0; column < set.columns; ++column) {
      if (!set.has(column, row)) continue;
      const Corner upper_left{column, row};
      const Corner upper_right{column + 1, row};
      const Corner lower_left{column, row + 1};
      const Corner lower_right{column + 1, row + 1};
      if (!set.has(column, row - 1)) sides.emplace(upper_left, upper_right);
      if (!set.has(column + 1, row)) sides.emplace(upper_right, lower_right);
      if (!set.has(column, row + 1)) sides.emplace(lower_right, lower_left);
      if (!set.has(column - 1, row)) sides.emplace(lower_left, upper_left);
    }
  }
  return sides;
}

bool straight(const Corner& a, const Corner& b, const Corner& c) {
  return (a.first == b.first && b.first == c.first) ||
         (a.second == b.second && b.second == c.second);
}

CornerLoop without_straights(const CornerLoop& loop) {
  CornerLoop corners;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Corner& before = loop[(i + loop.size() - 1) % loop.size()];
    if (!straight(before, loop[i], loop[(i + 1) % loop.size()])) corners.push_back(loop[i]);
  }
  return corners;
}

}  // namespace

int MapLevels::level_of(double mpa) const {
  return std::clamp(static_cast<int>(std::floor((mpa - base_mpa) / step_mpa)), 0, count - 1);
}

MapLevels levels_of(const PressureMap& map) {
  double low = 0;
  double high = 0;
  bool any = false;
  for (const double mpa : map.pressure_mpa) {
    if (mpa <= 0) continue;
    low = any ? std::min(low, mpa) : mpa;
    high = std::max(high, mpa);
    any = true;
  }
  // Steps that are small beside the pressure itself would make much of next to nothing.
  constexpr double least_step_kpa = 0.2;
  constexpr double least_share = 0.005;
  const double least_kpa = std::max(
      {least_step_kpa, least_share * high / kpa_mpa, (high - low) / kpa_mpa / MapLevels::count});
  constexpr std::array<double, 14> steps{0.2, 0.5, 1,   2,   5,   10,  20,
                                         50,  100, 200, 500, 1e3, 2e3, 5e3};
  for (const double kpa : steps) {
    const double step = kpa * kpa_mpa;
    const double base = step * std::floor(low / step);
    if (kpa >= least_kpa && base + MapLevels::count * step >= high) return {base, step};
  }
  return {0, std::max(high, kpa_mpa) / MapLevels::count};
}

PressureMap finer(const PressureMap& map, int times) {
  PressureMap fine{map.width_mm, map.height_mm, map.columns * times, map.rows * times, {}};
  fine.pressure_mpa.clear();
  const auto pressure = [&](int column, int row) {
    return map.pressure_mpa[static_cast<std::size_t>(row) * static_cast<std::size_t>(map.columns) +
                            static_cast<std::size_t>(column)];
  };
  // Between the middles of squares; beyond the outermost, level.
  const auto between = [&](int fine_index, int count) {
    const double at = (fine_index + 0.5) / times - 0.5;
    const int before = std::clamp(static_cast<int>(std::floor(at)), 0, count - 1);
    const int after = std::min(before + 1, count - 1);
    return std::tuple(before, after, std::clamp(at - before, 0.0, 1.0));
  };
  for (int row = 0; row < fine.rows; ++row) {
    const auto [upper, lower, down] = between(row, map.rows);
    for (int column = 0; column < fine.columns; ++column) {
      const auto [before, after, along] = between(column, map.columns);
      const double mean =
          (1 - down) * ((1 - along) * pressure(before, upper) + along * pressure(after, upper)) +
          down * ((1 - along) * pressure(before, lower) + along * pressure(after, lower));
      const bool touches = pressure(column / times, row / times) > 0;
      fine.pressure_mpa.push_back(touches ? mean : 0);
    }
  }
  return fine;
}

bool SquareSet::has(int column, int row) const {
  if (column < 0 || row < 0 || column >= columns || row >= rows) return false;
  return in[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
            static_cast<std::size_t>(column)];
}

std::vector<CornerLoop> outlines_of(const SquareSet& set) {
  std::multimap<Corner, Corner> sides = sides_of(set);
  std::vector<CornerLoop> loops;
  while (!sides.empty()) {
    CornerLoop loop;
    const Corner start = sides.begin()->first;
    Corner at = start;
    do {
      loop.push_back(at);
      const auto side = sides.find(at);
      at = side->second;
      sides.erase(side);
    } while (at != start);
    loops.push_back(without_straights(loop));
  }
  return loops;
}

}  // namespace stackfit::cli
