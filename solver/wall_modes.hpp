// SPDX-License-Identifier: GPL-3.0-or-later
//
// Both end walls, boiled down to the few shapes in which a row can bend them.
//
// For: the row's equilibrium (columns.hpp), which then works with some tens of unknowns instead
// of thousands. A wall smooths what presses on it: pressures that are polynomials over each
// cell's face, of a degree not above `wall_mode_degree`, give shapes that hold every other answer
// to well below a per cent; `true_deflection` measures what is left out, and columns.hpp puts it
// right where a full solution is asked for.
// Where a wall bows by more than half its thickness it also stretches (large_bow.hpp); then the
// walls' energy is that of the shapes' bending and of their stretching, and the shapes alone are
// the answer: on plates they are within 0.4 % of the unreduced one.
// Not for: the plates themselves (plate.hpp).
//
// Both walls carry the same pressures, column by column. So one set of shapes serves both: what
// counts for the row is the sum of their deflections, each away from the row.
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "geometry/mesh.hpp"
#include "solver/large_bow.hpp"
#include "solver/plate.hpp"
#include "solver/rib.hpp"

namespace stackfit {

/// Degree of the pressures, over each face, whose deflections are the walls' shapes.
inline constexpr int wall_mode_degree = 8;
/// Thin-plate theory is linear while a wall bows less than this share of its thickness.
inline constexpr double linear_bow_share = 0.5;
/// Shapes kept of a wall that stretches, the softest: their products are many.
inline constexpr int stretching_shapes = 15;

/// One edge of a wall, or a part of it; from the edge's left or bottom end.
struct WallEdgePart {
  double from_mm = 0;
  double to_mm = 0;
  PlateEdge support = PlateEdge::held;
};

/// A rib from edge to edge; its ends are held as the wall's edges are.
struct WallRib {
  enum class Along : std::uint8_t { width, height };
  Along along = Along::width;
  double at_mm = 0;  ///< of its middle line, from the floor or from the left edge
  RibSection section;
  double yield_mpa = 0;  ///< of its metal; bends nothing

  friend bool operator==(const WallRib&, const WallRib&) = default;
};

/// One end wall as a plate. Edges without parts are free.
struct WallPlate {
  PlateSection section;
  std::vector<WallEdgePart> left, right, bottom, top;
  std::vector<PlatePoint> rods;
  std::vector<WallRib> ribs;
  std::optional<PlateSection> second;  ///< a plate that lies against it outside, not bonded
  double second_yield_mpa = 0;
  /// A wall known by its bow, at its middle, under a force of the rows: its shape counts, not
  /// its section.
  struct Bow {
    double bow_mm = 0;
    double force_n = 0;
  };
  std::optional<Bow> measured_bow;
  double yield_mpa = 0;                ///< of its metal; bends nothing
  EdgeDraw in_plane = EdgeDraw::free;  ///< only where the bow is large

  friend bool operator==(const WallPlate&, const WallPlate&);
};

/// Both walls seen from the same side; x to the right and y up from the lower left corner.
struct WallPair {
  double width_mm = 0;
  double height_mm = 0;
  std::optional<WallPlate> first;  ///< none: rigid
  std::optional<WallPlate> last;
  std::vector<geometry::Outline> faces;   ///< of the rows, on the wall
  std::vector<geometry::Outline> sheets;  ///< outlines of what covers only a part of a face
  bool mirrored = false;   ///< left and right alike in every respect: half is computed
  double edge_scale = 1;   ///< size of the mesh against the default
  bool large_bow = false;  ///< the walls stretch as they bow
};

/// A spot of a face on which a column stands.
struct ColumnPoint {
  geometry::Point at;
  double area_mm2 = 0;
  int face = 0;
  std::uint64_t sheets = 0;  ///< bit k: under sheet outline k
};

/// The rib as a bar on the plate, as much of it as is meshed; none where it lies in the half that
/// is not. On the line of symmetry half of it goes to each half. Where walls stretch, the bar by
/// itself: what is then left out, its pull, could only make the wall stiffer.
[[nodiscard]] std::optional<PlateRib> bar_of(const WallPair& pair, const WallPlate& wall,
                                             const WallRib& rib);

/// The mesh that both walls share, and the columns' points on it.
struct WallMesh {
  geometry::Mesh mesh;
  std::vector<ColumnPoint> points;
  Eigen::SparseMatrix<double, Eigen::RowMajor> rows;  ///< deflection at the points
  std::vector<double> face_area_mm2;                  ///< of the meshed part of each face
  int middle_node = 0;                                ///< at the middle of the wall
  double share = 1;                                   ///< of the whole that is meshed: 1 or 1/2
};
[[nodiscard]] std::shared_ptr<const WallMesh> mesh_walls(const WallPair& pair);

class WallModes {
 public:
  /// `lid`: the lid holds the top edge of both walls.
  WallModes(std::shared_ptr<const WallMesh> mesh, const WallPair& pair, bool lid);

  [[nodiscard]] const WallMesh& mesh() const { return *mesh_; }
  [[nodiscard]] Eigen::Index count() const { return shapes_.cols(); }
  /// Deflection of both walls together at the columns' points [points x modes]. The walls' energy
  /// is half the sum of the squared amplitudes.
  [[nodiscard]] const Eigen::MatrixXd& shapes() const { return shapes_; }
  /// Forces of the columns [N] that bend the walls into each shape [points x modes].
  [[nodiscard]] const Eigen::MatrixXd& forces() const { return forces_; }
  /// Deflection of both walls together at the points under these pressures [MPa], by the plates
  /// themselves.
  [[nodiscard]] Eigen::VectorXd true_deflection(const Eigen::VectorXd& pressure_mpa) const;

  /// Whether the walls stretch as they bow.
  [[nodiscard]] bool bowed() const { return !stretched_.empty(); }
  struct Stretching {
    double energy_n_mm = 0;
    Eigen::VectorXd gradient;
    Eigen::MatrixXd hessian;
  };
  /// Of both walls, on top of half the sum of the squared amplitudes.
  [[nodiscard]] Stretching stretching(const Eigen::VectorXd& amplitudes) const;
  /// All unknowns of a wall that stretches.
  [[nodiscard]] Eigen::VectorXd first_bent(const Eigen::VectorXd& amplitudes) const;
  [[nodiscard]] Eigen::VectorXd last_bent(const Eigen::VectorXd& amplitudes) const;

  /// Deflection of one wall at the mesh's nodes [mm].
  [[nodiscard]] Eigen::VectorXd first_mm(const Eigen::VectorXd& amplitudes) const;
  [[nodiscard]] Eigen::VectorXd last_mm(const Eigen::VectorXd& amplitudes) const;

  struct OneWall {
    std::shared_ptr<const Plate> plate;  ///< empty: rigid
    double give_scale = 1;               ///< deflections times this: a wall known by its bow

    /// All unknowns of the plate under column pressures [MPa].
    [[nodiscard]] Eigen::VectorXd bent(const WallMesh& mesh,
                                       const Eigen::VectorXd& pressure_mpa) const;
    /// Of those the deflection at each node.
    [[nodiscard]] Eigen::VectorXd nodes_mm(const WallMesh& mesh,
                                           const Eigen::VectorXd& pressure_mpa) const;
  };
  [[nodiscard]] const OneWall& first() const { return first_; }
  [[nodiscard]] const OneWall& last() const { return last_; }

 private:
  /// One plate serves both walls.
  [[nodiscard]] bool alike() const { return last_.plate && last_.plate == first_.plate; }
  [[nodiscard]] Eigen::VectorXd still() const;
  void bend(const WallPair& pair);
  void bend_and_stretch(const WallPair& pair);

  /// One wall's shapes among all amplitudes, or both where they are alike.
  struct Stretched {
    BowStiffening stiffening;
    Eigen::MatrixXd unknowns;  ///< all of the plate's [unknowns x its amplitudes]
    Eigen::Index first_amplitude = 0;
    double walls = 1;
    bool is_last = false;
  };

  std::shared_ptr<const WallMesh> mesh_;
  OneWall first_;
  OneWall last_;
  Eigen::MatrixXd shapes_;
  Eigen::MatrixXd forces_;
  Eigen::MatrixXd first_nodes_;  ///< deflection of each wall [nodes x modes]
  Eigen::MatrixXd last_nodes_;   ///< empty where the walls are alike
  std::vector<Stretched> stretched_;
};

}  // namespace stackfit
