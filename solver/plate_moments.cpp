// SPDX-License-Identifier: GPL-3.0-or-later
//
// Bending moments at the nodes of a plate.
//
// A triangle's own curvatures jump from one to the next, and their mean at a fixed or free side
// is only as good as the triangles are small. So about each node the polynomial of fourth degree
// that best fits the deflections and slopes of the nodes around it is differentiated twice: Z.
// Zhang, A. Naga, "A new finite element gradient recovery method: superconvergence property",
// SIAM J. Sci. Comput. 26 (2005) 1192-1213, there for functions with values only. It needs no
// more at a side than inside, and gives the exact moments of any deflection up to that degree.
// The nodes around are those of one plate's mesh, reached through its triangles. Third derivatives
// jump across a rib, second ones do not: nodes beyond a rib are not asked, and a node on one takes
// the mean of what its sides say.
#include <Eigen/QR>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <utility>
#include <vector>

#include "solver/dkt.hpp"
#include "solver/plate.hpp"
#include "solver/plate_ribs.hpp"

namespace stackfit {
namespace {

constexpr int highest_degree = 4;
constexpr int lowest_degree = 2;  // any triangle's nine values set a quadratic
/// A patch grows ring by ring until it has this many triangles: two rings inside, three at a
/// straight side. One ring is too few for the fourth degree.
constexpr std::size_t least_triangles = 18;
/// Squared weight of a node at a distance r, as a part of the patch's reach: 1/(this + r^2).
constexpr double weight_at_centre = 0.2;

std::size_t index(int number) {
  return static_cast<std::size_t>(number);
}

/// Terms of a polynomial in two variables.
constexpr int terms(int degree) {
  return (degree + 1) * (degree + 2) / 2;
}

/// Collects the nodes around a node.
class Surroundings {
 public:
  /// `fields`: of each triangle, the number of the field between ribs that it lies in.
  Surroundings(const geometry::Mesh& mesh, std::vector<int> fields)
      : mesh_(&mesh),
        fields_(std::move(fields)),
        triangles_at_(mesh.nodes.size()),
        node_seen_(mesh.nodes.size(), none),
        triangle_seen_(mesh.triangles.size(), none) {
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
      for (const int node : mesh.triangles[t]) {
        triangles_at_[index(node)].push_back(t);
      }
    }
  }

  /// The fields that a node belongs to: more than one on a rib.
  [[nodiscard]] std::vector<int> fields_at(int node) const {
    std::vector<int> result;
    for (const std::size_t t : triangles_at_[index(node)]) {
      if (std::find(result.begin(), result.end(), fields_[t]) == result.end()) {
        result.push_back(fields_[t]);
      }
    }
    return result;
  }

  /// In one field; the node itself comes first.
  [[nodiscard]] std::vector<int> around(int node, int field) {
    ++visit_;
    field_ = field;
    std::vector<int> nodes = {node};
    node_seen_[index(node)] = visit_;
    std::size_t triangles = 0;
    std::size_t ring = 0;  // the first node whose triangles were not looked at
    while (triangles < least_triangles && ring < nodes.size()) {
      const std::size_t end = nodes.size();
      for (; ring < end; ++ring) {
        triangles += add_triangles_at(nodes[ring], nodes);
      }
    }
    return nodes;
  }

 private:
  static constexpr int none = -1;

  /// Appends the nodes not seen yet in this visit; returns how many triangles were new.
  std::size_t add_triangles_at(int node, std::vector<int>& nodes) {
    std::size_t added = 0;
    for (const std::size_t t : triangles_at_[index(node)]) {
      if (triangle_seen_[t] == visit_ || fields_[t] != field_) {
        continue;
      }
      triangle_seen_[t] = visit_;
      ++added;
      for (const int corner : mesh_->triangles[t]) {
        if (node_seen_[index(corner)] != visit_) {
          node_seen_[index(corner)] = visit_;
          nodes.push_back(corner);
        }
      }
    }
    return added;
  }

  const geometry::Mesh* mesh_;
  std::vector<int> fields_;
  std::vector<std::vector<std::size_t>> triangles_at_;
  std::vector<int> node_seen_;  ///< the visit it was last seen in
  std::vector<int> triangle_seen_;
  int visit_ = none;
  int field_ = 0;
};

/// Powers 0 to 4 of a number.
std::array<double, highest_degree + 1> powers(double x) {
  return {1, x, x * x, x * x * x, x * x * x * x};
}

/// Weighted equations that a polynomial about the first node should fulfil: three a node, in
/// distances and slopes scaled with the reach of the patch.
class Fit {
 public:
  Fit(const geometry::Mesh& mesh, const std::vector<int>& nodes, const Eigen::VectorXd& values)
      : equations_(3 * static_cast<Eigen::Index>(nodes.size()), terms(highest_degree)),
        aims_(equations_.rows()) {
    const geometry::Point centre = mesh.nodes[index(nodes.front())];
    for (const int node : nodes) {
      const geometry::Point& at = mesh.nodes[index(node)];
      reach_mm_ = std::max(reach_mm_, std::hypot(at.x_mm - centre.x_mm, at.y_mm - centre.y_mm));
    }
    Eigen::Index row = 0;
    for (const int node : nodes) {
      const geometry::Point& at = mesh.nodes[index(node)];
      const double x = (at.x_mm - centre.x_mm) / reach_mm_;
      const double y = (at.y_mm - centre.y_mm) / reach_mm_;
      const double weight = 1 / std::sqrt(weight_at_centre + x * x + y * y);
      add_node(row, x, y, weight);
      const Eigen::Vector3d aim = values.segment<3>(3 * static_cast<Eigen::Index>(node));
      aims_.segment<3>(row) << aim[0], reach_mm_ * aim[1], reach_mm_ * aim[2];
      aims_.segment<3>(row) *= weight;
      row += 3;
    }
  }

  /// Second derivatives at the first node, by the highest degree that the nodes determine.
  [[nodiscard]] dkt::Curvature curvature() const {
    constexpr double determined = 1e-6;
    for (int degree = highest_degree; degree >= lowest_degree; --degree) {
      if (equations_.rows() < terms(degree)) {
        continue;
      }
      Eigen::ColPivHouseholderQR<Eigen::MatrixXd> solver(equations_.leftCols(terms(degree)));
      solver.setThreshold(determined);
      if (solver.rank() == terms(degree)) {
        const Eigen::VectorXd c = solver.solve(aims_) / (reach_mm_ * reach_mm_);
        return {2 * c[3], 2 * c[5], 2 * c[4]};
      }
    }
    throw std::invalid_argument("a triangle of the plate is too thin for its moments");
  }

 private:
  /// Terms 1, x, y, x^2, xy, y^2, x^3 ... and their derivatives.
  void add_node(Eigen::Index row, double x, double y, double weight) {
    const auto px = powers(x);
    const auto py = powers(y);
    Eigen::Index term = 0;
    for (std::size_t degree = 0; degree <= highest_degree; ++degree) {
      for (std::size_t q = 0; q <= degree; ++q, ++term) {
        const std::size_t p = degree - q;
        const auto times = static_cast<double>(p);
        const auto times_y = static_cast<double>(q);
        equations_(row, term) = weight * px[p] * py[q];
        equations_(row + 1, term) = p == 0 ? 0 : weight * times * px[p - 1] * py[q];
        equations_(row + 2, term) = q == 0 ? 0 : weight * times_y * px[p] * py[q - 1];
      }
    }
  }

  Eigen::MatrixXd equations_;
  Eigen::VectorXd aims_;
  double reach_mm_ = 0;
};

}  // namespace

PlateBend Plate::bend(const Eigen::VectorXd& deflections) const {
  if (deflections.size() != unknowns()) {
    throw std::invalid_argument("the deflections of a plate are three figures for each node");
  }
  const auto nodes = static_cast<Eigen::Index>(mesh().nodes.size());
  PlateBend result{Eigen::VectorXd::Zero(nodes), Eigen::VectorXd::Zero(nodes),
                   Eigen::VectorXd::Zero(nodes)};
  Surroundings surroundings(mesh(), fields_between(mesh(), backing().ribs));
  for (Eigen::Index node = 0; node < nodes; ++node) {
    const std::vector<int> fields = surroundings.fields_at(static_cast<int>(node));
    const auto count = static_cast<double>(fields.size());
    for (const int field : fields) {
      const std::vector<int> around = surroundings.around(static_cast<int>(node), field);
      const dkt::Curvature curvature = Fit(mesh(), around, deflections).curvature();
      // A plate that bends away from its load has its tension on the far side: hence the signs.
      result.xx[node] -= curvature.xx / count;
      result.yy[node] -= curvature.yy / count;
      result.xy[node] -= curvature.twice_xy / 2 / count;
    }
  }
  return result;
}

PlateMoments Plate::moments(const Eigen::VectorXd& deflections) const {
  return moments_in(section(), bend(deflections));
}

PlateMoments moments_in(const PlateSection& section, const PlateBend& bend) {
  const double stiffness = section.stiffness_n_mm();
  const double nu = section.poisson;
  return {stiffness * (bend.xx + nu * bend.yy), stiffness * (bend.yy + nu * bend.xx),
          stiffness * (1 - nu) * bend.xy};
}

}  // namespace stackfit
