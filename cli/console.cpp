// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/console.hpp"

#include <ostream>

namespace stackfit::cli {

int deliver(Console& console, std::string_view text, int status) {
  console.out << text << std::flush;
  if (console.out) {
    return status;
  }
  console.err << "stackfit: the answer could not be written to standard output\n";
  return exit_failed;
}

}  // namespace stackfit::cli
