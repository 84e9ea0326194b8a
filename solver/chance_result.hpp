// SPDX-License-Identifier: GPL-3.0-or-later
//
// How sure an answer is, as numbers and codes: part of an Answer.
//
// For: every view. Not for: drawing (chance_model.hpp, monte_carlo.hpp).
// Units: mm, MPa; chances and shares as fractions. Source: intervals as JCGM 101 has them, shares
// by variance (first order and total, as Sobol); both held against published cases by tests.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace stackfit {

/// What a draw stands for. One name may stand for several draws (a kind of shims each).
enum class ChanceInput : std::uint8_t {
  calipers_common,
  calipers_each,  ///< the readings' own scatter, all cells together
  lot_thickness,  ///< of cells that were not measured
  measured_charge,
  measured_temperature,
  box_length,
  shim_thickness,  ///< of one kind, or of one fixed sheet
  squeeze_a,
  swing_net,
  swing_hump,
  growth,
  growth_under_load,
  expansion,
  friction,
  friction_slip_film,
  edge_fixity,
  wall_thickness,
  dome_slack,
  dome_exponent,
  foam_relaxation,
  foam_set,
  frame_force,
  rim_band,
  rim_buckling,
  model_margin
};

/// A chance from counted draws.
struct ChanceOf {
  double chance = 0;          ///< share of the draws that keep the rule
  double standard_error = 0;  ///< of that share
  std::int64_t samples = 0;
  /// No draw failed: the chance is only known to be more than this, at most 0.999.
  std::optional<double> more_than;
};

/// 95 % coverage interval of a face pressure over the draws, and its middle.
struct PressureSpread {
  double low_mpa = 0;
  double median_mpa = 0;
  double high_mpa = 0;
};

/// A plan beside the one given.
struct ChanceRival {
  std::vector<int> used;  ///< of each kind of the kit
  double shim_total_mm = 0;
  double margin = 0;
  ChanceOf chance;
};

/// What one input is worth: shares of the variance of the highest face pressure, and of whether
/// the plan fails. First order: alone; total: with all it acts together with.
struct InputShare {
  ChanceInput input = ChanceInput::calipers_common;
  std::string where;     ///< name of a kind of shims; else empty
  bool assumed = false;  ///< nothing was said of the figure itself
  double first_order_pressure = 0;
  double total_pressure = 0;
  double first_order_failing = 0;  ///< both 0 where hardly any draw fails
  double total_failing = 0;
};

/// What a person can go and measure.
enum class Measuring : std::uint8_t {
  press_test,    ///< of one cell: softness
  count_charge,  ///< Ah counted from full: charge when measured
  box_length,    ///< five places, to 0.2 mm
  row_length,    ///< whole row between boards: calipers
  shim_stack,    ///< all pieces of a kind in one reading
  swing_test,    ///< a cell between boards from empty to full
  pull_test,     ///< friction of cell on sheet
  wall_bow       ///< bow of the wall at a known force: how its edges are held
};
/// The chance expected after measuring, with the shims chosen again by what was read.
struct Worth {
  Measuring measure = Measuring::press_test;
  double chance_after = 0;
  double standard_error = 0;
  double chance_before = 0;  ///< with the same choice of shims, and nothing read
};

struct Chance {
  ChanceOf plan;
  std::optional<ChanceOf> looser;
  /// Chosen by chance and by margin, where these differ; else both empty.
  std::optional<ChanceRival> by_chance;
  std::optional<ChanceRival> by_margin;
  std::vector<ChanceRival> rivals;  ///< best others first
  bool assumed_inputs = false;      ///< any input's figure is assumed
  double below = 0;                 ///< shares of the draws that fail, by how; they may overlap
  double above = 0;
  double above_limit = 0;
  double not_got_in = 0;
  PressureSpread lowest;
  PressureSpread as_built;
  PressureSpread highest;
  std::vector<InputShare> inputs;  ///< every input drawn, greatest share of failing first
  std::vector<Worth> worth;        ///< greatest first; computed by choosing again
};

}  // namespace stackfit
