// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/manual/roff.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

namespace stackfit::cli::manual {
namespace {

bool is_letter(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0;
}

std::string escaped(char c, bool to_be_typed) {
  switch (c) {
    case '\\':
      return "\\e";
    case '~':
      return "\\(ti";
    case '^':
      return "\\(ha";
    case '`':
      return "\\(ga";
    case '\'':
      return to_be_typed ? "\\(aq" : "'";
    default:
      return {c};
  }
}

// A line that begins with one of these would be taken for a request.
std::string guarded(std::string line) {
  return line.starts_with('.') || line.starts_with('\'') ? "\\&" + line : line;
}

std::string quoted(std::string_view text) {
  return fmt::format("\"{}\"", text);
}

}  // namespace

std::string prose(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool joins =
        i > 0 && i + 1 < text.size() && is_letter(text[i - 1]) && is_letter(text[i + 1]);
    out += text[i] == '-' && !joins ? "\\-" : escaped(text[i], false);
  }
  return out;
}

std::string typed(std::string_view text) {
  std::string out;
  for (const char c : text) {
    out += c == '-' ? "\\-" : escaped(c, true);
  }
  return out;
}

std::string bold(std::string_view text) {
  return "\\fB" + typed(text) + "\\fR";
}

std::string italic(std::string_view text) {
  return "\\fI" + typed(text) + "\\fR";
}

Roff::Roff(const Head& head) {
  text_ =
      ".\\\" SPDX-License-Identifier: GPL-3.0-or-later\n"
      ".\\\" Made from the program's own command line (cli/manual).\n";
  text_ += fmt::format(".TH {} 1 {} {} {}\n", typed(head.title), quoted(head.date),
                       quoted("stackfit " + head.version), quoted("User commands"));
}

void Roff::section(std::string_view name) {
  text_ += fmt::format(".SH {}\n", name);
}

void Roff::part(std::string_view name) {
  text_ += fmt::format(".SS {}\n", prose(name));
}

void Roff::line(std::string_view markup) {
  text_ += guarded(std::string(markup)) + '\n';
}

void Roff::new_line() {
  text_ += ".br\n";
}

void Roff::paragraph(std::string_view text) {
  part_from_above();
  running(text);
}

void Roff::tagged(std::string_view markup, std::string_view text) {
  text_ += ".TP\n";
  line(markup);
  running(text);
}

void Roff::bullet(std::string_view text) {
  text_ += ".IP \\(bu 2\n";
  running(text);
}

void Roff::example(const std::vector<std::string>& lines) {
  part_from_above();
  text_ += ".RS 4\n.nf\n";
  for (const std::string& example_line : lines) {
    line(typed(example_line));
  }
  text_ += ".fi\n.RE\n";
}

// Right after a heading no space is wanted.
void Roff::part_from_above() {
  const std::size_t last = text_.rfind('\n', text_.size() - 2) + 1;
  if (text_.compare(last, 2, ".S") != 0) {
    text_ += ".PP\n";
  }
}

// A new line for each sentence, as the language wants it, and none too long to be looked at.
void Roff::running(std::string_view text) {
  constexpr std::size_t widest = 76;
  std::string current;
  const auto flush = [&] {
    if (!current.empty()) {
      line(prose(current));
      current.clear();
    }
  };
  while (!text.empty()) {
    const std::size_t end = std::min(text.find_first_of(" \n"), text.size());
    const std::string_view word = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (word.empty()) {
      continue;
    }
    if (current.size() + 1 + word.size() > widest) {
      flush();
    }
    current += (current.empty() ? "" : " ") + std::string(word);
    if (word.ends_with('.') || word.ends_with('?')) {
      flush();
    }
  }
  flush();
}

}  // namespace stackfit::cli::manual
