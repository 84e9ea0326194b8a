// SPDX-License-Identifier: GPL-3.0-or-later
//
// What chosen shims add to a row, wherever they lie along it.
#pragma once

#include <limits>
#include <vector>

#include "solver/row.hpp"

namespace stackfit {

struct ShimLoad {
  double thickness_mm = 0;
  double give_mm_per_n = 0;       ///< sum of t/(E A)
  double expansion_mm_per_k = 0;  ///< sum of alpha t
  double least_area_mm2 = std::numeric_limits<double>::infinity();
  double whole_give_mm_per_mpa = 0;  ///< sum of t/E of those that cover the whole face

  /// Shims that leave a part of the face free, by their outline.
  struct Partial {
    int outline = 0;
    double thickness_mm = 0;
    double give_mm_per_mpa = 0;
  };
  std::vector<Partial> partial;

  void add(const RowSheet& sheet, int count);
};

/// What a plan's shims come to: their total, and by how much it is off where every kind is thicker
/// by one share of itself, kinds apart: the root of the sum of the squares of each kind's total.
struct ShimTotal {
  double total_mm = 0;
  double spread_mm = 0;
};
[[nodiscard]] ShimTotal shim_total(const Row& row, const std::vector<int>& used);

}  // namespace stackfit
