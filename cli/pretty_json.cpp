// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/pretty_json.hpp"

#include <algorithm>
#include <string_view>

#include "cli/places.hpp"

namespace stackfit::cli {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t page_width = 96;
constexpr std::size_t indent_step = 2;

std::string one_line(const Json& value) {
  if (!value.is_structured() || value.empty()) return value.dump();
  std::string text = value.is_object() ? "{ " : "[";
  bool first = true;
  for (const auto& item : value.items()) {
    if (!first) text += ", ";
    first = false;
    if (value.is_object()) text += Json(item.key()).dump() + ": ";
    text += one_line(item.value());
  }
  return text + (value.is_object() ? " }" : "]");
}

class Printer {
 public:
  explicit Printer(const Comments& comments) : comments_(comments) {}

  void comment(std::string_view text, std::size_t indent) {
    while (!text.empty()) {
      std::size_t end = std::min(text.find('\n'), text.size());
      const std::size_t room = page_width - indent - std::string_view("// ").size();
      if (end > room) {
        const std::size_t space = text.rfind(' ', room);
        end = space == std::string_view::npos ? end : space;
      }
      text_ += std::string(indent, ' ') + "// " + std::string(text.substr(0, end)) + '\n';
      text.remove_prefix(std::min(end + 1, text.size()));
    }
  }

  // `taken`: columns before the value on its line.
  void value(const Json& value, const std::string& pointer, std::size_t indent, std::size_t taken) {
    if (!value.is_structured() || value.empty() || fits(value, pointer, taken)) {
      text_ += one_line(value);
      return;
    }
    const bool object = value.is_object();
    text_ += object ? "{\n" : "[\n";
    std::size_t left = value.size();
    std::size_t index = 0;
    for (const auto& item : value.items()) {
      const std::string key = object ? item.key() : std::to_string(index++);
      const std::string below = child_pointer(pointer, std::string_view(key));
      const std::size_t inner = indent + indent_step;
      if (const auto said = comments_.find(below); said != comments_.end()) {
        comment(said->second, inner);
      }
      const std::string name = object ? Json(key).dump() + ": " : "";
      text_ += std::string(inner, ' ') + name;
      this->value(item.value(), below, inner, inner + name.size());
      text_ += --left > 0 ? ",\n" : "\n";
    }
    text_ += std::string(indent, ' ') + (object ? '}' : ']');
  }

  std::string text() && { return std::move(text_) + '\n'; }

 private:
  // The document itself is never put on one line, nor a block that has comments inside.
  [[nodiscard]] bool fits(const Json& value, const std::string& pointer, std::size_t taken) const {
    if (pointer.empty()) return false;
    const auto inside = comments_.upper_bound(pointer);
    const bool has_comment = inside != comments_.end() && inside->first.starts_with(pointer + '/');
    return !has_comment && taken + one_line(value).size() < page_width;
  }

  const Comments& comments_;
  std::string text_;
};

}  // namespace

std::string pretty_json(const nlohmann::ordered_json& document, const Comments& comments,
                        const std::string& head) {
  Printer printer(comments);
  printer.comment(head, 0);
  printer.value(document, "", 0, 0);
  return std::move(printer).text();
}

}  // namespace stackfit::cli
