// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a chance is drawn from: every uncertain figure of a build, with its distribution.
//
// For: one place that says which figures are drawn, how wide, and whether that was said or is
// assumed. Common to the whole row, or independent from cell to cell; what is independent and
// only counts as a sum is drawn as that sum, which is exact for normal draws.
// Not for: what a draw does to the row (chance_model.hpp, squeeze_surface.hpp).
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "solver/study.hpp"

namespace stackfit {

/// A distribution by its inverse: what a uniform draw in (0, 1) stands for.
struct Drawn {
  ChanceInput id = ChanceInput::calipers_common;
  std::string where = {};
  bool assumed = true;  ///< its figure or its width was not said
  Spread spread = Spread::normal;
  double centre = 0;  ///< mean of a normal, median of a lognormal
  double width = 0;   ///< standard deviation; of the logarithm for a lognormal, below the median
  double width_above = 0;  ///< and above it
  Span bounds = {};        ///< of a uniform one

  [[nodiscard]] double at_normal(double z) const;  ///< for normal and lognormal
  [[nodiscard]] double at(double u) const;
};

/// A changed build or changed assumptions in which a figure takes another value: how the row's
/// curve follows it is told by solving it there.
struct ShapeVariant {
  double x = 0;  ///< the figure there
  Build build;
  Assumptions assumptions;
};
/// A figure that changes the curve itself, not only how far along it the row stands.
struct ShapeInput {
  Drawn drawn;
  double nominal = 0;                  ///< the figure in the build as it stands
  std::vector<ShapeVariant> variants;  ///< one or two
  /// A plate gives with the inverse cube of its thickness: so far apart are its figures then.
  bool by_inverse_cube = false;

  [[nodiscard]] double coordinate(double figure) const {
    return by_inverse_cube ? 1 / (figure * figure * figure) : figure;
  }
};

/// Figures that shift the row along its curve, each at most once; empty: not uncertain here.
struct ShiftInputs {
  std::optional<Drawn> calipers_common;       ///< sum over the row [mm]
  std::optional<Drawn> calipers_each;         ///< sum over the row [mm]
  std::optional<Drawn> lot_thickness;         ///< sum over the row [mm]
  std::optional<Drawn> measured_charge;       ///< added to what was taken, as a fraction
  std::optional<Drawn> measured_temperature;  ///< in place of the reference [C]
  std::optional<Drawn> box_length;            ///< added to the inner length [mm]
  std::optional<Drawn> shim_thickness;        ///< share of a kind's thickness
  std::optional<Drawn> fixed_sheets;          ///< sum over the row [mm]
  std::optional<Drawn> swing_net;             ///< fraction; of a table: a factor on it
  std::optional<Drawn> swing_hump;
  std::optional<Drawn> growth;  ///< factors on the row's growth
  std::optional<Drawn> growth_under_load;
  std::optional<Drawn> expansion;  ///< of the cells [1/K]
  std::optional<Drawn> friction;   ///< factors on the friction of each face
  std::optional<Drawn> friction_slip_film;
  std::optional<Drawn> model_margin;  ///< m
};

struct ChanceInputs {
  ShiftInputs shift;
  /// Softness: a factor on the pressure at a squeeze, drawn apart since the law is known.
  std::optional<ShapeInput> softness;
  std::vector<ShapeInput> shape;
  std::vector<Assumed> doubts;  ///< widths that were taken from the table of assumptions

  /// Every one that is drawn, in a fixed order: that of their draws.
  [[nodiscard]] std::vector<const Drawn*> all() const;
  /// Only those for which `wanted` holds; all others stay at what the build says.
  void keep(const std::function<bool(ChanceInput)>& wanted);
};

/// The 97.5 % point of the standard normal distribution: half a 95 % span over the deviation.
inline constexpr double normal_95 = 1.959963984540054;

[[nodiscard]] ChanceInputs chance_inputs(const Study& study);

}  // namespace stackfit
