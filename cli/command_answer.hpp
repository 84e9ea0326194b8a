// SPDX-License-Identifier: GPL-3.0-or-later
//
// `pick` and `pressure`: read a build, have it answered, print the answer.
//
// For: the commands whose answer is the one structure of solver/answer.hpp. Not for: the command
// line itself (command_line.hpp).
#pragma once

#include <string>

#include "cli/build_input.hpp"
#include "cli/console.hpp"
#include "cli/options_chance.hpp"
#include "solver/answer.hpp"

namespace stackfit::cli {

/// What can be said on the command line, each as typed; empty where it was not.
struct AnswerOptions {
  BuildInput input;
  ChanceInWords chance;
  std::string save;  ///< where to write the build as placed
  std::string page;  ///< where to write the build sheet
  bool json = false;
  bool assumed = false;
  bool all = false;
};

/// A command line that works as typed; printed where neither file nor cells are given.
[[nodiscard]] std::string example_without_file();

/// What an answer ends with: a chance has a say only where one is needed.
[[nodiscard]] int exit_status(const Answer& answer, const ChanceOptions& asked);
/// Exit status as in console.hpp.
[[nodiscard]] int run_answer(Question question, const AnswerOptions& options, Console& console);

}  // namespace stackfit::cli
