// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/pad_laws.hpp"

#include <array>
#include <stdexcept>
#include <vector>

namespace stackfit {
namespace {

/// ASTM D1056, suffix grades by compression deflection at 25 %, in psi.
constexpr std::array<double, 7> d1056_edges_psi{0, 2, 5, 9, 13, 17, 25};
/// psi in MPa, exact from lb = 0.45359237 kg, g0 = 9.80665 m/s2, in = 25.4 mm (NIST SP 811).
constexpr double psi_mpa = 0.45359237 * 9.80665 / (25.4 * 25.4);
/// Grade 0 has no lower edge; a foam needs some stiffness to be a law at all.
constexpr double softest_mpa = 0.1 * 2 * psi_mpa;

/// Stress against strain over the stress at 25 %: generic, from memory.
const std::vector<double> foam_strain{0, 0.1, 0.25, 0.4, 0.5, 0.6, 0.7};
const std::vector<double> foam_stress{0, 0.55, 1, 1.6, 2.4, 4.2, 9};

}  // namespace

Span d1056_band_mpa(int grade) {
  if (grade < 0 || grade > 5) {
    throw std::invalid_argument("ASTM D1056 grades run from 0 to 5");
  }
  const auto index = static_cast<std::size_t>(grade);
  const double low = d1056_edges_psi[index] * psi_mpa;
  return {low > 0 ? low : softest_mpa, d1056_edges_psi[index + 1] * psi_mpa};
}

LawPtr generic_foam(double stress_at_quarter_mpa) {
  std::vector<double> stress = foam_stress;
  for (double& value : stress) {
    value *= stress_at_quarter_mpa;
  }
  return std::make_shared<TableLaw>(foam_strain, std::move(stress));
}

double shape_factor(const RubberPad& pad) {
  return pad.area_mm2 / (pad.perimeter_mm * pad.thickness_mm);
}

double rubber_modulus_mpa(const RubberPad& pad) {
  const double s = shape_factor(pad);
  const double compression = pad.rubber.e0_mpa * (1 + 2 * pad.rubber.k * s * s);
  return 1 / (1 / compression + 1 / pad.rubber.bulk_mpa);
}

}  // namespace stackfit
