// SPDX-License-Identifier: GPL-3.0-or-later
//
// JSON with // and /* */ comments, and where in the text each value stands.
//
// For: a document with places, or syntax errors and duplicate keys in plain words.
// Not for: what the document means (validate_schema.hpp, convert_build.hpp).
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <vector>

#include "cli/places.hpp"
#include "cli/read_build.hpp"
#include "cli/text_file.hpp"

namespace stackfit::cli {

/// A build file nests six deep; deeper than this is refused before the stack is at risk.
inline constexpr std::size_t deepest_nesting = 64;

/// The largest row with points on every face has half as many.
inline constexpr std::size_t most_values = 200'000;

struct JsonText {
  std::optional<nlohmann::ordered_json> document;  ///< empty after a syntax error
  Places places;
  std::vector<Problem> problems;
};

[[nodiscard]] JsonText read_json_text(const TextFile& file);

}  // namespace stackfit::cli
