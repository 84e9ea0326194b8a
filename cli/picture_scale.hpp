// SPDX-License-Identifier: GPL-3.0-or-later
//
// An axis of pressures: its top, round steps in kPa and psi, and labels that keep apart.
//
// For: charts of picture_*.cpp. Not for: anything but places.
#pragma once

#include <string>
#include <vector>

namespace stackfit::cli {

/// A linear axis from 0 to `top_mpa`.
struct PressureAxis {
  double top_mpa = 1;
  double at_zero = 0;  ///< y or x of 0 MPa
  double at_top = 0;

  /// What is above the top stands at the top.
  [[nodiscard]] double at(double mpa) const;
};
/// The next round pressure above, in kPa.
[[nodiscard]] double round_top_mpa(double greatest_mpa);

struct PressureTick {
  double mpa = 0;
  std::string text;
};
enum class TickUnit : std::uint8_t { kpa, psi };
/// From 0 to the top in round steps, at most seven.
[[nodiscard]] std::vector<PressureTick> pressure_ticks(double top_mpa, TickUnit unit);

/// Moves places apart so that none is nearer to the next than `step`, each as little as may be and
/// all between `low` and `high`; the order stays. More than fit there run over `high`.
[[nodiscard]] std::vector<double> kept_apart(const std::vector<double>& wanted, double step,
                                             double low, double high);

}  // namespace stackfit::cli
