// SPDX-License-Identifier: GPL-3.0-or-later
//
// `check`: can these cells, perhaps swollen, still be used?
//
// For: the whole answer, as numbers and codes, with a box or without. Not for: words
// (cli/view_check.hpp), or reading a log (cli/log_csv.hpp).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/box_check.hpp"
#include "solver/condition.hpp"
#include "solver/leave_out.hpp"

namespace stackfit {

/// What `check` is told beside the build.
struct CheckAsked {
  Day today;  ///< on which the build's cells were measured
  CellLog log;
  bool log_given = false;
  std::optional<double> charger_v;
};

/// Where the nominal thickness comes from.
enum class NominalFrom : std::uint8_t { data_sheet, median_edge, median_highest, nothing };

struct CheckAnswer {
  std::string title;
  CellVerdict verdict = CellVerdict::set_aside;  ///< the worst of the cells
  std::vector<CellCondition> cells;
  Day today;
  double nominal_mm = 0;
  NominalFrom nominal_from = NominalFrom::nothing;
  std::optional<double> tolerance_mm;
  Chemistry chemistry = Chemistry::lfp_graphite;
  bool chemistry_said = false;
  Compared compared;  ///< cells with each figure; fewer than five are not compared
  bool log_given = false;
  int log_lines = 0;                ///< of these cells
  std::optional<LeftOut> left_out;  ///< where a cell is set aside
  double filler_mm = 0;             ///< thickness of a block in place of a cell
  Day next_check;
  std::vector<Assumed> assumed;
  bool has_box = false;  ///< a box or frame was described
  /// The row in that box; empty where too little was said of it (face, thickness), or nothing.
  std::optional<BoxCheck> box;
  std::string box_unusable;  ///< why the row could not be judged: a sentence; else empty

  /// Whether the box calls for a warning of its own.
  [[nodiscard]] bool box_warns() const {
    return !box_unusable.empty() || (box && box->outcome != BoxOutcome::fits_as_it_is);
  }

  [[nodiscard]] int count(CellVerdict of) const;
  [[nodiscard]] bool any_sign() const;
};

[[nodiscard]] CheckAnswer answer_check(const Build& build, const CheckAsked& asked,
                                       const Assumptions& assumptions = {});

/// The build's cells, each with the charge that was said for all of them where it has no own.
[[nodiscard]] std::vector<CellReading> cells_with_charges(const Build& build);

/// The nominal thickness, or where none is said the median of the edges (or, without edges, of
/// the highest points).
struct Nominal {
  double mm = 0;
  NominalFrom from = NominalFrom::nothing;
};
[[nodiscard]] Nominal nominal_of(const Build& build);

}  // namespace stackfit
