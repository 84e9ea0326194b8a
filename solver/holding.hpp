// SPDX-License-Identifier: GPL-3.0-or-later
//
// All stretches of one number over which something holds.
//
// For: forces of a frame, each try of which is a whole solution; nothing is taken for granted of
// the shape: what holds may do so in several stretches.
// Not for: a rising function's zero (rising_root.hpp).
#pragma once

#include <functional>
#include <vector>

#include "solver/build.hpp"

namespace stackfit {

struct HoldingSearch {
  Span over;
  int steps = 12;            ///< even steps over the span that are tried
  std::vector<double> also;  ///< further places to try: where an end is thought to be
  double end_share = 0.004;  ///< ends are known this well, as a share of where they stand
};

/// Stretches, rising, over which value_at is not below zero, as far as tries and what lies between
/// them show: a change between neighbouring tries is halved down to end_share, and a peak below
/// zero or a dip above it between three neighbours is followed by golden sections. Both ends of
/// each stretch hold themselves.
[[nodiscard]] std::vector<Span> holding_stretches(const HoldingSearch& search,
                                                  const std::function<double(double)>& value_at);

/// The widest stretch; of none an empty span at 0.
[[nodiscard]] Span widest(const std::vector<Span>& stretches);

/// The roundest figure in the middle third of a span: a multiple of 1, 2 or 5 times a power of ten.
[[nodiscard]] double shop_figure(Span span);

}  // namespace stackfit
