// SPDX-License-Identifier: GPL-3.0-or-later
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <iostream>
#include <string_view>

#include "cli/command_line.hpp"

namespace {

bool wants_colour() {
  const char* refused = std::getenv("NO_COLOR");
  if (refused != nullptr && *refused != '\0') {
    return false;
  }
  const char* terminal = std::getenv("TERM");
  return isatty(STDOUT_FILENO) != 0 && terminal != nullptr && std::string_view(terminal) != "dumb";
}

}  // namespace

int main(int count, char** words) {
  // A reader that went away is an answer that could not be written, not a sudden end.
  std::signal(SIGPIPE, SIG_IGN);
  // So is a file that grows past what is allowed: what was begun is taken away again.
  std::signal(SIGXFSZ, SIG_IGN);
  stackfit::cli::Console console{std::cin, std::cout, std::cerr, wants_colour(),
                                 isatty(STDERR_FILENO) != 0};
  return stackfit::cli::run_command_line({words + (count > 0 ? 1 : 0), words + count}, console);
}
