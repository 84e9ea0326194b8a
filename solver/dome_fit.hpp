// SPDX-License-Identifier: GPL-3.0-or-later
//
// The dome of one face from readings all over it: height, shape and how sure both are.
//
// For: grids of dial or depth readings, taken against any plane. The dome is fitted together with
// the plane's place and tilt, so the face need not lie level.
// Not for: a dome known by two calipers' readings (row_cells.cpp), or flatness, which asks no
// shape (geometry/flatness.hpp).
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "geometry/flatness.hpp"

namespace stackfit {

/// Half the face's width and height [mm]: readings lie within them, from the face's middle.
struct FaceHalf {
  double width_mm = 0;
  double height_mm = 0;
};

/// A reading that no dome explains, left out of the fit and named.
struct DomeOutlier {
  std::size_t index = 0;   ///< of the reading, from 0
  double residual_mm = 0;  ///< above (+) the dome fitted to the others
};

struct DomeFit {
  double height_mm = 0;        ///< of this face, middle over rim; negative: hollow
  double height_error_mm = 0;  ///< standard error, the exponent's doubt included
  double exponent = 2;         ///< q of height ((1 - xi^2)(1 - eta^2))^q
  /// Standard error of the exponent; empty: too few readings, or too low a dome, to tell it, and
  /// the assumed one was taken.
  std::optional<double> exponent_error;
  double rim_mm = 0;  ///< height of the readings' plane at the middle of the face: the rim
  double tilt_x = 0;  ///< of that plane [mm/mm]
  double tilt_y = 0;
  double residual_mm = 0;  ///< root mean square over degrees of freedom: a reading's error
  std::size_t used = 0;
  std::vector<DomeOutlier> outliers;
};

/// Fewest readings a face's plane and dome are fitted to: one more than there are unknowns.
inline constexpr std::size_t fewest_dome_readings = 5;

/// Least squares over plane, height and, from eight readings on, exponent (variable projection:
/// Golub & Pereyra 1973). A reading whose residual, over its own standard error without it, is
/// beyond Student's t at 1 % shared out over all readings is left out and named, the worst first.
/// Throws std::invalid_argument for fewer than `fewest_dome_readings` readings, one outside the
/// face, or readings that do not tell plane and dome apart (all on one line, none near the middle).
[[nodiscard]] DomeFit fit_dome(const std::vector<geometry::SpacePoint>& readings,
                               const FaceHalf& face, double assumed_exponent);

}  // namespace stackfit
