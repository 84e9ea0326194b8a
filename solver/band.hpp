// SPDX-License-Identifier: GPL-3.0-or-later
//
// The face pressure band from the data sheet's range, or from its single force.
#pragma once

#include "solver/answer.hpp"
#include "solver/findings.hpp"

namespace stackfit {

/// The band in use, the limit and the build target, by the table of what a maker's force means:
/// at assembly (or not said), always, never above. A range beats a force; both may be given.
/// Where neither is, an assumed pressure stands for a force of which nothing more was said.
[[nodiscard]] BandResult make_band(const CellType& cell, double face_area_mm2,
                                   const Assumptions& assumptions, Findings& findings);

/// Where a pressure stands; `above` and `limit` are judged with the band's model margin.
[[nodiscard]] Standing standing_of(const BandResult& band, double face_pressure_mpa,
                                   double highest_local_mpa);

/// Least distance to the band's ends over its width; negative outside. Without the margin's
/// limit rule: that one passes or fails.
struct PressureSpan {
  double lowest_mpa = 0;
  double highest_mpa = 0;
};
[[nodiscard]] double band_margin(const BandResult& band, const PressureSpan& span);

}  // namespace stackfit
