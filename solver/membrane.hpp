// SPDX-License-Identifier: GPL-3.0-or-later
//
// A flat sheet stretched in its own plane by a bow, on the mesh of a plate.
//
// For: solver/large_bow*.cpp.
// Not for: bending (plate.hpp).
//
// Linear-strain triangles: six nodes, the edges' middles among them (B. Fraeijs de Veubeke,
// "Displacement and equilibrium models in the finite element method", 1965). Constant-strain ones
// cannot follow a bow: its slope runs through each triangle, so its stretch w,x^2/2 does, and what
// they cannot give way to stays as energy. On about 2,000 triangles a hinged square with free
// sides, bowed by 3.4 thicknesses, came out 2.8 % too stiff with them, and 0.1 % too soft with
// these; with held sides the two hardly differ.
//
// Strains are taken at the middles of the edges, with a third of the triangle's area each: exact
// for this element, and there the plate's own slopes are known (PlatePoints in plate.hpp). Slopes
// drawn straight between the nodes instead were several times as far off: up to 1.9 % for 0.3 %.
#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <cstdint>
#include <vector>

#include "geometry/mesh.hpp"
#include "solver/plate.hpp"

namespace stackfit {

/// What one side of a membrane does in its plane. `sliding`: not across itself, freely along
/// itself (a mirror too). `straight`: as sliding, but the side as a whole may move across itself.
enum class MembraneEdge : std::uint8_t { free, sliding, straight, held };

/// Everything the stretching energy is made of. Strains come weighted, so that
///   energy [N mm] = 1/2 |strains * u + bow_strains(slopes * w)|^2,
/// with three strains a place (xx, yy, twice xy, mixed by the weight) and two slopes.
struct Membrane {
  using Sparse = Eigen::SparseMatrix<double>;
  using SparseRows = Eigen::SparseMatrix<double, Eigen::RowMajor>;

  SparseRows strains;   ///< [3 places x free displacements in the plane]
  SparseRows slopes;    ///< dw/dx, dw/dy of the plate's unknowns [2 places x plate unknowns]
  Eigen::Matrix3d mix;  ///< weighted strains = root_weight * mix * strains
  Eigen::VectorXd root_weight;  ///< [places]

  [[nodiscard]] Eigen::Index places() const { return root_weight.size(); }
};

/// `sides`: one for each side of the mesh. Motions of the whole sheet that nothing holds are taken
/// out: they store no energy. Throws std::invalid_argument where the sides do not match the
/// outline, where a straight side meets a held one, and for a mesh that falls in pieces.
[[nodiscard]] Membrane membrane(const geometry::Mesh& mesh, const PlateSection& section,
                                const std::vector<MembraneEdge>& sides);

}  // namespace stackfit
