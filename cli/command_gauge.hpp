// SPDX-License-Identifier: GPL-3.0-or-later
//
// `gauge`: what a bow, gap, spring or nut of the real thing says of the pressure now.
//
// For: reading the gauge options, having them answered, printing, and `--learn`.
// Not for: the answer itself (solver/gauge.hpp).
#pragma once

#include <array>
#include <string>
#include <string_view>

#include "cli/build_input.hpp"
#include "cli/console.hpp"

namespace stackfit::cli {

/// What `--which-wall` takes; nothing typed is the first.
inline constexpr std::array<std::string_view, 2> gauged_walls{"first", "last"};

/// Each as typed; empty where it was not.
struct GaugeOptions {
  BuildInput input;
  std::string bow;
  std::string empty_bow;
  std::string at;    ///< `x,y` from the middle of the wall
  std::string wall;  ///< first, last
  std::string gap;
  std::string empty_gap;
  std::string spring_length;  ///< one, or one for each rod
  std::string torque;
  std::string error;  ///< standard uncertainty of one reading
  std::string today_charge;
  std::string temperature;
  std::string learn;  ///< where to write the build with the softness found
  bool json = false;
};

/// Exit status as in console.hpp: a warning where the band or the prediction is missed.
[[nodiscard]] int run_gauge(const GaugeOptions& options, Console& console);

}  // namespace stackfit::cli
