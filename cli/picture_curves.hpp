// SPDX-License-Identifier: GPL-3.0-or-later
//
// Curves of face pressure against charge: new as solved, aged, cold and warm as interpolated.
//
// For: picture_pressure.cpp. Not for: verdicts (plan.states) or drawing.
#pragma once

#include <string>
#include <vector>

#include "solver/answer.hpp"

namespace stackfit::cli {

struct CurvePoint {
  double charge = 0;
  double pressure_mpa = 0;
};
struct PressureCurve {
  std::string name;  ///< `new`, `aged 10 %`, `warm 40 C`, `cold 5 C`
  std::vector<CurvePoint> points;
};
/// The new one first; beyond the charges it was solved at it is interpolated. Others only where the
/// answer has a picture that can be played with, and the window of use reaches that far. Where pads
/// may be settled or not, aged and warm are the higher pressure of these, cold the lower one.
[[nodiscard]] std::vector<PressureCurve> pressure_curves(const Answer& answer);

/// On straight lines between a curve's points.
[[nodiscard]] double pressure_on(const PressureCurve& curve, double charge);
/// The part between two charges, its ends included, as far as the curve goes.
[[nodiscard]] std::vector<CurvePoint> curve_between(const PressureCurve& curve, const Span& charge);

/// Where a curve crosses an edge of the band as charge rises.
struct BandCrossing {
  CurvePoint at;
  bool upper = false;   ///< the band's top, less the model's margin; else its bottom
  bool leaves = false;  ///< with rising charge; else it comes back in
};
[[nodiscard]] std::vector<BandCrossing> crossings(const PressureCurve& curve,
                                                  const BandResult& band);

}  // namespace stackfit::cli
