// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/column_field.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace stackfit {

// --- columns and tie ------------------------------------------------------------------------

ColumnField::ColumnField(const ColumnsSetup& setup, const ColumnsLoad& load)
    : setup_(setup), load_(load), mesh_(setup.walls->mesh()) {
  const auto points = static_cast<Eigen::Index>(mesh_.points.size());
  free_extension_ = load.tie != nullptr ? !load.tie->rigid() : load.pulled_n > 0;
  interference_mm_ = setup.bulge_mm;
  area_mm2_.resize(points);
  more_give_ = Eigen::VectorXd::Zero(points);
  built_n_ = Eigen::VectorXd::Zero(points);
  for (Eigen::Index q = 0; q < points; ++q) {
    const ColumnPoint& point = mesh_.points[static_cast<std::size_t>(q)];
    const auto region = static_cast<std::size_t>(setup.region[static_cast<std::size_t>(q)]);
    area_mm2_[q] = point.area_mm2;
    interference_mm_[q] += load.interference_mm[static_cast<std::size_t>(point.face)];
    if (!load.region_shift_mm.empty()) {
      interference_mm_[q] += load.region_shift_mm[region];
    }
    if (!load.region_give_mm_per_mpa.empty()) {
      more_give_[q] = load.region_give_mm_per_mpa[region];
    }
  }
  if (load.less_mm.size() > 0) {
    interference_mm_ -= load.less_mm;
  }
  if (load.built != nullptr) {
    interference_mm_ -= load.built->wall_mm;
    built_n_ = area_mm2_.cwiseProduct(load.built->pressure_mpa);
  }
}

double ColumnField::slack_extension_mm() const {
  const double slack = load_.tie != nullptr ? load_.tie->slack_at_mm() : 0;
  return load_.tie_zero_mm + (std::isfinite(slack) ? slack : 0);
}

double ColumnField::closing_extension_mm() const {
  const double even = mesh_.share * load_.pulled_n / area_mm2_.sum();
  double squeeze = 0;
  for (const ColumnLaw& law : setup_.laws) {
    squeeze = std::max(squeeze, law.squeeze_mm(even));
  }
  return interference_mm_.maxCoeff() - squeeze;
}

ColumnField::Answer ColumnField::at(Eigen::VectorXd gap_mm, const Answer* near) const {
  Answer now;
  const Eigen::Index points = area_mm2_.size();
  now.gap_mm = std::move(gap_mm);
  now.pressure_mpa.resize(points);
  now.stiffness_n_per_mm.resize(points);
  for (Eigen::Index q = 0; q < points; ++q) {
    double guess = 0;
    if (near != nullptr) {
      // Along the tangent: below the pressure of a law that stiffens, whence Newton is steady.
      guess = near->pressure_mpa[q] +
              near->stiffness_n_per_mm[q] / area_mm2_[q] * (now.gap_mm[q] - near->gap_mm[q]);
    }
    const auto region = static_cast<std::size_t>(setup_.region[static_cast<std::size_t>(q)]);
    const ColumnLaw::Pressure p = setup_.laws[region].at(now.gap_mm[q], more_give_[q], guess);
    now.pressure_mpa[q] = p.mpa;
    now.stiffness_n_per_mm[q] = p.per_mm * area_mm2_[q];
    now.stored_n_mm += area_mm2_[q] * p.energy_n_mm;
  }
  return now;
}

ColumnField::TieForce ColumnField::tie_at(double extension_mm) const {
  if (!free_extension_) {
    return {};
  }
  if (load_.tie == nullptr) {
    return {mesh_.share * load_.pulled_n, 0, mesh_.share * load_.pulled_n * extension_mm};
  }
  const double u = extension_mm - load_.tie_zero_mm;
  const TieLaw::Force force = load_.tie->force_at(u);
  return {mesh_.share * force.n, mesh_.share * force.per_mm, mesh_.share * load_.tie->energy_at(u)};
}

double ColumnField::rounding_mm(double extension_mm) const {
  constexpr double roundings = 16 * std::numeric_limits<double>::epsilon();
  return roundings * (interference_mm_.cwiseAbs().maxCoeff() + std::abs(extension_mm));
}

double ColumnField::rounding_n_mm(const Answer& answer, double extension_mm) const {
  const double by = rounding_mm(extension_mm);
  return answer.stiffness_n_per_mm.sum() * by * by;
}

double ColumnField::noise_n_mm(const Answer& answer, double extension_mm) const {
  return force_n(answer).sum() * rounding_mm(extension_mm) + rounding_n_mm(answer, extension_mm);
}

void ColumnField::describe(const Answer& answer, double energy_n_mm, ColumnsState& state) const {
  state.pressure_mpa = answer.pressure_mpa;
  state.energy_n_mm = energy_n_mm / mesh_.share;
  state.force_n = per_face(force_n(answer));
  state.force_per_mm.assign(state.force_n.size(), 0);
  state.pressure_per_mm = Eigen::VectorXd::Zero(state.pressure_mpa.size());
}

void ColumnField::describe_slopes(const Answer& answer, const Eigen::VectorXd& moved_per_mm,
                                  ColumnsState& state) const {
  const Eigen::VectorXd force = answer.stiffness_n_per_mm.array() * (1 - moved_per_mm.array());
  state.force_per_mm = per_face(force);
  state.pressure_per_mm = force.cwiseQuotient(area_mm2_);
}

std::vector<double> ColumnField::per_face(const Eigen::VectorXd& of_points) const {
  std::vector<double> sums(mesh_.face_area_mm2.size(), 0);
  for (std::size_t q = 0; q < mesh_.points.size(); ++q) {
    sums[static_cast<std::size_t>(mesh_.points[q].face)] +=
        of_points[static_cast<Eigen::Index>(q)] / mesh_.share;
  }
  return sums;
}

void add_built(const ColumnsLoad& load, ColumnsState& state) {
  if (load.built != nullptr) {
    state.wall_mm += load.built->wall_mm;
    state.first_mm += load.built->first_mm;
    state.last_mm += load.built->last_mm;
  }
  state.first_bow_mm = std::max(0.0, state.first_mm.maxCoeff());
  state.last_bow_mm = std::max(0.0, state.last_mm.maxCoeff());
}

// --- Hessian over the walls' shapes -----------------------------------------------------------

Eigen::VectorXd ShapesHessian::moved_mm(const Eigen::VectorXd& unknowns) const {
  Eigen::VectorXd moved = shapes_ * unknowns.head(modes_);
  if (free_extension_) {
    moved.array() += unknowns[modes_];
  }
  return moved;
}

Eigen::VectorXd ShapesHessian::gathered(const Eigen::VectorXd& force_n) const {
  Eigen::VectorXd sums(size());
  sums.head(modes_).noalias() = shapes_.transpose() * force_n;
  if (free_extension_) {
    sums[modes_] = force_n.sum();
  }
  return sums;
}

Eigen::VectorXd ShapesHessian::times(const Eigen::VectorXd& stiffness_n_per_mm, double tie_per_mm,
                                     const Eigen::VectorXd& unknowns) const {
  Eigen::VectorXd product = gathered(stiffness_n_per_mm.cwiseProduct(moved_mm(unknowns)));
  product.head(modes_) += unknowns.head(modes_);
  if (free_extension_) {
    product[modes_] += tie_per_mm * unknowns[modes_];
  }
  return product;
}

bool ShapesHessian::factor(const Eigen::VectorXd& stiffness_n_per_mm, double tie_per_mm) {
  Eigen::MatrixXd hessian = Eigen::MatrixXd::Zero(size(), size());
  if (modes_ > 0) {  // between rigid walls there are none, and Eigen would take a null pointer
    const Eigen::VectorXd root = stiffness_n_per_mm.cwiseSqrt();
    const Eigen::MatrixXd scaled = root.asDiagonal() * shapes_;
    hessian.topLeftCorner(modes_, modes_)
        .selfadjointView<Eigen::Lower>()
        .rankUpdate(scaled.transpose());
    hessian.topLeftCorner(modes_, modes_).diagonal().array() += 1;
  }
  if (free_extension_) {
    const Eigen::VectorXd even = gathered(stiffness_n_per_mm);
    hessian.row(modes_).head(modes_) = even.head(modes_).transpose();
    hessian(modes_, modes_) = even[modes_] + tie_per_mm;
  }
  auto factor = std::make_shared<Factor>();
  if (size() > 0) {
    factor->compute(hessian.selfadjointView<Eigen::Lower>());
    if (factor->info() != Eigen::Success) {
      return false;
    }
  }
  factor_ = std::move(factor);
  return true;
}

Eigen::VectorXd ShapesHessian::solved(const Eigen::VectorXd& right) const {
  return right.size() == 0 ? right : Eigen::VectorXd(factor_->solve(right));
}

void ShapesHessian::adopt(std::shared_ptr<const Factor> factor) {
  if (factor != nullptr && factor->rows() == size()) {
    factor_ = std::move(factor);
  }
}

}  // namespace stackfit
