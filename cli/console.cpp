// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/console.hpp"

#include <cerrno>
#include <ostream>
#include <system_error>

namespace stackfit::cli {

int deliver(Console& console, std::string_view text, int status) {
  errno = 0;
  console.out << text << std::flush;
  if (console.out) {
    return status;
  }
  const int error = errno;
  console.err << "stackfit: the answer could not be written to standard output";
  if (error != 0) {
    console.err << ": " << std::generic_category().message(error);
  }
  console.err << '\n';
  return exit_failed;
}

}  // namespace stackfit::cli
