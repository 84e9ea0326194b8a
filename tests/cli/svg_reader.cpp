// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/cli/svg_reader.hpp"

#include <cstddef>
#include <set>
#include <stdexcept>
#include <utility>

#include "cli/text_lines.hpp"

namespace svg_reader {
namespace {

[[noreturn]] void fail(const std::string& what, std::size_t at) {
  throw std::runtime_error("svg at " + std::to_string(at) + ": " + what);
}

class Reader {
 public:
  explicit Reader(const std::string& text) : text_(text) {}

  std::vector<Element> read() {
    check_letters();
    skip("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    do {
      if (peek() != '<') {
        const std::string words = resolved(until('<'));
        if (open_.empty()) fail("text outside", at_);
        out_[open_.back()].text += words;
      } else if (text_.compare(at_, 2, "</") == 0) {
        close();
      } else {
        open();
      }
    } while (!open_.empty());
    if (text_.substr(at_) != "\n") fail("something after the end", at_);
    check_ids();
    return std::move(out_);
  }

 private:
  [[nodiscard]] char peek() const {
    if (at_ >= text_.size()) fail("ends too soon", at_);
    return text_[at_];
  }
  void skip(const std::string& expected) {
    if (text_.compare(at_, expected.size(), expected) != 0) fail("no " + expected, at_);
    at_ += expected.size();
  }
  std::string until(char stop) {
    const std::size_t end = text_.find(stop, at_);
    if (end == std::string::npos) fail(std::string("no ") + stop, at_);
    const std::string part = text_.substr(at_, end - at_);
    at_ = end;
    return part;
  }
  std::string name() {
    const std::size_t end = text_.find_first_of(" =>/", at_);
    if (end == std::string::npos || end == at_) fail("no name", at_);
    const std::string part = text_.substr(at_, end - at_);
    at_ = end;
    return part;
  }

  void open() {
    skip("<");
    Element element;
    element.name = name();
    element.parent = open_.empty() ? "" : out_[open_.back()].name;
    while (peek() == ' ') {
      skip(" ");
      const std::string key = name();
      skip("=\"");
      const std::string value = until('"');
      skip("\"");
      if (!element.attributes.emplace(key, resolved(value)).second) fail(key + " twice", at_);
    }
    const bool whole = peek() == '/';
    skip(whole ? "/>" : ">");
    out_.push_back(element);
    if (!whole) open_.push_back(out_.size() - 1);
  }
  void close() {
    skip("</");
    if (open_.empty() || name() != out_[open_.back()].name) fail("closes what is not open", at_);
    skip(">");
    open_.pop_back();
  }

  std::string resolved(const std::string& raw) const {
    static const std::map<std::string, std::string> entities{
        {"&amp;", "&"}, {"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}, {"&#39;", "'"}};
    std::string out;
    for (std::size_t i = 0; i < raw.size(); ++i) {
      if (raw[i] == '<') fail("a bare <", at_);
      if (raw[i] != '&') {
        out += raw[i];
        continue;
      }
      const std::size_t end = raw.find(';', i);
      const auto found = entities.find(end == std::string::npos ? "" : raw.substr(i, end - i + 1));
      if (found == entities.end()) fail("an unknown entity", at_);
      out += found->second;
      i = end;
    }
    return out;
  }

  void check_letters() const {
    std::size_t following = 0;
    for (const char letter : text_) {
      const auto byte = static_cast<unsigned char>(letter);
      if ((byte < 0x20 && byte != '\n') || byte == 0x7F) fail("a control character", 0);
      const bool follows = (byte & 0xC0U) == 0x80U;
      if (follows != (following > 0)) fail("broken UTF-8", 0);
      if (follows) --following;
      if (byte >= 0xC2) following = byte >= 0xF0 ? 3 : byte >= 0xE0 ? 2 : 1;
    }
    if (following > 0) fail("broken UTF-8", 0);
  }
  void check_ids() const {
    std::set<std::string> ids;
    for (const Element& element : out_) {
      const auto id = element.attributes.find("id");
      if (id != element.attributes.end() && !ids.insert(id->second).second) {
        fail("id twice: " + id->second, 0);
      }
    }
  }

  const std::string& text_;
  std::size_t at_ = 0;
  std::vector<Element> out_;
  std::vector<std::size_t> open_;
};

TextBox box_of(const Element& text) {
  // Capitals and figures reach over the line by about 0.73, tails below it by 0.2 of the size.
  const double size = text.number("font-size");
  const double width = 0.6 * size * static_cast<double>(stackfit::cli::display_width(text.text));
  const std::string& anchor = text.said("text-anchor");
  const double begin = anchor == "start" ? 0 : anchor == "middle" ? -width / 2 : -width;
  const double x = text.number("x");
  const double y = text.number("y");
  if (text.attributes.count("transform") == 0) {
    return {text.text, x + begin, y - 0.75 * size, x + begin + width, y + 0.2 * size};
  }
  return {text.text, x - 0.75 * size, y - begin - width, x + 0.2 * size, y - begin};
}

}  // namespace

const std::string& Element::said(const std::string& attribute) const {
  const auto found = attributes.find(attribute);
  if (found == attributes.end()) throw std::runtime_error(name + " has no " + attribute);
  return found->second;
}

double Element::number(const std::string& attribute) const {
  const std::string& value = said(attribute);
  std::size_t used = 0;
  const double number = std::stod(value, &used);
  if (used != value.size()) throw std::runtime_error(attribute + " is no number: " + value);
  return number;
}

std::vector<Element> read_svg(const std::string& text) {
  return Reader(text).read();
}

const Element& by_id(const std::vector<Element>& elements, std::string_view id) {
  for (const Element& element : elements) {
    const auto found = element.attributes.find("id");
    if (found != element.attributes.end() && found->second == id) return element;
  }
  throw std::runtime_error("no element " + std::string(id));
}

std::vector<const Element*> named(const std::vector<Element>& elements, const std::string& name) {
  std::vector<const Element*> out;
  for (const Element& element : elements) {
    if (element.name == name) out.push_back(&element);
  }
  return out;
}

bool TextBox::overlaps(const TextBox& other) const {
  constexpr double touching_mm = 1e-6;
  return left < other.right - touching_mm && other.left < right - touching_mm &&
         top < other.bottom - touching_mm && other.top < bottom - touching_mm;
}

std::vector<TextBox> text_boxes(const std::vector<Element>& elements) {
  std::vector<TextBox> out;
  for (const Element* text : named(elements, "text")) out.push_back(box_of(*text));
  return out;
}

}  // namespace svg_reader
