// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/manual/footer.hpp"

#include <algorithm>

namespace stackfit::cli::manual {
namespace {

constexpr std::string_view indent = "  ";
constexpr std::string_view status_mark = "Exit status:";

// Up to the next one of `ends`, which goes too.
std::string_view taken(std::string_view& text, std::string_view ends) {
  const std::size_t end = std::min(text.find_first_of(ends), text.size());
  const std::string_view part = text.substr(0, end);
  text.remove_prefix(std::min(end + 1, text.size()));
  return part;
}

void append(std::string& prose, std::string_view line) {
  prose += (prose.empty() ? "" : " ") + std::string(line);
}

// "0 inside; 1 answered with a warning; ...": a number, then what it means.
std::vector<StatusText> statuses_of(std::string_view text) {
  std::vector<StatusText> statuses;
  while (!text.empty()) {
    std::string_view part = taken(text, ";.");
    part.remove_prefix(std::min(part.find_first_not_of(' '), part.size()));
    if (!part.empty()) {
      const std::string_view status = taken(part, " ");
      statuses.push_back({std::string(status), std::string(part)});
    }
  }
  return statuses;
}

}  // namespace

Footer footer_of(std::string_view text) {
  Footer footer;
  std::string statuses;
  bool in_statuses = false;
  while (!text.empty()) {
    std::string_view line = taken(text, "\n");
    if (line.starts_with(status_mark)) {
      in_statuses = true;
      line.remove_prefix(status_mark.size());
    }
    if (in_statuses) {
      append(statuses, line);
    } else if (line.starts_with(indent)) {
      footer.examples.emplace_back(line.substr(indent.size()));
    } else if (line.ends_with(':')) {
      footer.before_examples = line;
    } else if (!line.empty()) {
      append(footer.prose, line);
    }
  }
  footer.statuses = statuses_of(statuses);
  return footer;
}

}  // namespace stackfit::cli::manual
