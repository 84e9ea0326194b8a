// SPDX-License-Identifier: GPL-3.0-or-later
//
// The inner length to order, and the kit of sheets to buy with it, so that a row fits whatever
// cells come.
//
// The band lets a row vary by a window of lengths; the kit's totals step through the tolerance in
// steps no greater than that window (kit_search.hpp). Windows are those of the model
// (length_window.hpp); the offer is held against full choices of shims at the ends of what it
// promises, and widened where they fail.
// Not for: the walls (wall_order.hpp), or width and height.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "solver/kit_search.hpp"
#include "solver/length_window.hpp"

namespace stackfit {

/// What a length is wanted for.
struct LengthDemand {
  double spread_mm = 0;           ///< by how much all cells together may be off those of the build
  double tolerance_mm = 0;        ///< by how much the box may come longer than ordered
  double step_mm = 1;             ///< of the nominal
  bool in_full = true;            ///< the offer is held against full solutions, not curves alone
  std::vector<double> sheets_mm;  ///< that are sold, rising
  double filler_mm = 0;           ///< a plate that may lie at the last wall; 0: none
  std::optional<SheetMaterial> sheet_material;
};

struct KitToBuy {
  double thickness_mm = 0;
  int count = 0;
};

/// A length to order with the kit that goes with it; the span of a nominal is without tolerance.
struct LengthOffer {
  bool found = false;
  int sheets_due = 0;    ///< gaps that each need one that insulates
  double window_mm = 0;  ///< lengths that one total of shims serves; negative: none
  double nominal_mm = 0;
  double tolerance_mm = 0;    ///< one-sided: longer
  Span nominal_between;       ///< every nominal in here keeps the promise with this kit
  std::vector<KitToBuy> kit;  ///< thinnest first
  double filler_mm = 0;
  double greatest_step_mm = 0;  ///< between neighbouring totals of the kit: the proof
  Span totals_mm;               ///< of shims, from the thickest batch to the thinnest
  bool checked = false;         ///< choices of shims at the ends of the promise all passed
  double spread_mm = 0;         ///< that was asked for

  [[nodiscard]] int sheets() const;
};

/// The kit as shims on hand, named by their thickness; a filler only at the ends.
[[nodiscard]] std::vector<KitShim> as_kit(const LengthOffer& offer,
                                          std::optional<SheetMaterial> material);
/// The build's cells, each thicker by this much: a batch within the data sheet's tolerance.
[[nodiscard]] Build with_cells_thicker(Build build, const Row& row, double each_mm);

/// The smallest kit and its length. `build` has its walls; its own kit and length are not used.
[[nodiscard]] LengthOffer offer_length(const Build& build, const Assumptions& assumptions,
                                       const LengthDemand& demand,
                                       const std::shared_ptr<WallStore>& store);

/// Sheets of the smallest kit with the demand's filler, by an offer's window; 0 where none serves.
[[nodiscard]] int sheets_needed(const LengthOffer& offer, const LengthDemand& demand);

/// How many millimetres of inner length one total of shims serves, whatever kit the demand may
/// lead to; negative, and by how much is short, where the band is passed over.
[[nodiscard]] double window_mm(const Build& build, const Assumptions& assumptions,
                               const LengthDemand& demand, const std::shared_ptr<WallStore>& store);

/// All inner lengths, by intervals, at which some choice from the build's kit passes; kept clear of
/// both ends by what curves may be off.
[[nodiscard]] std::vector<Span> serving_lengths(const Build& build, const Assumptions& assumptions,
                                                const std::shared_ptr<WallStore>& store);

}  // namespace stackfit
