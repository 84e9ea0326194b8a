// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/law.hpp"

#include <math.h>  // NOLINT(modernize-deprecated-headers): before pchip.hpp: Boost 1.74 calls the unqualified functions

#include <algorithm>
#include <boost/math/interpolators/pchip.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <utility>

namespace stackfit {

// --- linear ---------------------------------------------------------------------------------

LinearLaw::LinearLaw(double modulus_mpa, double known_up_to_mpa)
    : modulus_mpa_(modulus_mpa), known_up_to_mpa_(known_up_to_mpa) {
  if (!(modulus_mpa > 0) || !(known_up_to_mpa > 0)) {
    throw std::invalid_argument("a linear law needs a modulus and a limit above zero");
  }
}

SqueezeLaw::Strain LinearLaw::strain_at(double pressure_mpa) const {
  return {pressure_mpa / modulus_mpa_, 1 / modulus_mpa_};
}
double LinearLaw::pressure_at(double strain) const {
  return modulus_mpa_ * strain;
}
double LinearLaw::energy_at(double strain) const {
  return 0.5 * modulus_mpa_ * strain * strain;
}

// --- exponential ----------------------------------------------------------------------------

ExponentialLaw::ExponentialLaw(const Constants& constants)
    : constants_(constants),
      tangent_strain_(std::log1p(constants.tangent_above_mpa / constants.a_mpa) / constants.b),
      tangent_mpa_(constants.b * (constants.a_mpa + constants.tangent_above_mpa)) {
  if (!(constants.a_mpa > 0) || !(constants.b > 0) || !(constants.tangent_above_mpa > 0)) {
    throw std::invalid_argument("a squeeze law needs A, B and its limit above zero");
  }
}

SqueezeLaw::Strain ExponentialLaw::strain_at(double pressure_mpa) const {
  const auto& [a, b, top] = constants_;
  if (pressure_mpa > top) {
    return {tangent_strain_ + (pressure_mpa - top) / tangent_mpa_, 1 / tangent_mpa_};
  }
  return {std::log1p(pressure_mpa / a) / b, 1 / (b * (a + pressure_mpa))};
}

double ExponentialLaw::pressure_at(double strain) const {
  const auto& [a, b, top] = constants_;
  if (strain > tangent_strain_) {
    return top + tangent_mpa_ * (strain - tangent_strain_);
  }
  return a * std::expm1(b * strain);
}

namespace {

/// exp(x) - 1 - x, x >= 0, to the last digits also where x is small.
double exp_less_tangent(double x) {
  constexpr double small = 0.02;
  if (x > small) {
    return std::expm1(x) - x;
  }
  return x * x *
         (1.0 / 2 + x * (1.0 / 6 + x * (1.0 / 24 + x * (1.0 / 120 + x * (1.0 / 720 + x / 5040)))));
}

}  // namespace

double ExponentialLaw::energy_at(double strain) const {
  const auto& [a, b, top] = constants_;
  const double curved = std::min(strain, tangent_strain_);
  const double beyond = strain - curved;
  return a / b * exp_less_tangent(b * curved) + top * beyond + 0.5 * tangent_mpa_ * beyond * beyond;
}

// --- table ----------------------------------------------------------------------------------

namespace {

void require_rising_from_zero(const std::vector<double>& column) {
  if (column.size() < 2 || column.front() != 0) {
    throw std::invalid_argument("a table law starts at (0, 0) and has two or more points");
  }
  for (std::size_t i = 1; i < column.size(); ++i) {
    if (!(column[i] > column[i - 1]) || !std::isfinite(column[i])) {
      throw std::invalid_argument("both columns of a table law rise from point to point");
    }
  }
}

/// Slope at the end of a table from its two nearest pieces, limited so that the curve keeps its
/// shape: the three-point formula of SciPy's PchipInterpolator. Boost's own end slope is the
/// secant, which is too soft at the stiff end of a foam.
double pchip_end_slope(double width, double next_width, double secant, double next_secant) {
  const double slope =
      ((2 * width + next_width) * secant - width * next_secant) / (width + next_width);
  if (slope <= 0) {
    return 0;  // secants of a law are positive
  }
  return std::min(slope, 3 * secant);
}

std::vector<double> pchip_slopes(const std::vector<double>& x, const std::vector<double>& y) {
  constexpr std::size_t pchip_needs = 4;
  std::vector<double> slope(x.size());
  if (x.size() >= pchip_needs) {
    std::vector<double> knots = x;
    std::vector<double> values = y;
    const std::size_t n = x.size() - 1;
    const auto width = [&](std::size_t i) { return x[i + 1] - x[i]; };
    const auto secant = [&](std::size_t i) { return (y[i + 1] - y[i]) / width(i); };
    const boost::math::interpolators::pchip<std::vector<double>> curve(
        std::move(knots), std::move(values),
        pchip_end_slope(width(0), width(1), secant(0), secant(1)),
        pchip_end_slope(width(n - 1), width(n - 2), secant(n - 1), secant(n - 2)));
    std::transform(x.begin(), x.end(), slope.begin(), [&](double at) { return curve.prime(at); });
    return slope;
  }
  const double secant = y.back() / x.back();
  std::fill(slope.begin(), slope.end(), secant);
  return slope;
}

}  // namespace

/// One cubic Hermite piece; t runs from 0 to 1 along it.
struct TableLaw::Segment {
  double width = 0;
  double p0 = 0, p1 = 0;  // pressures at its ends
  double m0 = 0, m1 = 0;  // slopes times width

  [[nodiscard]] double value(double t) const {
    return p0 + t * (m0 + t * (3 * (p1 - p0) - 2 * m0 - m1 + t * (2 * (p0 - p1) + m0 + m1)));
  }
  [[nodiscard]] double derivative(double t) const {
    return m0 + t * (2 * (3 * (p1 - p0) - 2 * m0 - m1) + t * 3 * (2 * (p0 - p1) + m0 + m1));
  }
  [[nodiscard]] double integral(double t) const {
    return width * t *
           (p0 + t * (m0 / 2 +
                      t * ((3 * (p1 - p0) - 2 * m0 - m1) / 3 + t * (2 * (p0 - p1) + m0 + m1) / 4)));
  }
  /// t with value(t) = pressure, by Newton kept inside a shrinking bracket.
  [[nodiscard]] double solve(double pressure) const {
    double low = 0;
    double high = 1;
    double t = (pressure - p0) / (p1 - p0);
    for (int step = 0; step < 60; ++step) {
      const double miss = value(t) - pressure;
      (miss > 0 ? high : low) = t;
      const double newton = t - miss / derivative(t);
      if (std::abs(newton - t) <= 4 * std::numeric_limits<double>::epsilon()) {
        return t;  // rounding alone may put the last step outside the bracket
      }
      const double next = newton > low && newton < high ? newton : 0.5 * (low + high);
      t = next;
    }
    return t;
  }
};

TableLaw::TableLaw(std::vector<double> strain, std::vector<double> pressure_mpa)
    : strain_(std::move(strain)), pressure_mpa_(std::move(pressure_mpa)) {
  if (strain_.size() != pressure_mpa_.size()) {
    throw std::invalid_argument("a table law has as many strains as pressures");
  }
  require_rising_from_zero(strain_);
  require_rising_from_zero(pressure_mpa_);
  if (strain_.size() == 3) {  // too short for PCHIP: halve its first straight line
    strain_.insert(strain_.begin() + 1, 0.5 * strain_[1]);
    pressure_mpa_.insert(pressure_mpa_.begin() + 1, 0.5 * pressure_mpa_[1]);
  }
  slope_mpa_ = pchip_slopes(strain_, pressure_mpa_);
  const std::size_t last = strain_.size() - 1;
  const double last_secant =
      (pressure_mpa_[last] - pressure_mpa_[last - 1]) / (strain_[last] - strain_[last - 1]);
  tangent_mpa_ = std::max(slope_mpa_[last], last_secant);
  energy_mpa_.assign(1, 0);
  for (std::size_t i = 0; i < last; ++i) {
    energy_mpa_.push_back(energy_mpa_.back() + segment(i).integral(1));
  }
}

TableLaw::Segment TableLaw::segment(std::size_t index) const {
  const double width = strain_[index + 1] - strain_[index];
  return {width, pressure_mpa_[index], pressure_mpa_[index + 1], slope_mpa_[index] * width,
          slope_mpa_[index + 1] * width};
}

SqueezeLaw::Strain TableLaw::strain_at(double pressure_mpa) const {
  if (pressure_mpa >= pressure_mpa_.back()) {
    return {strain_.back() + (pressure_mpa - pressure_mpa_.back()) / tangent_mpa_,
            1 / tangent_mpa_};
  }
  const auto above = std::upper_bound(pressure_mpa_.begin(), pressure_mpa_.end(), pressure_mpa);
  const auto index = static_cast<std::size_t>(above - pressure_mpa_.begin()) - 1;
  const Segment piece = segment(index);
  const double t = pressure_mpa > piece.p0 ? piece.solve(pressure_mpa) : 0;
  // A flat spot of the cubic has no finite slope; the secant stands in for it.
  const double rise = std::max(piece.derivative(t), 1e-6 * (piece.p1 - piece.p0));
  return {strain_[index] + t * piece.width, piece.width / rise};
}

double TableLaw::pressure_at(double strain) const {
  if (strain >= strain_.back()) {
    return pressure_mpa_.back() + tangent_mpa_ * (strain - strain_.back());
  }
  const auto above = std::upper_bound(strain_.begin(), strain_.end(), strain);
  const auto index = static_cast<std::size_t>(above - strain_.begin()) - 1;
  const Segment piece = segment(index);
  return piece.value((strain - strain_[index]) / piece.width);
}

double TableLaw::energy_at(double strain) const {
  if (strain >= strain_.back()) {
    const double beyond = strain - strain_.back();
    return energy_mpa_.back() + beyond * (pressure_mpa_.back() + 0.5 * tangent_mpa_ * beyond);
  }
  const auto above = std::upper_bound(strain_.begin(), strain_.end(), strain);
  const auto index = static_cast<std::size_t>(above - strain_.begin()) - 1;
  const Segment piece = segment(index);
  return energy_mpa_[index] + piece.integral((strain - strain_[index]) / piece.width);
}

// --- relaxed --------------------------------------------------------------------------------

RelaxedLaw::RelaxedLaw(LawPtr fresh, double share) : fresh_(std::move(fresh)), share_(share) {
  if (!(share > 0) || !(share <= 1)) {
    throw std::invalid_argument("a relaxed law keeps a share of the pressure in (0, 1]");
  }
}

SqueezeLaw::Strain RelaxedLaw::strain_at(double pressure_mpa) const {
  const Strain strain = fresh_->strain_at(pressure_mpa / share_);
  return {strain.value, strain.per_mpa / share_};
}
double RelaxedLaw::pressure_at(double strain) const {
  return share_ * fresh_->pressure_at(strain);
}
double RelaxedLaw::energy_at(double strain) const {
  return share_ * fresh_->energy_at(strain);
}
double RelaxedLaw::known_up_to_mpa() const {
  return share_ * fresh_->known_up_to_mpa();
}

}  // namespace stackfit
