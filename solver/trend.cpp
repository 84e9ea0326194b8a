// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/trend.hpp"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

namespace stackfit {

std::optional<Trend> fit_trend(std::span<const TrendPoint> points) {
  if (points.size() < 2) {
    return std::nullopt;
  }
  const auto count = static_cast<double>(points.size());
  double mean_x = 0;
  double mean_y = 0;
  for (const TrendPoint& point : points) {
    mean_x += point.x / count;
    mean_y += point.y / count;
  }
  double sxx = 0;
  double sxy = 0;
  for (const TrendPoint& point : points) {
    sxx += (point.x - mean_x) * (point.x - mean_x);
    sxy += (point.x - mean_x) * (point.y - mean_y);
  }
  if (sxx <= 0) {
    return std::nullopt;
  }
  Trend out{static_cast<int>(points.size()), sxy / sxx, 0, mean_x, sxx, 0, 0};
  out.intercept = mean_y - out.slope * mean_x;
  if (out.points > 2) {
    double squares = 0;
    for (const TrendPoint& point : points) {
      squares += std::pow(point.y - out.at(point.x), 2);
    }
    out.scatter = std::sqrt(squares / (count - 2));
    out.slope_error = out.scatter / std::sqrt(sxx);
  }
  return out;
}

std::optional<Crossing> crossing(const Trend& trend, double level, double least_scatter) {
  constexpr double upper_point = 0.975;  // of a 95 % span
  if (trend.points < 3 || trend.slope <= 0) {
    return std::nullopt;
  }
  const boost::math::students_t student(trend.points - 2);
  const double wide =
      boost::math::quantile(student, upper_point) * std::max(trend.scatter, least_scatter);
  // Fieller (1954), the fiducial limits of a ratio: the line less its band meets the level where
  // (slope u - rise)^2 = wide^2 (1/n + u^2/Sxx), u from the mean of x, rise from the mean of y.
  const double rise = level - trend.at(trend.mean_x);
  const double a = trend.slope * trend.slope - wide * wide / trend.sum_square_x;
  const double half_b = trend.slope * rise;
  const double c = rise * rise - wide * wide / trend.points;
  Crossing out;
  out.at = trend.mean_x + rise / trend.slope;
  const double root = std::sqrt(std::max(0.0, half_b * half_b - a * c));
  if (a > 0) {
    out.earliest = trend.mean_x + (half_b - root) / a;
    out.latest = trend.mean_x + (half_b + root) / a;
  } else {
    // A slope that may as well be none: only the steepest line meets the level in time to come.
    out.earliest = trend.mean_x + (c > 0 ? c / (half_b + root) : 0.0);
  }
  return out;
}

}  // namespace stackfit
