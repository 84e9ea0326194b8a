// SPDX-License-Identifier: GPL-3.0-or-later
//
// Dated readings of cells, and how fast a cell grows by those that can be compared.
//
// For: `--log`. Contract, each tested: 1 only like is compared with like: the same way of
// measuring, and a charge within `like_charge`; 2 two readings give a growth and no date; 3 a date
// comes with its span. Not for: reading or writing the file (cli/log_csv.hpp), or judging a cell
// (condition.hpp).
#pragma once

#include <chrono>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "solver/assumptions.hpp"
#include "solver/build.hpp"
#include "solver/trend.hpp"

namespace stackfit {

using Day = std::chrono::sys_days;

/// One line of a log: readings of one cell (`reading.id`) on one day.
struct DatedReading {
  Day day;
  CellReading reading;
};
/// In the order of the file; the days of one cell do not go back.
using CellLog = std::vector<DatedReading>;

/// What is followed in time. A dome is boards (or middle) less edge of one day.
enum class Followed : std::uint8_t { edge, middle, boards, dome };

inline constexpr double days_per_month = 365.25 / 12;
/// Over fewer days calipers see their own scatter, not growth.
inline constexpr int shortest_span_days = 28;
/// No line through a few readings says anything of a day further off than this.
inline constexpr double farthest_months = 120;

/// Readings of one cell that can be compared, in time; months since the first of them.
struct LikeReadings {
  Followed followed = Followed::edge;
  std::vector<TrendPoint> points;  ///< months, mm; the last one is today's
  Day first;
  Day last;

  [[nodiscard]] int span_days() const { return static_cast<int>((last - first).count()); }
};

/// Growth by one series.
struct Growth {
  Followed followed = Followed::edge;
  int readings = 0;
  Day first;
  Day last;
  double mm_per_month = 0;
  double error_mm_per_month = 0;  ///< standard error; 0 for two readings, which have none
  double per_month = 0;           ///< fraction of the nominal thickness
};

/// Day at which a limit is reached if it goes on like this. Empty latest: perhaps never.
struct ReachedOn {
  Followed followed = Followed::edge;
  double level_mm = 0;
  Day on;
  Day earliest;
  std::optional<Day> latest;
};

struct SeriesOfCell {
  std::vector<LikeReadings> series;  ///< of two days or more
  int unlike = 0;  ///< lines of this cell that were left out: other or unknown charge
};
/// Today's reading of a cell and the log's lines of that cell. Lines of today or later days are
/// not taken: today's reading stands for them.
[[nodiscard]] SeriesOfCell like_series(const CellReading& now, Day today, const CellLog& log,
                                       double like_charge);

/// The growth of the series that grows fastest; none where all are shorter than
/// `shortest_span_days`.
[[nodiscard]] std::optional<Growth> fastest_growth(const std::vector<LikeReadings>& series,
                                                   double nominal_mm);

/// When the series reaches `level_mm`; none for fewer than three readings, too short a span, no
/// growth, a level reached already, or `farthest_months` from now.
[[nodiscard]] std::optional<ReachedOn> reached_on(const LikeReadings& series, double level_mm,
                                                  double least_scatter_mm);

}  // namespace stackfit
