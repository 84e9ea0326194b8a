// SPDX-License-Identifier: GPL-3.0-or-later
//
// The command line: which commands and options there are, and what each is for.
//
// For: main, and what is made from the definition (manual pages, completions). The only place that
// knows the command-line library, with command_tree.cpp. Not for: what a command does
// (command_*.hpp).
#pragma once

#include <string>
#include <vector>

#include "cli/command_tree.hpp"
#include "cli/console.hpp"

namespace stackfit::cli {

/// Runs the program on its arguments (without its name); gives the exit status. Throws nothing:
/// a failure of ours is told on `err` and ends with exit_failed.
[[nodiscard]] int run_command_line(const std::vector<std::string>& arguments, Console& console);

/// Every command and option there is, as `--help` has them.
[[nodiscard]] TreeCommand command_tree();

}  // namespace stackfit::cli
