// SPDX-License-Identifier: GPL-3.0-or-later
//
// Blanks of a form: what was left empty was not said.
//
// For: taking them out of a document before it is validated, so that a form half filled in reads
// like a file that says less.
// Not for: deciding which blanks must be filled in (build.schema.json).
#pragma once

#include <nlohmann/json.hpp>

#include "cli/places.hpp"

namespace stackfit::cli {

struct WithoutBlanks {
  nlohmann::ordered_json document;
  Places places;  ///< pointers of the new document; remembers where blanks stood
};

/// Values "" and "?" go, and so does an object or list that held nothing else.
[[nodiscard]] WithoutBlanks without_blanks(const nlohmann::ordered_json& document,
                                           const Places& places);

}  // namespace stackfit::cli
