// SPDX-License-Identifier: GPL-3.0-or-later
//
// A document -> a Build, with every quantity in the program's units.
//
// For: what the values mean, and whether they can be true together. Also for documents the
// schema has complained of: what can be read is checked, so that all problems come in one run.
// Not for: keys and types (validate_schema.hpp), or filling in what was not said.
#pragma once

#include <nlohmann/json.hpp>

#include "cli/places.hpp"
#include "cli/read_build.hpp"

namespace stackfit::cli {

struct Converted {
  Build build;  ///< to be used only where there are no problems, here or from the schema
  std::vector<Problem> problems;
  std::vector<ReadingNote> notes;
};

[[nodiscard]] Converted convert_build(const nlohmann::ordered_json& document, const Places& places,
                                      BuildNeeds needs = BuildNeeds::whole_row);

}  // namespace stackfit::cli
