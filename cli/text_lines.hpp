// SPDX-License-Identifier: GPL-3.0-or-later
//
// Lines of text that never pass 80 columns, whatever a file's titles and names hold.
//
// For: every text view. Contract, each tested: 1 no line is wider than `line_width`; 2 control
// characters of a file never reach the terminal; 3 without colour not one escape is written.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace stackfit::cli {

inline constexpr std::size_t line_width = 80;

/// A help to the eye, never the only sign: every line reads the same without it.
enum class Emphasis : std::uint8_t { none, heading, good, bad };

/// Columns a text takes on a terminal (UTF-8; wide letters take two).
[[nodiscard]] std::size_t display_width(std::string_view text);
/// A file's text made safe to print: control characters become `?`.
[[nodiscard]] std::string printable(std::string_view text);
/// At most `width` columns; what is cut away is shown by two dots.
[[nodiscard]] std::string shortened(std::string_view text, std::size_t width);

class TextLines {
 public:
  explicit TextLines(bool colour) : colour_(colour) {}

  /// One line as it is; a line too wide is wrapped under its own indent.
  void line(std::string_view text, Emphasis emphasis = Emphasis::none);
  /// Words flowed into the width, the first line after `first`, the others after `next` spaces.
  struct Indent {
    std::size_t first = 0;
    std::size_t next = 0;
  };
  void wrapped(std::string_view text, Indent indent, Emphasis emphasis = Emphasis::none);
  /// Unbroken even where too wide: something to copy into a shell.
  void verbatim(std::string_view text);
  void blank();

  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  void put(std::string_view text, Emphasis emphasis);

  bool colour_;
  std::string text_;
};

}  // namespace stackfit::cli
