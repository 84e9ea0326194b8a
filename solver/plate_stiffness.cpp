// SPDX-License-Identifier: GPL-3.0-or-later
//
// The pattern is known before the numbers: a node's three columns have three rows for itself and
// for each node it shares a triangle with. So the columns are laid out first and filled in place.
#include "solver/plate_stiffness.hpp"

#include <algorithm>
#include <cstddef>
#include <vector>

namespace stackfit {
namespace {

using Sparse = Eigen::SparseMatrix<double>;
using Neighbours = std::vector<std::vector<int>>;  ///< of each node, itself included, rising

std::size_t index(int number) {
  return static_cast<std::size_t>(number);
}

Neighbours neighbours(const geometry::Mesh& mesh) {
  Neighbours result(mesh.nodes.size());
  for (const auto& triangle : mesh.triangles) {
    for (const int node : triangle) {
      auto& list = result[index(node)];
      list.insert(list.end(), triangle.begin(), triangle.end());
    }
  }
  for (auto& list : result) {
    std::sort(list.begin(), list.end());
    list.erase(std::unique(list.begin(), list.end()), list.end());
  }
  return result;
}

/// Zeros wherever the stiffness will have entries.
Sparse laid_out(const Neighbours& nodes) {
  const auto unknowns = 3 * static_cast<Eigen::Index>(nodes.size());
  Sparse result(unknowns, unknowns);
  int end = 0;
  for (std::size_t node = 0; node < nodes.size(); ++node) {
    for (std::size_t column = 3 * node; column < 3 * node + 3; ++column) {
      end += 3 * static_cast<int>(nodes[node].size());
      result.outerIndexPtr()[column + 1] = end;
    }
  }
  result.resizeNonZeros(end);
  int* row = result.innerIndexPtr();
  for (const auto& list : nodes) {
    for (int column = 0; column < 3; ++column) {
      for (const int neighbour : list) {
        for (int unknown = 0; unknown < 3; ++unknown) {
          *row++ = 3 * neighbour + unknown;
        }
      }
    }
  }
  std::fill_n(result.valuePtr(), end, 0.0);
  return result;
}

/// Adds what one corner's values (the column's) do to the forces on another's (the row's).
/// `list`: the neighbours of the column's node.
void add_block(Sparse& stiffness, const std::vector<int>& list, const dkt::Stiffness& triangle,
               const std::array<int, 3>& nodes, const std::array<std::size_t, 2>& pair) {
  const auto [row, column] = pair;
  const auto place = std::lower_bound(list.begin(), list.end(), nodes[row]) - list.begin();
  for (std::size_t c = 0; c < 3; ++c) {
    const auto start = stiffness.outerIndexPtr()[3 * index(nodes[column]) + c];
    double* const value = stiffness.valuePtr() + start + 3 * place;
    for (std::size_t r = 0; r < 3; ++r) {
      value[r] += triangle[3 * row + r][3 * column + c];
    }
  }
}

}  // namespace

dkt::Corners corners_of(const geometry::Mesh& mesh, std::size_t triangle) {
  const auto& nodes = mesh.triangles[triangle];
  return {mesh.nodes[index(nodes[0])], mesh.nodes[index(nodes[1])], mesh.nodes[index(nodes[2])]};
}

Sparse plate_stiffness(const geometry::Mesh& mesh, const dkt::Bending& bending) {
  const Neighbours nodes = neighbours(mesh);
  Sparse result = laid_out(nodes);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const auto& corners = mesh.triangles[t];
    const dkt::Stiffness triangle = dkt::stiffness(corners_of(mesh, t), bending);
    for (std::size_t column = 0; column < 3; ++column) {
      for (std::size_t row = 0; row < 3; ++row) {
        add_block(result, nodes[index(corners[column])], triangle, corners, {row, column});
      }
    }
  }
  return result;
}

}  // namespace stackfit
