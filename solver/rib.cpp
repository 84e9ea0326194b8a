// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/rib.hpp"

namespace stackfit {

RibBending rib_bending(const RibSection& rib, const PlateSection& wall) {
  const double pull = rib.modulus_mpa * rib.thickness_mm * rib.height_mm;
  const double wall_pull = wall.modulus_mpa * wall.thickness_mm * rib.flange_mm;
  // Two parts of one beam: each about its own middle, and the two pulls on the lever between.
  const double own = pull * rib.height_mm * rib.height_mm / 12;
  const double lever = 0.5 * (wall.thickness_mm + rib.height_mm);
  const double both = pull * wall_pull / (pull + wall_pull) * lever * lever;
  if (rib.flange_mm <= 0) {
    return {own, 0.5 * rib.height_mm, 0};
  }
  const double wall_mm = lever * pull / (pull + wall_pull);
  return {own + both, 0.5 * wall.thickness_mm + rib.height_mm - wall_mm, wall_mm};
}

}  // namespace stackfit
