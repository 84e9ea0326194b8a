// SPDX-License-Identifier: GPL-3.0-or-later
//
// A build without some of its cells: a like cell or a rigid block in the place of each.
//
// For: what `check` says of a row from which cells are set aside. A place left empty is never
// filled by shims, so there is no build for that.
// Not for: what leaving a cell out does to voltage and charger, which a block changes and a like
// cell does not.
// Of several rows in a box nothing is promised: one row only.
#pragma once

#include <string>
#include <vector>

#include "solver/row.hpp"

namespace stackfit {

/// The places of cells, from 0, in the row as it stands; increasing, each once.
using CellPlaces = std::vector<std::size_t>;

/// In each of these places a flat cell whose edge is the mean of the kept cells'. `row` is the
/// build's own. At least one cell is kept.
[[nodiscard]] Build with_like_cells(const Build& build, const Row& row, const CellPlaces& out);

/// In each of these places a rigid block as thick as the cells' nominal thickness, which neither
/// swings nor grows; the sheets on both sides of it stay where they are.
struct WithBlocks {
  Build build;
  double block_mm = 0;
  std::vector<int> gaps_merged;  ///< for each gap of the shorter row: how many it was before
  /// For each gap of the shorter row: its name in the numbers that stand on the bench, such as
  /// "2-4" where cell 3 is a block.
  std::vector<std::string> gap_names;
};
[[nodiscard]] WithBlocks with_blocks(const Build& build, const Row& row, const CellPlaces& out);

}  // namespace stackfit
