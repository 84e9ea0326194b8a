// SPDX-License-Identifier: GPL-3.0-or-later
//
// The JSON Schema, applied: it alone decides which keys and types a build file may have.
//
// For: every departure from the schema, in plain words and with its place.
// Not for: what the values mean together (convert_build.hpp).
#pragma once

#include <nlohmann/json.hpp>
#include <vector>

#include "cli/places.hpp"
#include "cli/read_build.hpp"

namespace stackfit::cli {

[[nodiscard]] std::vector<Problem> validate_schema(const nlohmann::ordered_json& document,
                                                   const Places& places,
                                                   BuildNeeds needs = BuildNeeds::whole_row);

}  // namespace stackfit::cli
