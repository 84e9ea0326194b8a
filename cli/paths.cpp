// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/paths.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "cli/csv.hpp"
#include "cli/data_lines.hpp"
#include "cli/json_text.hpp"
#include "cli/quantity.hpp"
#include "cli/text_lines.hpp"
#include "cli/words.hpp"

namespace stackfit::cli {
namespace {

using Json = nlohmann::ordered_json;

// The version a document without a place for it is written in.
constexpr int format_version = 1;

constexpr std::size_t longest_path_shown = 60;

constexpr const char* path_allowed =
    "a path of keys and numbers from 0 with points between, such as box.inner.length or "
    "cells.3.edge; + adds one more";

std::vector<std::string> steps_of(std::string_view path) {
  std::vector<std::string> steps;
  while (true) {
    const std::size_t point = std::min(path.find('.'), path.size());
    steps.emplace_back(trimmed(path.substr(0, point)));
    if (point == path.size()) return steps;
    path.remove_prefix(point + 1);
  }
}

// Digits alone, however many: a number too large to count with is still no key.
bool is_index(const std::string& step) {
  return step == "+" ||
         (!step.empty() && step.find_first_not_of("0123456789") == std::string::npos);
}

struct Target {
  std::string pointer;
  std::string refusal;  ///< empty where the path can be walked
};

Target refused(const std::string& pointer, const std::string& step, std::string_view why) {
  return {pointer,
          fmt::format("\"{}\" below {}, {}", step, pointer.empty() ? "the whole" : pointer, why)};
}

// What one step down makes of a list: the index as a number, one beyond the end allowed.
std::optional<std::size_t> index_of(const std::string& step, std::size_t size) {
  const auto count = read_count(step);
  if (step != "+" && !count) return std::nullopt;
  const std::size_t index = count ? static_cast<std::size_t>(*count) : size;
  if (index > size || index >= longest_list) return std::nullopt;
  return index;
}

bool is_blank_value(const Json& value) {
  return value.is_string() && is_blank(value.get_ref<const std::string&>());
}

// A blank left for the whole, such as `rows`, makes way for its parts, such as `rows.count`.
void clear_blank_above(Json& document, Json::json_pointer pointer) {
  while (!pointer.empty()) {
    pointer.pop_back();
    if (!document.contains(pointer)) continue;
    Json& above = document[pointer];
    if (is_blank_value(above)) above = nullptr;
    return;
  }
}

// Walks down without changing anything. What is missing will be made: a list where the next step
// is a number or +, else an object.
Target target_of(const Json& document, const std::vector<std::string>& steps) {
  const Json missing;
  const Json* node = &document;
  std::string pointer;
  if (steps.size() > deepest_nesting) return {pointer, "more steps than a build file has"};
  for (const std::string& step : steps) {
    if (step.empty()) return refused(pointer, step, "an empty step");
    if (is_blank_value(*node)) node = &missing;
    if (node->is_array() || (node->is_null() && is_index(step))) {
      if (!is_index(step)) return refused(pointer, step, "which is a list: name one by its number");
      const auto index = index_of(step, node->size());
      if (!index) {
        return refused(pointer, step,
                       fmt::format("which has {} (counted from 0); + adds one", node->size()));
      }
      pointer = child_pointer(pointer, *index);
      node = *index < node->size() ? &(*node)[*index] : &missing;
    } else if (node->is_object() || node->is_null()) {
      pointer = child_pointer(pointer, std::string_view(step));
      node = node->contains(step) ? &node->at(step) : &missing;
    } else {
      return refused(pointer, step, "which is a value and has nothing below it");
    }
  }
  return {pointer, {}};
}

// Brackets within brackets, at most; those inside text are counted too, which does no harm.
std::size_t nesting_of(std::string_view text) {
  std::size_t depth = 0;
  std::size_t deepest = 0;
  for (const char letter : text) {
    if (letter == '[' || letter == '{') deepest = std::max(deepest, ++depth);
    if ((letter == ']' || letter == '}') && depth > 0) --depth;
  }
  return deepest;
}

}  // namespace

PathRead read_path_value(std::string_view text) {
  const std::size_t equals = text.find('=');
  if (equals == std::string_view::npos || trimmed(text.substr(0, equals)).empty()) {
    return {std::nullopt, "path=value, such as cell.limit=\"200 kPa\""};
  }
  return {PathValue{std::string(trimmed(text.substr(0, equals))),
                    std::string(trimmed(text.substr(equals + 1)))},
          {}};
}

nlohmann::ordered_json value_of(std::string_view text) {
  // Names a JSON value may begin with; anything else is text, and saves a parse.
  static constexpr std::string_view beginnings = "-0123456789[{\"tf";
  if (text.empty() || beginnings.find(text[0]) == std::string_view::npos) return text;
  if (nesting_of(text) > deepest_nesting) return text;
  Json value = Json::parse(text, nullptr, false);
  if (value.is_discarded() || value.is_null()) return text;
  return value;
}

std::optional<Problem> set_path(nlohmann::ordered_json& document, Places& places,
                                const PathValue& what, const TextPlace& place) {
  const Target target = target_of(document, steps_of(what.path));
  if (!target.refusal.empty()) {
    return Problem{place,
                   fmt::format("{}: {}", shortened(what.path, longest_path_shown), target.refusal),
                   path_allowed, ""};
  }
  const Json::json_pointer pointer(target.pointer);
  clear_blank_above(document, pointer);
  document[pointer] = value_of(what.value);
  TextPlace where = place;
  where.pointer = target.pointer;
  places.replace_value(target.pointer, where);
  places.set_key(target.pointer, where);
  return std::nullopt;
}

bool is_form(const TextFile& file) {
  // A JSON file never begins like this, so there is no need to take it for a table.
  std::string_view first = file.text;
  if (first.starts_with('"')) first.remove_prefix(1);
  if (!same_words(first.substr(0, 4), "path")) return false;
  const Csv csv = read_csv(file);
  return csv.header.size() >= 2 && same_words(csv.header[0].text, "path") &&
         same_words(csv.header[1].text, "value");
}

FormText read_form(const TextFile& file) {
  FormText form;
  form.places = Places(file.name);
  const Csv csv = read_csv(file);
  form.problems = csv.problems;
  std::map<std::string, int> line_of;
  for (const CsvRow& row : csv.rows) {
    const std::string& path = row[0].text;
    // A line without a path is a heading or a remark.
    if (path.empty() || row.size() < 2) continue;
    const TextPlace place{file.name, row[1].line, row[1].column, ""};
    const std::string& text = row[1].text;
    const bool adds = path.find('+') != std::string::npos;
    if (!adds && !is_blank(text)) {
      const auto [before, is_first] = line_of.emplace(path, place.line);
      if (!is_first) {
        form.problems.push_back(
            {{file.name, row[0].line, row[0].column, ""},
             fmt::format("the path {} a second time", shortened(path, longest_path_shown)),
             "each path once",
             fmt::format("it stands in line {} already; keep one of the two", before->second)});
      }
    }
    // In a list the comma stands between values.
    const bool is_list = text.starts_with('[') || text.starts_with('{');
    const PathValue what{path, is_list ? text : with_decimal_point(csv, text)};
    if (auto problem = set_path(form.document, form.places, what, place)) {
      form.problems.push_back(std::move(*problem));
    }
  }
  if (!form.document.contains("stackfit")) form.document["stackfit"] = format_version;
  return form;
}

}  // namespace stackfit::cli
