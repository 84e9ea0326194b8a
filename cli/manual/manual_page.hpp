// SPDX-License-Identifier: GPL-3.0-or-later
//
// Manual pages: one for the program, one for each command.
//
// For: the installed tree. Options, their meanings, examples and exit statuses are those of
// `--help`; what is said besides stands in page_words.hpp.
#pragma once

#include <string>

#include "cli/command_tree.hpp"

namespace stackfit::cli::manual {

struct Edition {
  std::string version;
  std::string date;  ///< 2026-11-28
};

/// Of the whole program.
[[nodiscard]] std::string program_page(const TreeCommand& program, const Edition& edition);
/// Of one of its commands.
[[nodiscard]] std::string command_page(const TreeCommand& program, const TreeCommand& command,
                                       const Edition& edition);

}  // namespace stackfit::cli::manual
