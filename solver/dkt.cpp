// SPDX-License-Identifier: GPL-3.0-or-later
//
// The slopes of w are quadratic over the triangle, set by six points. At a corner they are its
// own values. At the middle of an edge the slope along the edge is that of the cubic through the
// ends' deflections and slopes, the slope across it the mean of the ends' (Batoz 1980, section 4).
#include "solver/dkt.hpp"

#include <cstddef>

namespace stackfit::dkt {
namespace {

/// dw/dx and dw/dy at a place, as rows over the nine values.
struct SlopeRows {
  Values x{};
  Values y{};
};

struct Vector {
  double x = 0;
  double y = 0;
};

constexpr std::size_t next(std::size_t corner) {
  return (corner + 1) % 3;
}

/// Slopes at the middle of the edge from corner i to corner j.
SlopeRows middle_slopes(const Corners& corners, std::size_t i, std::size_t j) {
  const double dx = corners[j].x_mm - corners[i].x_mm;
  const double dy = corners[j].y_mm - corners[i].y_mm;
  const double length2 = dx * dx + dy * dy;
  const double cc = dx * dx / length2;
  const double ss = dy * dy / length2;
  const double cs = dx * dy / length2;
  SlopeRows rows;
  // Along the edge 3/2 (wj - wi)/L - (si + sj)/4; across it (ni + nj)/2.
  rows.x[3 * i] = -1.5 * dx / length2;
  rows.x[3 * j] = 1.5 * dx / length2;
  rows.y[3 * i] = -1.5 * dy / length2;
  rows.y[3 * j] = 1.5 * dy / length2;
  for (const std::size_t end : {i, j}) {
    rows.x[3 * end + 1] = ss / 2 - cc / 4;
    rows.x[3 * end + 2] = -0.75 * cs;
    rows.y[3 * end + 1] = -0.75 * cs;
    rows.y[3 * end + 2] = cc / 2 - ss / 4;
  }
  return rows;
}

/// Gradients of the three area coordinates.
std::array<Vector, 3> area_gradients(const Corners& corners) {
  const double twice_area = 2 * area_mm2(corners);
  std::array<Vector, 3> gradients;
  for (std::size_t i = 0; i < 3; ++i) {
    const geometry::Point& j = corners[next(i)];
    const geometry::Point& k = corners[next(next(i))];
    gradients[i] = {(j.y_mm - k.y_mm) / twice_area, (k.x_mm - j.x_mm) / twice_area};
  }
  return gradients;
}

/// A point's slopes times the gradient of its shape function.
void add_point(CurvatureRows& rows, const SlopeRows& slopes, const Vector& gradient) {
  for (std::size_t v = 0; v < 9; ++v) {
    rows.xx[v] += gradient.x * slopes.x[v];
    rows.yy[v] += gradient.y * slopes.y[v];
    rows.twice_xy[v] += gradient.y * slopes.x[v] + gradient.x * slopes.y[v];
  }
}

void add_corner(CurvatureRows& rows, std::size_t corner, const Vector& gradient) {
  rows.xx[3 * corner + 1] += gradient.x;
  rows.yy[3 * corner + 2] += gradient.y;
  rows.twice_xy[3 * corner + 1] += gradient.y;
  rows.twice_xy[3 * corner + 2] += gradient.x;
}

CurvatureRows mean(const CurvatureRows& a, const CurvatureRows& b) {
  CurvatureRows rows;
  for (std::size_t v = 0; v < 9; ++v) {
    rows.xx[v] = (a.xx[v] + b.xx[v]) / 2;
    rows.yy[v] = (a.yy[v] + b.yy[v]) / 2;
    rows.twice_xy[v] = (a.twice_xy[v] + b.twice_xy[v]) / 2;
  }
  return rows;
}

/// Adds weight * (rows' moments) . (rows' curvatures), the upper triangle only.
void add_energy(Stiffness& stiffness, const CurvatureRows& rows, const Bending& bending,
                double weight) {
  for (std::size_t i = 0; i < 9; ++i) {
    const Curvature moments = bending.moments({rows.xx[i], rows.yy[i], rows.twice_xy[i]});
    for (std::size_t j = i; j < 9; ++j) {
      stiffness[i][j] += weight * (moments.xx * rows.xx[j] + moments.yy * rows.yy[j] +
                                   moments.twice_xy / 2 * rows.twice_xy[j]);
    }
  }
}

}  // namespace

double area_mm2(const Corners& corners) {
  const auto& [a, b, c] = corners;
  return ((b.x_mm - a.x_mm) * (c.y_mm - a.y_mm) - (c.x_mm - a.x_mm) * (b.y_mm - a.y_mm)) / 2;
}

CornerRows corner_rows(const Corners& corners) {
  const std::array<Vector, 3> g = area_gradients(corners);
  CornerRows rows;
  for (std::size_t i = 0; i < 3; ++i) {
    const std::size_t j = next(i);
    const std::size_t k = next(j);
    // Quadratic shape functions L (2 L - 1) and 4 L M, differentiated at a corner.
    add_corner(rows[i], i, {3 * g[i].x, 3 * g[i].y});
    add_corner(rows[i], j, {-g[j].x, -g[j].y});
    add_corner(rows[i], k, {-g[k].x, -g[k].y});
    const SlopeRows middle = middle_slopes(corners, i, j);
    add_point(rows[i], middle, {4 * g[j].x, 4 * g[j].y});
    add_point(rows[j], middle, {4 * g[i].x, 4 * g[i].y});
  }
  return rows;
}

Curvature Bending::moments(const Curvature& curvature) const {
  return {stiffness_n_mm * (curvature.xx + poisson * curvature.yy),
          stiffness_n_mm * (curvature.yy + poisson * curvature.xx),
          stiffness_n_mm * (1 - poisson) * curvature.twice_xy};
}

Stiffness stiffness(const Corners& corners, const Bending& bending) {
  const CornerRows rows = corner_rows(corners);
  // The middles of the edges integrate the product of two linear curvatures exactly.
  const double weight = area_mm2(corners) / 3;
  Stiffness result{};
  for (std::size_t i = 0; i < 3; ++i) {
    add_energy(result, mean(rows[i], rows[next(i)]), bending, weight);
  }
  for (std::size_t i = 0; i < 9; ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      result[i][j] = result[j][i];
    }
  }
  return result;
}

}  // namespace stackfit::dkt
