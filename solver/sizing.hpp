// SPDX-License-Identifier: GPL-3.0-or-later
//
// The work of `size`, step by step. Internal to the solver: size.hpp is what to call.
#pragma once

#include <memory>
#include <optional>
#include <utility>

#include "solver/size.hpp"

namespace stackfit {

class Sizing {
 public:
  Sizing(const Build& said, const Assumptions& assumptions);
  [[nodiscard]] SizeAnswer run();

 private:
  void describe();
  /// As ordered, as the kit on hand, or a stiff sheet that insulates.
  void choose_sheet_material();
  [[nodiscard]] double take(const std::optional<double>& said, Assumed id);
  /// A frame is as long as its row: plates, rods, springs and force are what is ordered.
  [[nodiscard]] SizeAnswer run_frame();
  /// Where metal would be left bare: one of the thinnest sheet that is sold in every such gap.
  void add_sheets_due();
  void size_width_and_height();
  /// Where bends, beads or round corners stand in the way of the end cells, a plate at each end
  /// keeps them off.
  void add_end_plates(SectionRequest request);
  void choose_walls();
  void describe_row(const Study& study);
  void describe_swing();
  [[nodiscard]] double rough_length_mm() const;
  /// What readings may be off, all cells together: calipers, by a part common to all cells and one
  /// of each, and the charge at which they were read.
  [[nodiscard]] double readings_off_mm() const;
  /// What the cells may be thicker or thinner where their charge was another.
  [[nodiscard]] double charge_doubt_mm() const;
  void offer_lengths();
  void offer(OfferFor whom, const Build& build, double spread_mm);
  [[nodiscard]] Build as_ordered(const Build& build, const LengthOffer& length) const;
  void describe_pressures(const Build& build, SizeOffer& made) const;
  [[nodiscard]] Build build_for(OfferFor whom) const;
  void finish_recommended();
  [[nodiscard]] std::vector<double> fillers() const;
  /// The plate with which the kit has fewest sheets.
  void offer_filler(const Build& build, const SizeOffer& first);
  void bracket();
  /// Nothing hard serves: something soft in the row, or a wall that is the spring.
  void soften();
  [[nodiscard]] LengthDemand nearest_demand() const;
  /// Whether only the push of a hand stands in the way.
  [[nodiscard]] bool hand_refuses(const Build& build, const LengthDemand& demand);
  void offer_nearest(const Build& build, const LengthDemand& demand);
  void look_at_kit_on_hand();
  /// A box that is there, or whose length was fixed otherwise: as it is, or with a plate in it.
  void look_at_box_in_hand();
  /// Width, height or corners that keep the cells out: room that is only short is no such thing.
  [[nodiscard]] bool section_refuses() const;
  [[nodiscard]] SizeVerdict verdict(const Study& study) const;
  void judge();
  /// Warnings, and every figure and word that was assumed.
  void tell_assumed(const Study& study);
  const Assumptions& assumptions_;
  Findings findings_;
  Build build_;
  LengthDemand demand_;
  std::shared_ptr<WallStore> store_ = std::make_shared<WallStore>();
  SizeAnswer answer_;
};

}  // namespace stackfit
