// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "cli/manual/completions.hpp"

namespace stackfit::cli::manual {
namespace {

constexpr const char* begin = R"zsh(#compdef stackfit
# SPDX-License-Identifier: GPL-3.0-or-later
# Completion of stackfit for zsh, made from the program's own command line (cli/manual).

_stackfit() {
  local curcontext="$curcontext" state line
  local -a commands
  typeset -A opt_args
)zsh";

constexpr const char* end = R"zsh(      esac
      ;;
  esac
}

if [[ $funcstack[1] == _stackfit ]]; then
  _stackfit "$@"
else
  compdef _stackfit stackfit
fi
)zsh";

// `marks` end a part of what _arguments is told.
std::string escaped(std::string_view text, std::string_view marks) {
  std::string out;
  for (const char c : text) {
    if (c == '\\' || marks.find(c) != std::string_view::npos) {
      out += '\\';
    }
    out += c;
  }
  return out;
}

std::string value_of(const TreeOption& option) {
  const std::string label = option.placeholder.empty() ? "value" : option.placeholder;
  switch (option.value.takes) {
    case Takes::nothing:
      return {};
    case Takes::words: {
      std::string list;
      for (const std::string_view word : option.value.words) {
        list += (list.empty() ? "" : " ") + escaped(word, " ():");
      }
      return fmt::format(":{}:({})", label, list);
    }
    case Takes::file:
      return fmt::format(":{}:_files", label);
    case Takes::text:
      break;
  }
  return fmt::format(":{}: ", label);
}

// One for each name: a short and a long one shut each other out.
std::vector<std::string> specs_of(const TreeOption& option) {
  if (option.names.empty()) {
    return {"::" + option.positional + ":_files"};
  }
  std::vector<std::string> shut_out = option.not_with;
  if (option.names.size() > 1) {
    shut_out.insert(shut_out.end(), option.names.begin(), option.names.end());
  }
  std::vector<std::string> specs;
  for (const std::string& name : option.names) {
    const std::string before = option.repeats     ? "*"
                               : shut_out.empty() ? ""
                                                  : fmt::format("({})", fmt::join(shut_out, " "));
    specs.push_back(
        fmt::format("{}{}[{}]{}", before, name, escaped(option.meaning, "[]"), value_of(option)));
  }
  return specs;
}

std::string arguments_call(const TreeCommand& command, std::string_view indent) {
  std::string call = fmt::format("{}_arguments", indent);
  const auto add = [&](const std::vector<TreeOption>& options) {
    for (const TreeOption& option : options) {
      for (const std::string& spec : specs_of(option)) {
        call += fmt::format(" \\\n{}  {}", indent, single_quoted(spec));
      }
    }
  };
  add(command.options);
  add(command.positionals);
  return call;
}

}  // namespace

std::string zsh_completion(const TreeCommand& program) {
  std::string text = begin;
  text += "  commands=(\n";
  for (const TreeCommand& command : program.commands) {
    text += "    " + single_quoted(command.name + ':' + escaped(command.meaning, ":")) + '\n';
  }
  text += "  )\n" + arguments_call(program, "  ");
  text += " \\\n    '1:command:->command' '*::argument:->arguments'\n";
  text += "  case $state in\n    command) _describe -t commands command commands ;;\n";
  text += "    arguments)\n      case $words[1] in\n";
  for (const TreeCommand& command : program.commands) {
    text += fmt::format("        {})\n{}\n          ;;\n", command.name,
                        arguments_call(command, "          "));
  }
  return text + end;
}

}  // namespace stackfit::cli::manual
