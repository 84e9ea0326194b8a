// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cstddef>
#include <stdexcept>
#include <tuple>

#include "solver/dkt.hpp"
#include "solver/plate.hpp"
#include "solver/plate_stiffness.hpp"

namespace stackfit {
namespace {

/// An edge as one triangle sees it.
struct Share {
  int low = 0;  ///< the lesser of its node numbers
  int high = 0;
  std::uint64_t over = 0;
  double area_mm2 = 0;  ///< a third of the triangle's
};

bool same_point(const Share& a, const Share& b) {
  return a.low == b.low && a.high == b.high && a.over == b.over;
}

/// Sorted, and each point once, with the areas of the triangles that share it.
std::vector<Share> points_of(const geometry::Mesh& mesh) {
  std::vector<Share> shares;
  shares.reserve(3 * mesh.triangles.size());
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const double third_mm2 = dkt::area_mm2(corners_of(mesh, t)) / 3;
    const auto& nodes = mesh.triangles[t];
    for (std::size_t k = 0; k < 3; ++k) {
      const auto [low, high] = std::minmax(nodes[k], nodes[(k + 1) % 3]);
      shares.push_back({low, high, mesh.over[t], third_mm2});
    }
  }
  std::stable_sort(shares.begin(), shares.end(), [](const Share& a, const Share& b) {
    return std::tie(a.low, a.high, a.over) < std::tie(b.low, b.high, b.over);
  });
  std::vector<Share> points;
  for (const Share& share : shares) {
    if (!points.empty() && same_point(points.back(), share)) {
      points.back().area_mm2 += share.area_mm2;
    } else {
      points.push_back(share);
    }
  }
  return points;
}

/// The deflection at the middle of an edge: that of the cubic through its ends' deflections and
/// slopes s along it, (wi + wj)/2 + L (si - sj)/8.
void insert_row(Eigen::SparseMatrix<double, Eigen::RowMajor>& rows, Eigen::Index row,
                const geometry::Mesh& mesh, const Share& point) {
  const geometry::Point& i = mesh.nodes[static_cast<std::size_t>(point.low)];
  const geometry::Point& j = mesh.nodes[static_cast<std::size_t>(point.high)];
  const Eigen::Index low = 3 * static_cast<Eigen::Index>(point.low);
  const Eigen::Index high = 3 * static_cast<Eigen::Index>(point.high);
  const double dx = j.x_mm - i.x_mm;
  const double dy = j.y_mm - i.y_mm;
  rows.insert(row, low) = 0.5;
  rows.insert(row, low + 1) = dx / 8;
  rows.insert(row, low + 2) = dy / 8;
  rows.insert(row, high) = 0.5;
  rows.insert(row, high + 1) = -dx / 8;
  rows.insert(row, high + 2) = -dy / 8;
}

}  // namespace

PlatePoints edge_points(const geometry::Mesh& mesh) {
  const std::vector<Share> points = points_of(mesh);
  const auto count = static_cast<Eigen::Index>(points.size());
  PlatePoints result;
  result.rows.resize(count, 3 * static_cast<Eigen::Index>(mesh.nodes.size()));
  result.rows.reserve(Eigen::VectorXi::Constant(count, 6));
  result.area_mm2.resize(count);
  for (Eigen::Index row = 0; row < count; ++row) {
    const Share& point = points[static_cast<std::size_t>(row)];
    insert_row(result.rows, row, mesh, point);
    const geometry::Point& i = mesh.nodes[static_cast<std::size_t>(point.low)];
    const geometry::Point& j = mesh.nodes[static_cast<std::size_t>(point.high)];
    result.at.push_back({(i.x_mm + j.x_mm) / 2, (i.y_mm + j.y_mm) / 2});
    result.area_mm2[row] = point.area_mm2;
    result.over.push_back(point.over);
  }
  result.rows.makeCompressed();
  return result;
}

Eigen::VectorXd even_pressure(const geometry::Mesh& mesh, int patch, double pressure_mpa) {
  if (patch < -1 || patch >= static_cast<int>(geometry::greatest_patch_count)) {
    throw std::invalid_argument("a plate's patches are numbered 0 to 63, or -1 for everywhere");
  }
  const PlatePoints points = edge_points(mesh);
  Eigen::VectorXd forces = points.area_mm2 * pressure_mpa;
  if (patch >= 0) {
    for (std::size_t i = 0; i < points.over.size(); ++i) {
      if ((points.over[i] >> patch & 1U) == 0) {
        forces[static_cast<Eigen::Index>(i)] = 0;
      }
    }
  }
  return points.rows.transpose() * forces;
}

}  // namespace stackfit
