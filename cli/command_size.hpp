// SPDX-License-Identifier: GPL-3.0-or-later
//
// `size`: what box or clamp frame to order.
//
// For: reading its options, having it answered, printing and writing what goes with it.
// Not for: the answer itself (solver/size.hpp).
#pragma once

#include <string>

#include "cli/build_input.hpp"
#include "cli/console.hpp"

namespace stackfit::cli {

struct SizeOptions {
  BuildInput input;
  std::string save;     ///< where the build as ordered goes
  std::string drawing;  ///< where the drawing goes, an SVG
  std::string page;     ///< where the build sheet goes
  bool json = false;
  bool assumed = false;
  bool all = false;
};

/// Exit status as in console.hpp: a warning where nothing that was asked for serves.
[[nodiscard]] int run_size(const SizeOptions& options, Console& console);

}  // namespace stackfit::cli
