// SPDX-License-Identifier: GPL-3.0-or-later
//
// Where a rising function of one number crosses zero, in few evaluations.
//
// For: functions that cost a whole solution of a row each (row_columns.cpp, row_model.cpp).
// Not for: laws with slopes at hand, which Newton's method serves (column_law.cpp).
#pragma once

#include <cmath>

namespace stackfit {

struct RootSearch {
  double low = 0;         ///< where the function is below zero
  double high = 0;        ///< a first guess of where it is above; widened as needed
  double close_to_0 = 0;  ///< values as small as this will do
};

/// Regula falsi, where an end that stays has its value halved (the Illinois rule: M. Dowell,
/// P. Jarratt, BIT 11 (1971) 168).
template <typename Rising>
[[nodiscard]] double rising_root(const RootSearch& search, const Rising& value_at) {
  constexpr int widenings = 40;
  constexpr int cap = 60;
  double low = search.low;
  double high = search.high;
  double at_low = value_at(low);
  if (at_low >= 0) {
    return low;
  }
  double at_high = value_at(high);
  for (int i = 0; i < widenings && at_high < 0; ++i) {
    const double step = 2 * (high - low);
    low = high;
    at_low = at_high;
    high += step;
    at_high = value_at(high);
  }
  double at = high;
  double value = at_high;
  for (int i = 0; i < cap && std::abs(value) > search.close_to_0; ++i) {
    at = (low * at_high - high * at_low) / (at_high - at_low);
    value = value_at(at);
    const bool above = value > 0;
    (above ? high : low) = at;
    (above ? at_low : at_high) *= 0.5;
    (above ? at_high : at_low) = value;
  }
  return at;
}

}  // namespace stackfit
