// SPDX-License-Identifier: GPL-3.0-or-later
//
// Whether cells that have been in use can still stand in their box, and what must be done.
//
// For: the part of `check` that needs a box or a clamp frame. Not for: judging cells one by one;
// which are set aside is handed in, and a cell that may not be pressed at all is added to them.
//
// What it promises (numbers are those of box_check_test.cpp):
//   1. No plan is given in which a cell swollen beyond the watch figure is pressed flat, or its
//      local pressure passes the limit, in any state of use.
//   2. A cell that comes out is never pressed by a plan; its place is never filled by shims.
//   3. Sheets as placed are kept where they keep the band: then nothing is to be done.
//   4. A row into which something goes fits only if the build method can get it in.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "solver/answer.hpp"
#include "solver/cell_order.hpp"
#include "solver/cells_out.hpp"
#include "solver/sheet_changes.hpp"
#include "solver/taking_out.hpp"

namespace stackfit {

enum class BoxOutcome : std::uint8_t {
  fits_as_it_is,
  fits_with_sheets_changed,
  only_by_flattening,      ///< the band is kept only where a swollen cell is pressed flat: refused
  cannot_be_put_together,  ///< sheets would keep the band, but the build method cannot close the
                           ///< row
  does_not_fit,
  cells_come_out,  ///< of the row as it stands: see the replacements
  several_rows     ///< not checked: rows side by side share their walls
};

/// One way the row may stand: as it is, or with something in the place of cells that come out.
struct RowCheck {
  BoxOutcome outcome = BoxOutcome::does_not_fit;
  bool placed = false;                   ///< sheets were placed: the plan is a change of them
  bool something_goes_in = false;        ///< in the place of a cell: the row is closed anew
  std::optional<PlanResult> as_placed;   ///< with the sheets that lie there
  std::optional<ChangedSheets> changes;  ///< fits_with_sheets_changed
  std::optional<PlanResult> changed;     ///< and what the row is with them
  /// The plan that fits with the squeeze law soft and stiff, where it is assumed.
  std::optional<Bracket> soft;
  std::optional<Bracket> stiff;
  /// How the row would be closed, where the build method cannot: with the sheets as placed, where
  /// they keep the band, else with those that would.
  std::optional<InsertionResult> insertion;
  Failure failure;                   ///< where it does not fit
  std::vector<std::string> watched;  ///< cells that may be pressed, never flat
  CellPlaces watched_places;         ///< and where they stand, from 0

  [[nodiscard]] bool fits() const {
    return outcome == BoxOutcome::fits_as_it_is || outcome == BoxOutcome::fits_with_sheets_changed;
  }
  /// The plan that fits; null where none does.
  [[nodiscard]] const PlanResult* plan() const {
    return outcome == BoxOutcome::fits_as_it_is ? &*as_placed : fits() ? &*changed : nullptr;
  }
};

enum class Replacement : std::uint8_t {
  like_cell,  ///< flat, its edge the mean of the kept cells'
  block       ///< rigid, of the cells' nominal thickness: neither swings nor grows
};
struct ReplacementCheck {
  Replacement with = Replacement::like_cell;
  double thickness_mm = 0;  ///< of each
  RowCheck row;
};

struct CellOut {
  std::string id;
  int place = 0;           ///< from 1, from the first wall on
  bool handed_in = false;  ///< set aside by who asked; else it may not be pressed at all
};

struct BoxCheck {
  BoxOutcome outcome = BoxOutcome::does_not_fit;  ///< of the row with the cells it has
  bool clamp_frame = false;
  int cells = 0;
  BandResult band;
  bool figures_assumed = false;  ///< band, squeeze law or swing rest on assumed figures
  bool growth_assumed = false;
  std::vector<Assumed> assumed;  ///< every assumed number met, once
  std::vector<CellOut> out;
  RowCheck row;                                ///< where no cell comes out
  std::vector<ReplacementCheck> replacements;  ///< where some do, or would have to, and some stay
  /// How the row stands today and how it is taken apart; where something lies or stands in it.
  std::optional<TakingOut> taking_out;
  /// Order of the cells in the row that fits, by its own sheets; where one does.
  std::optional<CellOrder> order;
  std::vector<std::string> order_ids;  ///< the order's cells, as they stand

  /// The first row that fits: as it stands, with like cells, with blocks.
  [[nodiscard]] const RowCheck* fitting() const;
};

/// `set_aside`: ids of cells that come out. Ids that no cell has are passed over.
/// Throws std::invalid_argument only for a Build no reader lets through.
[[nodiscard]] BoxCheck check_in_box(const Build& build, const std::vector<std::string>& set_aside,
                                    const Assumptions& assumptions = {});

}  // namespace stackfit
