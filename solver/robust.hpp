// SPDX-License-Identifier: GPL-3.0-or-later
//
// Middle and spread of a few readings that one bad reading among them cannot move.
//
// For: holding a cell against the others. Not for: trends in time (trend.hpp).
#pragma once

#include <optional>
#include <vector>

namespace stackfit {

/// The middle one, or the mean of the two middle ones. `values` is not empty.
[[nodiscard]] double median(std::vector<double> values);
/// Median of the distances from the median, scaled so that it is the standard deviation where the
/// values are normal. `values` is not empty.
[[nodiscard]] double scaled_mad(const std::vector<double>& values);
/// Step of the readings as they were written: the coarsest of 1, 0.1 ... 0.0001 of which every
/// value is a whole multiple; 0.0001 where none is.
[[nodiscard]] double reading_step(const std::vector<double>& values);

/// One value against the others of its kind.
struct AmongOthers {
  double value = 0;
  double median = 0;   ///< of the others
  double spread = 0;   ///< scaled MAD of the others, or the readings' step where that is more
  double spreads = 0;  ///< (value - median) / spread
};
/// Below this many values there is no comparison.
inline constexpr std::size_t fewest_to_compare = 5;
/// None where fewer than `fewest_to_compare` values are there, `value` included.
[[nodiscard]] std::optional<AmongOthers> among_others(double value,
                                                      const std::vector<double>& others);

}  // namespace stackfit
