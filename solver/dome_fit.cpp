// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/dome_fit.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <numeric>
#include <stdexcept>
#include <utility>

namespace stackfit {
namespace {

// A plate held at its edges has 2, a skin under gas 1; beyond these a fit chases noise.
constexpr double lowest_exponent = 0.5;
constexpr double highest_exponent = 4;
// Fewest readings that are asked for the exponent too.
constexpr std::size_t fewest_for_exponent = 8;
constexpr Eigen::Index plane_and_height = 4;
// No dial tells less: what is off by this is never out of line.
constexpr double finest_reading_mm = 0.001;

/// Readings that are still believed, with (1 - xi^2)(1 - eta^2) of each.
struct Believed {
  std::vector<std::size_t> index;
  Eigen::MatrixXd plane;  ///< columns 1, x, y in halves of the face
  Eigen::VectorXd across;
  Eigen::VectorXd z_mm;

  [[nodiscard]] Eigen::Index count() const { return z_mm.size(); }
  [[nodiscard]] Eigen::MatrixXd design(double exponent) const {
    Eigen::MatrixXd columns(count(), plane_and_height);
    columns << plane, across.array().pow(exponent).matrix();
    return columns;
  }
};

Believed believed_of(const std::vector<geometry::SpacePoint>& readings, const FaceHalf& face,
                     const std::vector<std::size_t>& index) {
  Believed out;
  out.index = index;
  const auto count = static_cast<Eigen::Index>(index.size());
  out.plane.resize(count, 3);
  out.across.resize(count);
  out.z_mm.resize(count);
  for (Eigen::Index i = 0; i < count; ++i) {
    const geometry::SpacePoint& p = readings[index[static_cast<std::size_t>(i)]];
    const double xi = p.x_mm / face.width_mm;
    const double eta = p.y_mm / face.height_mm;
    out.plane.row(i) << 1, xi, eta;
    out.across[i] = std::max(0.0, 1 - xi * xi) * std::max(0.0, 1 - eta * eta);
    out.z_mm[i] = p.z_mm;
  }
  return out;
}

struct Linear {
  Eigen::VectorXd terms;  ///< plane at the middle, both tilts, height
  double squares = 0;     ///< sum of squared residuals
};

Linear solve_at(const Believed& data, double exponent) {
  const Eigen::MatrixXd design = data.design(exponent);
  Linear out;
  out.terms = design.colPivHouseholderQr().solve(data.z_mm);
  out.squares = (data.z_mm - design * out.terms).squaredNorm();
  return out;
}

/// The exponent of least squares: the best of a coarse scan, since there may be two valleys, then
/// Brent's method beside it.
double best_exponent(const Believed& data) {
  const auto squares = [&](double exponent) { return solve_at(data, exponent).squares; };
  constexpr double step = 0.125;
  double best = lowest_exponent;
  for (double q = lowest_exponent; q <= highest_exponent; q += step) {
    best = squares(q) < squares(best) ? q : best;
  }
  const double low = std::max(lowest_exponent, best - step);
  const double high = std::min(highest_exponent, best + step);
  constexpr int bits = 26;  // a minimum is no sharper than half the digits
  return boost::math::tools::brent_find_minima(squares, low, high, bits).first;
}

struct Fitted {
  double exponent = 0;
  bool exponent_free = false;
  Eigen::VectorXd terms;
  Eigen::MatrixXd covariance;  ///< of the terms, then of the exponent where it is free
  Eigen::VectorXd residuals;
  Eigen::VectorXd leverage;
  Eigen::Index freedom = 0;
  double squares = 0;
};

/// d reading / d unknowns at the solution.
Eigen::MatrixXd slopes(const Believed& data, double exponent, double height, bool exponent_free) {
  Eigen::MatrixXd columns = data.design(exponent);
  if (exponent_free) {
    columns.conservativeResize(Eigen::NoChange, plane_and_height + 1);
    for (Eigen::Index i = 0; i < data.count(); ++i) {
      const double across = data.across[i];
      columns(i, plane_and_height) =
          across > 0 ? height * std::pow(across, exponent) * std::log(across) : 0;
    }
  }
  return columns;
}

Fitted fit_at(const Believed& data, double exponent, bool exponent_free) {
  Fitted out;
  out.exponent = exponent;
  out.exponent_free = exponent_free;
  const Linear linear = solve_at(data, exponent);
  out.terms = linear.terms;
  out.squares = linear.squares;
  out.residuals = data.z_mm - data.design(exponent) * linear.terms;
  const Eigen::MatrixXd slope = slopes(data, exponent, linear.terms[3], exponent_free);
  const auto qr = slope.colPivHouseholderQr();
  if (qr.rank() < slope.cols()) {
    return out;  // no covariance: the readings do not tell the unknowns apart
  }
  const Eigen::MatrixXd inverse = (slope.transpose() * slope)
                                      .ldlt()
                                      .solve(Eigen::MatrixXd::Identity(slope.cols(), slope.cols()));
  out.freedom = data.count() - slope.cols();
  out.leverage = (slope * inverse).cwiseProduct(slope).rowwise().sum();
  out.covariance = inverse * (linear.squares / static_cast<double>(out.freedom));
  return out;
}

/// With the exponent where the readings tell it, else with the assumed one.
Fitted fit_once(const Believed& data, double assumed_exponent) {
  if (data.index.size() >= fewest_for_exponent) {
    const double exponent = best_exponent(data);
    const bool inside = exponent > 1.01 * lowest_exponent && exponent < 0.99 * highest_exponent;
    if (inside) {
      Fitted free = fit_at(data, exponent, true);
      // An exponent that is not known to a half of itself says nothing of the shape.
      const bool known =
          free.covariance.size() > 0 &&
          std::sqrt(free.covariance(plane_and_height, plane_and_height)) < exponent / 2;
      if (known) {
        return free;
      }
    }
  }
  return fit_at(data, assumed_exponent, false);
}

/// The reading furthest out of line, as an index into the believed ones; none where all agree.
/// Externally studentized residuals (Cook & Weisberg 1982, eq. 2.2.8).
std::optional<Eigen::Index> worst_out_of_line(const Fitted& fit, double alarm) {
  if (fit.freedom < 2) {
    return {};
  }
  const auto freedom = static_cast<double>(fit.freedom);
  double worst = 0;
  Eigen::Index at = 0;
  for (Eigen::Index i = 0; i < fit.residuals.size(); ++i) {
    const double free_share = 1 - fit.leverage[i];
    // A reading the fit goes through whatever it says, or one as near as any can be.
    if (free_share < 1e-6 || std::abs(fit.residuals[i]) < finest_reading_mm) {
      continue;
    }
    const double r2 = fit.residuals[i] * fit.residuals[i];
    const double without = std::max(0.0, fit.squares - r2 / free_share) / (freedom - 1);
    const double t = without > 0 ? std::abs(fit.residuals[i]) / std::sqrt(without * free_share) : 0;
    if (t > worst) {
      worst = t;
      at = i;
    }
  }
  const boost::math::students_t law(freedom - 1);
  const double chance = alarm / static_cast<double>(fit.residuals.size()) / 2;
  return worst > boost::math::quantile(boost::math::complement(law, chance)) ? std::optional(at)
                                                                             : std::nullopt;
}

void require_readings(const std::vector<geometry::SpacePoint>& readings, const FaceHalf& face) {
  if (readings.size() < fewest_dome_readings) {
    throw std::invalid_argument("too few readings for a dome");
  }
  for (const geometry::SpacePoint& p : readings) {
    if (!(std::abs(p.x_mm) <= face.width_mm) || !(std::abs(p.y_mm) <= face.height_mm) ||
        !std::isfinite(p.z_mm)) {
      throw std::invalid_argument("a reading outside the face");
    }
  }
}

double residual_at(const geometry::SpacePoint& p, const FaceHalf& face, const DomeFit& fit) {
  const double xi = p.x_mm / face.width_mm;
  const double eta = p.y_mm / face.height_mm;
  const double across = std::max(0.0, 1 - xi * xi) * std::max(0.0, 1 - eta * eta);
  return p.z_mm - (fit.rim_mm + fit.tilt_x * p.x_mm + fit.tilt_y * p.y_mm +
                   fit.height_mm * std::pow(across, fit.exponent));
}

}  // namespace

DomeFit fit_dome(const std::vector<geometry::SpacePoint>& readings, const FaceHalf& face,
                 double assumed_exponent) {
  require_readings(readings, face);
  constexpr double alarm = 0.01;       // so often one of clean readings is called out of line
  constexpr double most_share = 0.25;  // more than that out of line, and the shape is another
  std::vector<std::size_t> index(readings.size());
  std::iota(index.begin(), index.end(), std::size_t{0});
  const auto fewest =
      readings.size() - static_cast<std::size_t>(most_share * static_cast<double>(readings.size()));
  Believed data = believed_of(readings, face, index);
  Fitted fit = fit_once(data, assumed_exponent);
  std::vector<std::size_t> left_out;
  while (index.size() > fewest && index.size() > fewest_dome_readings) {
    const auto worst = worst_out_of_line(fit, alarm);
    if (!worst) {
      break;
    }
    left_out.push_back(index[static_cast<std::size_t>(*worst)]);
    index.erase(index.begin() + *worst);
    data = believed_of(readings, face, index);
    fit = fit_once(data, assumed_exponent);
  }
  if (fit.covariance.size() == 0) {
    throw std::invalid_argument("readings that do not tell a dome from a tilt");
  }
  DomeFit out;
  out.height_mm = fit.terms[3];
  out.height_error_mm = std::sqrt(fit.covariance(3, 3));
  out.exponent = fit.exponent;
  if (fit.exponent_free) {
    out.exponent_error = std::sqrt(fit.covariance(plane_and_height, plane_and_height));
  }
  out.rim_mm = fit.terms[0];
  out.tilt_x = fit.terms[1] / face.width_mm;
  out.tilt_y = fit.terms[2] / face.height_mm;
  out.residual_mm = std::sqrt(fit.squares / static_cast<double>(fit.freedom));
  out.used = index.size();
  for (const std::size_t i : left_out) {
    out.outliers.push_back({i, residual_at(readings[i], face, out)});
  }
  return out;
}

}  // namespace stackfit
