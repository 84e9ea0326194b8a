// SPDX-License-Identifier: GPL-3.0-or-later
//
// The smallest kit of sheets to buy, so that one box serves every row within a spread of lengths.
//
// A kit of so many sheets of so many kinds makes a set of totals: every gap that is due holds at
// least one sheet. A box whose length suits one total suits every total that is less than a window
// away (what the band lets the row vary). So the kit serves a spread of row lengths where its
// totals hold a run, no two neighbours of which are further apart than the window, that with the
// window is as long as the spread. That is the proof that any batch within the tolerance fits.
//
// The least by this rule: fewest kinds, then fewest sheets, then the smaller least total of the
// run (a shorter box), then the thinner kit. Exact, by trying every kit in that order.
// Lengths are whole nanometres, so that ties are ties.
// Not for: which sheet goes into which gap (shim_plan.hpp), or pressures.
#pragma once

#include <cstdint>
#include <vector>

namespace stackfit {

struct KitKind {
  std::int64_t thickness_nm = 0;
  int count = 0;

  friend bool operator==(const KitKind&, const KitKind&) = default;
};

struct KitProblem {
  std::vector<std::int64_t> sold_nm;  ///< thicknesses of sheets that insulate, rising
  int sheets_due = 0;                 ///< gaps that each need one
  std::int64_t window_nm = 0;         ///< totals that far apart still serve together
  std::int64_t spread_nm = 0;         ///< of row lengths, the box's own tolerance included
  std::int64_t filler_nm = 0;         ///< a plate that may lie in the row or not; 0: none
  std::size_t most_kinds = 2;
  int most_sheets = 0;  ///< 0: six for every gap that is due, at least twelve
};

/// Totals from `least` to `most` that no gap greater than the window parts.
struct TotalRun {
  std::int64_t least_nm = 0;
  std::int64_t most_nm = 0;
};

struct KitChoice {
  bool found = false;
  std::vector<KitKind> kinds;  ///< thinnest first
  TotalRun run;
  [[nodiscard]] int sheets() const;
};

/// Throws std::invalid_argument for thicknesses that are not above zero and rising.
[[nodiscard]] KitChoice smallest_kit(const KitProblem& problem);

/// Totals that a kit makes with at least `sheets_due` sheets, rising, each once; with and without
/// the filler.
[[nodiscard]] std::vector<std::int64_t> kit_totals(const std::vector<KitKind>& kinds,
                                                   int sheets_due, std::int64_t filler_nm = 0);
/// The longest run among totals that rise; the first of equally long ones. Empty list: {0, -1}.
[[nodiscard]] TotalRun longest_run(const std::vector<std::int64_t>& totals, std::int64_t window_nm);

}  // namespace stackfit
