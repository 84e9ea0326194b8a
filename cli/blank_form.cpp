// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/blank_form.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <string_view>

#include "cli/build_schema.hpp"
#include "cli/places.hpp"
#include "cli/pretty_json.hpp"

namespace stackfit::cli {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* form_head =
    "A build file to fill in: write between the quotes, with units. What is left blank counts as "
    "not said; the program then assumes a figure and marks it, or says that it must have it. "
    "A \"note\" may stand in every block. Needed in any case: the cells, the face, the thickness "
    "and the inside length of the box. A clamp frame stands in place of a box: fill in one of the "
    "two.";

// Walks the schema and puts a blank where a value may stand.
class FormMaker {
 public:
  explicit FormMaker(const Json& schema) : schema_(schema) {}

  Json make() { return block(schema_, ""); }
  [[nodiscard]] const Comments& comments() const { return comments_; }

 private:
  [[nodiscard]] const Json& resolved(const Json& node) const {
    const auto reference = node.find("$ref");
    if (reference == node.end()) return node;
    return resolved(schema_.at(Json::json_pointer(reference->get<std::string>().substr(1))));
  }

  [[nodiscard]] static bool is_only(const Json& node, std::string_view type) {
    const auto said = node.find("type");
    return said != node.end() && said->is_string() && said->get<std::string>() == type;
  }

  static std::string comment_of(const Json& property, const Json& node, const std::string& key) {
    const bool own_title = property.contains("$ref") && property.contains("title");
    std::string text = own_title ? property.at("title").get<std::string>() + ": " : "";
    text += node.value("description", key);
    const auto words = node.find("enum");
    if (words == node.end()) return text;
    std::string list;
    for (const Json& word : *words) {
      if (word.is_string()) list += (list.empty() ? "" : ", ") + word.get<std::string>();
    }
    return text + ": " + list;
  }

  Json block(const Json& node, const std::string& pointer) {
    Json out = Json::object();
    for (const auto& item : node.at("properties").items()) {
      // One note is enough of a reminder that notes may stand anywhere.
      if (item.key() == "note" && !pointer.empty()) continue;
      const std::string below = child_pointer(pointer, std::string_view(item.key()));
      const Json& wanted = resolved(item.value());
      comments_[below] = comment_of(item.value(), wanted, item.key());
      out[item.key()] = blank(wanted, below);
    }
    return out;
  }

  Json blank(const Json& node, const std::string& pointer) {
    if (node.contains("const")) return node.at("const");
    if (is_only(node, "object")) return block(node, pointer);
    if (is_only(node, "array") && node.contains("items")) {
      const Json& item = resolved(node.at("items"));
      // A list of blocks gets one block to copy; lists of figures are written out by hand.
      if (item.contains("properties")) {
        return Json::array({block(item, child_pointer(pointer, std::size_t{0}))});
      }
    }
    return "";
  }

  const Json& schema_;
  Comments comments_;
};

std::string quoted_field(std::string text) {
  for (auto at = text.find('"'); at != std::string::npos; at = text.find('"', at + 2)) {
    text.insert(at, 1, '"');
  }
  return '"' + text + '"';
}

void add_lines(const Json& value, const std::string& pointer, const std::string& path,
               const Comments& comments, std::string& table) {
  if (value.is_structured()) {
    std::size_t index = 0;
    for (const auto& item : value.items()) {
      const std::string key = value.is_object() ? item.key() : std::to_string(index++);
      add_lines(item.value(), child_pointer(pointer, std::string_view(key)),
                path.empty() ? key : fmt::format("{}.{}", path, key), comments, table);
    }
    return;
  }
  const auto comment = comments.find(pointer);
  table += path + ',' + (value.is_string() ? value.get<std::string>() : value.dump()) + ',' +
           quoted_field(comment == comments.end() ? "" : comment->second) + '\n';
}

}  // namespace

std::string blank_form_json() {
  const Json schema = Json::parse(build_schema_text);
  FormMaker maker(schema);
  const Json form = maker.make();
  return pretty_json(form, maker.comments(), form_head);
}

std::string blank_form_table() {
  const Json schema = Json::parse(build_schema_text);
  FormMaker maker(schema);
  const Json form = maker.make();
  std::string table = "path,value,note\n";
  add_lines(form, "", "", maker.comments(), table);
  return table;
}

}  // namespace stackfit::cli
