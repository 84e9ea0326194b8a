// SPDX-License-Identifier: GPL-3.0-or-later
//
// Reversible thickness change with charge: the layer law, its stretch to two figures, tables.
//
// For: relative thickness g(charge) and its extremes over a window. Every curve here is
// piecewise linear, so its extremes stand at its own knots or at the window's ends: exact.
// Not for: growth with age or heat (row.hpp).
#pragma once

#include <vector>

#include "solver/build.hpp"

namespace stackfit {

/// Piecewise linear curve of thickness change over charge, zero at charge 0.
class SwingCurve {
 public:
  /// `charge` increasing and within 0..1, `fraction` of the nominal thickness, same length >= 2.
  /// Throws std::invalid_argument otherwise.
  SwingCurve(std::vector<double> charge, std::vector<double> fraction);

  /// Thickness change [fraction of nominal] at a charge; constant beyond the end knots.
  [[nodiscard]] double at(double charge) const;

  struct Extremes {
    double charge_lowest = 0;
    double charge_highest = 0;
  };
  /// Where the curve is lowest and highest over a window of charge; the lower charge of ties.
  [[nodiscard]] Extremes extremes(Span window) const;

  /// Knots strictly inside the window, and its two ends: enough to draw the curve exactly.
  [[nodiscard]] std::vector<double> knots(Span window) const;

 private:
  std::vector<double> charge_;
  std::vector<double> fraction_;
};

/// Thickness change of one electrode layer pair, by
///   dt = eps_p L_p v_p(y) + eps_n L_n v_n(x)
/// with all particle strain taken up in thickness. Graphite: published knots of volume strain;
/// LFP and NMC linear in y. Knots of the curve stand where x meets a graphite knot.
/// Sources at the coefficients in swing.cpp. Computed, not measured.
[[nodiscard]] SwingCurve layer_swing(Chemistry chemistry);

/// The layer law stretched, g = a layer + b charge, to a net (empty to full) and a hump (local
/// peak to dip). NMC has no hump: its curve is only scaled to the net.
[[nodiscard]] SwingCurve stretched_swing(Chemistry chemistry, double net_fraction,
                                         double hump_fraction);

/// The two factors of that stretch; both are linear in net and hump.
struct SwingStretch {
  double scale = 0;  ///< a
  double tilt = 0;   ///< b
};
[[nodiscard]] SwingStretch swing_stretch(Chemistry chemistry, double net_fraction,
                                         double hump_fraction);

/// Net swing of the layer law itself [fraction].
[[nodiscard]] double layer_net(Chemistry chemistry);

}  // namespace stackfit
