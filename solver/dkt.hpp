// SPDX-License-Identifier: GPL-3.0-or-later
//
// One discrete Kirchhoff triangle: curvatures and stiffness from the values at its corners.
//
// For: solver/plate*.cpp only. Source: J.-L. Batoz, K.-J. Bathe, L.-W. Ho, "A study of three-node
// triangular plate bending elements", Int. J. Num. Meth. Eng. 15 (1980) 1771-1812.
// Not for: whole plates (plate.hpp).
//
// Values of an element, nine: deflection w and slopes dw/dx, dw/dy at each corner in turn.
#pragma once

#include <array>

#include "geometry/outline.hpp"

namespace stackfit::dkt {

using Corners = std::array<geometry::Point, 3>;  ///< counterclockwise
using Values = std::array<double, 9>;

/// Curvatures [1/mm] of a deflected plate: second derivatives of w.
struct Curvature {
  double xx = 0;
  double yy = 0;
  double twice_xy = 0;
};

/// What each of the nine values adds to the curvatures at one place.
struct CurvatureRows {
  Values xx{};
  Values yy{};
  Values twice_xy{};
};

/// At the three corners; between them curvatures vary linearly.
using CornerRows = std::array<CurvatureRows, 3>;

[[nodiscard]] double area_mm2(const Corners& corners);
[[nodiscard]] CornerRows corner_rows(const Corners& corners);

/// Moments per length [N mm/mm] that go with curvatures, each with the sign of its curvature.
struct Bending {
  double stiffness_n_mm = 0;  ///< D = E t^3 / (12 (1 - nu^2))
  double poisson = 0;

  [[nodiscard]] Curvature moments(const Curvature& curvature) const;
};

using Stiffness = std::array<Values, 9>;  ///< symmetric; forces on the values per unit of each
[[nodiscard]] Stiffness stiffness(const Corners& corners, const Bending& bending);

}  // namespace stackfit::dkt
