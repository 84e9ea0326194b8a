// SPDX-License-Identifier: GPL-3.0-or-later
//
// `softness`: the squeeze law of a cell from a press test; called bare, how to make the test.
//
// For: the options as typed -> cell and band -> the answer printed. Not for: the table
// (press_csv.hpp), the fit (solver/press_test.hpp), the words (view_softness.hpp).
#pragma once

#include <string>

#include "cli/console.hpp"

namespace stackfit::cli {

/// Each as typed; empty where it was not.
struct SoftnessOptions {
  std::string table;          ///< readings of the press test; `-` is standard input
  std::string build;          ///< a build file: its face, thickness and band
  std::string face;           ///< 141x183
  std::string thickness;      ///< the data sheet's line
  std::string range;          ///< 50-150kPa, in place of the build's band
  std::string reading_error;  ///< 0.02mm
  std::string units;
  bool json = false;
};

/// Exit status as in console.hpp; a warning is any reason why the law is not to be taken as it
/// stands: it does not reach the band, the assumed law helped, a load is off.
[[nodiscard]] int run_softness(const SoftnessOptions& options, Console& console);

}  // namespace stackfit::cli
