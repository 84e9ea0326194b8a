// SPDX-License-Identifier: GPL-3.0-or-later
//
// The command line as plain data: commands, their options, what each is for and what it takes.
//
// For: manual pages and completions, which so say what `--help` says. Not for: reading arguments
// (command_line.hpp), whose definition this is taken from.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "cli/option_values.hpp"

namespace CLI {
class App;
}  // namespace CLI

namespace stackfit::cli {

/// An option, or a word that stands by itself ("BUILD"): then `names` is empty.
struct TreeOption {
  std::vector<std::string> names;  ///< "-h", "--help": short ones first
  std::string positional;          ///< "BUILD"
  std::string group;               ///< heading under which the help has it
  std::string meaning;
  std::string placeholder;  ///< "N", "PREFIX"; empty: the help has none
  OptionValue value;
  bool repeats = false;
  std::vector<std::string> not_with;   ///< "--blank"
  std::vector<std::string> only_with;  ///< "--measure"
};

struct TreeCommand {
  std::string name;
  std::string meaning;
  std::string footer;                   ///< what the help ends with: examples and more
  std::vector<TreeOption> options;      ///< in the help's order
  std::vector<TreeOption> positionals;  ///< in their order
  std::vector<TreeCommand> commands;    ///< only the program itself has any

  [[nodiscard]] bool has_option(std::string_view option) const;
};

/// With all its commands. Throws std::logic_error where option_values() speaks of an option that
/// no command has.
[[nodiscard]] TreeCommand tree_of(const CLI::App& app);

}  // namespace stackfit::cli
