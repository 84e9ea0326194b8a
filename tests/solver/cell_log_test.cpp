// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/cell_log.hpp"

#include <vector>

#include "tests/catch.hpp"
#include "tests/solver/used_cells.hpp"

using namespace stackfit;
using namespace stackfit::sample;
using Catch::Approx;

namespace {

const Day today = day(2024, 3, 16);
constexpr double like_charge = 0.15;

const LikeReadings* series_of(const SeriesOfCell& history, Followed followed) {
  for (const LikeReadings& one : history.series) {
    if (one.followed == followed) return &one;
  }
  return nullptr;
}

/// Cell A's boards over the years, edge at 50 mm.
CellLog four_lines() {
  return log_of({{day(2020, 3, 14), 50, 50.12},
                 {day(2021, 3, 13), 50, 50.23},
                 {day(2022, 3, 12), 50, 50.32},
                 {day(2023, 3, 18), 50, 50.43}});
}

}  // namespace

TEST_CASE("log: like is compared with like: charge within 15 points, the same way") {
  CellLog log = log_of({{day(2022, 1, 1), 50, 50.2, 0.25},
                        {day(2022, 6, 1), 50, 50.2, 0.24},
                        {day(2023, 1, 1), 50, 50.2, 0.55},
                        {day(2023, 6, 1), 50, 50.2, 0.56}});
  log.push_back({day(2023, 7, 1), used_cell("B")});
  log.push_back({day(2023, 8, 1), used_cell()});
  log.back().reading.charge.reset();
  log.push_back({day(2023, 9, 1), used_cell()});
  log.back().reading.boards_mm.reset();
  const SeriesOfCell history = like_series(used_cell(), today, log, like_charge);
  CHECK(history.unlike == 3);
  REQUIRE(series_of(history, Followed::boards) != nullptr);
  CHECK(series_of(history, Followed::boards)->points.size() == 3);
  REQUIRE(series_of(history, Followed::edge) != nullptr);
  CHECK(series_of(history, Followed::edge)->points.size() == 4);
  CHECK(series_of(history, Followed::middle) == nullptr);
  // Today's charge unknown: nothing is alike.
  CellReading unknown = used_cell();
  unknown.charge.reset();
  CHECK(like_series(unknown, today, log, like_charge).series.empty());
}

TEST_CASE("log: today's reading stands for the log's lines of today and later") {
  const CellLog log = log_of({{day(2023, 3, 16)}, {today, 51, 52}, {day(2024, 5, 1), 51, 52}});
  const SeriesOfCell history = like_series(used_cell(), today, log, like_charge);
  const LikeReadings* edge = series_of(history, Followed::edge);
  REQUIRE(edge != nullptr);
  CHECK(edge->points.size() == 2);
  CHECK(edge->points.back().y == 50);
  CHECK(edge->span_days() == 366);
}

// scipy.stats.linregress over months of 365.25/12 days, SciPy 1.10.1; the days by
// scipy.optimize.brentq on the band of the line with 0.02 mm of scatter, its own being 0.006.
TEST_CASE("log: growth and the day of a limit are SciPy's") {
  CellReading now = used_cell();
  now.boards_mm = 50.52;
  const SeriesOfCell history = like_series(now, today, four_lines(), like_charge);
  const auto growth = fastest_growth(history.series, 50);
  REQUIRE(growth);
  CHECK(growth->readings == 5);
  CHECK(growth->mm_per_month == Approx(0.008314211996089253).epsilon(1e-9));
  CHECK(growth->error_mm_per_month == Approx(0.00016167603655549016).epsilon(1e-6));
  CHECK(growth->per_month == Approx(0.008314211996089253 / 50).epsilon(1e-9));
  const LikeReadings* dome = series_of(history, Followed::dome);
  REQUIRE(dome != nullptr);
  const auto reached = reached_on(*dome, 0.5475, 0.02);
  REQUIRE(reached);
  CHECK(reached->on == day(2024, 6, 10));
  CHECK(reached->earliest == today);  // the band meets it on 2023-12-26: it may be any day now
  REQUIRE(reached->latest);
  CHECK(*reached->latest == day(2025, 2, 1));
}

TEST_CASE("log: two readings give a growth and no day, three give one with its span") {
  CellReading now = used_cell();
  now.boards_mm = 50.42;
  CellLog log = log_of({{day(2023, 3, 18), 50, 50.2}});
  SeriesOfCell history = like_series(now, today, log, like_charge);
  CHECK(fastest_growth(history.series, 50));
  CHECK_FALSE(reached_on(*series_of(history, Followed::dome), 0.75, 0.02));
  log = log_of({{day(2023, 3, 18), 50, 50.2}, {day(2023, 9, 16), 50, 50.31}});
  history = like_series(now, today, log, like_charge);
  const auto reached = reached_on(*series_of(history, Followed::dome), 0.75, 0.02);
  REQUIRE(reached);
  CHECK(reached->earliest < reached->on);
  // One degree of freedom: t is 12.7, and the slope may be nearly anything.
  CHECK_FALSE(reached->latest);
}

TEST_CASE("log: no day for what is reached already, falls, or is ten years off") {
  CellReading now = used_cell();
  now.boards_mm = 50.52;
  const SeriesOfCell history = like_series(now, today, four_lines(), like_charge);
  const LikeReadings& dome = *series_of(history, Followed::dome);
  CHECK_FALSE(reached_on(dome, 0.52, 0.02));
  // 0.0083 mm a month: a millimetre takes 120 months.
  CHECK(reached_on(dome, 1.50, 0.02));
  CHECK_FALSE(reached_on(dome, 1.55, 0.02));
  CHECK_FALSE(reached_on(*series_of(history, Followed::edge), 50.25, 0.02));
}
