// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/manual/manual_page.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cctype>

#include "cli/cautions.hpp"
#include "cli/manual/footer.hpp"
#include "cli/manual/page_words.hpp"
#include "cli/manual/roff.hpp"

namespace stackfit::cli::manual {
namespace {

// The library's name for options that were given no group.
constexpr std::string_view plain_group = "Options";
constexpr std::string_view only_example = "For example:";

std::string title_of(std::string name) {
  for (char& letter : name) {
    letter = static_cast<char>(std::toupper(static_cast<unsigned char>(letter)));
  }
  return name;
}

std::string begun_small(std::string text) {
  if (!text.empty()) {
    text[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(text[0])));
  }
  return text;
}

// As a person would type them.
std::vector<std::string> typed_words(const OptionValue& value) {
  std::vector<std::string> words;
  for (const std::string_view word : value.words) {
    const bool needs_quotes = word.find(' ') != std::string_view::npos;
    words.push_back(needs_quotes ? fmt::format("\"{}\"", word) : std::string(word));
  }
  return words;
}

// A list that is longer stands in the text, not beside the option's name.
bool stands_beside(const OptionValue& value) {
  constexpr std::size_t most = 4;
  return value.takes == Takes::words && value.words.size() <= most;
}

std::string value_markup(const TreeOption& option) {
  if (option.value.takes == Takes::nothing) {
    return {};
  }
  if (!stands_beside(option.value)) {
    const char* usual = option.value.takes == Takes::file ? "FILE" : "TEXT";
    return ' ' + italic(option.placeholder.empty() ? usual : option.placeholder);
  }
  std::string list;
  for (const std::string& word : typed_words(option.value)) {
    list += (list.empty() ? " " : "|") + bold(word);
  }
  return option.value.open ? list + "|" + italic("TEXT") : list;
}

std::string option_markup(const TreeOption& option) {
  std::string names;
  for (const std::string& name : option.names) {
    names += (names.empty() ? "" : ", ") + bold(name);
  }
  return names.empty() ? italic(option.positional) : names + value_markup(option);
}

std::string meaning_of(const TreeOption& option) {
  std::string meaning = option.meaning;
  const auto add = [&](std::string_view lead, const std::vector<std::string>& others) {
    if (!others.empty()) {
      meaning += fmt::format("; {} {}", lead, fmt::join(others, ", "));
    }
  };
  if (!stands_beside(option.value)) {
    add("one of", typed_words(option.value));
  }
  add("not together with", option.not_with);
  add("only together with", option.only_with);
  return meaning + '.';
}

void add_options(Roff& page, const TreeCommand& command) {
  page.section("OPTIONS");
  for (const TreeOption& positional : command.positionals) {
    page.tagged(option_markup(positional), meaning_of(positional));
  }
  std::string group(plain_group);
  for (const TreeOption& option : command.options) {
    if (option.group != group && option.group != plain_group) {
      page.part(option.group);
    }
    group = option.group;
    page.tagged(option_markup(option), meaning_of(option));
  }
}

void add_statuses(Roff& page, const TreeCommand& program, const PageWords& words) {
  constexpr std::string_view warned = "1";
  page.section("EXIT STATUS");
  for (const StatusText& status : footer_of(program.footer).statuses) {
    if (status.status != warned) {
      page.tagged(bold(status.status), status.text + '.');
    } else if (!words.warning.empty()) {
      page.tagged(bold(status.status), std::string(words.warning) + '.');
    }
  }
}

void add_named(Roff& page, std::string_view section, const std::vector<NamedText>& list) {
  page.section(section);
  for (const NamedText& entry : list) {
    page.tagged(italic(entry.name), entry.text);
  }
}

void add_examples(Roff& page, const Footer& footer) {
  if (footer.examples.empty()) {
    return;
  }
  page.section("EXAMPLES");
  if (footer.before_examples != only_example) {
    page.paragraph(footer.before_examples);
  }
  page.example(footer.examples);
  const auto names_a_fixture = [](const std::string& line) {
    return line.find("fixtures/") != std::string::npos;
  };
  if (std::ranges::any_of(footer.examples, names_a_fixture)) {
    page.paragraph(
        "The folder fixtures, with invented builds, is installed in share/doc/stackfit; the "
        "examples work as typed from there.");
  }
}

void add_cautions(Roff& page) {
  page.section("CAUTIONS");
  page.paragraph(std::string("STOP: ") + cautions::never_pressed);
  for (const char* caution : cautions::in_full) {
    page.bullet(caution);
  }
  page.paragraph(cautions::overruled);
}

void add_others(Roff& page, const TreeCommand& program, const TreeCommand& but) {
  std::string list;
  const auto add = [&](const std::string& name) {
    list += (list.empty() ? "" : ",\n") + bold(name) + "(1)";
  };
  if (&but != &program) {
    add(program.name);
  }
  for (const TreeCommand& command : program.commands) {
    if (&command != &but) {
      add(program.name + '-' + command.name);
    }
  }
  page.section("SEE ALSO");
  page.line(list);
}

// What follows the options on every page.
void add_end(Roff& page, const TreeCommand& program, const TreeCommand& command,
             const PageWords& words) {
  add_statuses(page, program, words);
  add_named(page, "ENVIRONMENT", environment());
  add_named(page, "FILES", words.files);
  add_examples(page, footer_of(command.footer));
  add_cautions(page);
  add_others(page, program, command);
}

// Grouping in the order in which the help has them: those without a group first.
TreeCommand grouped(TreeCommand command) {
  std::vector<std::string> groups{std::string(plain_group)};
  for (const TreeOption& option : command.options) {
    if (std::ranges::find(groups, option.group) == groups.end()) {
      groups.push_back(option.group);
    }
  }
  const auto rank = [&](const TreeOption& option) {
    return std::ranges::find(groups, option.group);
  };
  std::ranges::stable_sort(command.options, {}, rank);
  return command;
}

}  // namespace

std::string program_page(const TreeCommand& program, const Edition& edition) {
  const PageWords& words = words_of("");
  Roff page({title_of(program.name), edition.date, edition.version});
  page.section("NAME");
  page.line(typed(program.name) + " \\- " + prose(words.in_short));
  page.section("SYNOPSIS");
  page.line(bold(program.name) + ' ' + italic("COMMAND") + " [" + italic("OPTIONS") + ']');
  page.new_line();
  page.line(bold(program.name + " --help"));
  page.section("DESCRIPTION");
  page.paragraph(program.meaning);
  page.paragraph(words.description);
  page.section("COMMANDS");
  for (const TreeCommand& command : program.commands) {
    page.tagged(bold(program.name + '-' + command.name) + "(1)", command.meaning + '.');
  }
  add_options(page, program);
  add_end(page, program, program, words);
  return page.text();
}

std::string command_page(const TreeCommand& program, const TreeCommand& command,
                         const Edition& edition) {
  const PageWords& words = words_of(command.name);
  const std::string name = program.name + '-' + command.name;
  Roff page({title_of(name), edition.date, edition.version});
  page.section("NAME");
  page.line(typed(name) + " \\- " + prose(begun_small(command.meaning)));
  page.section("SYNOPSIS");
  std::string call = bold(program.name + ' ' + command.name) + " [" + italic("OPTIONS") + ']';
  for (const TreeOption& positional : command.positionals) {
    call += " [" + italic(positional.positional) + ']';
  }
  page.line(call);
  page.section("DESCRIPTION");
  page.paragraph(words.description);
  const Footer footer = footer_of(command.footer);
  if (!footer.prose.empty()) {
    page.paragraph(footer.prose);
  }
  add_options(page, grouped(command));
  add_end(page, program, command, words);
  return page.text();
}

}  // namespace stackfit::cli::manual
