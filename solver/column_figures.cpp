// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/column_figures.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace stackfit {
namespace {

/// Middle of the rectangle around a face's points; in a mirrored half, of the whole face.
geometry::Point middle_of(const WallMesh& mesh, int face) {
  constexpr double far = std::numeric_limits<double>::infinity();
  geometry::Point low{far, far};
  geometry::Point high{-far, -far};
  for (const auto& triangle : mesh.mesh.triangles) {
    const auto index = static_cast<std::size_t>(&triangle - mesh.mesh.triangles.data());
    if ((mesh.mesh.over[index] >> face & 1U) == 0) {
      continue;
    }
    for (const int node : triangle) {
      const geometry::Point& p = mesh.mesh.nodes[static_cast<std::size_t>(node)];
      low = {std::min(low.x_mm, p.x_mm), std::min(low.y_mm, p.y_mm)};
      high = {std::max(high.x_mm, p.x_mm), std::max(high.y_mm, p.y_mm)};
    }
  }
  const bool half = mesh.share < 1;  // it is the left half that is meshed
  return {half ? high.x_mm : 0.5 * (low.x_mm + high.x_mm), 0.5 * (low.y_mm + high.y_mm)};
}

}  // namespace

ColumnFigures column_figures(const ColumnsSetup& setup, const ColumnsState& state, int face,
                             double face_area_mm2) {
  const WallMesh& mesh = setup.walls->mesh();
  ColumnFigures out;
  out.force_n = state.force_n[static_cast<std::size_t>(face)];
  if (!(out.force_n > 0)) {
    return out;
  }
  out.mean_mpa = out.force_n / face_area_mm2;
  out.lowest_local_mpa = std::numeric_limits<double>::infinity();
  const geometry::Point middle = middle_of(mesh, face);
  double touched = 0;
  for (std::size_t q = 0; q < mesh.points.size(); ++q) {
    const ColumnPoint& point = mesh.points[q];
    if (point.face != face) {
      continue;
    }
    const auto i = static_cast<Eigen::Index>(q);
    const double p = state.pressure_mpa[i];
    const double force = p * point.area_mm2 / mesh.share;
    out.highest_local_mpa = std::max(out.highest_local_mpa, p);
    out.lowest_local_mpa = std::min(out.lowest_local_mpa, p);
    touched += p > 0 ? point.area_mm2 : 0;
    out.centre_y_mm += force * (point.at.y_mm - middle.y_mm) / out.force_n;
    if (mesh.share == 1) {
      out.centre_x_mm += force * (point.at.x_mm - middle.x_mm) / out.force_n;
    }
    out.walls_mm += force * state.wall_mm[i] / out.force_n;
  }
  out.wall_bow_mm = std::max(state.first_bow_mm, state.last_bow_mm);
  out.contact_share = touched / mesh.face_area_mm2[static_cast<std::size_t>(face)];
  return out;
}

}  // namespace stackfit
