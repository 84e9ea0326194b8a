// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/tolerance_stack.hpp"

#include <cmath>

namespace stackfit {

ChainGap chain_gap(const std::vector<ChainPart>& parts) {
  ChainGap gap;
  double squares = 0;
  for (const ChainPart& part : parts) {
    gap.nominal_mm += part.nominal_mm;
    gap.worst_case_mm += part.tolerance_mm;
    squares += part.tolerance_mm * part.tolerance_mm;
  }
  gap.rss_mm = std::sqrt(squares);
  return gap;
}

LotSpread lot_spread(const Lot& lot) {
  // What the lot has in common is one part of the chain, as long as all cells together.
  std::vector<ChainPart> own;
  for (int i = 0; i < lot.cells; ++i) {
    own.push_back({0, (1 - lot.common_share) * lot.tolerance_mm});
  }
  const ChainGap each = chain_gap(own);
  const double common = lot.cells * lot.common_share * lot.tolerance_mm;
  return {common + each.worst_case_mm, common + each.rss_mm};
}

}  // namespace stackfit
