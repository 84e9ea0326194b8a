// SPDX-License-Identifier: GPL-3.0-or-later
//
// The outlines of a mesh request as one web of straight lines that meet in their ends only.
//
// For: mesh.cpp, which hands them to the triangulation. Arcs become chords here, lines are cut
// where they cross or touch, and what is nearly the same place becomes the same place.
// Not for: outlines as such (outline.hpp).
#pragma once

#include <cstddef>
#include <vector>

#include "geometry/mesh.hpp"
#include "geometry/outline.hpp"

namespace stackfit::geometry {

/// From one point of the web to another, in the direction its loop is travelled.
struct Line {
  int from = 0;
  int to = 0;
  int edge = 0;  ///< the edge it is a part of, counted through all loops of its outline
};

struct LineWeb {
  std::vector<Point> points;  ///< the asked points first, each at exactly its place
  std::vector<Line> outline;
  std::vector<std::vector<Line>> patches;
  std::vector<Line> asked_lines;  ///< of all asked lines, cut as the others are
  std::vector<int> asked;         ///< for each asked point of the request

  [[nodiscard]] Point at(int number) const { return points[static_cast<std::size_t>(number)]; }
};

[[nodiscard]] LineWeb web_of(const MeshRequest& request);

/// Is `p` inside the loops that these lines of the web make up: does an odd number lie round it?
[[nodiscard]] bool inside(const LineWeb& web, const std::vector<Line>& lines, Point p);

/// Distance from `p` to the nearest place of the line from `a` to `b` [mm].
[[nodiscard]] double distance_to_line_mm(Point p, Point a, Point b);

}  // namespace stackfit::geometry
