// SPDX-License-Identifier: GPL-3.0-or-later
//
// What is assumed, as a table of the page.
#include <fmt/format.h>

#include "cli/page_html.hpp"
#include "cli/page_parts.hpp"
#include "cli/page_text.hpp"

namespace stackfit::cli {

std::string assumed_html(const std::vector<AssumedLine>& lines) {
  if (lines.empty()) {
    return "<p>Nothing in this answer is assumed: every figure was given.</p>\n";
  }
  PageTable table;
  table.caption = "Most worth first. What you give in the build replaces it.";
  table.look = "stack fine";
  table.head = {
      {"figure"}, {"taken"}, {"95 % span"}, {"what the span moves"}, {"why, and from where"}};
  for (const AssumedLine& line : lines) {
    const std::string source = line.source.empty() ? "" : fmt::format(" From: {}.", line.source);
    table.rows.push_back({row_head(line.what + " *"),
                          {line.taken},
                          {line.span},
                          {line.worth},
                          {line.why + "." + source}});
  }
  return fmt::format(
      "<details><summary>{} figures and words, and what each is worth</summary>{}"
      "</details>\n",
      lines.size(), table_html(table));
}

}  // namespace stackfit::cli
