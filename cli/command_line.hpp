// SPDX-License-Identifier: GPL-3.0-or-later
//
// The command line: which commands and options there are, and what each is for.
//
// For: main. The only place that knows the command-line library. Not for: what a command does
// (command_*.hpp).
#pragma once

#include <string>
#include <vector>

#include "cli/console.hpp"

namespace stackfit::cli {

/// Runs the program on its arguments (without its name); gives the exit status. Throws nothing:
/// a failure of ours is told on `err` and ends with exit_failed.
[[nodiscard]] int run_command_line(const std::vector<std::string>& arguments, Console& console);

}  // namespace stackfit::cli
