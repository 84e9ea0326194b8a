// SPDX-License-Identifier: GPL-3.0-or-later
//
// Thin plate on a mesh of triangles: the end wall of a box, the plate of a clamp frame.
//
// For: deflections under any pressure, for any outline, edges and point supports, with one
// factorization for all loads; bending moments and surface stress.
// Discrete Kirchhoff triangles: J.-L. Batoz, K.-J. Bathe, L.-W. Ho, "A study of three-node
// triangular plate bending elements", Int. J. Num. Meth. Eng. 15 (1980) 1771-1812.
// A plate may have ribs, and a second plate lying against it without being bonded to it: they bend
// with it, each by its own stiffness.
// Not for: thick plates (no shear), or a bow beyond about half the thickness (large_bow.hpp).
//
// Unknowns: three a node, in this order: deflection w [mm], slopes dw/dx and dw/dy.
#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "geometry/mesh.hpp"

namespace stackfit {

/// How one side of a plate's outline is supported. `fixed`: neither deflection nor slope. `held`:
/// no deflection, so no slope along the side either. A `mirror` side is a line of symmetry: it may
/// move, but not turn about itself. Where two sides meet, what either holds is held; at a corner
/// of two held sides that is both slopes.
enum class PlateEdge : std::uint8_t { fixed, held, free, mirror };

struct PlateSection {
  double thickness_mm = 0;
  double modulus_mpa = 0;
  double poisson = 0;

  /// D = E t^3 / (12 (1 - nu^2)) [N mm].
  [[nodiscard]] double stiffness_n_mm() const;
};

/// A rod's seat: the plate's deflection there is zero, or meets a spring.
struct PlatePoint {
  geometry::Point at;          ///< must be a node of the mesh
  double spring_n_per_mm = 0;  ///< only where not rigid
  bool rigid = true;
};

struct PlateSupports {
  std::vector<PlateEdge> sides;  ///< one for each edge of the meshed outline, as `side` counts
  std::vector<PlatePoint> points;
};

/// A bar along a straight line of the mesh's edges, which bends as the plate does there. It does
/// not twist against the plate's slope across it: that is left out, on the soft side.
struct PlateRib {
  geometry::Point from;
  geometry::Point to;
  double bending_n_mm2 = 0;  ///< on top of the plate's own (rib.hpp)
};

/// What bends with a plate.
struct PlateBacking {
  std::vector<PlateRib> ribs;
  std::optional<PlateSection> second;  ///< lies against it, loose: stiffnesses add, nothing more
};

/// How a plate is bent [1/mm] at each node: second derivatives of the deflection, with the sign of
/// the moments.
struct PlateBend {
  Eigen::VectorXd xx, yy, xy;
};

/// Bending moments per length [N mm/mm] at each node; positive where the face in the direction of
/// positive deflection is in tension.
struct PlateMoments {
  Eigen::VectorXd mx, my, mxy;
};

/// Moments in a plate of this section, bent so.
[[nodiscard]] PlateMoments moments_in(const PlateSection& section, const PlateBend& bend);

class Plate {
 public:
  /// Assembles and factors. Throws std::invalid_argument for sizes that are not positive, sides
  /// that do not match the outline, a point that is no node, a spring that is not positive, a rib
  /// along which no edges run, or a plate that is free to move.
  Plate(geometry::Mesh mesh, const PlateSection& section, const PlateSupports& supports,
        const PlateBacking& backing = {});
  ~Plate();
  Plate(Plate&&) noexcept;
  Plate& operator=(Plate&&) noexcept;
  Plate(const Plate&) = delete;
  Plate& operator=(const Plate&) = delete;

  [[nodiscard]] const geometry::Mesh& mesh() const;
  [[nodiscard]] const PlateSection& section() const;
  [[nodiscard]] const PlateSupports& supports() const;
  [[nodiscard]] const PlateBacking& backing() const;
  [[nodiscard]] Eigen::Index unknowns() const;  ///< three a node, supported ones included

  /// Generalised deflections [unknowns x k] under generalised loads [unknowns x k]; supported
  /// unknowns come back as zero. Along an oblique held side that is the part of the slopes along
  /// it; a node inside a chord of a held arc moves a little, as the arc beyond it does not.
  [[nodiscard]] Eigen::MatrixXd solve(const Eigen::MatrixXd& loads) const;
  /// The plate's own stiffness with what bends with it, supports left out [unknowns x unknowns],
  /// symmetric.
  [[nodiscard]] const Eigen::SparseMatrix<double>& stiffness() const;
  /// How it is bent at the nodes; how that is recovered stands in plate_moments.cpp.
  [[nodiscard]] PlateBend bend(const Eigen::VectorXd& deflections) const;
  /// Moments at the nodes, in the plate itself: without ribs and second plate.
  [[nodiscard]] PlateMoments moments(const Eigen::VectorXd& deflections) const;

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

/// Greatest edge for geometry::triangulate that gives about 2,000 triangles on a plate without
/// narrow parts, more where patches cut it up: deflections within 0.5 %, moments within 2 %, at
/// fixed sides 3 %.
[[nodiscard]] double default_edge_mm(double plate_area_mm2);

/// Points at the middle of the triangles' edges: with the weights area/3 they integrate
/// quadratics exactly. Along an edge the deflection of a DKT element is cubic, so its value there
/// is known from the two ends.
struct PlatePoints {
  /// Deflections at the points = rows * unknowns [points x unknowns].
  Eigen::SparseMatrix<double, Eigen::RowMajor> rows;
  std::vector<geometry::Point> at;
  Eigen::VectorXd area_mm2;         ///< weight of each point
  std::vector<std::uint64_t> over;  ///< patches over the triangle(s) it stands for
};
/// One point an edge and set of patches: where the patches over two neighbours differ, their
/// common edge has a point for each.
[[nodiscard]] PlatePoints edge_points(const geometry::Mesh& mesh);

/// Generalised load of an even pressure [MPa] over the triangles under `patch` (-1: everywhere).
[[nodiscard]] Eigen::VectorXd even_pressure(const geometry::Mesh& mesh, int patch,
                                            double pressure_mpa);

}  // namespace stackfit
