// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/robust.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace stackfit {

double median(std::vector<double> values) {
  const std::size_t half = values.size() / 2;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(half);
  std::nth_element(values.begin(), middle, values.end());
  const double upper = *middle;
  if (values.size() % 2 == 1) {
    return upper;
  }
  return 0.5 * (upper + *std::max_element(values.begin(), middle));
}

double scaled_mad(const std::vector<double>& values) {
  // 1 / (three quarters' point of the standard normal distribution).
  constexpr double per_mad = 1.482602218505602;
  const double centre = median(values);
  std::vector<double> distances;
  distances.reserve(values.size());
  for (const double value : values) {
    distances.push_back(std::abs(value - centre));
  }
  return per_mad * median(std::move(distances));
}

double reading_step(const std::vector<double>& values) {
  constexpr int most_decimals = 4;
  constexpr double whole_within = 1e-6;  // of a step: what is left of decimals in binary
  double steps_per_unit = 1;
  for (int decimals = 0; decimals < most_decimals; ++decimals, steps_per_unit *= 10) {
    const auto is_whole = [&](double value) {
      const double steps = value * steps_per_unit;
      return std::abs(steps - std::round(steps)) <= whole_within;
    };
    if (std::all_of(values.begin(), values.end(), is_whole)) {
      break;
    }
  }
  return 1 / steps_per_unit;
}

std::optional<AmongOthers> among_others(double value, const std::vector<double>& others) {
  if (others.size() + 1 < fewest_to_compare) {
    return std::nullopt;
  }
  std::vector<double> all = others;
  all.push_back(value);
  AmongOthers out;
  out.value = value;
  out.median = median(others);
  out.spread = std::max(scaled_mad(others), reading_step(all));
  out.spreads = (value - out.median) / out.spread;
  return out;
}

}  // namespace stackfit
