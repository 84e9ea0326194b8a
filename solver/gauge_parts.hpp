// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the parts of a gauge share.
//
// For: gauge*.cpp only.
#pragma once

#include <vector>

#include "solver/gauge.hpp"

namespace stackfit {

inline constexpr double two_sided_95 = 1.959963984540054;

inline bool by_wall(GaugeKind kind) {
  return kind == GaugeKind::bow || kind == GaugeKind::gap;
}

// gauge.cpp
/// The sheets that lie in the row.
[[nodiscard]] ShimLoad placed_load(const Study& study);
/// What a bow or gap would read of a solved row.
[[nodiscard]] double measured_mm(const Row& row, const RowColumns::Full& full,
                                 const GaugeReading& reading);
/// Inverse-variance mean of what several readings say, and whether they agree.
struct Combined {
  double force_n = 0;
  Span span_n;
  bool agree = true;
};
/// `on_bows`: a factor on the force of every bow.
[[nodiscard]] Combined combined(const std::vector<Gauged>& gauges, double on_bows = 1);

// gauge_held.cpp
/// Holds the force that was read against the build's own, and finds what may be wrong where they
/// do not agree. `map` of a bow or gap; null for a frame.
void hold_against_build(const Study& study, const RowState& state, const BowMap* map,
                        GaugeAnswer& answer);
void learn_softness(const Study& study, const RowState& state, GaugeAnswer& answer);

}  // namespace stackfit
