// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a person must be told of a finished answer, as codes with figures, worst first.
#pragma once

#include "solver/answer.hpp"
#include "solver/study.hpp"

namespace stackfit {

/// Adds the warnings of the plan to those found while resolving, and sorts them.
[[nodiscard]] std::vector<Warning> gather_warnings(const Study& study, const Answer& answer);

}  // namespace stackfit
