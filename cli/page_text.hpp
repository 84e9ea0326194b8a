// SPDX-License-Identifier: GPL-3.0-or-later
//
// Text with marked figures as HTML that cannot be anything but text.
//
// For: everything a page shows that is not from a template. Contract, each tested: 1 whatever
// comes in, no element comes out but those of the marks (figures.hpp); 2 JSON in a script element
// cannot end it; 3 a mark that is not whole is text.
// Not for: SVG (svg_writer.hpp escapes its own).
#pragma once

#include <string>
#include <string_view>

namespace stackfit::cli {

/// Escaped; each mark of a figure becomes `<span class="q" data-q="P" data-v="0.05">50 kPa</span>`,
/// each unit's name `<span class="u" data-u="P">kPa</span>`.
[[nodiscard]] std::string html_of(std::string_view text);

/// The text as it is printed, its marks taken out.
[[nodiscard]] std::string plain_text(std::string_view text);

/// The same of several lines, whose ends are kept.
[[nodiscard]] std::string lines_html(std::string_view lines);

/// JSON as it may stand in a script element: `<`, `>` and `&` by their number.
[[nodiscard]] std::string json_in_script(std::string_view json);

}  // namespace stackfit::cli
