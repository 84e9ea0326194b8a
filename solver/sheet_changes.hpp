// SPDX-License-Identifier: GPL-3.0-or-later
//
// From sheets as placed to sheets that keep the band, by the fewest pieces taken out and put in.
//
// For: a row that has been built and is to be put right. Not for: the best plan of a row not yet
// built (Study::choose).
// What it promises (numbers are those of box_check_test.cpp):
//   1. The plan passes in full, build method and all, from the kit on hand.
//   2. `fewest`: no other set of sheets that passes, and can be laid without baring a gap, is fewer
//      pieces away. Of equally few the one of the greatest margin.
//   3. Piece by piece, each comes out of or goes into the gap that leaves the row evenest, by the
//      order of the rule for picking; a gap where insulation is due keeps an insulating sheet.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/study.hpp"

namespace stackfit {

struct SheetChange {
  std::string name;
  double thickness_mm = 0;
  int before = 0;
  int after = 0;
};
struct GapChange {
  std::string gap;
  std::vector<SheetChange> sheets;  ///< only those whose count changes
  double before_mm = 0;             ///< sheets in the gap, fixed ones too; pads and blocks aside
  double after_mm = 0;
};
struct ChangedSheets {
  ShimPlan plan;
  std::vector<GapChange> gaps;  ///< only those that change
  int taken_out = 0;            ///< pieces
  int put_in = 0;
  double before_mm = 0;  ///< shims of the whole row
  double after_mm = 0;
  bool fewest = false;
};

/// Where cells have made way for blocks: how many gaps each gap was before, so that one with a
/// block in it does not count as thick.
struct MergedGaps {
  std::vector<int> gaps;  ///< empty: all as they were
  double block_mm = 0;
};

/// None where no plan passes.
[[nodiscard]] std::optional<ChangedSheets> change_sheets(const Study& study, const ShimPlan& placed,
                                                         const MergedGaps& merged = {});

}  // namespace stackfit
