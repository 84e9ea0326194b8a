// SPDX-License-Identifier: GPL-3.0-or-later
//
// A chain of dimensions: the gap it leaves, and by how much that may be off.
//
// For: the length of a row of cells against a box, and any other chain of toleranced parts.
// Sources: worst case and root sum of squares as in P. Drake (ed.), Dimensioning and Tolerancing
// Handbook, McGraw-Hill 1999, chapter 9.
// Not for: pressures; a row's tolerance becomes one only in row_model.hpp.
#pragma once

#include <vector>

namespace stackfit {

/// One part of the chain [mm]; `nominal` counts negative where the part takes from the gap.
struct ChainPart {
  double nominal_mm = 0;
  double tolerance_mm = 0;  ///< either way, not negative
};

struct ChainGap {
  double nominal_mm = 0;     ///< the sum
  double worst_case_mm = 0;  ///< all parts at the bad end at once: sum of the tolerances
  double rss_mm = 0;         ///< parts independent of each other: root of the sum of squares
};
[[nodiscard]] ChainGap chain_gap(const std::vector<ChainPart>& parts);

/// By how much the sum of a lot's cells may be off its nominal, either way [mm].
struct LotSpread {
  double worst_case_mm = 0;  ///< every cell at the same end of the tolerance
  /// What the lot has in common at its end, the cells' own rest independent of each other.
  double likely_mm = 0;
};
/// `common_share` of the tolerance is common to the lot (0 to 1).
struct Lot {
  int cells = 0;
  double tolerance_mm = 0;
  double common_share = 0;
};
[[nodiscard]] LotSpread lot_spread(const Lot& lot);

}  // namespace stackfit
