// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/shim_load.hpp"

#include <algorithm>
#include <cmath>

namespace stackfit {

void ShimLoad::add(const RowSheet& sheet, int count) {
  if (count == 0) {
    return;
  }
  const double thickness = count * sheet.thickness_mm;
  thickness_mm += thickness;
  give_mm_per_n += count * sheet.give_mm_per_n();
  expansion_mm_per_k += thickness * sheet.expansion_per_k;
  least_area_mm2 = std::min(least_area_mm2, sheet.area_mm2);
  if (sheet.outline < 0) {
    whole_give_mm_per_mpa += thickness / sheet.modulus_mpa;
    return;
  }
  auto same = std::find_if(partial.begin(), partial.end(),
                           [&](const Partial& p) { return p.outline == sheet.outline; });
  if (same == partial.end()) {
    same = partial.insert(partial.end(), {sheet.outline, 0, 0});
  }
  same->thickness_mm += thickness;
  same->give_mm_per_mpa += thickness / sheet.modulus_mpa;
}

ShimTotal shim_total(const Row& row, const std::vector<int>& used) {
  ShimTotal sum;
  double squares = 0;
  for (std::size_t kind = 0; kind < used.size(); ++kind) {
    const double total = used[kind] * row.kit[kind].sheet.thickness_mm;
    sum.total_mm += total;
    squares += total * total;
  }
  sum.spread_mm = std::sqrt(squares);
  return sum;
}

}  // namespace stackfit
