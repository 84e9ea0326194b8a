// SPDX-License-Identifier: GPL-3.0-or-later
//
// Triangles over an end wall that follow the outlines of everything that presses on it.
//
// For: plates (solver/plate.hpp) and the columns of a row: no triangle lies half under a sheet.
// CGAL's constrained Delaunay triangulation, refined to a size and a least angle.
// Not for: set operations or areas of outlines (outline.hpp).
//
// What can be relied on, each with its test:
//  1. The triangles cover the outline: their areas add up to the area of its chords' polygon.
//  2. No triangle crosses the boundary of a patch; `over` says which patches it lies in.
//  3. Every asked point is a node. No edge is longer than asked, but for rounding.
//  4. Edges run along every asked line, from its one end to the other.
//  5. The same request gives the same mesh.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "geometry/outline.hpp"

namespace stackfit::geometry {

/// Places no farther apart than this are one, and boundaries bend by as much to meet: no box is
/// made to a thousandth, and strips of no width would spoil a plate's stiffness.
inline constexpr double mesh_snap_mm = 1e-3;
/// Where boundaries leave a strip or a corner narrower than this part of the greatest edge,
/// triangles may have smaller angles than asked: an edge this short is not split for an angle's
/// sake. So a face a hair from the wall's edge costs a few thousand triangles, not millions.
inline constexpr double narrow_part_of_edge = 1.0 / 8;
/// An arc is cut into equal chords that each turn by no more than this, and are no longer than
/// the greatest edge: three a rounded corner, twelve a small bolt hole.
inline constexpr double greatest_chord_angle_deg = 30;
/// Larger least angles cannot always be had.
inline constexpr double greatest_least_angle_deg = 28;
inline constexpr std::size_t greatest_patch_count = 64;  ///< bits of Mesh::over

struct MeshRequest {
  Outline outline{};               ///< the wall, with its holes
  std::vector<Outline> patches{};  ///< faces, sheets, washers: at most greatest_patch_count
  std::vector<Point> points{};     ///< rods: nodes must lie there
  std::vector<std::array<Point, 2>> lines{};  ///< ribs: edges must run along them
  double greatest_edge_mm = 0;
  double least_angle_deg = 25;  ///< small corners of the request itself are kept
};

struct Mesh {
  std::vector<Point> nodes;
  std::vector<std::array<int, 3>> triangles;  ///< node numbers, counterclockwise
  std::vector<std::uint64_t> over;  ///< per triangle: bit k is set where it lies in patch k
  struct BoundaryEdge {
    std::array<int, 2> nodes{};  ///< in the direction in which the wall lies to the left
    int side = 0;  ///< which edge of the outline, counted from 0 through all its loops
  };
  std::vector<BoundaryEdge> boundary;
};

/// Throws std::invalid_argument for an empty outline, a size that is not positive, an angle
/// outside 0..28 degrees, more than 64 patches, or a point outside the outline. The part of a
/// patch or of a line outside the outline is left out.
[[nodiscard]] Mesh triangulate(const MeshRequest& request);

/// Area of a triangle of the mesh [mm^2].
[[nodiscard]] double triangle_area_mm2(const Mesh& mesh, std::size_t triangle);

}  // namespace stackfit::geometry
