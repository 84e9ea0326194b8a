// SPDX-License-Identifier: GPL-3.0-or-later
//
// A cell's dome: how much of it closes at no force, and its mean height over the face.
//
// For: a domed cell in the one-column row. Not for: where contact starts and spreads, which
// needs the row's columns one by one.
#pragma once

namespace stackfit {

struct Dome {
  double height_mm = 0;  ///< middle minus edge, both faces together; negative: hollow
  double slack_mm = 0;   ///< closes at no force; 0 for a hollow cell
  double exponent = 2;   ///< q of phi = ((1 - xi^2)(1 - eta^2))^q
};

/// Mean over the face of bulge = max(0, height phi - slack), or height phi where hollow [mm].
/// Nested Gauss quadrature up to the line where the bulge begins; relative error below 1e-4.
[[nodiscard]] double mean_bulge_mm(const Dome& dome);

}  // namespace stackfit
