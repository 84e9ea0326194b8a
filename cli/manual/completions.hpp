// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a shell needs to complete stackfit's commands, options, files and closed lists of words.
//
// For: the installed tree. Each is a whole file, made from the command line's own definition.
#pragma once

#include <string>

#include "cli/command_tree.hpp"

namespace stackfit::cli::manual {

/// Needs bash alone, not the bash-completion package.
[[nodiscard]] std::string bash_completion(const TreeCommand& program);
[[nodiscard]] std::string zsh_completion(const TreeCommand& program);
[[nodiscard]] std::string fish_completion(const TreeCommand& program);

/// In single quotes for a shell of the Bourne family.
[[nodiscard]] std::string single_quoted(const std::string& text);

}  // namespace stackfit::cli::manual
