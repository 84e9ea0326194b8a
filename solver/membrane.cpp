// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/membrane.hpp"

#include <Eigen/Dense>
#include <array>
#include <cmath>
#include <cstddef>

#include "solver/membrane_supports.hpp"

namespace stackfit {
namespace {

using Eigen::Index;
using Eigen::Vector2d;
using Triplets = std::vector<Eigen::Triplet<double>>;

/// Forces per length and strain of a sheet, plane stress: t E / (1 - nu^2) [1 nu; nu 1; (1-nu)/2].
Eigen::Matrix3d sheet_stiffness(const PlateSection& section) {
  const double nu = section.poisson;
  Eigen::Matrix3d result;
  result << 1, nu, 0, nu, 1, 0, 0, 0, (1 - nu) / 2;
  return result * section.thickness_mm * section.modulus_mpa / (1 - nu * nu);
}

/// The corners of a triangle and how its area coordinates run.
struct Triangle {
  std::array<Vector2d, 3> corners;
  double area_mm2 = 0;
  std::array<Vector2d, 3> gradients;  ///< of the area coordinates [1/mm]

  Triangle(const SixNodeMesh& mesh, std::size_t triangle) {
    for (std::size_t i = 0; i < 3; ++i) {
      const auto& node = mesh.nodes[mesh.triangles[triangle][i]];
      corners[i] = {node.x_mm, node.y_mm};
    }
    const auto side = [this](std::size_t i, std::size_t j) {
      return Vector2d(corners[j] - corners[i]);
    };
    area_mm2 = (side(0, 1).x() * side(0, 2).y() - side(0, 1).y() * side(0, 2).x()) / 2;
    for (std::size_t i = 0; i < 3; ++i) {
      const Vector2d opposite = side((i + 1) % 3, (i + 2) % 3);
      gradients[i] = Vector2d(-opposite.y(), opposite.x()) / (2 * area_mm2);
    }
  }
};

/// Gradients of the six displacement shapes at the middle of the edge from corner `edge` to the
/// next: corners L(2L - 1), middles 4 L L'.
std::array<Vector2d, 6> gradients_at(const Triangle& triangle, std::size_t edge) {
  std::array<double, 3> at{0.5, 0.5, 0.5};
  at[(edge + 2) % 3] = 0;
  std::array<Vector2d, 6> result;
  for (std::size_t i = 0; i < 3; ++i) {
    const std::size_t next = (i + 1) % 3;
    result[i] = (4 * at[i] - 1) * triangle.gradients[i];
    result[3 + i] = 4 * (at[i] * triangle.gradients[next] + at[next] * triangle.gradients[i]);
  }
  return result;
}

/// What one node's displacement adds to the strains xx, yy, twice xy.
Eigen::Matrix<double, 3, 2> strain_rows(const Vector2d& gradient) {
  Eigen::Matrix<double, 3, 2> rows;
  rows << gradient.x(), 0, 0, gradient.y(), gradient.y(), gradient.x();
  return rows;
}

void add_strains(Triplets& entries, Index place, std::size_t node,
                 const Eigen::Matrix<double, 3, 2>& rows) {
  for (Index r = 0; r < 3; ++r) {
    for (Index c = 0; c < 2; ++c) {
      entries.emplace_back(3 * place + r, 2 * static_cast<Index>(node) + c, rows(r, c));
    }
  }
}

/// The plate's slopes at the middle of an edge. Along it the deflection is a cubic of its values
/// at the ends, across it the slope runs evenly (Batoz, Bathe, Ho 1980, assumptions iii and iv).
void add_slopes(Triplets& entries, Index place, const std::array<std::size_t, 2>& ends,
                const std::array<Vector2d, 2>& at) {
  const double length = (at[1] - at[0]).norm();
  const Vector2d along = (at[1] - at[0]) / length;
  const Vector2d across(-along.y(), along.x());
  // Slope vector = from the two slopes of each end: -1/4 along the edge, 1/2 across it.
  const Eigen::Matrix2d of_slopes =
      -0.25 * along * along.transpose() + 0.5 * across * across.transpose();
  for (std::size_t end = 0; end < 2; ++end) {
    const Index column = 3 * static_cast<Index>(ends[end]);
    const double sign = end == 0 ? -1 : 1;
    for (Index r = 0; r < 2; ++r) {
      entries.emplace_back(2 * place + r, column, sign * 1.5 / length * along[r]);
      entries.emplace_back(2 * place + r, column + 1, of_slopes(r, 0));
      entries.emplace_back(2 * place + r, column + 2, of_slopes(r, 1));
    }
  }
}

}  // namespace

Membrane membrane(const geometry::Mesh& mesh, const PlateSection& section,
                  const std::vector<MembraneEdge>& sides) {
  const SixNodeMesh six = six_node_mesh(mesh);
  const auto places = 3 * static_cast<Index>(six.triangles.size());
  Membrane result;
  result.mix = sheet_stiffness(section).llt().matrixU();
  result.root_weight.resize(places);
  Triplets strains;
  Triplets slopes;
  for (std::size_t t = 0; t < six.triangles.size(); ++t) {
    const Triangle triangle(six, t);
    const auto& nodes = six.triangles[t];
    const double root_weight = std::sqrt(triangle.area_mm2 / 3);
    for (std::size_t edge = 0; edge < 3; ++edge) {
      const auto place = static_cast<Index>(3 * t + edge);
      const std::size_t next = (edge + 1) % 3;
      result.root_weight[place] = root_weight;
      const std::array<Vector2d, 6> gradients = gradients_at(triangle, edge);
      for (std::size_t i = 0; i < 6; ++i) {
        add_strains(strains, place, nodes[i], root_weight * result.mix * strain_rows(gradients[i]));
      }
      add_slopes(slopes, place, {nodes[edge], nodes[next]},
                 {triangle.corners[edge], triangle.corners[next]});
    }
  }
  Membrane::Sparse all_strains(3 * places, 2 * static_cast<Index>(six.nodes.size()));
  all_strains.setFromTriplets(strains.begin(), strains.end());
  result.strains = all_strains * free_displacements(six, sides);
  result.slopes.resize(2 * places, 3 * static_cast<Index>(mesh.nodes.size()));
  result.slopes.setFromTriplets(slopes.begin(), slopes.end());
  return result;
}

}  // namespace stackfit
