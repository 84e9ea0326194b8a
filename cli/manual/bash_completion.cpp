// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "cli/manual/completions.hpp"

namespace stackfit::cli::manual {
namespace {

constexpr const char* helpers = R"bash(# SPDX-License-Identifier: GPL-3.0-or-later
# Completion of stackfit for bash, made from the program's own command line (cli/manual).

# _stackfit_words TYPED WORD...: those that go on as typed, quoted unless a quote was begun.
_stackfit_words() {
  local typed=$1 quote= word
  shift
  case $typed in
    [\"\']*)
      quote=${typed:0:1}
      typed=${typed:1}
      ;;
    *) typed=${typed//\\/} ;;
  esac
  for word in "$@"; do
    if [[ $word != "$typed"* ]]; then
      continue
    fi
    if [[ $quote ]]; then
      COMPREPLY+=("$word")
    else
      COMPREPLY+=("$(printf %q "$word")")
    fi
  done
}

_stackfit_files() {
  compopt -o filenames 2>/dev/null
  mapfile -t COMPREPLY < <(compgen -f -- "$1")
}

_stackfit() {
  local typed=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]}
  COMPREPLY=()
  # bash takes --option=value apart.
  if [[ $typed == = ]]; then
    typed=
  elif [[ $before == = ]]; then
    before=${COMP_WORDS[COMP_CWORD - 2]}
  fi
)bash";

constexpr const char* end = R"bash(  esac
}

complete -F _stackfit stackfit
)bash";

std::vector<std::string> names_of(const TreeCommand& command) {
  std::vector<std::string> names;
  for (const TreeOption& option : command.options) {
    names.insert(names.end(), option.names.begin(), option.names.end());
  }
  return names;
}

std::string words_call(const std::vector<std::string>& words) {
  std::string call = "_stackfit_words \"$typed\"";
  for (const std::string& word : words) {
    const bool plain = word.find_first_of(" '\"") == std::string::npos;
    call += ' ' + (plain ? word : single_quoted(word));
  }
  return call;
}

std::string value_case(const TreeOption& option) {
  const std::string names = fmt::format("{}", fmt::join(option.names, "|"));
  switch (option.value.takes) {
    case Takes::nothing:
      return {};
    case Takes::words:
      return fmt::format("        {})\n          {}\n          return\n          ;;\n", names,
                         words_call({option.value.words.begin(), option.value.words.end()}));
    case Takes::file:
      return fmt::format(
          "        {})\n          _stackfit_files \"$typed\"\n          return\n          ;;\n",
          names);
    case Takes::text:
      break;
  }
  return fmt::format("        {}) return ;;\n", names);
}

std::string command_case(const TreeCommand& command) {
  std::string text = fmt::format("    {})\n      case $before in\n", command.name);
  for (const TreeOption& option : command.options) {
    text += value_case(option);
  }
  text += "      esac\n      if [[ $typed == -* ]]; then\n";
  text += "        " + words_call(names_of(command)) + '\n';
  if (!command.positionals.empty()) {
    text += "      else\n        _stackfit_files \"$typed\"\n";
  }
  return text + "      fi\n      ;;\n";
}

}  // namespace

std::string single_quoted(const std::string& text) {
  std::string quoted = "'";
  for (const char c : text) {
    quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
  }
  return quoted + "'";
}

std::string bash_completion(const TreeCommand& program) {
  std::vector<std::string> first;
  for (const TreeCommand& command : program.commands) {
    first.push_back(command.name);
  }
  const std::vector<std::string> options = names_of(program);
  first.insert(first.end(), options.begin(), options.end());
  std::string text = helpers;
  text += "  if ((COMP_CWORD == 1)); then\n    " + words_call(first) + "\n    return\n  fi\n";
  text += "  case ${COMP_WORDS[1]} in\n";
  for (const TreeCommand& command : program.commands) {
    text += command_case(command);
  }
  return text + end;
}

}  // namespace stackfit::cli::manual
