// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include "cli/manual/completions.hpp"

namespace stackfit::cli::manual {
namespace {

constexpr const char* begin =
    "# SPDX-License-Identifier: GPL-3.0-or-later\n"
    "# Completion of stackfit for fish, made from the program's own command line (cli/manual).\n"
    "complete -c stackfit -f\n";

// In fish's single quotes a backslash is one only before a quote or another.
std::string fish_quoted(std::string_view text) {
  std::string quoted = "'";
  for (const char c : text) {
    if (c == '\'' || c == '\\') {
      quoted += '\\';
    }
    quoted += c;
  }
  return quoted + "'";
}

std::string value_of(const TreeOption& option) {
  switch (option.value.takes) {
    case Takes::nothing:
      return {};
    case Takes::words: {
      std::string list;
      for (const std::string_view word : option.value.words) {
        list += list.empty() ? "" : " ";
        for (const char c : word) {
          list += c == ' ' ? std::string("\\ ") : std::string(1, c);
        }
      }
      return " -x -a " + fish_quoted(list);
    }
    case Takes::file:
      return " -r -F";
    case Takes::text:
      break;
  }
  return " -x";
}

std::string option_line(const TreeOption& option, const std::string& where) {
  std::string names;
  for (const std::string& name : option.names) {
    names += name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1);
  }
  return fmt::format("complete -c stackfit -n {}{}{} -d {}\n", where, names, value_of(option),
                     fish_quoted(option.meaning));
}

}  // namespace

std::string fish_completion(const TreeCommand& program) {
  std::string text = begin;
  const std::string first = "__fish_use_subcommand";
  for (const TreeCommand& command : program.commands) {
    text += fmt::format("complete -c stackfit -n {} -a {} -d {}\n", first, command.name,
                        fish_quoted(command.meaning));
  }
  for (const TreeOption& option : program.options) {
    text += option_line(option, first);
  }
  for (const TreeCommand& command : program.commands) {
    const std::string where = fish_quoted("__fish_seen_subcommand_from " + command.name);
    if (!command.positionals.empty()) {
      text += fmt::format("complete -c stackfit -n {} -F\n", where);
    }
    for (const TreeOption& option : command.options) {
      text += option_line(option, where);
    }
  }
  return text;
}

}  // namespace stackfit::cli::manual
