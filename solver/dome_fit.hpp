// SPDX-License-Identifier: GPL-3.0-or-later
//
// The dome of one face from heights read over it: a tilted plane plus a dome, by least squares.
//
//     z = offset + tilt_x xi + tilt_y eta + face_dome ((1 - xi^2)(1 - eta^2))^q
//
// xi and eta run from -1 to 1 over the face, z grows outwards; a hollow face has a negative dome.
//
// For: point grids in place of the edge-and-middle readings. Says how well it knows the height, and
// names readings that do not belong to the rest instead of averaging over them.
// Not for: flatness (geometry/flatness.hpp), or both faces of a cell together (dome_reading.hpp).
//
// What can be relied on, each with its test:
//  1. Points on a dome of this shape give back height, exponent and plane.
//  2. The height lies within three of its standard errors; a face turned inside out gives minus
//     the height, one that lies tilted or higher the same.
//  3. A reading that is off is named and left out. Normal noise alone names one in about one
//     face of a hundred.
//  4. Where points or dome do not bear an exponent, it is assumed, and its doubt is in the
//     standard error of the height.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "solver/answer.hpp"
#include "solver/build.hpp"

namespace stackfit {

/// A plane and a dome have four figures; two points more show how well they are known.
inline constexpr std::size_t least_points_for_dome = 6;
/// The exponent is a fifth figure, and is told by how the dome falls off: from this many on.
inline constexpr std::size_t least_points_for_exponent = 9;
/// The exponent is sought within this span.
inline constexpr Span exponent_sought{0.5, 4};
/// One that is known no better than this says less than the assumption does.
inline constexpr double greatest_exponent_error = 0.5;
/// A dome lower than this has no shape: readings are no finer.
inline constexpr double least_dome_for_exponent_mm = 0.02;
/// Points whose noise reaches the height of the dome more than so many times over are badly spread.
inline constexpr double greatest_noise_gain = 5;
/// No reading closer to the others' dome than this is off: calipers and dial gauges are read so.
inline constexpr double least_outlier_mm = 0.03;
/// Chance with which normal noise alone makes one of a face's readings an outlier.
inline constexpr double false_outlier_chance = 0.01;

/// A reading that does not belong to the rest, left out of the fit.
struct OutlyingPoint {
  std::size_t index = 0;   ///< in the points given, from 0
  double residual_mm = 0;  ///< its height less that of the dome the others make
};

struct DomeFit {
  [[nodiscard]] bool exponent_is_fitted() const {
    return exponent_from == ExponentFrom::fitted || exponent_from == ExponentFrom::at_end;
  }

  double face_dome_mm = 0;
  double face_dome_error_mm = 0;  ///< standard error, the exponent's doubt included
  double exponent = 2;
  double exponent_error = 0;  ///< standard error; of an assumed one, its spread
  ExponentFrom exponent_from = ExponentFrom::too_few_points;
  double offset_mm = 0;    ///< of the plane, at the middle of the face
  double tilt_x_mm = 0;    ///< the plane's rise from the middle to the right edge
  double tilt_y_mm = 0;    ///< and to the top edge
  double residual_mm = 0;  ///< root mean square of the points used
  std::size_t used = 0;
  std::vector<OutlyingPoint> outliers;  ///< in the order of the points
};

enum class DomeFitStop : std::uint8_t {
  fitted,
  too_few_points,
  /// All near the middle, all near the edge or all on a line: plane and dome cannot be told apart.
  badly_spread
};

struct DomeFitResult {
  DomeFitStop stop = DomeFitStop::too_few_points;
  std::optional<DomeFit> fit;  ///< where fitted
};

/// Half the face's width and height.
struct HalfFace {
  double width_mm = 0;
  double height_mm = 0;
};

/// `assumed_exponent` is taken where the points do not bear one; the likely others lie in `span`.
struct AssumedExponent {
  double value = 2;
  Span span{1, 2};
};

/// Points outside the face count as on its edge.
[[nodiscard]] DomeFitResult fit_dome(const std::vector<FacePoint>& points, const HalfFace& face,
                                     const AssumedExponent& assumed = {});

}  // namespace stackfit
