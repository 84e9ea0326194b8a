// SPDX-License-Identifier: GPL-3.0-or-later
//
// A thin wall that bows by more than about half its thickness: it stretches in its own plane, and
// is stiffer for it (von Karman's plate).
//
// For: the stretching energy of a plate (plate.hpp) among given shapes, condensed once so that a
// row's Newton can ask for it thousands of times; and the whole plate under a load, unreduced,
// against which the reduced answer is checked.
// Th. von Karman, "Festigkeitsprobleme im Maschinenbau", Enc. Math. Wiss. IV/4 (1910) 311-385;
// S. Timoshenko, S. Woinowsky-Krieger, "Theory of Plates and Shells", 2nd ed., ch. 13.
// Not for: slopes beyond about 1/5, thick plates, or plates pressed in their own plane.
//
// Bending is not in here: it stays with Plate::stiffness(). Rods and springs hold nothing in the
// plane. On the default mesh (plate.hpp) the bow is within 0.5 % of Ritz's method up to 3.5
// thicknesses.
//
// What can be relied on, each with its test:
//  1. The stretching energy is never negative, and goes with the fourth power of the bow.
//  2. Gradient and second derivatives are those of the energy.
//  3. With free sides a bow that could be rolled from a flat sheet stores next to nothing.
//  4. Among more shapes the answer comes down to the unreduced one.
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <vector>

#include "solver/membrane.hpp"
#include "solver/plate.hpp"

namespace stackfit {

/// What the supported sides of a wall do in its own plane. `free`: they draw in, nothing pulls on
/// them (the soft side). `held`: sides that are fixed or held as a plate do not move.
enum class EdgeDraw : std::uint8_t { free, held };

/// The plate's sides as a membrane. Free sides stay free, mirrors stay mirrors.
[[nodiscard]] std::vector<MembraneEdge> membrane_sides(const std::vector<PlateEdge>& sides,
                                                       EdgeDraw in_plane);

/// Greatest stress [MPa], von Mises, in the middle plane of a plate of this section bowed by these
/// unknowns, the displacements in its plane at their least energy. Throws as BowStiffening does.
[[nodiscard]] double greatest_stretch_stress_mpa(const Plate& plate, const PlateSection& section,
                                                 const Eigen::VectorXd& deflections,
                                                 EdgeDraw in_plane);

/// The stretching energy of a plate bowed by w = shapes * c, with the displacements in its plane
/// already at their least energy: a quartic form of c.
class BowStiffening {
 public:
  /// `shapes` [plate.unknowns() x m], each as the plate's supports let it be, at most
  /// greatest_shape_count of them. Throws std::invalid_argument for another number of rows, for
  /// no or too many shapes, or figures that are not finite.
  BowStiffening(const Plate& plate, const Eigen::MatrixXd& shapes, EdgeDraw in_plane);
  /// Of a sheet of another section that follows the same bow, sliding on the plate.
  BowStiffening(const Plate& plate, const PlateSection& section, const Eigen::MatrixXd& shapes,
                EdgeDraw in_plane);
  /// The plate's own, with each side's part in the plane given.
  BowStiffening(const Plate& plate, const Eigen::MatrixXd& shapes,
                const std::vector<MembraneEdge>& sides);

  /// Of both together, over the same shapes. Throws std::invalid_argument where they are not as
  /// many.
  BowStiffening& operator+=(const BowStiffening& other);

  static constexpr Eigen::Index greatest_shape_count = 45;

  struct Local {
    double energy_n_mm = 0;
    Eigen::VectorXd gradient;  ///< [m]
    Eigen::MatrixXd hessian;   ///< [m x m]; not positive definite everywhere
  };
  [[nodiscard]] Eigen::Index shape_count() const { return shape_count_; }
  [[nodiscard]] double energy_n_mm(const Eigen::VectorXd& c) const;
  [[nodiscard]] Local at(const Eigen::VectorXd& c) const;

  /// M of energy = 1/2 q'Mq, with q the products c_i c_j, j <= i, in the order (0,0), (1,0), (1,1),
  /// (2,0), ...: symmetric, positive semidefinite.
  [[nodiscard]] const Eigen::MatrixXd& products_n_mm() const { return products_; }

 private:
  BowStiffening(const Plate& plate, const PlateSection& section, const Eigen::MatrixXd& shapes,
                const std::vector<MembraneEdge>& sides);

  Eigen::Index shape_count_ = 0;
  Eigen::MatrixXd products_;
};

}  // namespace stackfit
