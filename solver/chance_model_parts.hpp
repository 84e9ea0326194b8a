// SPDX-License-Identifier: GPL-3.0-or-later
//
// The parts of a chance model: what it keeps between its makers and its users.
//
// For: chance_*.cpp only.
#pragma once

#include <cstddef>
#include <limits>
#include <vector>

#include "solver/chance_model.hpp"
#include "solver/chance_shifts.hpp"

namespace stackfit {

inline constexpr double never_met = std::numeric_limits<double>::infinity();

/// Band's pressures count as pressed at least so far above nothing.
inline constexpr double least_pressure_mpa = 1e-6;

/// One figure over a block: a draw for each sample, or one value for all (step 0).
struct Draws {
  const double* first = nullptr;
  std::size_t step = 0;
  [[nodiscard]] double at(std::size_t i) const { return first[i * step]; }
};

struct ChanceModel::Shifts {
  ChanceShifts at;
  /// Draw that each figure takes from `u`; below zero: not drawn.
  int calipers_common = -1;
  int calipers_each = -1;
  int lot_thickness = -1;
  int measured_charge = -1;
  int measured_temperature = -1;
  int box_length = -1;
  int shim_thickness = -1;
  int fixed_sheets = -1;
  int swing_net = -1;
  int swing_hump = -1;
  int growth = -1;
  int growth_under_load = -1;
  int expansion = -1;
  int friction = -1;
  int friction_slip_film = -1;
  int model_margin = -1;
  int softness = -1;
  int first_shape = -1;
  int frame_force = -1;  ///< which of the shape inputs
};

struct ChanceModel::Work {
  explicit Work(std::size_t samples, std::size_t inputs, std::size_t shapes)
      : value(inputs * samples),
        x((1 + shapes) * samples),
        built(samples),
        thinnest(samples),
        thickest(samples),
        ln_more(samples),
        over_more(samples),
        push(samples),
        interference(samples),
        residual(samples) {}
  std::vector<double> value;  ///< each input's figure
  std::vector<double> x;      ///< ln softness, then shape figures less their nominal ones
  std::vector<double> built;
  std::vector<double> thinnest;
  std::vector<double> thickest;
  std::vector<double> ln_more;    ///< ln (1 + m)
  std::vector<double> over_more;  ///< 1 / (1 + m)
  std::vector<double> push;       ///< greatest face pressure as built that a hand gets in [MPa]
  std::vector<double> interference;
  std::vector<double> residual;
};

/// One condition: an interference that a state must reach, or must not pass.
struct ChanceModel::Bound {
  enum class Level : std::uint8_t { fixed, over_margin, push };
  enum class Of : std::uint8_t { built, thinnest, thickest };
  RowModel::Kind kind;
  std::vector<double> levels_mpa;
  Level level = Level::fixed;
  Of of = Of::thickest;
  WindowRow row = WindowRow::tightest;
  double top_mpa = 0;  ///< over_margin: over one plus m
  std::vector<SqueezeSurface> surface = {};
  double per_built = 0;  ///< how it moves with the interference as built
};

struct ChanceModel::Curve {
  RowModel::Kind kind;
  SqueezeSurface surface;
  double per_built = 0;
};

}  // namespace stackfit
