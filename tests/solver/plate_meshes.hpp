// SPDX-License-Identifier: GPL-3.0-or-later
//
// Meshes to test plates on, made without the mesher: rectangles with nodes moved about and
// diagonals turned by a seed, and each triangle cut into four.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <map>
#include <numbers>
#include <random>
#include <utility>
#include <vector>

#include "geometry/mesh.hpp"

namespace stackfit::testing {

/// A rectangle from (0, 0), cut into columns and rows. Sides: 0 bottom, 1 right, 2 top, 3 left.
struct Grid {
  double width_mm = 0;
  double height_mm = 0;
  int columns = 0;
  int rows = 0;
  std::uint32_t seed = 0;
  /// How far a node may be moved, as a part of its cell; the centre and the corners stay.
  double jitter = 0.25;
};

/// Columns and rows whole; `over` bit k for the triangles in patch k.
struct GridPatch {
  int first_column = 0;
  int last_column = 0;
  int first_row = 0;
  int last_row = 0;

  [[nodiscard]] bool holds(int column, int row) const {
    return column >= first_column && column < last_column && row >= first_row && row < last_row;
  }
  [[nodiscard]] bool on_rim(int column, int row) const {
    return column == first_column || column == last_column || row == first_row || row == last_row;
  }
};

inline int grid_node(const Grid& grid, int column, int row) {
  return row * (grid.columns + 1) + column;
}

class Chance {
 public:
  explicit Chance(std::uint32_t seed) : bits_(seed) {}
  /// Even between -1 and 1; the standard library's own distributions differ between makers.
  double operator()() { return static_cast<double>(bits_()) / 2147483648.0 - 1; }

 private:
  std::mt19937 bits_;
};

inline std::vector<geometry::Point> grid_nodes(const Grid& grid,
                                               const std::vector<GridPatch>& patches) {
  Chance chance(grid.seed);
  std::vector<geometry::Point> nodes;
  for (int r = 0; r <= grid.rows; ++r) {
    for (int c = 0; c <= grid.columns; ++c) {
      bool still = 2 * c == grid.columns && 2 * r == grid.rows;
      for (const GridPatch& patch : patches) {
        still = still || patch.on_rim(c, r);
      }
      const double dx = still || c == 0 || c == grid.columns ? 0 : chance() * grid.jitter;
      const double dy = still || r == 0 || r == grid.rows ? 0 : chance() * grid.jitter;
      const bool middle = 2 * c == grid.columns || 2 * r == grid.rows;
      const bool on_side = c == 0 || r == 0 || c == grid.columns || r == grid.rows;
      const double move = middle && on_side ? 0 : 1;  // the middles of the sides stay
      nodes.push_back({(c + move * dx) * grid.width_mm / grid.columns,
                       (r + move * dy) * grid.height_mm / grid.rows});
    }
  }
  return nodes;
}

inline void add_sides(geometry::Mesh& mesh, const Grid& grid) {
  const auto add = [&mesh](int i, int j, int side) { mesh.boundary.push_back({{i, j}, side}); };
  for (int c = 0; c < grid.columns; ++c) {
    add(grid_node(grid, c, 0), grid_node(grid, c + 1, 0), 0);
    add(grid_node(grid, c + 1, grid.rows), grid_node(grid, c, grid.rows), 2);
  }
  for (int r = 0; r < grid.rows; ++r) {
    add(grid_node(grid, grid.columns, r), grid_node(grid, grid.columns, r + 1), 1);
    add(grid_node(grid, 0, r + 1), grid_node(grid, 0, r), 3);
  }
}

inline geometry::Mesh irregular(const Grid& grid, const std::vector<GridPatch>& patches = {}) {
  geometry::Mesh mesh;
  mesh.nodes = grid_nodes(grid, patches);
  Chance turn(grid.seed + 1);
  for (int r = 0; r < grid.rows; ++r) {
    for (int c = 0; c < grid.columns; ++c) {
      const std::array<int, 4> at = {grid_node(grid, c, r), grid_node(grid, c + 1, r),
                                     grid_node(grid, c + 1, r + 1), grid_node(grid, c, r + 1)};
      if (turn() < 0) {
        mesh.triangles.push_back({at[0], at[1], at[2]});
        mesh.triangles.push_back({at[0], at[2], at[3]});
      } else {
        mesh.triangles.push_back({at[0], at[1], at[3]});
        mesh.triangles.push_back({at[1], at[2], at[3]});
      }
      std::uint64_t over = 0;
      for (std::size_t k = 0; k < patches.size(); ++k) {
        over |= patches[k].holds(c, r) ? std::uint64_t{1} << k : 0;
      }
      mesh.over.insert(mesh.over.end(), 2, over);
    }
  }
  add_sides(mesh, grid);
  return mesh;
}

/// The middle of an edge as a node, made once.
class Middles {
 public:
  explicit Middles(std::vector<geometry::Point>& nodes) : nodes_(&nodes) {}
  int operator()(int i, int j) {
    const auto [found, is_new] =
        made_.try_emplace(std::minmax(i, j), static_cast<int>(nodes_->size()));
    if (is_new) {
      const geometry::Point a = (*nodes_)[static_cast<std::size_t>(i)];
      const geometry::Point b = (*nodes_)[static_cast<std::size_t>(j)];
      nodes_->push_back({(a.x_mm + b.x_mm) / 2, (a.y_mm + b.y_mm) / 2});
    }
    return found->second;
  }

 private:
  std::vector<geometry::Point>* nodes_;
  std::map<std::pair<int, int>, int> made_;
};

/// Each triangle cut into four alike; nodes keep their numbers.
inline geometry::Mesh halved(const geometry::Mesh& coarse) {
  geometry::Mesh fine;
  fine.nodes = coarse.nodes;
  Middles middle(fine.nodes);
  for (std::size_t t = 0; t < coarse.triangles.size(); ++t) {
    const auto [a, b, c] = coarse.triangles[t];
    const int ab = middle(a, b);
    const int bc = middle(b, c);
    const int ca = middle(c, a);
    fine.triangles.insert(fine.triangles.end(),
                          {{{a, ab, ca}}, {{ab, b, bc}}, {{ca, bc, c}}, {{ab, bc, ca}}});
    fine.over.insert(fine.over.end(), 4, coarse.over[t]);
  }
  for (const auto& edge : coarse.boundary) {
    const auto [i, j] = edge.nodes;
    const int ij = middle(i, j);
    fine.boundary.push_back({{i, ij}, edge.side});
    fine.boundary.push_back({{ij, j}, edge.side});
  }
  return fine;
}

/// A disc about (0, 0) in `rings` rings, the k-th of 6 k nodes; node 0 is the middle, the last one
/// on the rim. One side.
inline geometry::Mesh disc(double radius_mm, int rings) {
  geometry::Mesh mesh;
  mesh.nodes.push_back({0, 0});
  const auto node = [](int ring, int place) {
    return ring == 0 ? 0 : 1 + 3 * ring * (ring - 1) + place % (6 * ring);
  };
  for (int ring = 1; ring <= rings; ++ring) {
    for (int place = 0; place < 6 * ring; ++place) {
      const double angle = std::numbers::pi * place / (3 * ring);
      const double radius = radius_mm * ring / rings;
      mesh.nodes.push_back({radius * std::cos(angle), radius * std::sin(angle)});
    }
    for (int sixth = 0; sixth < 6; ++sixth) {
      for (int k = 0; k < ring; ++k) {
        const int inner = node(ring - 1, sixth * (ring - 1) + k);
        const int outer = node(ring, sixth * ring + k);
        const int onward = node(ring, sixth * ring + k + 1);
        mesh.triangles.push_back({inner, outer, onward});
        if (k + 1 < ring) {
          mesh.triangles.push_back({inner, onward, node(ring - 1, sixth * (ring - 1) + k + 1)});
        }
      }
    }
  }
  mesh.over.assign(mesh.triangles.size(), 0);
  for (int place = 0; place < 6 * rings; ++place) {
    mesh.boundary.push_back({{node(rings, place), node(rings, place + 1)}, 0});
  }
  return mesh;
}

}  // namespace stackfit::testing
