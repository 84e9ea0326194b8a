// SPDX-License-Identifier: GPL-3.0-or-later
//
// Values named by their path: --set path=value, and the spreadsheet form of a build file.
//
// For: `cells.3.edge`, `box.inner.length`, `kit.+` (one more at the end), worked into a document.
// Not for: JSON pointers, which only messages use.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/places.hpp"
#include "cli/read_build.hpp"
#include "cli/text_file.hpp"

namespace stackfit::cli {

/// A path may not create more than this many entries of a list.
inline constexpr std::size_t longest_list = 10000;

struct PathRead {
  std::optional<PathValue> value;
  std::string problem;  ///< empty when the text was understood
};
/// Takes `path=value` of --set apart.
[[nodiscard]] PathRead read_path_value(std::string_view text);

/// The value as JSON where the text is a number, true, false, a list, an object or quoted text;
/// else the text itself.
[[nodiscard]] nlohmann::ordered_json value_of(std::string_view text);

/// Works one value into the document and says in `places` where it came from. What cannot be
/// done is a problem at that place, and leaves the document as it was.
[[nodiscard]] std::optional<Problem> set_path(nlohmann::ordered_json& document, Places& places,
                                              const PathValue& what, const TextPlace& place);

/// True where the text is the spreadsheet form: a table whose header is path and value.
[[nodiscard]] bool is_form(const TextFile& file);

struct FormText {
  nlohmann::ordered_json document = nlohmann::ordered_json::object();
  Places places;
  std::vector<Problem> problems;
};
[[nodiscard]] FormText read_form(const TextFile& file);

}  // namespace stackfit::cli
