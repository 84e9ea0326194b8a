// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/columns.hpp"

#include <algorithm>
#include <cmath>

#include "solver/column_field.hpp"

namespace stackfit {
namespace {

using namespace columns_search;

/// Newton's equations are solved to this share by conjugate gradients; the error after a step is
/// then that share of the error before it, or its square.
constexpr double inner_share = 1e-4;
constexpr double slope_share = 1e-7;
/// More iterations than this cost more than a new factor.
constexpr int inner_cap = 8;

/// Amplitudes of the walls, and the tie's extension as the last one where it is free.
struct Unknowns {
  Eigen::VectorXd amplitudes;
  double extension_mm = 0;
};

/// Energy and gradient at one point.
struct Local {
  ColumnField::Answer columns;
  double tie_per_mm = 0;
  double energy_n_mm = 0;
  double scale_n_mm = 0;  ///< energy at stake: sum of the parts' magnitudes
  Eigen::VectorXd gradient;
};

class ShapesNewton {
 public:
  ShapesNewton(const ColumnsSetup& setup, const ColumnsLoad& load)
      : setup_(setup),
        load_(load),
        field_(setup, load),
        shapes_(setup.walls->shapes()),
        hessian_(shapes_, field_.free_extension()),
        pull_(shapes_.transpose() * field_.built_n()) {}

  [[nodiscard]] double first_touch_mm() const {
    // Unloaded, the amplitudes are those of the pull.
    const Eigen::VectorXd gap = field_.interference_mm() + shapes_ * pull_;
    return field_.slack_extension_mm() - gap.maxCoeff();
  }

  [[nodiscard]] ColumnsState run(const ColumnsState* start) {
    Unknowns at = start_from(start);
    const ColumnField::Answer near = guess_from(start);
    Local now = evaluate(at, near.pressure_mpa.size() > 0 ? &near : nullptr);
    ColumnsState state;
    state.path_n_mm.push_back(now.energy_n_mm);
    state.stop = ColumnsStop::cap_reached;
    for (; state.steps < step_cap; ++state.steps) {
      if (!resists(now) || !ready(now)) {
        state.stop = now.columns.touches() ? ColumnsStop::singular : ColumnsStop::loose;
        break;
      }
      if (converged(now, at)) {
        state.stop = now.columns.touches() ? ColumnsStop::converged : ColumnsStop::loose;
        break;
      }
      if (!advance(at, now)) {
        state.stop = ColumnsStop::no_descent;
        break;
      }
      state.path_n_mm.push_back(now.energy_n_mm);
    }
    describe(at, now, state);
    return state;
  }

 private:
  [[nodiscard]] Unknowns start_from(const ColumnsState* start) {
    if (start != nullptr && start->amplitudes.size() == shapes_.cols()) {
      hessian_.adopt(start->factor);
      return {start->amplitudes, field_.free_extension() ? start->extension_mm : 0};
    }
    Unknowns at{Eigen::VectorXd::Zero(shapes_.cols()), 0};
    if (load_.built != nullptr) {
      at.extension_mm = load_.built->extension_mm;
    } else if (load_.tie == nullptr && load_.pulled_n > 0) {
      // Close the row: nothing pushes back, and Newton has no slope, before something touches.
      at.extension_mm = field_.closing_extension_mm();
    }
    return at;
  }

  /// Pressures of the start as they stand: how the gaps moved since is not known.
  [[nodiscard]] ColumnField::Answer guess_from(const ColumnsState* start) const {
    ColumnField::Answer near;
    if (start != nullptr && start->pressure_mpa.size() == field_.area_mm2().size()) {
      near.pressure_mpa = start->pressure_mpa;
      near.gap_mm = near.stiffness_n_per_mm = Eigen::VectorXd::Zero(near.pressure_mpa.size());
    }
    return near;
  }

  [[nodiscard]] Local evaluate(const Unknowns& at, const ColumnField::Answer* near) const {
    Local now;
    Eigen::VectorXd gap = field_.interference_mm().array() - at.extension_mm;
    gap.noalias() -= shapes_ * at.amplitudes;
    now.columns = field_.at(std::move(gap), near);
    const ColumnField::TieForce tied = field_.tie_at(at.extension_mm);
    const double bent = 0.5 * at.amplitudes.squaredNorm();
    const double pulled = pull_.dot(at.amplitudes);
    now.tie_per_mm = tied.per_mm;
    now.energy_n_mm = bent + pulled + now.columns.stored_n_mm + tied.energy_n_mm;
    now.scale_n_mm = bent + std::abs(pulled) + now.columns.stored_n_mm + std::abs(tied.energy_n_mm);
    now.gradient = -hessian_.gathered(field_.force_n(now.columns));
    now.gradient.head(shapes_.cols()) += at.amplitudes + pull_;
    if (field_.free_extension()) {
      now.gradient[shapes_.cols()] += tied.n;
    }
    return now;
  }

  /// Whether the tie's extension is held by anything.
  [[nodiscard]] bool resists(const Local& now) const {
    return !field_.free_extension() || now.columns.stiffness_n_per_mm.sum() + now.tie_per_mm > 0;
  }
  [[nodiscard]] bool ready(const Local& now) {
    return hessian_.factored() != nullptr ||
           hessian_.factor(now.columns.stiffness_n_per_mm, now.tie_per_mm);
  }

  /// By a factor that may be that of a point nearby: the energy to gain is met well enough.
  [[nodiscard]] bool converged(const Local& now, const Unknowns& at) const {
    const double promised = now.gradient.dot(hessian_.solved(now.gradient));
    return promised <= converged_share * now.scale_n_mm ||
           promised <= field_.rounding_n_mm(now.columns, at.extension_mm);
  }

  /// Solution of Hessian * x = right, to a share of the energy it stands for: conjugate gradients
  /// behind the factor at hand (M. R. Hestenes, E. Stiefel, J. Res. Nat. Bur. Stand. 49 (1952)
  /// 409), or a new factor where they are slow.
  [[nodiscard]] Eigen::VectorXd solved(const Eigen::VectorXd& right, const Local& now,
                                       double share) {
    const Eigen::VectorXd& stiffness = now.columns.stiffness_n_per_mm;
    Eigen::VectorXd x = hessian_.solved(right);
    Eigen::VectorXd rest = right - hessian_.times(stiffness, now.tie_per_mm, x);
    Eigen::VectorXd better = hessian_.solved(rest);
    Eigen::VectorXd along = better;
    double left = rest.dot(better);
    for (int i = 0; i < inner_cap; ++i) {
      if (!(left > share * share * std::abs(right.dot(x)))) {
        return x;
      }
      const Eigen::VectorXd product = hessian_.times(stiffness, now.tie_per_mm, along);
      const double length = left / along.dot(product);
      x += length * along;
      rest -= length * product;
      better = hessian_.solved(rest);
      const double before = left;
      left = rest.dot(better);
      along = (better + left / before * along).eval();
    }
    if (hessian_.factor(stiffness, now.tie_per_mm)) {
      return hessian_.solved(right);
    }
    return x;
  }

  /// One step along Newton's direction, halved until the energy falls as promised.
  [[nodiscard]] bool advance(Unknowns& at, Local& now) {
    const Eigen::VectorXd step = -solved(now.gradient, now, inner_share);
    const double promised = -now.gradient.dot(step);  // twice the energy left to gain
    const Eigen::Index modes = shapes_.cols();
    // Below this the fall is not to be seen, and whole steps are taken.
    const double unseen =
        std::max(rounding_share * now.scale_n_mm, field_.noise_n_mm(now.columns, at.extension_mm));
    double length = 1;
    for (int halving = 0; halving < halving_cap; ++halving, length *= 0.5) {
      Unknowns tried = at;
      tried.amplitudes += length * step.head(modes);
      if (field_.free_extension()) {
        tried.extension_mm += length * step[modes];
      }
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

  void describe(const Unknowns& at, const Local& now, ColumnsState& state) {
    field_.describe(now.columns, now.energy_n_mm, state);
    state.amplitudes = at.amplitudes;
    state.extension_mm = at.extension_mm;
    state.wall_mm = shapes_ * at.amplitudes;
    state.first_mm = setup_.walls->first_mm(at.amplitudes);
    state.last_mm = setup_.walls->last_mm(at.amplitudes);
    add_built(load_, state);
    const Eigen::Index modes = shapes_.cols();
    state.amplitudes_per_mm = Eigen::VectorXd::Zero(modes);
    if (state.stop == ColumnsStop::converged) {
      const Eigen::VectorXd even = hessian_.gathered(now.columns.stiffness_n_per_mm);
      const Eigen::VectorXd moved = solved(even, now, slope_share);
      state.amplitudes_per_mm = moved.head(modes);
      state.extension_per_mm = field_.free_extension() ? moved[modes] : 0;
      field_.describe_slopes(now.columns, hessian_.moved_mm(moved), state);
    }
    state.factor = hessian_.factored();
  }

  const ColumnsSetup& setup_;
  const ColumnsLoad& load_;
  ColumnField field_;
  const Eigen::MatrixXd& shapes_;
  ShapesHessian hessian_;
  Eigen::VectorXd pull_;
};

}  // namespace

std::string_view sentence(ColumnsStop stop) {
  switch (stop) {
    case ColumnsStop::loose:
      return "nothing touches";
    case ColumnsStop::converged:
      return "the energy left to gain is below rounding";
    case ColumnsStop::cap_reached:
      return "the cap on Newton's steps was reached";
    case ColumnsStop::no_descent:
      return "no step lowers the energy";
    case ColumnsStop::singular:
      return "the stiffness could not be factored";
  }
  return "";
}

double ColumnsState::total_force_n() const {
  double sum = 0;
  for (const double force : force_n) {
    sum += force;
  }
  return sum;
}

ColumnsState Columns::solve(const ColumnsLoad& load, const ColumnsState* start) const {
  return setup_.walls->bowed() ? solve_bowed(setup_, load, start)
                               : ShapesNewton(setup_, load).run(start);
}

double Columns::first_touch_mm(const ColumnsLoad& load) const {
  return ShapesNewton(setup_, load).first_touch_mm();
}

ColumnsState Columns::solve_fully(const ColumnsLoad& load, const ColumnsState* start) const {
  ColumnsState by_shapes = solve(load, start);
  if (setup_.walls->count() == 0 || setup_.walls->bowed() || !by_shapes.usable()) {
    return by_shapes;
  }
  return solve_by_plates(setup_, load, by_shapes);
}

}  // namespace stackfit
