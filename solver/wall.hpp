// SPDX-License-Identifier: GPL-3.0-or-later
//
// Linear give of a rectangular thin end wall under the pressure of a cell's face.
//
// For: the row's linear wall spring, from thickness, metal and how the edges are joined.
// A Ritz series (Legendre polynomials times edge factors) for Kirchhoff's plate.
// Not for: outlines other than a rectangle, large bow, stress, or a row that loses contact in
// the middle of the wall.
#pragma once

#include <cstdint>

namespace stackfit {

enum class EdgeSupport : std::uint8_t { fixed, held, free };

struct PlateEdges {
  EdgeSupport left = EdgeSupport::held;
  EdgeSupport right = EdgeSupport::held;
  EdgeSupport bottom = EdgeSupport::held;
  EdgeSupport top = EdgeSupport::held;
};

/// Thin plate; x from the left edge, y from the bottom edge.
struct RectangularPlate {
  double width_mm = 0;
  double height_mm = 0;
  double thickness_mm = 0;
  double modulus_mpa = 0;
  double poisson = 0;
  PlateEdges edges;
};

/// The rectangle of the wall on which the row presses evenly.
struct LoadPatch {
  double x_low_mm = 0;
  double x_high_mm = 0;
  double y_low_mm = 0;
  double y_high_mm = 0;
};

/// Bending stiffness D = E t^3 / (12 (1 - nu^2)) [N mm].
[[nodiscard]] double plate_stiffness_n_mm(const RectangularPlate& plate);

/// Deflections per newton of load on the patch [mm/N].
struct PlateGive {
  double mean_over_patch = 0;
  double middle_of_plate = 0;
};
/// The load is even over the patch, or comes from a springy row that presses less where the wall
/// has bowed: p = p0 - row_stiffness w, with the row's stiffness per area [MPa/mm] seen by one
/// wall (twice the row's own where two equal walls share it). Zero: even.
/// Throws std::invalid_argument for sizes that are not positive, a patch outside the plate, or
/// edges that leave the plate free to move as a whole.
[[nodiscard]] PlateGive plate_give(const RectangularPlate& plate, const LoadPatch& patch,
                                   double row_stiffness_mpa_per_mm = 0);

}  // namespace stackfit
