// SPDX-License-Identifier: GPL-3.0-or-later
//
// The stretch that a slope brings: von Karman's strains 1/2 (w,x^2, w,y^2, 2 w,x w,y).
//
// For: solver/large_bow*.cpp only.
#pragma once

#include <Eigen/Core>

namespace stackfit {

/// Strains xx, yy and twice xy of two slopes together; their strains alone are half of it, with
/// both slopes alike.
[[nodiscard]] inline Eigen::Vector3d twice_bow_strains(const Eigen::Vector2d& slope,
                                                       const Eigen::Vector2d& other) {
  return {slope.x() * other.x(), slope.y() * other.y(),
          slope.x() * other.y() + slope.y() * other.x()};
}

}  // namespace stackfit
