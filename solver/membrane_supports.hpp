// SPDX-License-Identifier: GPL-3.0-or-later
//
// Which displacements of a sheet in its plane its sides leave free.
//
// For: solver/membrane.cpp only.
// Not for: deflections and slopes (plate_supports.hpp).
#pragma once

#include <Eigen/SparseCore>
#include <array>
#include <cstddef>
#include <vector>

#include "geometry/mesh.hpp"
#include "solver/membrane.hpp"

namespace stackfit {

/// The mesh with a node at the middle of each edge.
struct SixNodeMesh {
  std::vector<geometry::Point> nodes;  ///< those of the mesh first
  /// Of each triangle: its corners, then the middles of the edges from each corner to the next.
  std::vector<std::array<std::size_t, 6>> triangles;
  struct BoundaryEdge {
    std::array<std::size_t, 3> nodes{};  ///< end, middle, end
    std::size_t side = 0;
  };
  std::vector<BoundaryEdge> boundary;
};
[[nodiscard]] SixNodeMesh six_node_mesh(const geometry::Mesh& mesh);

/// Displacements u, v of each node in turn = columns * free displacements. Motions of the whole
/// sheet are taken out. Throws std::invalid_argument as membrane() does.
[[nodiscard]] Eigen::SparseMatrix<double> free_displacements(
    const SixNodeMesh& mesh, const std::vector<MembraneEdge>& sides);

}  // namespace stackfit
