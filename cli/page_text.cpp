// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/page_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "cli/figures.hpp"
#include "cli/svg_writer.hpp"

namespace stackfit::cli {
namespace {

struct Mark {
  char kind = 0;
  std::string_view value;  ///< empty: a unit's name
  std::string_view text;
  std::size_t bytes = 0;  ///< of the whole; 0: no mark stands here
};

bool is_figure(std::string_view value) {
  return value.find_first_not_of("0123456789+-.einfa") == std::string_view::npos;
}

Mark mark_at(std::string_view text) {
  const std::size_t head = text.find(mark_text);
  const std::size_t end = text.find(mark_end);
  constexpr std::size_t least_head = 2;  // the beginning and the kind
  if (text.empty() || text.front() != mark_begin || head == std::string_view::npos ||
      end == std::string_view::npos || head < least_head || end < head) {
    return {};
  }
  Mark mark{text[1], text.substr(2, head - 2), text.substr(head + 1, end - head - 1), end + 1};
  const bool letter = std::isalpha(static_cast<unsigned char>(mark.kind)) != 0;
  return letter && is_figure(mark.value) ? mark : Mark{};
}

std::string element_of(const Mark& mark) {
  if (mark.value.empty()) {
    return fmt::format(R"(<span class="u" data-u="{}">{}</span>)", mark.kind,
                       xml_escaped(mark.text));
  }
  return fmt::format(R"(<span class="q" data-q="{}" data-v="{}">{}</span>)", mark.kind, mark.value,
                     xml_escaped(mark.text));
}

}  // namespace

std::string html_of(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const std::size_t plain = std::min(text.find(mark_begin), text.size());
    out += xml_escaped(text.substr(0, plain));
    text.remove_prefix(plain);
    if (text.empty()) {
      break;
    }
    const Mark mark = mark_at(text);
    out += mark.bytes > 0 ? element_of(mark) : xml_escaped(text.substr(0, 1));
    text.remove_prefix(mark.bytes > 0 ? mark.bytes : 1);
  }
  return out;
}

std::string plain_text(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const std::size_t plain = std::min(text.find(mark_begin), text.size());
    out += text.substr(0, plain);
    text.remove_prefix(plain);
    const Mark mark = text.empty() ? Mark{} : mark_at(text);
    out += mark.text;
    text.remove_prefix(std::max(mark.bytes, std::min<std::size_t>(text.size(), 1)));
  }
  return out;
}

std::string lines_html(std::string_view lines) {
  std::string out;
  while (!lines.empty()) {
    const std::size_t end = std::min(lines.find('\n'), lines.size());
    out += html_of(lines.substr(0, end)) + "\n";
    lines.remove_prefix(std::min(end + 1, lines.size()));
  }
  return out;
}

std::string json_in_script(std::string_view json) {
  std::string out;
  for (const char letter : json) {
    switch (letter) {
      case '<':
        out += "\\u003c";
        break;
      case '>':
        out += "\\u003e";
        break;
      case '&':
        out += "\\u0026";
        break;
      default:
        out += letter;
    }
  }
  return out;
}

}  // namespace stackfit::cli
