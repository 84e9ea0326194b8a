// SPDX-License-Identifier: GPL-3.0-or-later
//
// Stiffness, heat expansion and density of wall and sheet materials, and what insulates.
//
// For: looking up published data. Not for: assumed numbers of our own (assumptions.hpp).
#pragma once

#include <string_view>

#include "solver/build.hpp"

namespace stackfit {

/// Through-thickness (sheets) or in-plane (walls) elastic data.
struct Material {
  std::string_view name;
  double modulus_mpa = 0;  ///< middle of the published range
  double poisson = 0.33;
  double expansion_per_k = 0;
  bool metal = false;  ///< conducts: never counts as insulation
  std::string_view source;
  /// Stress a wall of it may just bear at its surface [MPa]: yield of the softest common temper,
  /// from memory; 0 where none is known.
  double yield_mpa = 0;
  double density_kg_m3 = 0;
  std::string_view density_source;
};

[[nodiscard]] const Material& material(SheetMaterial which);
[[nodiscard]] const Material& material(WallMaterial which);

/// What a shim of unsaid material is taken for.
inline constexpr SheetMaterial sheet_when_not_said = SheetMaterial::polycarbonate;
/// What a wall of unsaid material and joint is taken for.
inline constexpr WallMaterial wall_when_not_said = WallMaterial::aluminium;
inline constexpr WallJoint joint_when_not_said = WallJoint::screwed;

}  // namespace stackfit
