// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/plate_supports.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <stdexcept>

#include "solver/plate_sides.hpp"

namespace stackfit {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

std::size_t index(int number) {
  return static_cast<std::size_t>(number);
}

Vector2d place(const geometry::Point& point) {
  return {point.x_mm, point.y_mm};
}

/// Turned left by a right angle.
Vector2d across(const Vector2d& along) {
  return {-along.y(), along.x()};
}

/// The node at a point, as far as the mesher tells places apart.
std::size_t node_at(const geometry::Mesh& mesh, const geometry::Point& point) {
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
    if ((place(mesh.nodes[i]) - place(point)).norm() <= geometry::mesh_snap_mm) {
      return i;
    }
  }
  throw std::invalid_argument("a point that supports the plate must be a node of its mesh");
}

/// Greatest distance of the mesh's nodes from their mean, and that mean.
struct Reach {
  Vector2d middle = Vector2d::Zero();
  double size_mm = 0;
};

Reach reach(const geometry::Mesh& mesh) {
  Reach result;
  for (const auto& node : mesh.nodes) {
    result.middle += place(node) / static_cast<double>(mesh.nodes.size());
  }
  for (const auto& node : mesh.nodes) {
    result.size_mm = std::max(result.size_mm, (place(node) - result.middle).norm());
  }
  return result;
}

/// Pieces of the mesh that hang together: a number for each node.
std::vector<std::size_t> pieces(const geometry::Mesh& mesh) {
  std::vector<std::size_t> parent(mesh.nodes.size());
  std::iota(parent.begin(), parent.end(), std::size_t{0});
  const auto root = [&parent](std::size_t node) {
    while (parent[node] != node) {
      node = parent[node] = parent[parent[node]];
    }
    return node;
  };
  for (const auto& triangle : mesh.triangles) {
    const std::size_t first = root(index(triangle[0]));
    parent[root(index(triangle[1]))] = first;
    parent[root(index(triangle[2]))] = first;
  }
  std::vector<std::size_t> result(parent.size());
  for (std::size_t node = 0; node < parent.size(); ++node) {
    result[node] = root(node);
  }
  return result;
}

/// A piece moves as a whole, unbent, by w = c0 + c1 x + c2 y. Its triangles do not resist that, so
/// the supports must see every such motion.
void require_held(const geometry::Mesh& mesh, const std::vector<NodeSupport>& supports,
                  const Eigen::VectorXd& springs) {
  constexpr double unseen = 1e-12;  // of the best seen motion, squared
  const Reach whole = reach(mesh);
  const std::vector<std::size_t> piece = pieces(mesh);
  std::vector<Eigen::Matrix3d> seen(mesh.nodes.size(), Eigen::Matrix3d::Zero());
  for (std::size_t node = 0; node < mesh.nodes.size(); ++node) {
    const Vector2d zero_at = place(mesh.nodes[node]) + supports[node].beyond_mm;
    const Vector2d at = (zero_at - whole.middle) / whole.size_mm;
    const auto see = [&](const Vector3d& motions) {
      seen[piece[node]] += motions * motions.transpose();
    };
    if (supports[node].deflection || springs[3 * static_cast<Eigen::Index>(node)] > 0) {
      see({1, at.x(), at.y()});
    }
    for (const Vector2d& slope : supports[node].slopes) {
      see({0, slope.x(), slope.y()});
    }
  }
  for (std::size_t node = 0; node < mesh.nodes.size(); ++node) {
    if (piece[node] != node) {
      continue;
    }
    const Vector3d strengths =
        Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(seen[node], Eigen::EigenvaluesOnly)
            .eigenvalues();
    if (!(strengths[0] > unseen * strengths[2])) {
      throw std::invalid_argument(
          "the plate is free to move: hold more of its sides, or support it at three points that "
          "do not lie on one line");
    }
  }
}

/// Each node's free unknowns, one column for each.
Eigen::SparseMatrix<double> free_columns(const std::vector<NodeSupport>& supports) {
  const auto unknowns = 3 * static_cast<Eigen::Index>(supports.size());
  std::vector<Eigen::Triplet<double>> entries;
  Eigen::Index column = 0;
  for (std::size_t node = 0; node < supports.size(); ++node) {
    const NodeSupport& support = supports[node];
    const Eigen::Index first = 3 * static_cast<Eigen::Index>(node);
    if (!support.deflection) {
      entries.emplace_back(first, column++, 1.0);
    }
    if (support.slopes.empty()) {
      entries.emplace_back(first + 1, column++, 1.0);
      entries.emplace_back(first + 2, column++, 1.0);
    } else if (support.slopes.size() == 1) {
      const Vector2d turn = across(support.slopes.front());
      entries.emplace_back(first, column, -support.beyond_mm.dot(turn));
      entries.emplace_back(first + 1, column, turn.x());
      entries.emplace_back(first + 2, column++, turn.y());
    }
  }
  Eigen::SparseMatrix<double> columns(unknowns, column);
  columns.setFromTriplets(entries.begin(), entries.end());
  columns.prune(0.0);  // straight sides, and sides along an axis
  return columns;
}

}  // namespace

FreeUnknowns free_unknowns(const geometry::Mesh& mesh, const PlateSupports& supports) {
  std::vector<NodeSupport> at_node = side_supports(mesh, supports.sides);
  FreeUnknowns result;
  result.springs_n_per_mm = Eigen::VectorXd::Zero(3 * static_cast<Eigen::Index>(at_node.size()));
  for (const PlatePoint& point : supports.points) {
    const std::size_t node = node_at(mesh, point.at);
    if (point.rigid) {
      at_node[node].deflection = true;
      at_node[node].beyond_mm = Vector2d::Zero();
      continue;
    }
    if (!(point.spring_n_per_mm > 0) || !std::isfinite(point.spring_n_per_mm)) {
      throw std::invalid_argument("a spring that supports the plate must be stiffer than nothing");
    }
    result.springs_n_per_mm[3 * static_cast<Eigen::Index>(node)] += point.spring_n_per_mm;
  }
  require_held(mesh, at_node, result.springs_n_per_mm);
  result.columns = free_columns(at_node);
  return result;
}

}  // namespace stackfit
