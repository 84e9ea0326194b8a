// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/dome_fit.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <limits>
#include <numeric>
#include <utility>

namespace stackfit {
namespace {

using Index = Eigen::Index;

constexpr Index plane_and_dome = 4;
constexpr Index with_exponent = 5;
constexpr Index dome_column = 3;
constexpr Index exponent_column = 4;

/// The points in use, in the face's own measures.
struct Sample {
  Eigen::VectorXd xi;
  Eigen::VectorXd eta;
  Eigen::VectorXd inside;  ///< (1 - xi^2)(1 - eta^2)
  Eigen::VectorXd z_mm;
  std::vector<std::size_t> index;  ///< of the points given

  [[nodiscard]] Index size() const { return z_mm.size(); }
};

Sample sample_of(const std::vector<FacePoint>& points, const HalfFace& face,
                 const std::vector<std::size_t>& used) {
  const auto count = static_cast<Index>(used.size());
  Sample s{Eigen::VectorXd(count), Eigen::VectorXd(count), Eigen::VectorXd(count),
           Eigen::VectorXd(count), used};
  for (Index i = 0; i < count; ++i) {
    const FacePoint& p = points[used[static_cast<std::size_t>(i)]];
    s.xi[i] = std::clamp(p.x_mm / face.width_mm, -1.0, 1.0);
    s.eta[i] = std::clamp(p.y_mm / face.height_mm, -1.0, 1.0);
    s.inside[i] = (1 - s.xi[i] * s.xi[i]) * (1 - s.eta[i] * s.eta[i]);
    s.z_mm[i] = p.z_mm;
  }
  return s;
}

/// Plane and dome of a given exponent, by least squares.
struct LinearFit {
  Eigen::VectorXd figures;  ///< offset, tilt_x, tilt_y, face_dome
  Eigen::VectorXd residual;
  bool determined = false;

  [[nodiscard]] double sum_of_squares() const { return residual.squaredNorm(); }
};

Eigen::MatrixXd shapes(const Sample& s, double q) {
  Eigen::MatrixXd a(s.size(), plane_and_dome);
  a << Eigen::VectorXd::Ones(s.size()), s.xi, s.eta, s.inside.array().pow(q).matrix();
  return a;
}

LinearFit fit_linear(const Sample& s, double q) {
  const Eigen::MatrixXd a = shapes(s, q);
  const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(a);
  const Eigen::VectorXd figures = qr.solve(s.z_mm);
  return {figures, s.z_mm - a * figures, qr.rank() == plane_and_dome};
}

/// Fit with what it rests on: derivatives by its figures, and their covariance per noise of 1.
struct Model {
  double q = 2;
  bool exponent_fitted = false;
  LinearFit linear;
  Eigen::MatrixXd slopes;
  Eigen::MatrixXd covariance;

  [[nodiscard]] Index degrees() const { return slopes.rows() - slopes.cols(); }
  [[nodiscard]] double noise_mm() const {
    return std::sqrt(linear.sum_of_squares() / static_cast<double>(std::max<Index>(1, degrees())));
  }
  [[nodiscard]] double error(Index column) const {
    return noise_mm() * std::sqrt(covariance(column, column));
  }
};

/// Derivative of a point's height by the exponent: h u^q ln u, and 0 at the edge, where u is 0.
Eigen::VectorXd by_exponent(const Sample& s, double q, double dome) {
  Eigen::VectorXd out(s.size());
  for (Index i = 0; i < s.size(); ++i) {
    const double u = s.inside[i];
    out[i] = u > 0 ? dome * std::pow(u, q) * std::log(u) : 0;
  }
  return out;
}

Model model_of(const Sample& s, double q, bool exponent_fitted) {
  Model m;
  m.q = q;
  m.exponent_fitted = exponent_fitted;
  m.linear = fit_linear(s, q);
  m.slopes.resize(s.size(), exponent_fitted ? with_exponent : plane_and_dome);
  m.slopes.leftCols(plane_and_dome) = shapes(s, q);
  if (exponent_fitted) {
    m.slopes.col(exponent_column) = by_exponent(s, q, m.linear.figures[dome_column]);
  }
  m.covariance = (m.slopes.transpose() * m.slopes)
                     .ldlt()
                     .solve(Eigen::MatrixXd::Identity(m.slopes.cols(), m.slopes.cols()));
  return m;
}

/// The exponent of least squares: variable projection (Golub and Pereyra 1973), the other figures
/// following from it, so that one number is sought; a ladder first, for there may be two minima.
double best_exponent(const Sample& s) {
  const auto miss = [&](double q) { return fit_linear(s, q).sum_of_squares(); };
  constexpr int steps = 14;
  constexpr double step = (exponent_sought.high - exponent_sought.low) / steps;
  double best = exponent_sought.low;
  double least = std::numeric_limits<double>::max();
  for (int i = 0; i <= steps; ++i) {
    const double q = exponent_sought.low + i * step;
    const double here = miss(q);
    if (here < least) {
      least = here;
      best = q;
    }
  }
  constexpr int bits = 26;  // half a double's digits: a minimum is no sharper
  return boost::math::tools::brent_find_minima(miss, std::max(exponent_sought.low, best - step),
                                               std::min(exponent_sought.high, best + step), bits)
      .first;
}

/// With the exponent where the points tell it, else with the assumed one.
Model best_model(const Sample& s, const AssumedExponent& assumed) {
  if (s.size() >= static_cast<Index>(least_points_for_exponent)) {
    Model free = model_of(s, best_exponent(s), true);
    // Not "greater than": an error that is no number is no knowledge either.
    if (std::abs(free.linear.figures[dome_column]) >= least_dome_for_exponent_mm &&
        free.error(exponent_column) <= greatest_exponent_error) {
      return free;
    }
  }
  return model_of(s, assumed.value, false);
}

/// The reading that belongs least to the rest of the sample.
struct Suspect {
  std::size_t place = 0;  ///< in the sample
  bool off = false;       ///< beyond what noise does
};

/// Deletion residuals (Cook and Weisberg 1982, eq. 2.2.8): each point against the fit of the
/// others, in units of its own standard error.
Suspect find_suspect(const Model& m) {
  const Eigen::MatrixXd hat_root = m.slopes * m.covariance;
  const auto degrees = static_cast<double>(m.degrees());
  const double noise = m.noise_mm();
  Suspect worst;
  double most = 0;
  double apart_mm = 0;
  for (Index i = 0; i < m.slopes.rows(); ++i) {
    const double leverage = hat_root.row(i).dot(m.slopes.row(i));
    constexpr double only_its_own = 1 - 1e-9;  // the fit goes through it whatever it reads
    if (!(leverage < only_its_own)) {
      continue;
    }
    const double residual = std::abs(m.linear.residual[i]);
    const double studentised = residual / std::sqrt(1 - leverage);
    if (studentised > most) {
      most = studentised;
      worst.place = static_cast<std::size_t>(i);
      apart_mm = residual / (1 - leverage);
    }
  }
  if (degrees < 2 || !(noise > 0) || apart_mm < least_outlier_mm) {
    return worst;
  }
  const double r2 = std::min(most * most / (noise * noise), degrees);
  const double left = std::max(degrees - r2, std::numeric_limits<double>::min());
  const double t = std::sqrt(r2 * (degrees - 1) / left);
  // Any of the points could have been it (Bonferroni), on either side.
  const double chance = false_outlier_chance / (2 * static_cast<double>(m.slopes.rows()));
  worst.off = t > boost::math::quantile(
                      boost::math::complement(boost::math::students_t(degrees - 1), chance));
  return worst;
}

/// How many readings may be off before it is the face that is not as taken.
std::size_t most_outliers(std::size_t points) {
  constexpr std::size_t one_in = 5;
  constexpr std::size_t most = 12;
  return std::min(points / one_in, most);
}

/// The points that stay. One after the other the worst is taken out; all up to the last one that
/// is off are outliers, since two that are off can hide each other (Rosner 1983).
std::vector<std::size_t> without_outliers(const std::vector<FacePoint>& points,
                                          const HalfFace& face, const AssumedExponent& assumed) {
  std::vector<std::size_t> used(points.size());
  std::iota(used.begin(), used.end(), std::size_t{0});
  std::vector<std::size_t> kept = used;
  const std::size_t most = most_outliers(points.size());
  for (std::size_t step = 0; step < most && used.size() > least_points_for_dome; ++step) {
    const Suspect suspect = find_suspect(best_model(sample_of(points, face, used), assumed));
    used.erase(used.begin() + static_cast<std::ptrdiff_t>(suspect.place));
    if (suspect.off) {
      kept = used;
    }
  }
  return kept;
}

/// What an assumed exponent's doubt is worth: its root mean square distance from the others that
/// are likely, all alike, times what the dome changes with it.
double assumed_share_mm(const Sample& s, const AssumedExponent& assumed) {
  const auto dome = [&](double q) { return fit_linear(s, q).figures[dome_column]; };
  const double low = assumed.span.low - assumed.value;
  const double high = assumed.span.high - assumed.value;
  if (!(high > low)) {
    return 0;
  }
  const double spread = std::sqrt((high * high * high - low * low * low) / (3 * (high - low)));
  return std::abs(dome(assumed.span.high) - dome(assumed.span.low)) / (high - low) * spread;
}

double assumed_spread(const AssumedExponent& assumed) {
  constexpr double uniform = 12;  // variance of a uniform distribution: its width squared over 12
  return (assumed.span.high - assumed.span.low) / std::sqrt(uniform);
}

ExponentFrom where_from(const Model& m, std::size_t points) {
  if (!m.exponent_fitted) {
    return points < least_points_for_exponent ? ExponentFrom::too_few_points
                                              : ExponentFrom::low_dome;
  }
  constexpr double close = 1e-3;
  return m.q < exponent_sought.low + close || m.q > exponent_sought.high - close
             ? ExponentFrom::at_end
             : ExponentFrom::fitted;
}

double height_at(const Model& m, const Sample& s, Index i) {
  return shapes(s, m.q).row(i).dot(m.linear.figures);
}

std::vector<OutlyingPoint> outliers_of(const std::vector<FacePoint>& points, const HalfFace& face,
                                       const std::vector<std::size_t>& kept, const Model& m) {
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (!std::binary_search(kept.begin(), kept.end(), i)) {
      out.push_back(i);
    }
  }
  const Sample left_out = sample_of(points, face, out);
  std::vector<OutlyingPoint> named;
  for (Index i = 0; i < left_out.size(); ++i) {
    named.push_back(
        {out[static_cast<std::size_t>(i)], left_out.z_mm[i] - height_at(m, left_out, i)});
  }
  return named;
}

/// Asked of one exponent whatever is assumed: points are well spread or not by their places alone.
bool well_spread(const Sample& s) {
  constexpr double held_plate = 2;
  const Model m = model_of(s, held_plate, false);
  return m.linear.determined &&
         std::sqrt(m.covariance(dome_column, dome_column)) <= greatest_noise_gain;
}

DomeFit described(const Sample& s, const Model& m, const AssumedExponent& assumed) {
  DomeFit fit;
  fit.offset_mm = m.linear.figures[0];
  fit.tilt_x_mm = m.linear.figures[1];
  fit.tilt_y_mm = m.linear.figures[2];
  fit.face_dome_mm = m.linear.figures[dome_column];
  fit.face_dome_error_mm = m.error(dome_column);
  fit.exponent = m.q;
  if (m.exponent_fitted) {
    fit.exponent_error = m.error(exponent_column);
  } else {
    fit.exponent_error = assumed_spread(assumed);
    fit.face_dome_error_mm = std::hypot(fit.face_dome_error_mm, assumed_share_mm(s, assumed));
  }
  fit.residual_mm = std::sqrt(m.linear.sum_of_squares() / static_cast<double>(s.size()));
  fit.used = static_cast<std::size_t>(s.size());
  fit.exponent_from = where_from(m, fit.used);
  return fit;
}

}  // namespace

DomeFitResult fit_dome(const std::vector<FacePoint>& points, const HalfFace& face,
                       const AssumedExponent& assumed) {
  if (points.size() < least_points_for_dome) {
    return {DomeFitStop::too_few_points, std::nullopt};
  }
  std::vector<std::size_t> all(points.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  if (!well_spread(sample_of(points, face, all))) {
    return {DomeFitStop::badly_spread, std::nullopt};
  }
  std::vector<std::size_t> kept = without_outliers(points, face, assumed);
  if (!well_spread(sample_of(points, face, kept))) {
    kept = all;  // what is left cannot judge those taken out
  }
  const Sample sample = sample_of(points, face, kept);
  const Model model = best_model(sample, assumed);
  DomeFit fit = described(sample, model, assumed);
  fit.outliers = outliers_of(points, face, kept, model);
  return {DomeFitStop::fitted, std::move(fit)};
}

}  // namespace stackfit
