// SPDX-License-Identifier: GPL-3.0-or-later
//
// The stiffness of a whole plate from its triangles', supports left out.
//
// For: solver/plate.cpp only.
#pragma once

#include <Eigen/SparseCore>

#include "geometry/mesh.hpp"
#include "solver/dkt.hpp"

namespace stackfit {

[[nodiscard]] dkt::Corners corners_of(const geometry::Mesh& mesh, std::size_t triangle);

/// [unknowns x unknowns], both triangles stored.
[[nodiscard]] Eigen::SparseMatrix<double> plate_stiffness(const geometry::Mesh& mesh,
                                                          const dkt::Bending& bending);

}  // namespace stackfit
