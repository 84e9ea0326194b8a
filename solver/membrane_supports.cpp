// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/membrane_supports.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>
#include <stdexcept>
#include <utility>

#include "solver/plate_sides.hpp"
#include "solver/plate_supports.hpp"

namespace stackfit {
namespace {

using Eigen::Index;
using Eigen::Vector2d;
using Eigen::Vector3d;

Vector2d place(const geometry::Point& point) {
  return {point.x_mm, point.y_mm};
}

/// One direction in which a node is not free: it stays, or goes with its straight side.
struct Hold {
  Vector2d across;
  std::optional<std::size_t> straight_side;
};

/// Two sides that turn by less than this at a node hold it in one direction.
bool same_direction(const Vector2d& a, const Vector2d& b) {
  return std::abs(a.x() * b.y() - a.y() * b.x()) <
         std::sin(smooth_turn_deg * std::numbers::pi / 180);
}

struct NodeHolds {
  std::vector<Hold> holds;  ///< at most two
  bool held = false;

  void add(const Hold& hold) {
    for (Hold& other : holds) {
      if (same_direction(other.across, hold.across)) {
        // Chords of one smooth side: their mean, as often as they come.
        const double sign = other.across.dot(hold.across) < 0 ? -1 : 1;
        other.across = (other.across + sign * hold.across).normalized();
        return;
      }
    }
    if (holds.size() < 2) {
      holds.push_back(hold);
    }
  }
};

std::vector<NodeHolds> holds_of(const SixNodeMesh& mesh, const std::vector<MembraneEdge>& sides) {
  std::vector<NodeHolds> at_node(mesh.nodes.size());
  for (const auto& edge : mesh.boundary) {
    const MembraneEdge kind = sides[edge.side];
    if (kind == MembraneEdge::free) {
      continue;
    }
    const Vector2d along =
        (place(mesh.nodes[edge.nodes[2]]) - place(mesh.nodes[edge.nodes[0]])).normalized();
    Hold hold{{along.y(), -along.x()}, std::nullopt};
    if (kind == MembraneEdge::straight) {
      hold.straight_side = edge.side;
    }
    for (const std::size_t node : edge.nodes) {
      at_node[node].held = at_node[node].held || kind == MembraneEdge::held;
      at_node[node].add(hold);
    }
  }
  for (NodeHolds& node : at_node) {
    if (!node.held) {
      continue;
    }
    for (const Hold& hold : node.holds) {
      if (hold.straight_side) {
        throw std::invalid_argument("a straight side must not meet a held one");
      }
    }
    node.holds = {{Vector2d::UnitX(), std::nullopt}, {Vector2d::UnitY(), std::nullopt}};
  }
  return at_node;
}

/// Displacement of a place when the whole sheet moves: along x, along y, and turning.
Eigen::Matrix<double, 2, 3> whole_motion(const Vector2d& at) {
  Eigen::Matrix<double, 2, 3> motion;
  motion << 1, 0, -at.y(), 0, 1, at.x();
  return motion;
}

/// Middle and reach of the nodes, so that the three motions are alike in size.
struct Scale {
  Vector2d middle = Vector2d::Zero();
  double size_mm = 0;

  [[nodiscard]] Vector2d operator()(const geometry::Point& point) const {
    return (place(point) - middle) / size_mm;
  }
};

Scale scale_of(const SixNodeMesh& mesh) {
  Scale scale;
  for (const auto& node : mesh.nodes) {
    scale.middle += place(node) / static_cast<double>(mesh.nodes.size());
  }
  for (const auto& node : mesh.nodes) {
    scale.size_mm = std::max(scale.size_mm, (place(node) - scale.middle).norm());
  }
  return scale;
}

/// Motions of the whole sheet that no side hinders [3 x 0 to 3].
Eigen::MatrixXd loose_motions(const SixNodeMesh& mesh, const std::vector<NodeHolds>& at_node,
                              const Scale& scale) {
  Eigen::Matrix3d seen = Eigen::Matrix3d::Zero();
  std::map<std::size_t, Vector3d> first_of_side;
  for (std::size_t node = 0; node < at_node.size(); ++node) {
    for (const Hold& hold : at_node[node].holds) {
      Vector3d row = whole_motion(scale(mesh.nodes[node])).transpose() * hold.across;
      if (hold.straight_side) {
        // All its nodes move across it alike: only what differs is hindered.
        row -= first_of_side.try_emplace(*hold.straight_side, row).first->second;
      }
      seen += row * row.transpose();
    }
  }
  constexpr double unseen = 1e-12;
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> parts(seen);
  const double limit = unseen * std::max(parts.eigenvalues()[2], 1.0);
  const Index count = (parts.eigenvalues().array() <= limit).count();
  return parts.eigenvectors().leftCols(count);
}

/// Displacements to set to zero so that the loose motions are gone: as many as there are, well
/// apart, at nodes that nothing holds. Nothing pulls there, since the forces of a bow balance.
std::vector<Index> pins(const SixNodeMesh& mesh, const std::vector<NodeHolds>& at_node) {
  const Scale scale = scale_of(mesh);
  const Eigen::MatrixXd loose = loose_motions(mesh, at_node, scale);
  if (loose.cols() == 0) {
    return {};
  }
  Eigen::MatrixXd moves =
      Eigen::MatrixXd::Zero(loose.cols(), 2 * static_cast<Index>(at_node.size()));
  for (std::size_t node = 0; node < at_node.size(); ++node) {
    if (at_node[node].holds.empty()) {
      moves.middleCols(2 * static_cast<Index>(node), 2) =
          (whole_motion(scale(mesh.nodes[node])) * loose).transpose();
    }
  }
  const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> order(moves);
  if (order.rank() < loose.cols()) {
    throw std::invalid_argument("the mesh is too coarse for its sheet to be held");
  }
  std::vector<Index> result;
  for (Index i = 0; i < loose.cols(); ++i) {
    result.push_back(order.colsPermutation().indices()[i]);
  }
  return result;
}

/// Gives the free displacements their numbers, and each node its entries.
class Columns {
 public:
  Columns(std::size_t nodes, std::vector<Index> pinned)
      : rows_(2 * static_cast<Index>(nodes)), pinned_(std::move(pinned)) {}

  void add_node(std::size_t node, const std::vector<Hold>& holds) {
    const Index first = 2 * static_cast<Index>(node);
    if (holds.empty()) {
      for (Index row = first; row < first + 2; ++row) {
        if (std::find(pinned_.begin(), pinned_.end(), row) == pinned_.end()) {
          entries_.emplace_back(row, count_++, 1.0);
        }
      }
      return;
    }
    Eigen::Matrix2d across;  // its rows times the displacement are what the holds say
    across.row(0) = holds[0].across;
    across.row(1) =
        holds.size() == 2 ? holds[1].across : Vector2d(-holds[0].across.y(), holds[0].across.x());
    const Eigen::Matrix2d displacements = across.inverse();
    for (std::size_t i = 0; i < 2; ++i) {
      if (i == holds.size()) {
        add(first, displacements.col(1), count_++);
      } else if (holds[i].straight_side) {
        add(first, displacements.col(static_cast<Index>(i)), side(*holds[i].straight_side));
      }
    }
  }

  [[nodiscard]] Eigen::SparseMatrix<double> matrix() const {
    Eigen::SparseMatrix<double> result(rows_, count_);
    result.setFromTriplets(entries_.begin(), entries_.end());
    result.prune(0.0);
    return result;
  }

 private:
  Index side(std::size_t number) {
    const auto [found, is_new] = sides_.try_emplace(number, count_);
    count_ += is_new ? 1 : 0;
    return found->second;
  }
  void add(Index first, const Vector2d& displacement, Index column) {
    entries_.emplace_back(first, column, displacement.x());
    entries_.emplace_back(first + 1, column, displacement.y());
  }

  Index rows_;
  Index count_ = 0;
  std::vector<Index> pinned_;
  std::map<std::size_t, Index> sides_;
  std::vector<Eigen::Triplet<double>> entries_;
};

void require_sides(const SixNodeMesh& mesh, const std::vector<MembraneEdge>& sides) {
  std::size_t count = 0;
  for (const auto& edge : mesh.boundary) {
    count = std::max(count, edge.side + 1);
  }
  if (sides.size() != count) {
    throw std::invalid_argument("a sheet needs one kind of side for each edge of its outline");
  }
}

}  // namespace

SixNodeMesh six_node_mesh(const geometry::Mesh& mesh) {
  SixNodeMesh result;
  result.nodes = mesh.nodes;
  std::map<std::pair<int, int>, std::size_t> middles;
  const auto middle = [&](int i, int j) {
    const auto [found, is_new] = middles.try_emplace(std::minmax(i, j), result.nodes.size());
    if (is_new) {
      const Vector2d at = (place(mesh.nodes[static_cast<std::size_t>(i)]) +
                           place(mesh.nodes[static_cast<std::size_t>(j)])) /
                          2;
      result.nodes.push_back({at.x(), at.y()});
    }
    return found->second;
  };
  for (const auto& [a, b, c] : mesh.triangles) {
    result.triangles.push_back({static_cast<std::size_t>(a), static_cast<std::size_t>(b),
                                static_cast<std::size_t>(c), middle(a, b), middle(b, c),
                                middle(c, a)});
  }
  for (const auto& edge : mesh.boundary) {
    const auto [i, j] = edge.nodes;
    result.boundary.push_back(
        {{static_cast<std::size_t>(i), middle(i, j), static_cast<std::size_t>(j)},
         static_cast<std::size_t>(edge.side)});
  }
  return result;
}

Eigen::SparseMatrix<double> free_displacements(const SixNodeMesh& mesh,
                                               const std::vector<MembraneEdge>& sides) {
  require_sides(mesh, sides);
  const std::vector<NodeHolds> at_node = holds_of(mesh, sides);
  Columns columns(mesh.nodes.size(), pins(mesh, at_node));
  for (std::size_t node = 0; node < at_node.size(); ++node) {
    columns.add_node(node, at_node[node].holds);
  }
  return columns.matrix();
}

}  // namespace stackfit
