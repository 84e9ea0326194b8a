// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/cell_log.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace stackfit {
namespace {

constexpr std::array all_followed{Followed::edge, Followed::middle, Followed::boards,
                                  Followed::dome};

// Boards meet the highest points and are the better reading; one way throughout a series.
std::optional<double> dome_mm(const CellReading& reading, bool by_boards) {
  const auto& highest = by_boards ? reading.boards_mm : reading.middle_mm;
  if (!highest || !reading.edge_mm) {
    return std::nullopt;
  }
  return *highest - *reading.edge_mm;
}

std::optional<double> value_of(const CellReading& reading, Followed followed, bool by_boards) {
  switch (followed) {
    case Followed::edge:
      return reading.edge_mm;
    case Followed::middle:
      return reading.middle_mm;
    case Followed::boards:
      return reading.boards_mm;
    case Followed::dome:
      return dome_mm(reading, by_boards);
  }
  return std::nullopt;
}

bool has_thickness(const CellReading& reading) {
  return reading.edge_mm || reading.middle_mm || reading.boards_mm;
}

// The difference of two charges written in whole per cent is not a whole one in binary.
bool is_like(const CellReading& now, const CellReading& then, double like_charge) {
  constexpr double rounding = 1e-9;
  return now.charge && then.charge &&
         std::abs(*now.charge - *then.charge) <= like_charge + rounding;
}

double months_between(Day from, Day to) {
  return static_cast<double>((to - from).count()) / days_per_month;
}

LikeReadings series_of(const std::vector<DatedReading>& readings, Followed followed) {
  LikeReadings out;
  out.followed = followed;
  const bool by_boards = readings.back().reading.boards_mm.has_value();
  if (!value_of(readings.back().reading, followed, by_boards)) {
    return out;
  }
  for (const DatedReading& dated : readings) {
    const auto value = value_of(dated.reading, followed, by_boards);
    if (!value) {
      continue;
    }
    if (out.points.empty()) {
      out.first = dated.day;
    }
    out.last = dated.day;
    out.points.push_back({months_between(out.first, dated.day), *value});
  }
  return out;
}

Day day_after(Day first, double months) {
  return first + std::chrono::days(static_cast<int>(std::lround(months * days_per_month)));
}

}  // namespace

SeriesOfCell like_series(const CellReading& now, Day today, const CellLog& log,
                         double like_charge) {
  SeriesOfCell out;
  std::vector<DatedReading> alike;
  for (const DatedReading& dated : log) {
    if (dated.reading.id != now.id || dated.day >= today || !has_thickness(dated.reading)) {
      continue;
    }
    if (is_like(now, dated.reading, like_charge)) {
      alike.push_back(dated);
    } else {
      ++out.unlike;
    }
  }
  alike.push_back({today, now});
  for (const Followed followed : all_followed) {
    LikeReadings series = series_of(alike, followed);
    if (series.points.size() > 1 && series.span_days() > 0) {
      out.series.push_back(std::move(series));
    }
  }
  return out;
}

std::optional<Growth> fastest_growth(const std::vector<LikeReadings>& series, double nominal_mm) {
  std::optional<Growth> fastest;
  for (const LikeReadings& one : series) {
    const auto trend = fit_trend(one.points);
    if (!trend || one.span_days() < shortest_span_days ||
        (fastest && trend->slope <= fastest->mm_per_month)) {
      continue;
    }
    fastest = Growth{one.followed,
                     trend->points,
                     one.first,
                     one.last,
                     trend->slope,
                     trend->slope_error,
                     trend->slope / nominal_mm};
  }
  return fastest;
}

std::optional<ReachedOn> reached_on(const LikeReadings& series, double level_mm,
                                    double least_scatter_mm) {
  const auto trend = fit_trend(series.points);
  if (!trend || series.span_days() < shortest_span_days || series.points.back().y >= level_mm) {
    return std::nullopt;
  }
  const auto reached = crossing(*trend, level_mm, least_scatter_mm);
  const double now = series.points.back().x;
  if (!reached || reached->at - now > farthest_months) {
    return std::nullopt;
  }
  ReachedOn out;
  out.followed = series.followed;
  out.level_mm = level_mm;
  // The level is not reached today: what the line says of the past is scatter.
  out.on = day_after(series.first, std::max(now, reached->at));
  out.earliest = day_after(series.first, std::max(now, reached->earliest));
  if (reached->latest && *reached->latest - now <= farthest_months) {
    out.latest = day_after(series.first, std::max(now, *reached->latest));
  }
  return out;
}

}  // namespace stackfit
