// SPDX-License-Identifier: GPL-3.0-or-later
//
// `check`: can these cells, perhaps swollen, still be used?
//
// For: a build file with a box or without, or a table of cells alone; a log of dated readings.
// Not for: the command line itself (command_line.hpp).
#pragma once

#include <string>

#include "cli/build_input.hpp"
#include "cli/console.hpp"

namespace stackfit::cli {

/// Each as typed; empty where it was not.
struct CheckOptions {
  BuildInput input;
  std::string log;      ///< dated readings; where there is no such file, it is begun
  std::string log_out;  ///< where the copy with today's lines goes
  std::string date;     ///< on which the cells were measured
  std::string charger;  ///< charge voltage of the old charger: 29.2V
  std::string page;     ///< where the build sheet goes
  bool json = false;
  bool assumed = false;
  bool all = false;
};

/// Exit status as in console.hpp: a cell to watch or to set aside is a warning.
[[nodiscard]] int run_check(const CheckOptions& options, Console& console);

}  // namespace stackfit::cli
