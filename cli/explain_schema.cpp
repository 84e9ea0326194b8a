// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/explain_schema.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "cli/nearest_key.hpp"

namespace stackfit::cli {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t longest_shown = 60;

const Json& resolved(const Json& schema, const Json& node) {
  const auto reference = node.find("$ref");
  if (reference == node.end()) return node;
  const std::string fragment = reference->get<std::string>();
  return resolved(schema, schema.at(Json::json_pointer(fragment.substr(1))));
}

bool has_type(const Json& value, std::string_view type) {
  if (type == "object") return value.is_object();
  if (type == "array") return value.is_array();
  if (type == "string") return value.is_string();
  if (type == "integer") return value.is_number_integer();
  if (type == "number") return value.is_number();
  if (type == "boolean") return value.is_boolean();
  return value.is_null();
}

bool type_fits(const Json& node, const Json& value) {
  const auto type = node.find("type");
  if (type == node.end()) return true;
  if (type->is_string()) return has_type(value, type->get<std::string>());
  return std::ranges::any_of(
      *type, [&](const Json& one) { return has_type(value, one.get<std::string>()); });
}

// Where a value may be of several kinds (anyOf, each of its own type), the kind this one is of;
// the node itself where it is of none.
const Json& branch_for(const Json& schema, const Json& property, const Json& value) {
  const Json& node = resolved(schema, property);
  const auto branches = node.find("anyOf");
  if (branches == node.end()) return node;
  for (const Json& branch : *branches) {
    const Json& inner = branch_for(schema, branch, value);
    if (!inner.contains("anyOf") && type_fits(inner, value)) return inner;
  }
  return node;
}

// The schema's node for a value, or null where the document has a key the schema does not know.
const Json* schema_node(const Json& schema, const Json& document, Json::json_pointer pointer) {
  std::vector<std::string> steps;
  for (; !pointer.empty(); pointer.pop_back()) steps.push_back(pointer.back());
  const Json* node = &schema;
  Json::json_pointer above;
  std::ranges::reverse(steps);
  for (const std::string& step : steps) {
    const Json& around = document.at(above);
    const Json& here = branch_for(schema, *node, around);
    const auto properties = here.find("properties");
    if (around.is_object() && properties != here.end() && properties->contains(step)) {
      node = &properties->at(step);
    } else if (around.is_array() && here.contains("items")) {
      node = &here.at("items");
    } else {
      return nullptr;
    }
    above /= step;
  }
  return node;
}

std::string description_of(const Json& node) {
  return node.value("description", "something else");
}

// A key's own title says what it is, the definition behind it what may be written.
std::string allowed_at(const Json& property, const Json& node) {
  const bool own = property.contains("$ref") && property.contains("title");
  return own ? property.at("title").get<std::string>() + ": " + description_of(node)
             : description_of(node);
}

std::vector<std::string> keys_of(const Json& object) {
  std::vector<std::string> keys;
  for (const auto& item : object.items()) keys.push_back(item.key());
  return keys;
}

std::vector<std::string> required_of(const Json& node) {
  return node.value("required", std::vector<std::string>{});
}

std::string joined(const std::vector<std::string>& words) {
  return fmt::format("{}", fmt::join(words, ", "));
}

std::string meant(std::string_view written, const std::vector<std::string>& known) {
  const auto near = nearest_word(written, known);
  return near ? fmt::format("did you mean \"{}\"?", *near) : std::string();
}

std::string example_of(const std::string& key, const Json& node) {
  const auto examples = node.find("examples");
  if (examples == node.end() || examples->empty()) return {};
  return fmt::format("write for example \"{}\": {}", key, examples->front().dump());
}

class Explainer {
 public:
  Explainer(const Json& schema, const Json& property, const Json& value, const std::string& pointer,
            const Places& places)
      : schema_(schema),
        node_(branch_for(schema, property, value)),
        allowed_(allowed_at(property, node_)),
        value_(value),
        pointer_(pointer),
        places_(places) {}

  std::vector<Problem> problems() {
    // A node of several kinds that is none of them.
    if (node_.contains("anyOf") || !type_fits(node_, value_)) {
      add(places_.value(pointer_), shown(value_), allowed_, type_mend());
      return found_;
    }
    check_words();
    check_bounds();
    if (value_.is_object()) check_keys();
    if (value_.is_array()) check_length();
    return found_;
  }

 private:
  void add(TextPlace place, std::string found, std::string allowed, std::string mend = {}) {
    found_.push_back({std::move(place), std::move(found), std::move(allowed), std::move(mend)});
  }

  [[nodiscard]] std::string type_mend() const {
    if (value_.is_number() && takes("string")) {
      return "put the number in double quotes together with its unit";
    }
    if (value_.is_string() && (takes("integer") || takes("number"))) {
      return "write the number without quotes";
    }
    if (value_.is_string() && takes("boolean")) return "write true or false, unquoted";
    return {};
  }
  // Whether a value of this type could stand here, as the node's own type says.
  [[nodiscard]] bool takes(std::string_view type) const {
    const auto said = node_.find("type");
    if (said == node_.end()) return false;
    if (said->is_string()) return *said == type;
    return std::any_of(said->begin(), said->end(), [&](const Json& one) { return one == type; });
  }

  void check_words() {
    const auto constant = node_.find("const");
    if (constant != node_.end() && value_ != *constant) {
      add(places_.value(pointer_), shown(value_), allowed_);
    }
    const auto words = node_.find("enum");
    if (words == node_.end() || std::ranges::find(*words, value_) != words->end()) return;
    // A word that looks like a number is listed as a number too, for those who leave out the
    // quotes.
    std::vector<std::string> known;
    for (const Json& word : *words) {
      if (word.is_string()) known.push_back(word.get<std::string>());
    }
    add(places_.value(pointer_), shown(value_),
        fmt::format("{}: one of {}", allowed_, joined(known)),
        meant(value_.is_string() ? value_.get<std::string>() : value_.dump(), known));
  }

  void check_bounds() {
    if (!value_.is_number()) return;
    const double number = value_.get<double>();
    if (number < node_.value("minimum", -HUGE_VAL) || number > node_.value("maximum", HUGE_VAL)) {
      add(places_.value(pointer_), shown(value_), allowed_);
    }
  }

  void check_keys() {
    // An object where one fixed value is meant: its keys are no matter.
    if (!node_.contains("properties")) return;
    const std::vector<std::string> known = keys_of(node_.at("properties"));
    for (const std::string& key : keys_of(value_)) {
      if (std::ranges::find(known, key) != known.end()) continue;
      add(places_.key(child_pointer(pointer_, std::string_view(key))),
          fmt::format("the key \"{}\"", key), "one of the keys " + joined(known),
          meant(key, known));
    }
    for (const std::string& key : required_of(node_)) {
      if (!value_.contains(key)) add_missing(node_, pointer_, {key, ""});
    }
    check_alternatives();
  }

  // Keys of which exactly one must be there, the usual one first:
  // "oneOf": [{ "required": ["box"] }, { "required": ["frame"] }].
  void check_alternatives() {
    const auto said = node_.find("oneOf");
    if (said == node_.end()) return;
    std::vector<std::string> keys;
    for (const Json& one : *said) keys.push_back(required_of(one).front());
    std::vector<std::string> present;
    std::ranges::copy_if(keys, std::back_inserter(present),
                         [&](const std::string& key) { return value_.contains(key); });
    if (present.empty()) {
      const std::vector<std::string> others(keys.begin() + 1, keys.end());
      add_missing(node_, pointer_, {keys.front(), joined(others)});
    }
    for (std::size_t index = 1; index < present.size(); ++index) {
      add(places_.key(child_pointer(pointer_, std::string_view(present[index]))),
          fmt::format(R"("{}" beside "{}")", present[index], present.front()),
          "one of the two: " + joined(keys), "keep the one that is meant");
    }
  }

  struct Missing {
    std::string key;
    std::string instead;  ///< another key that could stand in its place; may be empty
  };

  // A block left blank as a whole is named by the blanks in it that must be filled.
  void add_missing(const Json& around, const std::string& parent, const Missing& missing) {
    const std::string pointer = child_pointer(parent, std::string_view(missing.key));
    const Json& property = around.at("properties").at(missing.key);
    const Json& wanted = resolved(schema_, property);
    bool named = false;
    for (const std::string& inner : required_of(wanted)) {
      if (!places_.was_blank(child_pointer(pointer, std::string_view(inner)))) continue;
      add_missing(wanted, pointer, {inner, missing.instead});
      named = true;
    }
    if (named) return;
    const std::string other =
        missing.instead.empty() ? "" : fmt::format("; or \"{}\" in its place", missing.instead);
    add(places_.value(pointer),
        places_.was_blank(pointer) ? "a blank" : "no \"" + missing.key + '"',
        allowed_at(property, wanted) + other, example_of(missing.key, wanted));
  }

  void check_length() {
    const std::size_t least = node_.value("minItems", std::size_t{0});
    const std::size_t most = node_.value("maxItems", value_.size());
    if (value_.size() >= least && value_.size() <= most) return;
    add(places_.value(pointer_), fmt::format("a list of {}", value_.size()), allowed_,
        value_.size() > most ? fmt::format("at most {}", most) : fmt::format("at least {}", least));
  }

  const Json& schema_;
  const Json& node_;
  std::string allowed_;
  const Json& value_;
  const std::string& pointer_;
  const Places& places_;
  std::vector<Problem> found_;
};

}  // namespace

std::string shown(const Json& value) {
  if (value.is_object()) return "an object in { }";
  if (value.is_array()) return fmt::format("a list of {}", value.size());
  std::string text = value.dump(-1, ' ', false, Json::error_handler_t::replace);
  if (text.size() > longest_shown) {
    std::size_t end = longest_shown;
    // Never cut within a letter of several bytes.
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) --end;
    text = text.substr(0, end) + "...";
  }
  return text;
}

std::vector<Problem> explain(const Json& schema, const Json& document, const std::string& pointer,
                             const Places& places) {
  const Json::json_pointer path(pointer);
  if (!document.contains(path)) return {};
  const Json* node = schema_node(schema, document, path);
  if (node == nullptr) return {};
  return Explainer(schema, *node, document.at(path), pointer, places).problems();
}

}  // namespace stackfit::cli
