// SPDX-License-Identifier: GPL-3.0-or-later
//
// Days as people write them in a log: 2026-11-25.
//
// For: dated readings. Not for: times of day.
#pragma once

#include <string>
#include <string_view>

#include "cli/quantity.hpp"
#include "solver/cell_log.hpp"

namespace stackfit::cli {

/// YYYY-MM-DD and nothing else; a day the calendar has, of this century or the last.
[[nodiscard]] Parsed<Day> read_day(std::string_view text);
[[nodiscard]] std::string day_text(Day day);
/// Today, local time.
[[nodiscard]] Day day_today();

}  // namespace stackfit::cli
