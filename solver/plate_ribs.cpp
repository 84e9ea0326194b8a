// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/plate_ribs.hpp"

#include <Eigen/Core>
#include <Eigen/QR>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <map>
#include <set>
#include <stdexcept>
#include <utility>

namespace stackfit {
namespace {

using NodePair = std::pair<int, int>;  // the smaller number first

/// Lines bend by mesh_snap_mm to meet others: nodes within twice that are on the line.
constexpr double on_line_mm = 2 * geometry::mesh_snap_mm;

std::size_t index(int number) {
  return static_cast<std::size_t>(number);
}

std::set<NodePair> edges_of(const geometry::Mesh& mesh) {
  std::set<NodePair> edges;
  for (const auto& [i, j, k] : mesh.triangles) {
    edges.insert({std::minmax(i, j), std::minmax(j, k), std::minmax(k, i)});
  }
  return edges;
}

Eigen::Vector2d vector(const geometry::Point& from, const geometry::Point& to) {
  return {to.x_mm - from.x_mm, to.y_mm - from.y_mm};
}

/// Forces on w and the two slopes at both ends of a bar from one to the other, per unit of each.
Eigen::Matrix<double, 6, 6> bar_stiffness(const Eigen::Vector2d& span, double bending_n_mm2) {
  const double length = span.norm();
  const Eigen::Vector2d along = span / length;
  // Second derivatives of the cubic at Gauss's two places, which integrate their square exactly.
  const double place = 1 / std::sqrt(3.0);
  Eigen::Matrix<double, 6, 6> result = Eigen::Matrix<double, 6, 6>::Zero();
  for (const double s : {-place, place}) {
    const std::array<double, 4> of_values{6 * s / (length * length), (3 * s - 1) / length,
                                          -6 * s / (length * length), (3 * s + 1) / length};
    Eigen::Matrix<double, 6, 1> row;
    row << of_values[0], of_values[1] * along[0], of_values[1] * along[1], of_values[2],
        of_values[3] * along[0], of_values[3] * along[1];
    result += bending_n_mm2 * length / 2 * row * row.transpose();
  }
  return 0.5 * (result + result.transpose()).eval();
}

/// Of each triangle, those beside it that no rib parts from it.
std::vector<std::vector<std::size_t>> joined(const geometry::Mesh& mesh,
                                             const std::set<NodePair>& barred) {
  std::map<NodePair, std::vector<std::size_t>> at_edge;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const auto& [i, j, k] = mesh.triangles[t];
    for (const NodePair& edge :
         {NodePair(std::minmax(i, j)), NodePair(std::minmax(j, k)), NodePair(std::minmax(k, i))}) {
      if (!barred.contains(edge)) {
        at_edge[edge].push_back(t);
      }
    }
  }
  std::vector<std::vector<std::size_t>> beside(mesh.triangles.size());
  for (const auto& [edge, pair] : at_edge) {
    if (pair.size() == 2) {
      beside[pair[0]].push_back(pair[1]);
      beside[pair[1]].push_back(pair[0]);
    }
  }
  return beside;
}

constexpr int no_field = -1;

/// Numbers everything that can be reached from a triangle.
void flood(const std::vector<std::vector<std::size_t>>& beside, std::size_t start, int number,
           std::vector<int>& field) {
  std::vector<std::size_t> to_leave{start};
  field[start] = number;
  while (!to_leave.empty()) {
    const std::size_t t = to_leave.back();
    to_leave.pop_back();
    for (const std::size_t other : beside[t]) {
      if (field[other] == no_field) {
        field[other] = number;
        to_leave.push_back(other);
      }
    }
  }
}

/// The second derivative, at one node, of the polynomial of fourth degree that best fits the
/// deflections and slopes of the nodes from `first` to `last`.
double second_derivative(const std::vector<double>& at_mm, const Eigen::VectorXd& values,
                         const Eigen::VectorXd& slopes, std::size_t node,
                         const std::array<std::size_t, 2>& range) {
  const auto [first, last] = range;
  const double reach = std::max(at_mm[node] - at_mm[first], at_mm[last] - at_mm[node]);
  constexpr Eigen::Index terms = 5;
  const auto count = static_cast<Eigen::Index>(last - first + 1);
  Eigen::MatrixXd equations(2 * count, terms);
  Eigen::VectorXd aims(2 * count);
  for (Eigen::Index k = 0; k < count; ++k) {
    const auto i = first + static_cast<std::size_t>(k);
    const double x = (at_mm[i] - at_mm[node]) / reach;
    equations.row(2 * k) << 1, x, x * x, x * x * x, x * x * x * x;
    equations.row(2 * k + 1) << 0, 1, 2 * x, 3 * x * x, 4 * x * x * x;
    aims[2 * k] = values[static_cast<Eigen::Index>(i)];
    aims[2 * k + 1] = reach * slopes[static_cast<Eigen::Index>(i)];
  }
  // Of two nodes the least solution is as good as the cubic through them.
  return 2 * equations.completeOrthogonalDecomposition().solve(aims)[2] / (reach * reach);
}

}  // namespace

std::vector<int> nodes_along(const geometry::Mesh& mesh, const geometry::Point& from,
                             const geometry::Point& to) {
  const Eigen::Vector2d span = vector(from, to);
  const double length = span.norm();
  std::vector<std::pair<double, int>> found;
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
    const Eigen::Vector2d at = vector(from, mesh.nodes[i]);
    const double along = at.dot(span) / length;
    const double off = std::abs(at[0] * span[1] - at[1] * span[0]) / length;
    if (off <= on_line_mm && along >= -on_line_mm && along <= length + on_line_mm) {
      found.emplace_back(along, static_cast<int>(i));
    }
  }
  std::sort(found.begin(), found.end());
  const std::set<NodePair> edges = edges_of(mesh);
  bool runs = found.size() > 1 && found.front().first <= on_line_mm &&
              found.back().first >= length - on_line_mm;
  std::vector<int> nodes;
  for (const auto& [along, node] : found) {
    runs = runs && (nodes.empty() || edges.contains(std::minmax(nodes.back(), node)));
    nodes.push_back(node);
  }
  if (!runs) {
    throw std::invalid_argument("a rib needs edges of the mesh all along it");
  }
  return nodes;
}

void add_rib(Eigen::SparseMatrix<double>& stiffness, const geometry::Mesh& mesh,
             const PlateRib& rib) {
  if (!(rib.bending_n_mm2 > 0 && std::isfinite(rib.bending_n_mm2))) {
    throw std::invalid_argument("a rib's bending stiffness must be positive");
  }
  const std::vector<int> nodes = nodes_along(mesh, rib.from, rib.to);
  for (std::size_t k = 0; k + 1 < nodes.size(); ++k) {
    const std::array<int, 2> ends{nodes[k], nodes[k + 1]};
    const Eigen::Matrix<double, 6, 6> bar = bar_stiffness(
        vector(mesh.nodes[index(ends[0])], mesh.nodes[index(ends[1])]), rib.bending_n_mm2);
    for (Eigen::Index r = 0; r < 6; ++r) {
      for (Eigen::Index c = 0; c < 6; ++c) {
        // The ends share a triangle: the place is there already.
        stiffness.coeffRef(3 * ends[index(static_cast<int>(r / 3))] + r % 3,
                           3 * ends[index(static_cast<int>(c / 3))] + c % 3) += bar(r, c);
      }
    }
  }
}

Eigen::VectorXd bend_along(const geometry::Mesh& mesh, const std::vector<int>& nodes,
                           const Eigen::VectorXd& deflections) {
  constexpr std::size_t beside = 2;  // nodes on either side: ten figures for five terms
  const geometry::Point& start = mesh.nodes[index(nodes.front())];
  const Eigen::Vector2d along = vector(start, mesh.nodes[index(nodes.back())]).normalized();
  const auto count = static_cast<Eigen::Index>(nodes.size());
  std::vector<double> at_mm;
  Eigen::VectorXd values(count);
  Eigen::VectorXd slopes(count);
  for (Eigen::Index i = 0; i < count; ++i) {
    const int node = nodes[static_cast<std::size_t>(i)];
    at_mm.push_back(vector(start, mesh.nodes[index(node)]).dot(along));
    values[i] = deflections[3 * node];
    slopes[i] = deflections.segment<2>(3 * node + 1).dot(along);
  }
  Eigen::VectorXd bend(count);
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    const std::size_t first = i - std::min(i, beside);
    const std::size_t last = std::min(i + beside, nodes.size() - 1);
    bend[static_cast<Eigen::Index>(i)] =
        -second_derivative(at_mm, values, slopes, i, {first, last});
  }
  return bend;
}

std::vector<int> fields_between(const geometry::Mesh& mesh, const std::vector<PlateRib>& ribs) {
  if (ribs.empty()) {
    return std::vector<int>(mesh.triangles.size(), 0);
  }
  std::set<NodePair> barred;
  for (const PlateRib& rib : ribs) {
    const std::vector<int> nodes = nodes_along(mesh, rib.from, rib.to);
    for (std::size_t k = 0; k + 1 < nodes.size(); ++k) {
      barred.insert(std::minmax(nodes[k], nodes[k + 1]));
    }
  }
  const auto beside = joined(mesh, barred);
  std::vector<int> field(mesh.triangles.size(), no_field);
  int count = 0;
  for (std::size_t start = 0; start < field.size(); ++start) {
    if (field[start] == no_field) {
      flood(beside, start, count++, field);
    }
  }
  return field;
}

}  // namespace stackfit
