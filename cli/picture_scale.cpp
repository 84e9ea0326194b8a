// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/picture_scale.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numeric>

#include "cli/units.hpp"

namespace stackfit::cli {
namespace {

// 1, 2 or 5 times a power of ten, the least that is not below.
double round_step(double least) {
  const double power = std::pow(10, std::floor(std::log10(least)));
  for (const double digit : {1.0, 2.0, 5.0}) {
    if (digit * power >= least * (1 - 1e-9)) return digit * power;
  }
  return 10 * power;
}

const Unit& unit_of(TickUnit unit) {
  return *find_unit(Dimension::pressure, unit == TickUnit::kpa ? "kPa" : "psi");
}

constexpr double most_steps = 6;

}  // namespace

double PressureAxis::at(double mpa) const {
  return at_zero + (at_top - at_zero) * std::clamp(mpa / top_mpa, 0.0, 1.0);
}

double round_top_mpa(double greatest_mpa) {
  constexpr double least_kpa = 1;
  const double kpa = std::max(least_kpa, in_unit(greatest_mpa, unit_of(TickUnit::kpa)));
  const double step = round_step(kpa / most_steps);
  return from_unit(step * std::ceil(kpa / step * (1 - 1e-9)), unit_of(TickUnit::kpa));
}

std::vector<PressureTick> pressure_ticks(double top_mpa, TickUnit unit) {
  const Unit& written = unit_of(unit);
  const double top = in_unit(top_mpa, written);
  const double step = round_step(top / most_steps);
  std::vector<PressureTick> ticks;
  for (int i = 0; i * step <= top * (1 + 1e-9); ++i) {
    ticks.push_back({from_unit(i * step, written), fmt::format("{:g}", i * step)});
  }
  return ticks;
}

std::vector<double> kept_apart(const std::vector<double>& wanted, double step, double low,
                               double high) {
  std::vector<std::size_t> order(wanted.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return wanted[a] < wanted[b]; });
  std::vector<double> placed(wanted.size());
  // Runs of labels that touch, each in the middle of what its own want.
  struct Run {
    std::size_t first = 0;
    std::size_t count = 0;
    double start_sum = 0;  ///< of where its first would stand, by each of its labels

    [[nodiscard]] double start() const { return start_sum / static_cast<double>(count); }
  };
  std::vector<Run> runs;
  for (std::size_t i = 0; i < order.size(); ++i) {
    runs.push_back({i, 1, std::clamp(wanted[order[i]], low, high)});
    while (runs.size() > 1) {
      Run& last = runs.back();
      Run& before = runs[runs.size() - 2];
      const double offset = step * static_cast<double>(before.count);
      if (before.start() + offset <= last.start()) break;
      before.start_sum += last.start_sum - offset * static_cast<double>(last.count);
      before.count += last.count;
      runs.pop_back();
    }
  }
  for (const Run& run : runs) {
    const double length = step * (static_cast<double>(run.count) - 1);
    const double start = std::max(low, std::min(run.start(), high - length));
    for (std::size_t i = 0; i < run.count; ++i) {
      placed[order[run.first + i]] = start + step * static_cast<double>(i);
    }
  }
  // Runs that were moved into the bounds may touch again.
  for (std::size_t i = order.size(); i-- > 1;) {
    placed[order[i - 1]] = std::min(placed[order[i - 1]], placed[order[i]] - step);
  }
  for (std::size_t i = 0; i < order.size(); ++i) {
    const double least = i == 0 ? low : placed[order[i - 1]] + step;
    placed[order[i]] = std::max(placed[order[i]], least);
  }
  return placed;
}

}  // namespace stackfit::cli
