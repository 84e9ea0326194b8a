// SPDX-License-Identifier: GPL-3.0-or-later
//
// The parts of a chance model: what it keeps between its makers and its users.
//
// For: chance_*.cpp only.
#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <memory>
#include <span>
#include <vector>

#include "solver/chance_model.hpp"
#include "solver/chance_shifts.hpp"

namespace stackfit {

inline constexpr double never_met = std::numeric_limits<double>::infinity();

/// Band's pressures count as pressed at least so far above nothing.
inline constexpr double least_pressure_mpa = 1e-6;

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

/// Arrays of one block; what is in them is not set before it is written.
struct ChanceModel::Work {
  Work(std::size_t samples, std::size_t inputs, std::size_t shapes, std::size_t leaders = 0)
      : room_(std::make_unique_for_overwrite<double[]>((inputs + 1 + shapes + leaders + singles) *
                                                       samples)),
        value(take(inputs * samples)),
        x(take((1 + shapes) * samples)),
        built(take(samples)),
        thinnest(take(samples)),
        thickest(take(samples)),
        ln_more(take(samples)),
        over_more(take(samples)),
        push(take(samples)),
        ln_push(take(samples)),
        pressure(take(samples)),
        interference(take(samples)),
        three(take(3 * samples)),
        shift(take(shift_figures * samples)),
        leader(take(leaders * samples)) {}

 private:
  static constexpr std::size_t shift_figures = 7;
  static constexpr std::size_t singles = 13 + shift_figures;  ///< arrays of one figure a sample
  std::span<double> take(std::size_t count) {
    const std::span<double> taken(room_.get() + taken_, count);
    taken_ += count;
    return taken;
  }
  std::unique_ptr<double[]> room_;
  std::size_t taken_ = 0;

 public:
  std::span<double> value;  ///< each input's figure
  std::span<double> x;      ///< ln softness, then shape figures less their nominal ones
  std::span<double> built;
  std::span<double> thinnest;
  std::span<double> thickest;
  std::span<double> ln_more;    ///< ln (1 + m)
  std::span<double> over_more;  ///< 1 / (1 + m)
  std::span<double> push;       ///< greatest face pressure as built that a hand gets in [MPa]
  std::span<double> ln_push;
  std::span<double> pressure;
  std::span<double> interference;
  std::span<double> three;           ///< for three figures a sample
  std::span<double> shift;           ///< for those of ShiftDraws that are not drawn themselves
  std::span<double> leader;          ///< totals of the bounds that beat others
  std::vector<Span> spans;           ///< of x over the block
  std::vector<std::uint32_t> close;  ///< draws that are looked at one by one
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
  /// Which of the leaders it is; or which one may beat it, and where that one is.
  int leads = -1;
  int led_by = -1;
  std::size_t leader = 0;

  [[nodiscard]] std::span<const double> now(const Work& work) const {
    return of == Of::built ? work.built : of == Of::thinnest ? work.thinnest : work.thickest;
  }
  /// Met at pressures that are the same, draw by draw.
  [[nodiscard]] bool alike(const Bound& other) const {
    return row == other.row && level == other.level && top_mpa == other.top_mpa &&
           surface.front().levels_mpa() == other.surface.front().levels_mpa();
  }
};

struct ChanceModel::Curve {
  RowModel::Kind kind;
  SqueezeSurface surface;
  double per_built = 0;
};

}  // namespace stackfit
