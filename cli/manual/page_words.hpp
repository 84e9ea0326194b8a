// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a manual page says beyond the help: what a command does in a few sentences, what its
// warning means, which files it knows.
//
// For: manual_page.hpp. Not for: options, examples and what every status means, which are those of
// `--help` (command_tree.hpp), or cautions (cautions.hpp).
#pragma once

#include <string_view>
#include <vector>

namespace stackfit::cli::manual {

struct NamedText {
  std::string_view name;
  std::string_view text;
};

struct PageWords {
  std::string_view command;  ///< empty: the program itself
  std::string_view in_short;
  std::string_view description;
  std::string_view warning;  ///< what status 1 means; empty: it does not end with it
  std::vector<NamedText> files;
};

/// Throws std::logic_error for a command of which nothing is known: a page is then to be written.
[[nodiscard]] const PageWords& words_of(std::string_view command);

[[nodiscard]] std::vector<NamedText> environment();

}  // namespace stackfit::cli::manual
