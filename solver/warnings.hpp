// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a person must be told of a finished answer, as codes with figures, worst first.
#pragma once

#include "solver/answer.hpp"
#include "solver/study.hpp"

namespace stackfit {

/// A bus bar's holes take up this much (common practice).
inline constexpr double bus_bar_slack_mm = 0.5;

/// Adds the warnings of the plan to those found while resolving, and sorts them.
[[nodiscard]] std::vector<Warning> gather_warnings(const Study& study, const Answer& answer);

}  // namespace stackfit
