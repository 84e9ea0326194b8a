// SPDX-License-Identifier: GPL-3.0-or-later
//
// `--assumed`: every starred value, its span, why, from where, and what it is worth.
//
// For: a person deciding what to measure or ask next. Not for: setting values (a build file or
// --set) or the answer itself (view_text.hpp).
#pragma once

#include <string>

#include "cli/view_text.hpp"
#include "solver/answer.hpp"

namespace stackfit::cli {

/// 80 columns; empty of values where the answer rests on none.
[[nodiscard]] std::string assumed_text(const Answer& answer, const TextStyle& style);

}  // namespace stackfit::cli
