// SPDX-License-Identifier: GPL-3.0-or-later
//
// Which unknowns of a plate its supports leave free.
//
// For: solver/plate.cpp only.
// Not for: springs under a plate; they leave every unknown free (their stiffness is added).
#pragma once

#include <Eigen/SparseCore>
#include <vector>

#include "geometry/mesh.hpp"
#include "solver/plate.hpp"

namespace stackfit {

struct FreeUnknowns {
  /// Unknowns = columns * free unknowns [unknowns x free]. Where the slope of a node is held in
  /// one direction the free unknown is the slope across it.
  Eigen::SparseMatrix<double> columns;
  /// Stiffness of springs under each unknown [unknowns].
  Eigen::VectorXd springs_n_per_mm;
};

/// Throws std::invalid_argument for sides that do not match the outline, a point that is no node,
/// a spring that is not positive, or supports that leave the plate free to move.
[[nodiscard]] FreeUnknowns free_unknowns(const geometry::Mesh& mesh, const PlateSupports& supports);

}  // namespace stackfit
