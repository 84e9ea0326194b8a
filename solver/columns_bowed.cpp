// SPDX-License-Identifier: GPL-3.0-or-later
//
// The equilibrium between walls that bow by more than half their thickness: their stretching
// energy (large_bow.hpp), a quartic of the amplitudes, comes on top.
//
// The energy is no longer convex for certain: Newton's method with a line search on it, the
// Hessian shifted where it is not positive, and checked to be so where the search ends. No other
// answer is ruled out; a ladder of rising interferences follows the one that begins flat.
#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/column_field.hpp"

namespace stackfit {
namespace {

using namespace columns_search;

/// First shift of a Hessian that is not positive; the walls' own bending gives ones.
constexpr double first_shift = 0.1;
constexpr double shift_growth = 4;
constexpr int shift_cap = 40;

struct Local {
  ColumnField::Answer columns;
  double energy_n_mm = 0;
  double scale_n_mm = 0;
  Eigen::VectorXd gradient;
  Eigen::MatrixXd hessian;
};

class BowedNewton {
 public:
  BowedNewton(const ColumnsSetup& setup, const ColumnsLoad& load)
      : setup_(setup), load_(load), field_(setup, load), shapes_(setup.walls->shapes()) {}

  [[nodiscard]] ColumnsState run(const ColumnsState* start) {
    Eigen::VectorXd at = start_from(start);
    Local now = evaluate(at, nullptr);
    ColumnsState state;
    state.path_n_mm.push_back(now.energy_n_mm);
    state.stop = search(at, now, state);
    describe(at, now, state);
    return state;
  }

 private:
  [[nodiscard]] Eigen::Index size() const {
    return shapes_.cols() + (field_.free_extension() ? 1 : 0);
  }
  [[nodiscard]] double extension_of(const Eigen::VectorXd& at) const {
    return field_.free_extension() ? at[shapes_.cols()] : 0;
  }

  [[nodiscard]] Eigen::VectorXd start_from(const ColumnsState* start) const {
    Eigen::VectorXd at = Eigen::VectorXd::Zero(size());
    const bool known = start != nullptr && start->amplitudes.size() == shapes_.cols();
    if (known) {
      at.head(shapes_.cols()) = start->amplitudes;
    }
    if (field_.free_extension()) {
      at[shapes_.cols()] = known ? start->extension_mm
                           : load_.tie == nullptr && load_.pulled_n > 0
                               ? field_.closing_extension_mm()
                               : 0;
    }
    return at;
  }

  [[nodiscard]] Local evaluate(const Eigen::VectorXd& at, const ColumnField::Answer* near) const {
    const Eigen::Index modes = shapes_.cols();
    const Eigen::VectorXd c = at.head(modes);
    Local now;
    Eigen::VectorXd gap = field_.interference_mm().array() - extension_of(at);
    gap.noalias() -= shapes_ * c;
    now.columns = field_.at(std::move(gap), near);
    const ColumnField::TieForce tied = field_.tie_at(extension_of(at));
    const WallModes::Stretching stretched = setup_.walls->stretching(c);
    const double bent = 0.5 * c.squaredNorm();
    now.energy_n_mm = bent + stretched.energy_n_mm + now.columns.stored_n_mm + tied.energy_n_mm;
    now.scale_n_mm =
        bent + stretched.energy_n_mm + now.columns.stored_n_mm + std::abs(tied.energy_n_mm);
    const Eigen::VectorXd force = field_.force_n(now.columns);
    const Eigen::VectorXd& stiffness = now.columns.stiffness_n_per_mm;
    now.gradient.resize(size());
    now.gradient.head(modes) = c + stretched.gradient - shapes_.transpose() * force;
    now.hessian.setZero(size(), size());
    now.hessian.topLeftCorner(modes, modes) =
        stretched.hessian + shapes_.transpose() * (stiffness.asDiagonal() * shapes_);
    now.hessian.topLeftCorner(modes, modes).diagonal().array() += 1;
    if (field_.free_extension()) {
      now.gradient[modes] = tied.n - force.sum();
      now.hessian.col(modes).head(modes) = shapes_.transpose() * stiffness;
      now.hessian.row(modes).head(modes) = now.hessian.col(modes).head(modes).transpose();
      now.hessian(modes, modes) = stiffness.sum() + tied.per_mm;
    }
    return now;
  }

  [[nodiscard]] ColumnsStop search(Eigen::VectorXd& at, Local& now, ColumnsState& state) {
    for (; state.steps < step_cap; ++state.steps) {
      const bool positive = factor(now);
      const Eigen::VectorXd step = -factor_.solve(now.gradient);
      const double promised = -now.gradient.dot(step);
      if (promised <= converged_share * now.scale_n_mm ||
          promised <= field_.rounding_n_mm(now.columns, extension_of(at))) {
        if (!now.columns.touches()) {
          return ColumnsStop::loose;
        }
        return positive ? ColumnsStop::converged : ColumnsStop::singular;
      }
      if (!advance(at, now, step, promised)) {
        return ColumnsStop::no_descent;
      }
      state.path_n_mm.push_back(now.energy_n_mm);
    }
    return ColumnsStop::cap_reached;
  }

  /// Factors the Hessian, shifted until it is positive; true where it was without.
  [[nodiscard]] bool factor(const Local& now) {
    factor_.compute(now.hessian);
    if (factor_.info() == Eigen::Success) {
      return true;
    }
    double shift = first_shift;
    for (int i = 0; i < shift_cap && factor_.info() != Eigen::Success; ++i) {
      factor_.compute(now.hessian + shift * Eigen::MatrixXd::Identity(size(), size()));
      shift *= shift_growth;
    }
    return false;
  }

  [[nodiscard]] bool advance(Eigen::VectorXd& at, Local& now, const Eigen::VectorXd& step,
                             double promised) const {
    const double unseen =
        std::max(rounding_share * now.scale_n_mm, field_.noise_n_mm(now.columns, extension_of(at)));
    double length = 1;
    for (int halving = 0; halving < halving_cap; ++halving, length *= 0.5) {
      Eigen::VectorXd tried = at + length * step;
      Local there = evaluate(tried, &now.columns);
      const bool fell = there.energy_n_mm <= now.energy_n_mm - sufficient_fall * length * promised;
      if (fell || promised <= unseen) {
        at = std::move(tried);
        now = std::move(there);
        return true;
      }
    }
    return false;
  }

  void describe(const Eigen::VectorXd& at, const Local& now, ColumnsState& state) {
    const Eigen::Index modes = shapes_.cols();
    field_.describe(now.columns, now.energy_n_mm, state);
    state.amplitudes = at.head(modes);
    state.extension_mm = extension_of(at);
    state.wall_mm = shapes_ * state.amplitudes;
    state.first_mm = setup_.walls->first_mm(state.amplitudes);
    state.last_mm = setup_.walls->last_mm(state.amplitudes);
    add_built(load_, state);
    state.amplitudes_per_mm = Eigen::VectorXd::Zero(modes);
    if (state.stop == ColumnsStop::converged) {
      const Eigen::VectorXd& stiffness = now.columns.stiffness_n_per_mm;
      Eigen::VectorXd even(size());
      even.head(modes) = shapes_.transpose() * stiffness;
      if (field_.free_extension()) {
        even[modes] = stiffness.sum();
      }
      const Eigen::VectorXd moved = factor_.solve(even);
      state.amplitudes_per_mm = moved.head(modes);
      state.extension_per_mm = field_.free_extension() ? moved[modes] : 0;
      const Eigen::VectorXd both =
          (shapes_ * state.amplitudes_per_mm).array() + state.extension_per_mm;
      field_.describe_slopes(now.columns, both, state);
    }
  }

  const ColumnsSetup& setup_;
  const ColumnsLoad& load_;
  ColumnField field_;
  const Eigen::MatrixXd& shapes_;
  Eigen::LLT<Eigen::MatrixXd> factor_;
};

}  // namespace

ColumnsState solve_bowed(const ColumnsSetup& setup, const ColumnsLoad& load,
                         const ColumnsState* start) {
  return BowedNewton(setup, load).run(start);
}

}  // namespace stackfit
