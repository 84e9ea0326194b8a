// SPDX-License-Identifier: GPL-3.0-or-later
//
// Bars along a plate's mesh: their stiffness among the plate's unknowns, and the fields they bound.
//
// For: solver/plate*.cpp, and stress along a rib (wall_result.cpp). Between two nodes a bar's
// deflection is the cubic of their deflections and slopes along it, as that of a discrete
// Kirchhoff triangle's edge: the two bend alike everywhere, not only at the nodes.
// Not for: what a bar's stiffness is (rib.hpp).
#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <vector>

#include "geometry/mesh.hpp"
#include "solver/plate.hpp"

namespace stackfit {

/// The nodes on the line between two places, in order. Throws std::invalid_argument where edges of
/// the mesh do not run all along it.
[[nodiscard]] std::vector<int> nodes_along(const geometry::Mesh& mesh, const geometry::Point& from,
                                           const geometry::Point& to);

/// Adds the bar to the stiffness of the plate on this mesh. Throws std::invalid_argument for a
/// bending stiffness that is not positive, or as nodes_along does.
void add_rib(Eigen::SparseMatrix<double>& stiffness, const geometry::Mesh& mesh,
             const PlateRib& rib);

/// How the bar through these nodes, in order, is bent at each of them [1/mm]: -w'' along it, from
/// its own deflections and slopes alone. A stiff bar hardly bends where the plate beside it does,
/// so what is recovered for the plate (Plate::bend) would not do.
[[nodiscard]] Eigen::VectorXd bend_along(const geometry::Mesh& mesh, const std::vector<int>& nodes,
                                         const Eigen::VectorXd& deflections);

/// Of each triangle, which of the fields between the ribs it lies in, counted from 0.
[[nodiscard]] std::vector<int> fields_between(const geometry::Mesh& mesh,
                                              const std::vector<PlateRib>& ribs);

}  // namespace stackfit
