// SPDX-License-Identifier: GPL-3.0-or-later
//
// The program's command line inside a test: words in, exit status and both streams out.
//
// For: tests/cli. Not for: what only a process shows (program_test.py).
#pragma once

#include <sstream>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "cli/command_line.hpp"

namespace stackfit::cli::testing {

struct Ran {
  int status = 0;
  std::string out;
  std::string err;
};

/// `arguments` as after the program's name; `input` is what standard input holds.
inline Ran run_line(const std::vector<std::string>& arguments, const std::string& input = "") {
  std::istringstream in(input);
  std::ostringstream out;
  std::ostringstream err;
  Console console{in, out, err, false};
  const int status = run_command_line(arguments, console);
  return {status, out.str(), err.str()};
}

inline Ran run_command(const char* command, std::vector<std::string> arguments) {
  arguments.insert(arguments.begin(), command);
  return run_line(arguments);
}

inline std::string fixture(std::string_view name) {
  return std::string(STACKFIT_FIXTURES_DIR "/").append(name);
}

}  // namespace stackfit::cli::testing
