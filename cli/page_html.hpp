// SPDX-License-Identifier: GPL-3.0-or-later
//
// The small pieces of HTML that every section of the page is made of.
//
// For: page_*.cpp. Texts come in as they are, with marked figures; they are escaped here. Only
// what is called `html` is taken as it is.
// Not for: whole sections (cli/page/*.html).
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "cli/text_lines.hpp"
#include "solver/answer.hpp"

namespace stackfit::cli {

/// A cell of a table; numbers stand to the right.
struct PageCell {
  std::string text;
  bool number = false;
  bool heads_row = false;
  std::string mark = {};  ///< class of a shape before the text: `standing standing-above`
};
struct PageTable {
  std::string caption;  ///< read out before the table; may be empty
  std::string look;     ///< classes: `fine` for small print, `stack` for cards on a phone
  std::vector<PageCell> head;
  std::vector<std::vector<PageCell>> rows;
};
[[nodiscard]] PageCell number_cell(std::string text);
[[nodiscard]] PageCell row_head(std::string text);
/// With the shape of that standing before it.
[[nodiscard]] PageCell standing_cell(std::string text, Standing standing);
/// In a box of its own that may be scrolled where the page is narrow.
[[nodiscard]] std::string table_html(const PageTable& table);

/// `<li><label><input type="checkbox"> text`: something to tick off.
[[nodiscard]] std::string ticks_html(const std::vector<std::string>& texts);
[[nodiscard]] std::string list_html(const std::vector<std::string>& texts);
[[nodiscard]] std::string figure_html(const std::string& svg_html, std::string_view caption,
                                      bool wide = false);

/// What a text view wrote, flowing: headings, lists, labelled lines, things to copy. Blank lines
/// part paragraphs; `line`s keep their columns.
[[nodiscard]] std::string blocks_html(std::span<const TextBlock> blocks,
                                      const std::vector<std::string>& heads = {});

/// A heading in capitals as a section's name: `What to order`.
[[nodiscard]] std::string sentence_case(const std::string& heading);

/// The blocks under each heading, and those before the first.
struct BlockSection {
  std::string title;
  std::vector<std::string> heads;  ///< of the columns that stand in it, where the heading has them
  std::vector<TextBlock> blocks;
};
[[nodiscard]] std::string section_html(const BlockSection& section);
[[nodiscard]] std::vector<BlockSection> split_at_headings(std::span<const TextBlock> blocks);

}  // namespace stackfit::cli
