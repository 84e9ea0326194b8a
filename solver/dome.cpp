// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/dome.hpp"

#include <boost/math/quadrature/gauss.hpp>
#include <cmath>

namespace stackfit {
namespace {

using Gauss = boost::math::quadrature::gauss<double, 30>;

/// Where (1 - t^2)^q falls to `level`: the bulge begins there. 0 when it never exceeds it.
double rim_of(double level, double q) {
  if (level >= 1) {
    return 0;
  }
  return std::sqrt(1 - std::pow(level, 1 / q));
}

}  // namespace

double mean_bulge_mm(const Dome& dome) {
  const double q = dome.exponent;
  const auto profile = [q](double t) { return std::pow(1 - t * t, q); };
  if (dome.height_mm <= 0) {
    const double mean = Gauss::integrate(profile, 0.0, 1.0);
    return dome.height_mm * mean * mean;
  }
  if (dome.slack_mm >= dome.height_mm) {
    return 0;
  }
  const auto strip = [&](double xi) {
    const double height = dome.height_mm * profile(xi);
    const double rim = rim_of(dome.slack_mm / height, q);
    const auto bulge = [&](double eta) { return height * profile(eta) - dome.slack_mm; };
    return rim > 0 ? Gauss::integrate(bulge, 0.0, rim) : 0.0;
  };
  return Gauss::integrate(strip, 0.0, rim_of(dome.slack_mm / dome.height_mm, q));
}

}  // namespace stackfit
