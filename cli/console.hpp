// SPDX-License-Identifier: GPL-3.0-or-later
//
// Where a command reads and writes, and what it ends with.
//
// For: commands, and tests that run them on strings. Results go to `out`, all else to `err`.
#pragma once

#include <iosfwd>
#include <string_view>

namespace stackfit::cli {

/// Exit status of the program. Kept apart so that a script can tell a warning from a slip.
enum ExitStatus : int {
  exit_inside = 0,    ///< answered: inside
  exit_warning = 1,   ///< answered, and the answer is a warning
  exit_unusable = 2,  ///< the input cannot be used; nothing on `out`
  exit_failed = 3     ///< the answer could not be written, or the program itself failed
};

struct Console {
  std::istream& in;
  std::ostream& out;
  std::ostream& err;
  bool colour = false;  ///< `out` is a terminal and nobody asked for no colour
  bool err_is_terminal = false;
};

/// Writes and flushes a result. Gives `status`, or exit_failed where not all of it was taken
/// (a closed pipe, a full disk), which is said on `err`.
[[nodiscard]] int deliver(Console& console, std::string_view text, int status);

}  // namespace stackfit::cli
