// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a help text ends with, taken apart: prose, examples, exit status.
//
// For: manual_page.hpp.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace stackfit::cli::manual {

struct StatusText {
  std::string status;  ///< "1"
  std::string text;
};

struct Footer {
  std::string prose;
  std::string before_examples;        ///< "Examples, as typed from ...:"
  std::vector<std::string> examples;  ///< lines, without the help's indent
  std::vector<StatusText> statuses;
};

[[nodiscard]] Footer footer_of(std::string_view text);

}  // namespace stackfit::cli::manual
