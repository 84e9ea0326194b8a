// SPDX-License-Identifier: GPL-3.0-or-later
//
// Piles of sheets under cells: one that lifts them all, and small ones that bring them level.
//
// For: the floor of a box that is to be made (box_section.hpp).
// Not for: shims in the gaps of a row (shim_plan.hpp).
#pragma once

#include <cstddef>
#include <vector>

namespace stackfit {

/// More are no longer one floor to stand on.
inline constexpr std::size_t most_sheets_in_a_pile = 3;

/// The lowest pile of sheets sold that reaches `need_mm`, of equally low ones that of the fewest
/// sheets; thickest first. Where a full pile does not reach, as many more of the thickest as it
/// takes. Empty where nothing is needed or nothing is sold.
[[nodiscard]] std::vector<double> least_pile(const std::vector<double>& stock_mm, double need_mm);

/// Cells of unlike height brought level under a top plate by piles under the lower ones.
struct Levelling {
  double span_mm = 0;               ///< highest less lowest cell
  std::vector<double> sheets_mm{};  ///< of those sold, the ones no thicker than the span
  double uneven_mm = 0;             ///< left between the tops at worst, with the best piles
};
[[nodiscard]] Levelling level_cells(const std::vector<double>& stock_mm, double span_mm);

}  // namespace stackfit
