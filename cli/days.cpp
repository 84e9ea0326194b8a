// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/days.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <optional>

#include "cli/save_build.hpp"

namespace stackfit::cli {
namespace {

constexpr int first_year = 1900;
constexpr const char* how_to_write = "a day as YYYY-MM-DD, such as 2026-11-25";

// All of it digits.
std::optional<int> whole_number(std::string_view digits) {
  int number = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), number);
  const bool all = error == std::errc{} && end == digits.data() + digits.size() && number >= 0;
  return all ? std::optional(number) : std::nullopt;
}

Parsed<Day> refused(std::string mend) {
  return {std::nullopt, how_to_write, std::move(mend), {}};
}

}  // namespace

Parsed<Day> read_day(std::string_view text) {
  constexpr std::size_t length = std::string_view("2026-11-25").size();
  const std::string_view day = trimmed(text);
  if (day.size() != length || day[4] != '-' || day[7] != '-') {
    return refused("the year first, then month and day, each with its zero");
  }
  const auto year = whole_number(day.substr(0, 4));
  const auto month = whole_number(day.substr(5, 2));
  const auto of_month = whole_number(day.substr(8, 2));
  if (!year || !month || !of_month || *year < first_year) {
    return refused("the year first, then month and day, each with its zero");
  }
  const std::chrono::year_month_day date{std::chrono::year(*year),
                                         std::chrono::month(static_cast<unsigned>(*month)),
                                         std::chrono::day(static_cast<unsigned>(*of_month))};
  if (!date.ok()) {
    return refused("no such day: look at month and day");
  }
  return {Day{date}, {}, {}, {}};
}

std::string day_text(Day day) {
  const std::chrono::year_month_day date{day};
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

Day day_today() {
  return read_day(today()).value.value_or(Day{});
}

}  // namespace stackfit::cli
