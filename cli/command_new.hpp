// SPDX-License-Identifier: GPL-3.0-or-later
//
// `new`: writes a build file by asking, or prints a form or a measuring sheet.
//
// For: starting without a build file. Not for: the questions themselves (interview.hpp).
#pragma once

#include <string>

#include "cli/console.hpp"

namespace stackfit::cli {

struct NewOptions {
  std::string file;      ///< where to write; empty: standard output
  bool blank = false;    ///< a form to fill in, nothing asked
  bool measure = false;  ///< a sheet that says where the calipers go
  int cells = 8;         ///< rows on that sheet
  bool used = false;     ///< ask for signs and history as well
};

/// Exit status as in console.hpp.
[[nodiscard]] int run_new(const NewOptions& options, Console& console);

}  // namespace stackfit::cli
