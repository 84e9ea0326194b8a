// SPDX-License-Identifier: GPL-3.0-or-later
//
// Every assumed number of the program, once: value, unit, 95 % span, why and from where.
//
// For: defaults of the resolver, the list that `--assumed` prints, and whatever draws from
// the spans. Not for: material data (materials.hpp) or published curves (swing.cpp).
// Units: each value, low and high in its own `unit`; "1" is a plain number or a fraction.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string_view>

namespace stackfit {

enum class Assumed : std::uint8_t {
  squeeze_a,
  squeeze_b,
  squeeze_tangent_above,
  swing_net,
  swing_hump,
  growth,
  growth_under_load,
  expansion,
  dome_slack,
  dome_exponent,
  dome_when_not_measured,
  dome_watch,
  dome_set_aside,
  swollen_contact,
  edge_up_set_aside,
  growth_watch,
  mad_watch,
  like_charge,
  thickness_tolerance,
  calipers_scatter,
  deep_discharge_watch,
  deep_discharge_set_aside,
  lfp_nominal_voltage,
  lfp_charge_voltage,
  nmc_nominal_voltage,
  nmc_charge_voltage,
  check_interval,
  watch_interval,
  model_margin,
  gauge_shear,
  reference_temperature,
  shipped_charge,
  charge_doubt,
  use_charge_low,
  use_charge_high,
  use_temperature_low,
  use_temperature_high,
  lowest_charge,
  even_share,
  wall_thickness,
  corner_radius,
  nut_factor,
  nut_factor_scatter,
  friction,
  friction_slip_film,
  push_limit,
  slide_clearance,
  makers_pressure,
  plausible_pressure,
  band_low_factor,
  band_high_factor,
  band_high_factor_never_above,
  build_target_never_above,
  foam_relaxation,
  foam_set,
  rested_voltage,
  rim_band,
  rim_buckling,
  press_reading,
  press_b,
  press_reach,
  length_tolerance,
  length_step,
  paint,
  lot_share,
  stress_safety,
  most_bow_share,
  face_tolerance,
  side_sheet,
  slide_room,
  over_terminals,
  terminal_height,
  rigid_bar_movement,
  acceleration,
  friction_low,
  lift_one,
  lift_two,
  cell_density,
  calipers_common,
  rib_flange,
  box_reading,
  shim_thickness,
  edge_fixity,
  said_softness,
  said_swing,
  said_figure,
  frame_force,
  count
};

inline constexpr std::size_t assumption_count = static_cast<std::size_t>(Assumed::count);

enum class Spread : std::uint8_t { normal, lognormal, uniform, fixed };
/// Common to the whole row, or drawn anew for every cell or piece.
enum class Share : std::uint8_t { common, independent };

struct Assumption {
  Assumed id = Assumed::count;
  std::string_view key;    ///< name with unit, as in the JSON answer
  std::string_view plain;  ///< in shop words
  double value = 0;
  std::string_view unit;
  double low = 0;   ///< 2.5 % point
  double high = 0;  ///< 97.5 % point
  Spread spread = Spread::fixed;
  Share share = Share::common;
  std::string_view why;
  std::string_view source;  ///< publication, standard or common practice it is from
};

/// The table, in the order of Assumed.
[[nodiscard]] std::span<const Assumption, assumption_count> assumption_table();
[[nodiscard]] const Assumption& assumption(Assumed id);

/// The values in force: the table's, save where one is set otherwise (brackets, what-ifs).
class Assumptions {
 public:
  Assumptions();
  [[nodiscard]] double operator[](Assumed id) const { return value_[static_cast<std::size_t>(id)]; }
  /// A value of the table in per cent, as a fraction.
  [[nodiscard]] double fraction(Assumed id) const { return (*this)[id] / 100; }
  /// A copy with one value changed.
  [[nodiscard]] Assumptions with(Assumed id, double value) const;

 private:
  std::array<double, assumption_count> value_;
};

}  // namespace stackfit
