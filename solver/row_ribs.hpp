// SPDX-License-Identifier: GPL-3.0-or-later
//
// What stiffens an end wall: ribs across it, or a second plate against it. Internal to the solver.
#pragma once

#include "solver/row_parts.hpp"

namespace stackfit {

struct WallExtent {
  double width_mm = 0;
  double height_mm = 0;
};

/// Adds ribs and second plate to a wall whose section and edges are known. Throws UnusableBuild
/// for a rib that does not lie inside the wall, has no size or lies on another one, and for ribs
/// and a second plate on one wall.
void stiffen(const Resolution& resolution, const PlateWall& said, const WallExtent& size,
             WallPlate& wall);

/// Whether the ribs are left and right alike.
[[nodiscard]] bool ribs_alike(const WallPlate& wall, double width_mm);

}  // namespace stackfit
