// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the sides of a plate hold at each node of its mesh.
//
// For: solver/plate_supports.cpp only.
// Not for: supports at points (plate_supports.hpp).
#pragma once

#include <Eigen/Core>
#include <vector>

#include "geometry/mesh.hpp"
#include "solver/plate.hpp"

namespace stackfit {

/// Two sides that turn by less than this at a node are taken for one smooth side, held along their
/// common direction, as are the chords of an arc at any angle. Were each chord held along its own,
/// the plate would be all but fixed however fine the mesh (I. Babuska, "The theory of small changes
/// in the domain of existence in the theory of partial differential equations", 1963, from memory).
inline constexpr double smooth_turn_deg = 30;

/// What is held at a node: its deflection, and its slope in up to two directions.
struct NodeSupport {
  bool deflection = false;
  std::vector<Eigen::Vector2d> slopes;
  /// From the node to where the deflection is zero: a curved side lies beyond its chords.
  Eigen::Vector2d beyond_mm = Eigen::Vector2d::Zero();
};

/// One for each node. Throws std::invalid_argument for sides that do not match the outline.
[[nodiscard]] std::vector<NodeSupport> side_supports(const geometry::Mesh& mesh,
                                                     const std::vector<PlateEdge>& sides);

}  // namespace stackfit
