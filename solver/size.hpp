// SPDX-License-Identifier: GPL-3.0-or-later
//
// `size`: what box to order for a row of cells, and what to buy with it.
//
// For: every view of the answer. Lengths in mm, inside, after paint.
// Not for: choosing shims in a box that is there (answer.hpp).
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "solver/answer.hpp"
#include "solver/box_section.hpp"
#include "solver/cut_list.hpp"
#include "solver/frame_order.hpp"
#include "solver/hold.hpp"
#include "solver/length_order.hpp"
#include "solver/lifting.hpp"
#include "solver/soft_order.hpp"
#include "solver/terminal_slots.hpp"
#include "solver/wall_order.hpp"

namespace stackfit {

/// For whom a length is offered.
enum class OfferFor : std::uint8_t {
  these_cells,   ///< as measured, with what calipers may be off
  any_batch,     ///< every cell anywhere within the data sheet's tolerance
  likely_lot,    ///< what a lot has in common anywhere, each cell's own rest by chance
  once_measured  ///< the data sheet's cells, as if they had been measured: what waiting saves
};

/// One offer of length and kit with what the row then sees.
struct SizeOffer {
  OfferFor offered_for = OfferFor::any_batch;
  LengthOffer length;
  /// Of the cells as the build has them, in the box as ordered.
  double lowest_mpa = 0;
  double built_mpa = 0;
  double highest_mpa = 0;
  double margin = 0;
  std::optional<Span> life_span;
};

/// What is left to say where a box is there already.
struct BoxInHand {
  double length_mm = 0;
  bool serves = false;              ///< with the offered kit
  std::optional<double> filler_mm;  ///< a plate that is sold and makes it serve
};

enum class SizeVerdict : std::uint8_t {
  serves,
  serves_on_assumed_figures,
  serves_with_pad,      ///< hard shims cannot; the order has a pad in it
  not_as_said,          ///< width, height or corners as said do not take the cells
  walls_too_weak,       ///< no plate that is sold stands the band's top
  only_once_measured,   ///< no kit spans the tolerance; measured cells can be served
  only_with_thin_wall,  ///< hard shims cannot, and no pad; a wall that is the spring can
  nothing_serves,
  stop  ///< a cell shows a sign, or is too swollen to be pressed at all
};

/// The recommended order with an assumed squeeze law at the ends of its doubt.
struct SizeBracket {
  double a_mpa = 0;
  double window_mm = 0;
  bool serves = false;  ///< the same box and kit, for the build's cells
};

/// What follows from the recommended order, beside its length.
struct SizeDetails {
  std::optional<TerminalSlots> terminals;  ///< empty for one cell
  std::optional<Hold> hold;                ///< where an acceleration was said
  Lifting lifting;
  BoxToCut box;  ///< of bare metal: before paint
  std::vector<CutPart> cuts;
  std::vector<double> cell_mm;  ///< free, as they stand in the row
  std::vector<double> gap_mm;   ///< sheets and pads in each gap, of the plan for these cells
};

struct SizeAnswer {
  std::string title;
  int cell_count = 0;
  SizeVerdict verdict = SizeVerdict::nothing_serves;
  bool measured = false;
  std::vector<std::string> refused;  ///< cells that no box may press
  BandResult band;
  Span use_charge;
  Span use_temperature_c;
  Span use_capacity_loss;
  double nominal_mm = 0;    ///< of a cell
  double tolerance_mm = 0;  ///< of its thickness, either way
  bool tolerance_assumed = false;
  double lot_share = 0;
  double cells_mm = 0;  ///< all cells of the build, free
  double swing_mm = 0;  ///< what the cells breathe
  double band_takes_mm = 0;
  double paint_mm = 0;  ///< each face
  double step_mm = 0;
  WallOrder walls;
  std::optional<FrameOrder> frame;       ///< a clamp frame in place of a box
  std::optional<BoxSection> section;     ///< width and height; empty of a clamp frame
  std::optional<SizeDetails> details;    ///< of the recommended order
  std::vector<SizeOffer> offers;         ///< the one recommended first
  std::optional<SizeOffer> with_filler;  ///< of the recommended one, with fewer sheets
  std::vector<Span> intervals;  ///< all inner lengths for the build's cells, by the recommended kit
  std::vector<Span> kit_intervals;  ///< the same by the kit on hand
  bool foam_said = false;           ///< pads by the build's own table
  std::optional<PadOffer> pad;
  std::optional<ThinWallOffer> thin_wall;
  std::optional<ChargeOffer> less_charge;  ///< where nothing that is sold serves
  bool hand_refuses = false;  ///< where nothing serves: with an end wall put on last a length does
  std::optional<LengthOffer> finer;  ///< where only the sheets are too few or too coarse
  double wider_high_mpa = 0;         ///< top of a band in which hard shims would serve; 0: none
  double short_mm = 0;  ///< where nothing serves: of inner length, between above and below
  double end_plate_short_mm = 0;  ///< by which it ends inside the face's edge, all round
  double end_plate_mm = 0;        ///< at each end, to keep clear of what fills the corners; 0: none
  std::optional<BoxInHand> in_hand;
  std::optional<SizeBracket> soft;  ///< with an assumed squeeze law only
  std::optional<SizeBracket> stiff;
  std::vector<AssumedUse> assumed;
  std::vector<AssumedWord> assumed_words;
  std::vector<Warning> warnings;
  /// An order can be given as it stands.
  [[nodiscard]] bool serves() const { return verdict <= SizeVerdict::serves_with_pad; }
  Build as_ordered;  ///< the build with the recommended walls, length and kit in it
};

/// Throws UnusableBuild where the build says what no box can be made for.
[[nodiscard]] SizeAnswer answer_size(const Build& build, const Assumptions& assumptions = {});

}  // namespace stackfit
