// SPDX-License-Identifier: GPL-3.0-or-later
//
// An answer as JSON for other programs: complete, one shape for every command.
//
// For: `--json`. Contract, each tested: 1 a key that carries a quantity ends in its unit; 2 numbers
// keep every digit; 3 what is not known is null, never left out; 4 codes are the words of
// answer_words.hpp. Not for: reading a build (read_build.hpp).
#pragma once

#include <nlohmann/json.hpp>

#include "solver/answer.hpp"

namespace stackfit::cli {

[[nodiscard]] nlohmann::ordered_json json_of(const Answer& answer);

}  // namespace stackfit::cli
