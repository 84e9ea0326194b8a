// SPDX-License-Identifier: GPL-3.0-or-later
//
// The full solution: the walls deflect as their plates do under the very forces of the columns.
//
// Unknown are the forces g that bend the walls (since the row was built) and the tie's extension
// u; the walls' deflection is w = G g, G the plates' give. With F the columns' forces at the gap
// that w and u leave and K their stiffness, Newton's step solves
//     dg + K (G dg + du) = F - g,   sum K (G dg + du) + tie' du = sum F - tie,
// which is symmetric and positive in the inner product that G defines. Conjugate gradients in
// that product need one solution of the plates an iteration. What the walls' shapes can hold is
// solved at once, and the search kept clear of it (R. A. Nicolaides, "Deflation of conjugate
// gradients with applications to boundary value problems", SIAM J. Numer. Anal. 24 (1987) 355):
// few iterations are left, and thin walls, which the shapes hold badly, only cost more of them.
#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/column_field.hpp"

namespace stackfit {
namespace {

using namespace columns_search;

constexpr double inner_share = 1e-5;
constexpr double slope_share = 1e-7;
constexpr int inner_cap = 300;

/// Where the walls stand and what bends them there, or a step from there.
struct Stand {
  Eigen::VectorXd force_n;
  Eigen::VectorXd wall_mm;  ///< G times the forces
  double extension_mm = 0;

  void add(double length, const Stand& step) {
    force_n += length * step.force_n;
    wall_mm += length * step.wall_mm;
    extension_mm += length * step.extension_mm;
  }
  [[nodiscard]] Eigen::VectorXd moved_mm() const { return wall_mm.array() + extension_mm; }
};

/// Out of balance: of each column [N], and of the tie.
struct Rest {
  Eigen::VectorXd force_n;
  double tie_n = 0;

  /// Work on a step: the inner product.
  [[nodiscard]] double on(const Stand& step) const {
    return force_n.dot(step.wall_mm) + tie_n * step.extension_mm;
  }
};

struct Local {
  ColumnField::Answer columns;
  ColumnField::TieForce tied;
  Rest rest;
  double energy_n_mm = 0;
  double scale_n_mm = 0;
};

class PlatesNewton {
 public:
  PlatesNewton(const ColumnsSetup& setup, const ColumnsLoad& load)
      : setup_(setup),
        load_(load),
        walls_(*setup.walls),
        field_(setup, load),
        hessian_(walls_.shapes(), field_.free_extension()) {}

  [[nodiscard]] ColumnsState run(const ColumnsState& by_shapes) {
    Stand at;
    at.force_n = field_.area_mm2().cwiseProduct(by_shapes.pressure_mpa) - field_.built_n();
    at.wall_mm = deflected(at.force_n);
    at.extension_mm = by_shapes.extension_mm;
    Local now = evaluate(at, nullptr);
    ColumnsState state;
    state.path_n_mm.push_back(now.energy_n_mm);
    state.stop = search(at, now, state);
    describe(at, now, state);
    state.steps += by_shapes.steps;
    return state;
  }

 private:
  [[nodiscard]] Eigen::VectorXd deflected(const Eigen::VectorXd& force_n) const {
    return walls_.true_deflection(force_n.cwiseQuotient(field_.area_mm2()));
  }

  [[nodiscard]] ColumnsStop search(Stand& at, Local& now, ColumnsState& state) {
    for (; state.steps < step_cap; ++state.steps) {
      const bool touches = now.columns.touches();
      const bool held =
          !field_.free_extension() || now.columns.stiffness_n_per_mm.sum() + now.tied.per_mm > 0;
      if (!held || !hessian_.factor(now.columns.stiffness_n_per_mm, now.tied.per_mm)) {
        return touches ? ColumnsStop::singular : ColumnsStop::loose;
      }
      const Stand step = solved(now.rest, now, inner_share);
      const double promised = now.rest.on(step);  // twice the energy left to gain
      if (promised <= converged_share * now.scale_n_mm ||
          promised <= field_.rounding_n_mm(now.columns, at.extension_mm)) {
        return touches ? ColumnsStop::converged : ColumnsStop::loose;
      }
      if (!advance(at, now, step, promised)) {
        return ColumnsStop::no_descent;
      }
      state.path_n_mm.push_back(now.energy_n_mm);
    }
    return ColumnsStop::cap_reached;
  }

  [[nodiscard]] Local evaluate(const Stand& at, const ColumnField::Answer* near) const {
    Local now;
    now.columns = field_.at(field_.interference_mm() - at.moved_mm(), near);
    now.tied = field_.tie_at(at.extension_mm);
    const Eigen::VectorXd pressed = field_.force_n(now.columns);
    now.rest = {pressed - field_.built_n() - at.force_n,
                field_.free_extension() ? pressed.sum() - now.tied.n : 0};
    const double bent = 0.5 * at.force_n.dot(at.wall_mm);
    const double pulled = field_.built_n().dot(at.wall_mm);
    now.energy_n_mm = bent + pulled + now.columns.stored_n_mm + now.tied.energy_n_mm;
    now.scale_n_mm =
        bent + std::abs(pulled) + now.columns.stored_n_mm + std::abs(now.tied.energy_n_mm);
    return now;
  }

  /// What a step takes from the rest: the matrix times the step.
  [[nodiscard]] Rest taken(const Stand& step, const Local& now) const {
    const Eigen::VectorXd back = now.columns.stiffness_n_per_mm.cwiseProduct(step.moved_mm());
    return {step.force_n + back,
            field_.free_extension() ? back.sum() + now.tied.per_mm * step.extension_mm : 0};
  }

  /// The step within the walls' shapes that answers such work on them.
  [[nodiscard]] Stand within_shapes(const Eigen::VectorXd& work) const {
    const Eigen::VectorXd y = hessian_.solved(work);
    const auto amplitudes = y.head(walls_.count());
    return {walls_.forces() * amplitudes, walls_.shapes() * amplitudes,
            field_.free_extension() ? y[walls_.count()] : 0};
  }
  [[nodiscard]] Eigen::VectorXd work_on_shapes(const Rest& rest) const {
    Eigen::VectorXd work(hessian_.size());
    work.head(walls_.count()) = walls_.shapes().transpose() * rest.force_n;
    if (field_.free_extension()) {
      work[walls_.count()] = rest.tie_n;
    }
    return work;
  }

  [[nodiscard]] Stand solved(const Rest& right, const Local& now, double share) const {
    Stand x = within_shapes(work_on_shapes(right));
    Rest rest = right;
    const auto take = [&rest](double length, const Rest& product) {
      rest.force_n -= length * product.force_n;
      rest.tie_n -= length * product.tie_n;
    };
    take(1, taken(x, now));
    Stand along;
    double before = 0;
    for (int i = 0; i < inner_cap; ++i) {
      Stand better{rest.force_n, deflected(rest.force_n), rest.tie_n};
      const double left = rest.on(better);
      // The matrix is one or more, so this bounds the error's energy.
      if (!(left > share * share * right.on(x))) {
        break;
      }
      better.add(-1, within_shapes(work_on_shapes(taken(better, now))));
      if (i > 0) {
        better.add(left / before, along);
      }
      along = std::move(better);
      before = left;
      const Rest product = taken(along, now);
      const double length = left / product.on(along);
      x.add(length, along);
      take(length, product);
    }
    return x;
  }

  /// One step along Newton's direction, halved until the energy falls as promised.
  [[nodiscard]] bool advance(Stand& at, Local& now, const Stand& step, double promised) const {
    // Below this the fall is not to be seen, and whole steps are taken.
    const double unseen =
        std::max(rounding_share * now.scale_n_mm, field_.noise_n_mm(now.columns, at.extension_mm));
    double length = 1;
    for (int halving = 0; halving < halving_cap; ++halving, length *= 0.5) {
      Stand tried = at;
      tried.add(length, step);
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

  void describe(const Stand& at, const Local& now, ColumnsState& state) const {
    field_.describe(now.columns, now.energy_n_mm, state);
    state.extension_mm = at.extension_mm;
    state.wall_mm = at.wall_mm;
    const Eigen::VectorXd bending = at.force_n.cwiseQuotient(field_.area_mm2());
    state.first_mm = walls_.first().nodes_mm(walls_.mesh(), bending);
    const bool alike = walls_.last().plate == walls_.first().plate;
    state.last_mm = alike ? state.first_mm : walls_.last().nodes_mm(walls_.mesh(), bending);
    add_built(load_, state);
    state.amplitudes = walls_.shapes().transpose() * at.force_n;
    state.amplitudes_per_mm = Eigen::VectorXd::Zero(walls_.count());
    if (state.stop == ColumnsStop::converged) {
      const Eigen::VectorXd& stiffness = now.columns.stiffness_n_per_mm;
      const Rest even{stiffness, field_.free_extension() ? stiffness.sum() : 0};
      const Stand moved = solved(even, now, slope_share);
      state.amplitudes_per_mm = walls_.shapes().transpose() * moved.force_n;
      state.extension_per_mm = moved.extension_mm;
      field_.describe_slopes(now.columns, moved.moved_mm(), state);
    }
    state.factor = hessian_.factored();
  }

  const ColumnsSetup& setup_;
  const ColumnsLoad& load_;
  const WallModes& walls_;
  ColumnField field_;
  ShapesHessian hessian_;
};

}  // namespace

ColumnsState solve_by_plates(const ColumnsSetup& setup, const ColumnsLoad& load,
                             const ColumnsState& by_shapes) {
  return PlatesNewton(setup, load).run(by_shapes);
}

}  // namespace stackfit
