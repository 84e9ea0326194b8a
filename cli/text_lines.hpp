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
#include <vector>

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

/// What was written, before it was broken into lines: a page sets it in its own way.
struct TextBlock {
  enum class Kind : std::uint8_t {
    line,      ///< as it stands, columns and all
    words,     ///< flowing
    beside,    ///< flowing, with a label before it
    columns,   ///< a row of a table
    verbatim,  ///< something to copy
    blank
  };
  Kind kind = Kind::line;
  Emphasis emphasis = Emphasis::none;
  std::size_t indent = 0;
  std::string label;
  std::string text;
  std::vector<std::string> cells = {};  ///< of columns
};

/// One column of a row, padded to its width; longer texts push the rest on.
struct TextColumn {
  std::string text;
  std::size_t width = 0;
  bool right = false;
};

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
  /// Words flowed beside the columns before them.
  void beside(std::string_view columns, std::string_view text);
  /// A row of a table, after an indent of two; what does not go on the line is cut.
  void columns(const std::vector<TextColumn>& row, Emphasis emphasis = Emphasis::none);
  /// Unbroken even where too wide: something to copy into a shell.
  void verbatim(std::string_view text);
  void blank();

  [[nodiscard]] const std::string& text() const { return text_; }
  /// The same, block by block as it came in.
  [[nodiscard]] const std::vector<TextBlock>& blocks() const { return blocks_; }

 private:
  void flow(std::string_view text, Indent indent, Emphasis emphasis);
  void put(std::string_view text, Emphasis emphasis);

  bool colour_;
  std::string text_;
  std::vector<TextBlock> blocks_;
};

/// A line of a list under its heading.
inline constexpr TextLines::Indent item_indent{.first = 2, .next = 4};

}  // namespace stackfit::cli
