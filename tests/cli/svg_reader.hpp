// SPDX-License-Identifier: GPL-3.0-or-later
//
// A reader of SVG that is stricter than a browser: what it takes is well-formed.
//
// For: tests of drawings. Not for: SVG of others (no CDATA, comments, style sheets, transforms but
// a text's quarter turn).
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace svg_reader {

struct Element {
  std::string name;
  std::string parent;
  std::map<std::string, std::string> attributes;
  std::string text;  ///< directly in it, entities resolved

  /// Throw std::runtime_error where there is no such attribute or it is no number.
  [[nodiscard]] const std::string& said(const std::string& attribute) const;
  [[nodiscard]] double number(const std::string& attribute) const;
};

/// In the order in which they open. Throws std::runtime_error for tags that do not balance,
/// attributes twice or without quotes, `<` or an unknown entity in text, control characters, broken
/// UTF-8, ids twice, and anything after the end.
[[nodiscard]] std::vector<Element> read_svg(const std::string& text);

/// Throws std::runtime_error where there is none.
[[nodiscard]] const Element& by_id(const std::vector<Element>& elements, std::string_view id);
[[nodiscard]] std::vector<const Element*> named(const std::vector<Element>& elements,
                                                const std::string& name);

/// What a text covers, with letters 0.6 of their size wide.
struct TextBox {
  std::string text;
  double left = 0;
  double top = 0;
  double right = 0;
  double bottom = 0;

  [[nodiscard]] bool overlaps(const TextBox& other) const;
};
[[nodiscard]] std::vector<TextBox> text_boxes(const std::vector<Element>& elements);

}  // namespace svg_reader
