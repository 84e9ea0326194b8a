// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the columns and the tie of a row answer when the walls stand somewhere. Internal to the
// equilibrium (columns.cpp by the walls' shapes, columns_full.cpp by their plates).
#pragma once

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <memory>
#include <vector>

#include "solver/columns.hpp"

namespace stackfit {

/// When a search is over; shared by both.
namespace columns_search {
inline constexpr int step_cap = 100;
inline constexpr int halving_cap = 40;
/// Energy left to gain, as a share of the energy at stake, below which a step is the last one.
inline constexpr double converged_share = 1e-21;
/// Below this share the energy's own rounding hides its fall: whole steps are taken.
inline constexpr double rounding_share = 1e-12;
/// Armijo's constant: the share of the promised fall that must be seen.
inline constexpr double sufficient_fall = 1e-4;
}  // namespace columns_search

class ColumnField {
 public:
  /// Both are kept by reference.
  ColumnField(const ColumnsSetup& setup, const ColumnsLoad& load);

  /// Of each point: interference before walls and tie give, less what the walls gave when built.
  [[nodiscard]] const Eigen::VectorXd& interference_mm() const { return interference_mm_; }
  [[nodiscard]] const Eigen::VectorXd& area_mm2() const { return area_mm2_; }
  [[nodiscard]] const Eigen::VectorXd& built_n() const { return built_n_; }
  [[nodiscard]] bool free_extension() const { return free_extension_; }
  /// Extension at which the tie begins to pull.
  [[nodiscard]] double slack_extension_mm() const;
  /// Extension at which the pull on the walls would be met by an even pressure.
  [[nodiscard]] double closing_extension_mm() const;

  struct Answer {
    Eigen::VectorXd gap_mm;  ///< local interference; negative: a gap
    Eigen::VectorXd pressure_mpa;
    Eigen::VectorXd stiffness_n_per_mm;
    double stored_n_mm = 0;
    [[nodiscard]] bool touches() const {
      return stiffness_n_per_mm.size() > 0 && stiffness_n_per_mm.maxCoeff() > 0;
    }
  };
  /// Columns at these local interferences; an answer close by saves time.
  [[nodiscard]] Answer at(Eigen::VectorXd gap_mm, const Answer* near) const;
  [[nodiscard]] Eigen::VectorXd force_n(const Answer& answer) const {
    return area_mm2_.cwiseProduct(answer.pressure_mpa);
  }

  struct TieForce {
    double n = 0;
    double per_mm = 0;
    double energy_n_mm = 0;
  };
  /// The tie's share that belongs to the meshed part.
  [[nodiscard]] TieForce tie_at(double extension_mm) const;

  /// Energy left to gain [N mm] that rounding of the lengths leaves, whatever the search does.
  [[nodiscard]] double rounding_n_mm(const Answer& answer, double extension_mm) const;
  /// How far that rounding moves the energy itself [N mm]: no fall below this can be seen.
  [[nodiscard]] double noise_n_mm(const Answer& answer, double extension_mm) const;

  /// Pressures, forces and energy of a state; slopes are zero.
  void describe(const Answer& answer, double energy_n_mm, ColumnsState& state) const;
  /// Slopes of pressures and forces, with the walls' and the tie's share of the interference.
  void describe_slopes(const Answer& answer, const Eigen::VectorXd& moved_per_mm,
                       ColumnsState& state) const;

 private:
  /// Of each face, whole: the sum of what its points have.
  [[nodiscard]] std::vector<double> per_face(const Eigen::VectorXd& of_points) const;
  [[nodiscard]] double rounding_mm(double extension_mm) const;

  const ColumnsSetup& setup_;
  const ColumnsLoad& load_;
  const WallMesh& mesh_;
  bool free_extension_ = false;
  Eigen::VectorXd interference_mm_, area_mm2_, more_give_, built_n_;
};

/// Hessian of the energy over the walls' amplitudes and, where it is free, the tie's extension
/// (the last unknown).
class ShapesHessian {
 public:
  ShapesHessian(const Eigen::MatrixXd& shapes, bool free_extension)
      : shapes_(shapes), modes_(shapes.cols()), free_extension_(free_extension) {}

  [[nodiscard]] Eigen::Index size() const { return modes_ + (free_extension_ ? 1 : 0); }
  /// Points' deflections from the unknowns, the extension included.
  [[nodiscard]] Eigen::VectorXd moved_mm(const Eigen::VectorXd& unknowns) const;
  /// Work conjugates of the unknowns from forces at the points.
  [[nodiscard]] Eigen::VectorXd gathered(const Eigen::VectorXd& force_n) const;
  /// Hessian times a vector.
  [[nodiscard]] Eigen::VectorXd times(const Eigen::VectorXd& stiffness_n_per_mm, double tie_per_mm,
                                      const Eigen::VectorXd& unknowns) const;
  /// False where it could not be factored.
  [[nodiscard]] bool factor(const Eigen::VectorXd& stiffness_n_per_mm, double tie_per_mm);
  [[nodiscard]] Eigen::VectorXd solved(const Eigen::VectorXd& right) const;

  using Factor = Eigen::LLT<Eigen::MatrixXd>;
  /// A factor made elsewhere, if it fits; `solved` is then near enough for conjugate gradients.
  void adopt(std::shared_ptr<const Factor> factor);
  [[nodiscard]] const std::shared_ptr<const Factor>& factored() const { return factor_; }

 private:
  const Eigen::MatrixXd& shapes_;
  Eigen::Index modes_;
  bool free_extension_;
  std::shared_ptr<const Factor> factor_;
};

/// Walls counted from where they stood when the row was built: adds that, and finds the bows.
void add_built(const ColumnsLoad& load, ColumnsState& state);

/// By the shapes, between walls that stretch (columns_bowed.cpp).
[[nodiscard]] ColumnsState solve_bowed(const ColumnsSetup& setup, const ColumnsLoad& load,
                                       const ColumnsState* start);

/// Corrects a solution by the shapes into one by the plates themselves (columns_full.cpp).
[[nodiscard]] ColumnsState solve_by_plates(const ColumnsSetup& setup, const ColumnsLoad& load,
                                           const ColumnsState& by_shapes);

}  // namespace stackfit
