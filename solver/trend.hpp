// SPDX-License-Identifier: GPL-3.0-or-later
//
// A straight line through readings in time, and when it reaches a level.
//
// For: growth of a cell from its log. Not for: comparing cells with each other (robust.hpp).
#pragma once

#include <optional>
#include <span>

namespace stackfit {

struct TrendPoint {
  double x = 0;
  double y = 0;
};

/// Least squares line y = intercept + slope x.
struct Trend {
  int points = 0;
  double slope = 0;
  double intercept = 0;
  double mean_x = 0;
  double sum_square_x = 0;  ///< of the distances from mean_x
  double scatter = 0;       ///< standard deviation about the line; 0 for two points
  double slope_error = 0;   ///< standard error of the slope; 0 for two points

  [[nodiscard]] double at(double x) const { return intercept + slope * x; }
};

/// None where fewer than two different x are there.
[[nodiscard]] std::optional<Trend> fit_trend(std::span<const TrendPoint> points);

/// Where a line reaches a level, with its 95 % span; a latest that is empty is never.
struct Crossing {
  double at = 0;
  double earliest = 0;
  std::optional<double> latest;
};
/// None for a line of fewer than three points, or one that does not rise. The scatter is taken as
/// at least `least_scatter`: points that lie on a line by chance or rounding promise nothing.
[[nodiscard]] std::optional<Crossing> crossing(const Trend& trend, double level,
                                               double least_scatter);

}  // namespace stackfit
