// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/blanks.hpp"

#include <optional>
#include <string>

#include "cli/quantity.hpp"

namespace stackfit::cli {
namespace {

using Json = nlohmann::ordered_json;

class BlankFilter {
 public:
  explicit BlankFilter(const Places& from) : from_(from), to_(from.file()) {}

  // None where nothing but blanks was there. `before` and `after` are the value's pointers in the
  // two documents: they part where an item of a list goes.
  std::optional<Json> keep(const Json& value, const std::string& before, const std::string& after) {
    to_.adopt_one(from_, before, after);
    if (value.is_object()) return keep_object(value, before, after);
    if (value.is_array()) return keep_list(value, before, after);
    if (!value.is_string() || !is_blank(value.get_ref<const std::string&>())) return value;
    to_.set_blank(after);
    return std::nullopt;
  }

  Places places() && { return std::move(to_); }

 private:
  std::optional<Json> keep_object(const Json& object, const std::string& before,
                                  const std::string& after) {
    Json kept = Json::object();
    for (const auto& item : object.items()) {
      const std::string_view key = item.key();
      auto value = keep(item.value(), child_pointer(before, key), child_pointer(after, key));
      if (value) kept[item.key()] = std::move(*value);
    }
    const bool emptied = kept.empty() && !object.empty();
    // The document itself stays, however empty.
    if (!emptied || after.empty()) return kept;
    to_.set_blank(after);
    return std::nullopt;
  }

  std::optional<Json> keep_list(const Json& list, const std::string& before,
                                const std::string& after) {
    Json kept = Json::array();
    for (std::size_t index = 0; index < list.size(); ++index) {
      auto value =
          keep(list[index], child_pointer(before, index), child_pointer(after, kept.size()));
      if (value) kept.push_back(std::move(*value));
    }
    if (!kept.empty() || list.empty()) return kept;
    to_.set_blank(after);
    return std::nullopt;
  }

  const Places& from_;
  Places to_;
};

}  // namespace

WithoutBlanks without_blanks(const nlohmann::ordered_json& document, const Places& places) {
  BlankFilter filter(places);
  auto kept = filter.keep(document, "", "");
  return {kept ? std::move(*kept) : Json(document), std::move(filter).places()};
}

}  // namespace stackfit::cli
