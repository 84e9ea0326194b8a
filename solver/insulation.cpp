// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/insulation.hpp"

#include <algorithm>

namespace stackfit {

int sheets_due(const Row& row) {
  return static_cast<int>(std::count_if(row.gaps.begin(), row.gaps.end(), [](const RowGap& gap) {
    return gap.insulation_due && !gap.insulated();
  }));
}

int insulators_on_hand(const Row& row) {
  int count = 0;
  for (const RowKind& kind : row.kit) {
    count += kind.sheet.insulates ? kind.count : 0;
  }
  return count;
}

}  // namespace stackfit
