// SPDX-License-Identifier: GPL-3.0-or-later
//
// What is wrong with one value, in plain words taken from the schema.
//
// For: the value at one pointer that the validator refused: what was found, what is allowed.
// Not for: finding the values that are wrong (validate_schema.hpp).
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "cli/places.hpp"
#include "cli/read_build.hpp"

namespace stackfit::cli {

/// Problems of the value at `pointer` itself, not of what lies inside it. Empty where the
/// validator complained only because of something inside.
[[nodiscard]] std::vector<Problem> explain(const nlohmann::ordered_json& schema,
                                           const nlohmann::ordered_json& document,
                                           const std::string& pointer, const Places& places);

/// A value as it is shown in a message: short, in one line.
[[nodiscard]] std::string shown(const nlohmann::ordered_json& value);

}  // namespace stackfit::cli
