// SPDX-License-Identifier: GPL-3.0-or-later
//
// Laws of pads from what a person knows of them: an ASTM D1056 grade, rubber's constants.
#pragma once

#include "solver/build.hpp"
#include "solver/law.hpp"

namespace stackfit {

/// The stress band [MPa] at 25 % deflection of an ASTM D1056 compression-deflection grade 0..5.
/// Throws std::invalid_argument for another grade.
[[nodiscard]] Span d1056_band_mpa(int grade);

/// A generic foam whose stress at 25 % strain is given. The shape is from memory: assumed.
[[nodiscard]] LawPtr generic_foam(double stress_at_quarter_mpa);

/// What Gent & Lindley's formula needs: the constants and the pad's size.
struct RubberPad {
  RubberInput rubber;
  double thickness_mm = 0;
  double area_mm2 = 0;
  double perimeter_mm = 0;
};
/// Loaded area over the area free to bulge: S = A / (perimeter times thickness).
[[nodiscard]] double shape_factor(const RubberPad& pad);
/// Effective modulus [MPa] of a bonded pad: Ec = E0 (1 + 2 k S^2), 1/E = 1/Ec + 1/B.
/// Gent & Lindley 1959. Dry faces slip and are softer.
[[nodiscard]] double rubber_modulus_mpa(const RubberPad& pad);

/// Strain up to which the rubber formula is held to be linear.
inline constexpr double rubber_known_strain = 0.2;

}  // namespace stackfit
