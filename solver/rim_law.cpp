// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/rim_law.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace stackfit {

RimLaw::RimLaw(const Constants& constants)
    : constants_(constants),
      straight_mpa_(straight_share * constants.buckling_mpa),
      straight_(straight_mpa_ / constants.modulus_mpa),
      steepen_per_mpa_(-std::log(slope_after_buckling) / (constants.buckling_mpa - straight_mpa_)),
      buckled_(straight_ +
               (1 / slope_after_buckling - 1) / (steepen_per_mpa_ * constants.modulus_mpa)) {
  if (!(constants.modulus_mpa > 0) || !(constants.buckling_mpa > 0)) {
    throw std::invalid_argument("a rim needs a modulus and a buckling pressure above zero");
  }
}

SqueezeLaw::Strain RimLaw::strain_at(double pressure_mpa) const {
  const auto& [modulus, buckling] = constants_;
  if (pressure_mpa <= straight_mpa_) {
    return {pressure_mpa / modulus, 1 / modulus};
  }
  if (pressure_mpa >= buckling) {
    const double per_mpa = 1 / (slope_after_buckling * modulus);
    return {buckled_ + (pressure_mpa - buckling) * per_mpa, per_mpa};
  }
  const double grown = steepen_per_mpa_ * (pressure_mpa - straight_mpa_);
  return {straight_ + std::expm1(grown) / (steepen_per_mpa_ * modulus), std::exp(grown) / modulus};
}

double RimLaw::pressure_at(double strain) const {
  const auto& [modulus, buckling] = constants_;
  if (strain <= straight_) {
    return modulus * strain;
  }
  if (strain >= buckled_) {
    return buckling + slope_after_buckling * modulus * (strain - buckled_);
  }
  return straight_mpa_ +
         std::log1p(steepen_per_mpa_ * modulus * (strain - straight_)) / steepen_per_mpa_;
}

double RimLaw::energy_at(double strain) const {
  const auto& [modulus, buckling] = constants_;
  const double straight = std::min(strain, straight_);
  double energy = 0.5 * modulus * straight * straight;
  if (strain <= straight_) {
    return energy;
  }
  // Between: p = straight + y, d strain = exp(k y) / E dy; integral of y exp(k y) dy from zero.
  const double k = steepen_per_mpa_;
  const double curved = std::min(strain, buckled_) - straight_;
  const double grown = std::log1p(k * modulus * curved);
  energy += straight_mpa_ * curved +
            ((1 + k * modulus * curved) * grown - k * modulus * curved) / (k * k * modulus);
  if (strain > buckled_) {
    const double beyond = strain - buckled_;
    energy += beyond * (buckling + 0.5 * slope_after_buckling * modulus * beyond);
  }
  return energy;
}

std::vector<double> RimLaw::bends_mpa() const {
  const double halvings = -std::log2(slope_after_buckling);
  const int pieces = static_cast<int>(std::ceil(2 * halvings));
  std::vector<double> at;
  for (int i = 0; i <= pieces; ++i) {
    at.push_back(straight_mpa_ + (constants_.buckling_mpa - straight_mpa_) * i / pieces);
  }
  return at;
}

}  // namespace stackfit
