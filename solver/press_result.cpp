// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/press_result.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/fisher_f.hpp>
#include <cmath>

#include "geometry/outline.hpp"

namespace stackfit {
namespace {

using Eigen::MatrixXd;
using Eigen::Vector3d;
using Eigen::VectorXd;

// One sound test in a hundred is told that a load is off.
constexpr double false_alarm = 0.01;
// Standard errors from which the way back is said to differ.
constexpr double return_shows = 3;

class ResultMaker {
 public:
  ResultMaker(const PressFit& fit, const Assumptions& assumptions)
      : fit_(fit), law_(fit.law()), assumptions_(assumptions) {}

  PressResult make(const std::optional<WantedBand>& band) {
    add_fit();
    add_loads();
    add_band(band);
    add_outlier();
    add_way_back();
    add_warnings();
    add_assumed();
    return std::move(out_);
  }

 private:
  void add_fit() {
    out_.law = law_;
    out_.free_mm = fit_.span_of(PressFigure::free_mm);
    out_.a_mpa = fit_.span_of(PressFigure::a_mpa);
    out_.b = fit_.span_of(PressFigure::b);
    const Eigen::Matrix3d& covariance = fit_.covariance();
    out_.ln_a_ln_b_correlation = covariance(1, 2) / std::sqrt(covariance(1, 1) * covariance(2, 2));
    out_.nominal_mm = fit_.test().nominal_mm;
    out_.reading_error_mm = fit_.reading_error_mm();
    out_.error_source = fit_.error_source();
    out_.prior_used = fit_.prior_used();
    out_.fit_end = fit_.end();
    out_.readings = static_cast<int>(fit_.test().loading.size());
  }

  void add_loads() {
    const std::vector<double> residuals = fit_.residuals_mm();
    for (const PressLoad& load : fit_.loads()) {
      const auto count = static_cast<double>(load.readings.size());
      PressLoadResult result{load.pressure_mpa, load.thickness_mm, 0,
                             fit_.reading_error_mm() / std::sqrt(count),
                             static_cast<int>(load.readings.size())};
      for (const std::size_t i : load.readings) {
        result.residual_mm += residuals[i] / count;
      }
      out_.loads.push_back(result);
    }
    out_.reach_mpa = assumptions_[Assumed::press_reach] * out_.loads.back().pressure_mpa;
  }

  void add_band(const std::optional<WantedBand>& band) {
    const double highest = out_.loads.back().pressure_mpa;
    out_.band_from_loads = !band;
    out_.band = band.value_or(WantedBand{{out_.loads.front().pressure_mpa, highest}, false});
    // A band and a load from one and the same force differ by rounding only.
    constexpr double rounding = 1e-9;
    const auto within_reach = [&](double mpa) {
      return mpa <= out_.reach_mpa * (1 + rounding) ? std::optional(point_at(mpa)) : std::nullopt;
    };
    out_.low = within_reach(out_.band.mpa.low);
    out_.high = within_reach(out_.band.mpa.high);
    out_.middle = point_at(std::min((out_.band.mpa.low + out_.band.mpa.high) / 2, highest));
    add_middle();
  }

  // ln p = ln A + ln(exp(B strain) - 1) at a strain that stands: its slopes with ln A and ln B,
  // by the covariance (JCGM 100, eq. 13).
  [[nodiscard]] double ln_pressure_deviation(double mpa) const {
    const double over = mpa / law_.a_mpa;
    return deviation({0, 1, over > 0 ? (1 + 1 / over) * std::log1p(over) : 1});
  }
  [[nodiscard]] double deviation(const Vector3d& slopes) const {
    return std::sqrt(slopes.dot(fit_.covariance() * slopes));
  }
  [[nodiscard]] Span around(double value, double ln_deviation) const {
    const double factor = std::exp(fit_.coverage_factor() * ln_deviation);
    return {value / factor, value * factor};
  }

  [[nodiscard]] double assumed_mpa(double strain) const {
    return assumptions_[Assumed::squeeze_a] * std::expm1(assumptions_[Assumed::squeeze_b] * strain);
  }

  [[nodiscard]] PressPoint point_at(double mpa) const {
    const double strain = std::log1p(mpa / law_.a_mpa) / law_.b;
    const Assumption& a = assumption(Assumed::squeeze_a);
    PressPoint point;
    point.pressure_mpa = mpa;
    point.squeeze_mm = strain * fit_.test().nominal_mm;
    point.span_mpa = around(mpa, ln_pressure_deviation(mpa));
    point.assumed_mpa = assumed_mpa(strain);
    point.assumed_span_mpa = {point.assumed_mpa * a.low / a.value,
                              point.assumed_mpa * a.high / a.value};
    point.above_test = mpa > out_.loads.back().pressure_mpa;
    return point;
  }

  // Tangent at a pressure: B (A + p).
  void add_middle() {
    const double mpa = out_.middle.pressure_mpa;
    out_.tangent_mpa = law_.b * (law_.a_mpa + mpa);
    out_.give_mm_per_mpa = out_.nominal_mm / out_.tangent_mpa;
    const Vector3d slopes{0, law_.a_mpa / (law_.a_mpa + mpa), 1};
    out_.tangent_span_mpa = around(out_.tangent_mpa, deviation(slopes));
    out_.stiffer = mpa / out_.middle.assumed_mpa;
    out_.stiffer_span = around(out_.stiffer, ln_pressure_deviation(mpa));
  }

  // The load whose leaving out lowers the sum of squares beyond chance (Cook & Weisberg 1982,
  // ch. 2: deletion of a group, on the law's tangent), by Bonferroni over the loads.
  void add_outlier() {
    const std::vector<double> residuals = fit_.residuals_mm();
    double least_chance = false_alarm / static_cast<double>(fit_.loads().size());
    for (std::size_t k = 0; k < fit_.loads().size(); ++k) {
      const std::vector<std::size_t>& members = fit_.loads()[k].readings;
      const VectorXd off = deleted_residuals(members, residuals);
      double gain = 0;
      double farthest = 0;
      for (std::size_t i = 0; i < members.size(); ++i) {
        const double away = off[static_cast<Eigen::Index>(i)];
        gain += away * residuals[members[i]];
        farthest = std::abs(away) > std::abs(farthest) ? away : farthest;
      }
      const double chance = chance_of(gain, static_cast<int>(members.size()), residuals);
      if (chance < least_chance && std::abs(farthest) > assumptions_[Assumed::press_reading]) {
        least_chance = chance;
        out_.outlier = PressOutlier{k, farthest};
      }
    }
  }

  // (I - H)^-1 r over the readings of one load.
  [[nodiscard]] VectorXd deleted_residuals(const std::vector<std::size_t>& members,
                                           const std::vector<double>& residuals) const {
    const auto count = static_cast<Eigen::Index>(members.size());
    MatrixXd slopes(count, 3);
    VectorXd away(count);
    for (Eigen::Index i = 0; i < count; ++i) {
      const std::size_t reading = members[static_cast<std::size_t>(i)];
      slopes.row(i) = fit_.slopes_at(fit_.test().loading[reading].pressure_mpa);
      away[i] = residuals[reading];
    }
    const double variance = fit_.reading_error_mm() * fit_.reading_error_mm();
    if (!(variance > 0)) {
      return VectorXd::Zero(count);
    }
    const MatrixXd left = MatrixXd::Identity(count, count) -
                          slopes * (fit_.covariance() / variance) * slopes.transpose();
    return left.ldlt().solve(away);
  }

  // How often chance alone would lower the sum of squares so far.
  [[nodiscard]] double chance_of(double gain_mm2, int count,
                                 const std::vector<double>& residuals) const {
    const double error_mm = fit_.reading_error_mm();
    if (fit_.error_source() != ErrorSource::residuals) {
      const boost::math::chi_squared spread(count);
      return boost::math::cdf(
          boost::math::complement(spread, std::max(0.0, gain_mm2) / (error_mm * error_mm)));
    }
    double sum = 0;
    for (const double residual : residuals) {
      sum += residual * residual;
    }
    const int degrees = fit_.degrees_of_freedom() - count;
    const double rest = sum - gain_mm2;
    if (degrees < 1 || !(rest > 0) || !(gain_mm2 > 0)) {
      return 1;
    }
    const boost::math::fisher_f ratio(count, degrees);
    return boost::math::cdf(boost::math::complement(ratio, (gain_mm2 / count) / (rest / degrees)));
  }

  void add_way_back() {
    const std::vector<PressReading>& readings = fit_.test().unloading;
    if (readings.empty()) {
      return;
    }
    PressReturn back;
    back.readings = static_cast<int>(readings.size());
    const auto count = static_cast<double>(readings.size());
    Vector3d slopes = Vector3d::Zero();
    for (const PressReading& reading : readings) {
      back.thinner_mm += (fit_.thickness_at(reading.pressure_mpa) - reading.thickness_mm) / count;
      slopes += fit_.slopes_at(reading.pressure_mpa) / count;
    }
    const double error_mm =
        std::hypot(fit_.reading_error_mm() / std::sqrt(count), deviation(slopes));
    back.shows = std::abs(back.thinner_mm) > return_shows * error_mm;
    out_.way_back = back;
  }

  void add_warnings() {
    const auto warn = [&](bool applies, PressWarning code) {
      if (applies) {
        out_.warnings.push_back(code);
      }
    };
    warn(!out_.low || !out_.high, PressWarning::beyond_reach);
    warn(out_.prior_used, PressWarning::few_loads);
    warn(out_.outlier.has_value(), PressWarning::outlier);
    warn(fit_.scatters() && !out_.outlier, PressWarning::scatters);
    warn(fit_.end() == PressFitEnd::straight, PressWarning::straight);
    warn(fit_.end() == PressFitEnd::steep, PressWarning::steep);
    warn(fit_.end() == PressFitEnd::cap_reached, PressWarning::not_converged);
  }

  void add_assumed() {
    out_.assumed = {Assumed::squeeze_a, Assumed::squeeze_b};
    if (out_.prior_used) {
      out_.assumed.push_back(Assumed::press_b);
    }
    if (out_.error_source == ErrorSource::assumed) {
      out_.assumed.push_back(Assumed::press_reading);
    }
    out_.assumed.push_back(Assumed::press_reach);
  }

  const PressFit& fit_;
  const PressLaw law_;
  const Assumptions& assumptions_;
  PressResult out_;
};

}  // namespace

PressResult press_result(const PressFit& fit, const std::optional<WantedBand>& band,
                         const Assumptions& assumptions) {
  return ResultMaker(fit, assumptions).make(band);
}

double press_face_area_mm2(const FaceSize& face, const Assumptions& assumptions) {
  const double radius = face.corner_radius_mm.value_or(assumptions[Assumed::corner_radius]);
  return geometry::area_mm2(geometry::rounded_rectangle({face.width_mm, face.height_mm, radius}));
}

}  // namespace stackfit
