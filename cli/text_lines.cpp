// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/text_lines.hpp"

#include <algorithm>
#include <array>

namespace stackfit::cli {
namespace {

struct Letter {
  char32_t code = 0;
  std::size_t bytes = 1;
  bool valid = false;
};

// First letter of a non-empty UTF-8 text; a broken byte counts as one letter.
Letter first_letter(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned lead = byte(0);
  if (lead < 0x80) {
    return {lead, 1, true};
  }
  const std::size_t bytes = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || text.size() < bytes) {
    return {};
  }
  char32_t code = lead & (0xFFU >> (bytes + 1));
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((byte(i) & 0xC0U) != 0x80U) {
      return {};
    }
    code = (code << 6U) | (byte(i) & 0x3FU);
  }
  return {code, bytes, true};
}

struct CodeRange {
  char32_t first;
  char32_t last;
};

bool in_any(char32_t code, const auto& ranges) {
  return std::any_of(ranges.begin(), ranges.end(), [code](const CodeRange& range) {
    return code >= range.first && code <= range.last;
  });
}

// The blocks that terminals draw two columns wide; good enough for names in a build.
bool is_wide(char32_t code) {
  static constexpr std::array<CodeRange, 8> wide{{{0x1100, 0x115F},
                                                  {0x2E80, 0xA4CF},
                                                  {0xAC00, 0xD7A3},
                                                  {0xF900, 0xFAFF},
                                                  {0xFE30, 0xFE6F},
                                                  {0xFF00, 0xFF60},
                                                  {0x1F300, 0x1FAFF},
                                                  {0x20000, 0x3FFFD}}};
  return in_any(code, wide);
}

// Marks that sit on the letter before them.
bool is_combining(char32_t code) {
  static constexpr std::array<CodeRange, 3> marks{
      {{0x0300, 0x036F}, {0x200B, 0x200D}, {0xFE00, 0xFE0F}}};
  return in_any(code, marks);
}

// C0, DEL, C1, and the marks that turn the reading direction around.
bool is_control(char32_t code) {
  static constexpr std::array<CodeRange, 4> controls{
      {{0x00, 0x1F}, {0x7F, 0x9F}, {0x200E, 0x200F}, {0x2028, 0x202E}}};
  return in_any(code, controls) || (code >= 0x2066 && code <= 0x2069);
}

std::size_t columns(const Letter& letter) {
  if (!letter.valid) {
    return 1;
  }
  return is_combining(letter.code) ? 0 : is_wide(letter.code) ? 2 : 1;
}

// Bytes of the longest beginning that fits `width` columns; at least one letter.
std::size_t bytes_that_fit(std::string_view text, std::size_t width) {
  std::size_t bytes = 0;
  std::size_t used = 0;
  while (bytes < text.size()) {
    const Letter letter = first_letter(text.substr(bytes));
    if (bytes > 0 && used + columns(letter) > width) {
      break;
    }
    used += columns(letter);
    bytes += letter.bytes;
  }
  return bytes;
}

std::string_view escape_of(Emphasis emphasis) {
  switch (emphasis) {
    case Emphasis::none:
      return "";
    case Emphasis::heading:
      return "\033[1m";
    case Emphasis::good:
      return "\033[1;32m";
    case Emphasis::bad:
      return "\033[1;31m";
  }
  return "";
}

// Takes the next word off the front of `text`; a word wider than `width` is cut.
std::string_view take_word(std::string_view& text, std::size_t width) {
  text.remove_prefix(std::min(text.find_first_not_of(' '), text.size()));
  std::string_view word = text.substr(0, text.find(' '));
  if (display_width(word) > width) {
    word = word.substr(0, bytes_that_fit(word, width));
  }
  text.remove_prefix(word.size());
  return word;
}

}  // namespace

std::size_t display_width(std::string_view text) {
  std::size_t width = 0;
  while (!text.empty()) {
    const Letter letter = first_letter(text);
    width += columns(letter);
    text.remove_prefix(letter.bytes);
  }
  return width;
}

std::string printable(std::string_view text) {
  std::string safe;
  while (!text.empty()) {
    const Letter letter = first_letter(text);
    if (letter.valid && !is_control(letter.code)) {
      safe += text.substr(0, letter.bytes);
    } else {
      safe += '?';
    }
    text.remove_prefix(letter.bytes);
  }
  return safe;
}

std::string shortened(std::string_view text, std::size_t width) {
  static constexpr std::string_view dots = "..";
  if (display_width(text) <= width) {
    return std::string(text);
  }
  if (width <= dots.size()) {
    return std::string(dots.substr(0, width));
  }
  return std::string(text.substr(0, bytes_that_fit(text, width - dots.size()))) + std::string(dots);
}

void TextLines::put(std::string_view text, Emphasis emphasis) {
  text = text.substr(0, text.find_last_not_of(' ') + 1);
  const std::string_view escape = colour_ ? escape_of(emphasis) : std::string_view{};
  text_ += escape;
  text_ += text;
  if (!escape.empty()) {
    text_ += "\033[0m";
  }
  text_ += '\n';
}

void TextLines::line(std::string_view text, Emphasis emphasis) {
  blocks_.push_back({TextBlock::Kind::line, emphasis, 0, "", std::string(text)});
  if (display_width(text) <= line_width) {
    put(text, emphasis);
    return;
  }
  const std::size_t indent = std::min(text.find_first_not_of(' '), text.size());
  flow(text, {.first = indent, .next = indent + 2}, emphasis);
}

void TextLines::wrapped(std::string_view text, Indent indent, Emphasis emphasis) {
  blocks_.push_back({TextBlock::Kind::words, emphasis, indent.first, "", std::string(text)});
  flow(text, indent, emphasis);
}

void TextLines::beside(std::string_view columns, std::string_view text) {
  blocks_.push_back(
      {TextBlock::Kind::beside, Emphasis::none, 0, std::string(columns), std::string(text)});
  TextLines flowed(false);
  const std::size_t from = display_width(columns);
  flowed.flow(text, {.first = from, .next = from}, Emphasis::none);
  std::string rest = std::move(flowed.text_);
  rest.replace(0, std::min(from, rest.size()), columns);
  text_ += rest;
}

void TextLines::columns(const std::vector<TextColumn>& row, Emphasis emphasis) {
  TextBlock block{TextBlock::Kind::columns, emphasis, 0, "", ""};
  std::string text = emphasis == Emphasis::heading ? "" : "  ";
  for (const TextColumn& column : row) {
    const std::size_t used = display_width(column.text);
    const std::string padding(column.width > used ? column.width - used : 0, ' ');
    text += column.right ? padding + column.text : column.text + padding;
    block.cells.push_back(column.text);
  }
  block.text = row.empty() ? "" : row.front().text;
  blocks_.push_back(std::move(block));
  put(shortened(text, line_width), emphasis);
}

void TextLines::flow(std::string_view text, Indent indent, Emphasis emphasis) {
  std::string current(indent.first, ' ');
  bool empty = true;
  while (text.find_first_not_of(' ') != std::string_view::npos) {
    const std::string_view word = take_word(text, line_width - std::max(indent.first, indent.next));
    if (!empty && display_width(current) + 1 + display_width(word) > line_width) {
      put(current, emphasis);
      current.assign(indent.next, ' ');
      empty = true;
    }
    if (!empty) {
      current += ' ';
    }
    current += word;
    empty = false;
  }
  if (!empty) {
    put(current, emphasis);
  }
}

void TextLines::verbatim(std::string_view text) {
  blocks_.push_back({TextBlock::Kind::verbatim, Emphasis::none, 0, "", std::string(text)});
  put(text, Emphasis::none);
}

void TextLines::blank() {
  blocks_.push_back({TextBlock::Kind::blank, Emphasis::none, 0, "", ""});
  text_ += '\n';
}

}  // namespace stackfit::cli
