// SPDX-License-Identifier: GPL-3.0-or-later
//
// A frame's row and plates as one spring, whatever rods and springs draw them together.
//
// For: trying many springs and forces quickly. How far row and plates close at the rods under a
// force is theirs alone, so one reduced curve serves all of them: the states of a frame are then
// scalar equations, exact where nothing of the row hangs on how it was built.
// Not for: the verdict (Study): pads that settle, a can's rim, local limits and watched cells are
// left out here.
#pragma once

#include <vector>

#include "solver/study.hpp"
#include "solver/tie.hpp"

namespace stackfit {

class FrameClosing {
 public:
  /// From a study of the frame with rods alone: which, and their force, does not matter. Throws
  /// std::invalid_argument for one with springs, or no frame.
  FrameClosing(const Study& study, const ShimLoad& load);

  struct Forces {
    double built_n = 0;
    double lowest_n = 0;  ///< over the required states, all rods together; 0 where loose
    double highest_n = 0;
  };
  /// With other rods and springs at their own force.
  [[nodiscard]] Forces forces(const RodSet& rods) const;
  /// As RowModel::Judgement::margin: least distance to the band's ends over its width.
  [[nodiscard]] double margin(const Forces& forces) const;

  /// How far the rods' seats come together from the lowest force that is tabulated [mm].
  [[nodiscard]] double closing_mm(double force_n) const;
  /// Least and greatest change of the row's free length [mm] over the required states, against
  /// the state it is built in.
  [[nodiscard]] Span change_mm() const { return change_mm_; }

 private:
  [[nodiscard]] double force_n(const TieLaw& tie, double built_n, double change_mm) const;

  BandResult band_;
  double area_mm2_ = 0;
  Span change_mm_;
  std::vector<double> force_;
  std::vector<double> closing_;
};

}  // namespace stackfit
