// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/springs.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace stackfit {
namespace {

constexpr double pi = 3.14159265358979323846;
constexpr int step_cap = 200;
/// A step below this share of the deflection is rounding.
constexpr double relative_step = 4 * std::numeric_limits<double>::epsilon();

void require(bool usable, const char* what) {
  if (!usable) {
    throw std::invalid_argument(what);
  }
}

/// Above zero and a number one can compute with.
bool positive(double value) {
  return value > 0 && std::isfinite(value);
}

void require_usable(const Stacking& stacking) {
  require(stacking.parallel >= 1 && stacking.series >= 1,
          "a set of springs needs one or more side by side and one or more in series");
}

void require_usable(const HelicalWire& wire) {
  require(positive(wire.wire_mm) && positive(wire.mean_diameter_mm) &&
              positive(wire.active_coils) && positive(wire.shear_modulus_mpa),
          "a helical spring needs a wire, a diameter, coils and a shear modulus above zero");
}

void require_usable(const DiscSpring& disc) {
  require(positive(disc.inner_diameter_mm) && positive(disc.outer_diameter_mm) &&
              disc.outer_diameter_mm > disc.inner_diameter_mm,
          "a disc spring needs a hole smaller than its outer diameter");
  require(
      positive(disc.thickness_mm) && positive(disc.cone_height_mm) && positive(disc.modulus_mpa),
      "a disc spring needs a thickness, a cone height and a modulus above zero");
  require(disc.poisson > -1 && disc.poisson < 0.5, "a Poisson ratio lies between -1 and 0.5");
  require(!disc.reduced_thickness_mm || (positive(*disc.reduced_thickness_mm) &&
                                         *disc.reduced_thickness_mm <= disc.thickness_mm),
          "contact flats make a disc thinner, not thicker");
}

double thickness_as_made_mm(const DiscSpring& disc) {
  return disc.reduced_thickness_mm.value_or(disc.thickness_mm);
}

/// K1 of DIN EN 16984, from the ratio of the diameters.
double ratio_factor(double outer_over_inner) {
  const double d = outer_over_inner;
  const double rim = (d - 1) / d;
  return rim * rim / (pi * ((d + 1) / (d - 1) - 2 / std::log(d)));
}

/// K4^2 of DIN EN 16984 (from memory; promise 5 holds it): 1 without contact flats.
double flats_factor_squared(const DiscSpring& disc) {
  if (!disc.reduced_thickness_mm) return 1;
  const double thin = *disc.reduced_thickness_mm / disc.thickness_mm;
  const double high = disc.height_mm() / disc.thickness_mm;
  const double cone = high - 1;
  const double c1 = thin * thin / ((high / 4 - thin + 0.75) * (5 * high / 8 - thin + 0.375));
  const double c2 = c1 / (thin * thin * thin) * (5 * cone * cone / 32 + 1);
  // -c1/2 + sqrt(c1^2/4 + c2), written so that a flat cone (large c1) loses no digits.
  return c2 / (c1 / 2 + std::sqrt(c1 * c1 / 4 + c2));
}

/// Zero of a rising function between two ends, by Newton's steps kept inside the bracket.
/// `at` returns {value, slope}.
template <typename Function>
double rising_zero(const Function& at, double low, double high) {
  double s = low;
  for (int step = 0; step < step_cap; ++step) {
    const SpringSet::Force f = at(s);
    (f.n > 0 ? high : low) = s;
    const double newton = s - f.n / f.per_mm;
    const double next = newton >= low && newton <= high ? newton : 0.5 * (low + high);
    if (std::abs(next - s) <= relative_step * std::abs(s) || f.n == 0) {
      return f.n == 0 ? s : next;
    }
    s = next;
  }
  return s;
}

}  // namespace

double helical_rate_n_per_mm(const HelicalWire& wire) {
  require_usable(wire);
  const double d2 = wire.wire_mm * wire.wire_mm;
  const double coil = wire.mean_diameter_mm;
  return wire.shear_modulus_mpa * d2 * d2 / (8 * coil * coil * coil * wire.active_coils);
}

double ground_solid_length_mm(const HelicalWire& wire) {
  require_usable(wire);
  return (wire.active_coils + 2) * wire.wire_mm;
}

// --- making a set -----------------------------------------------------------------------------

SpringSet::SpringSet(const Cubic& force, const Lengths& lengths)
    : force_(force),
      free_length_mm_(lengths.free_mm),
      travel_mm_(lengths.travel_mm),
      recommended_mm_(std::min(lengths.recommended_mm, lengths.travel_mm)),
      rises_up_to_mm_(lengths.travel_mm) {
  // First zero of the slope c1 + 2 c2 s + 3 c3 s^2, where it has one.
  const double root = force.c2 * force.c2 - 3 * force.c1 * force.c3;
  if (force.c2 < 0 && root > 0) {
    rises_up_to_mm_ = std::min(travel_mm_, force.c1 / (std::sqrt(root) - force.c2));
  }
}

SpringSet::Cubic SpringSet::stacked(const Cubic& one, const Stacking& stacking) {
  const double n = stacking.parallel;
  const double m = stacking.series;
  return {n * one.c1 / m, n * one.c2 / (m * m), n * one.c3 / (m * m * m)};
}

SpringSet SpringSet::helical(const HelicalSpring& spring, const Stacking& stacking) {
  require_usable(stacking);
  require(positive(spring.rate_n_per_mm) && positive(spring.solid_length_mm) &&
              positive(spring.free_length_mm) && spring.solid_length_mm < spring.free_length_mm,
          "a helical spring needs a rate and a solid length above zero and below its free length");
  const double travel = stacking.series * (spring.free_length_mm - spring.solid_length_mm);
  return {stacked({spring.rate_n_per_mm, 0, 0}, stacking),
          {stacking.series * spring.free_length_mm, travel, travel / helical_solid_over_working}};
}

/// Almen & Laszlo, "The uniform-section disk spring", Trans. ASME 58 (1936), as in DIN EN 16984:
///   F = 4E/(1-nu^2) t^4/(K1 De^2) K4^2 (s/t) [K4^2 (h0/t - s/t)(h0/t - s/(2t)) + 1],
/// with contact flats t' for t and h0' = l0 - t' for h0. Multiplied out in powers of s.
SpringSet::Cubic SpringSet::disc_force(const DiscSpring& disc) {
  const double t = thickness_as_made_mm(disc);
  const double cone = (disc.height_mm() - t) / t;
  const double k = flats_factor_squared(disc);
  const double de = disc.outer_diameter_mm;
  const double unit = 4 * disc.modulus_mpa / (1 - disc.poisson * disc.poisson) * t * t * t * t /
                      (ratio_factor(de / disc.inner_diameter_mm) * de * de) * k;
  return {unit * (k * cone * cone + 1) / t, -unit * 1.5 * k * cone / (t * t),
          unit * 0.5 * k / (t * t * t)};
}

SpringSet SpringSet::discs(const DiscSpring& disc, const Stacking& stacking) {
  require_usable(stacking);
  require_usable(disc);
  const double t = thickness_as_made_mm(disc);
  const double one_stack = disc.height_mm() + (stacking.parallel - 1) * t;
  return {stacked(disc_force(disc), stacking),
          {stacking.series * one_stack, stacking.series * (disc.height_mm() - t),
           stacking.series * disc_recommended_share * disc.cone_height_mm}};
}

SpringSet SpringSet::with_stop_at(double deflection_mm) const {
  require(deflection_mm > 0 && deflection_mm <= travel_mm_,
          "a stop carries from somewhere within the springs' travel on");
  return {force_, {free_length_mm_, deflection_mm, recommended_mm_}};
}

SpringSet SpringSet::in_series(int times) const {
  require(times >= 1, "a set of springs stands once or more in series");
  return {stacked(force_, {1, times}),
          {times * free_length_mm_, times * travel_mm_, times * recommended_mm_}};
}

// --- what a set does --------------------------------------------------------------------------

void SpringSet::require_within_travel(double deflection_mm) const {
  require(deflection_mm <= travel_mm_, "the springs are solid there");
}

SpringSet::Force SpringSet::force_at(double deflection_mm) const {
  require_within_travel(deflection_mm);
  if (deflection_mm < 0) return {};
  const double s = deflection_mm;
  const Cubic& f = force_;
  return {((f.c3 * s + f.c2) * s + f.c1) * s, (3 * f.c3 * s + 2 * f.c2) * s + f.c1};
}

double SpringSet::energy_at(double deflection_mm) const {
  require_within_travel(deflection_mm);
  if (deflection_mm <= 0) return 0;
  const double s = deflection_mm;
  return ((force_.c3 / 4 * s + force_.c2 / 3) * s + force_.c1 / 2) * s * s;
}

double SpringSet::deflection_at(double force_n) const {
  require(force_n >= 0 && force_n <= force_at(rises_up_to_mm_).n,
          "the force is not one that the springs reach");
  return rising_zero(
      [&](double s) {
        const Force f = force_at(s);
        return Force{f.n - force_n, f.per_mm};
      },
      0, rises_up_to_mm_);
}

double SpringSet::share_of(double extension_mm, double give_mm_per_n) const {
  require(give_mm_per_n >= 0, "a give is not below zero");
  if (extension_mm <= 0) return 0;
  const double most = rises_up_to_mm_ + give_mm_per_n * force_at(rises_up_to_mm_).n;
  require(extension_mm <= most, "the springs do not reach that far");
  return rising_zero(
      [&](double s) {
        const Force f = force_at(s);
        return Force{s + give_mm_per_n * f.n - extension_mm, 1 + give_mm_per_n * f.per_mm};
      },
      0, rises_up_to_mm_);
}

}  // namespace stackfit
