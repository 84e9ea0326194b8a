// SPDX-License-Identifier: GPL-3.0-or-later
//
// Face pressures of drawn rows.
#include <algorithm>
#include <cmath>

#include "solver/chance_model_parts.hpp"
#include "solver/rising_root.hpp"

namespace stackfit {

/// Pressures at interferences, between the levels of a curve: the squeeze of the cells by its own
/// law, the rest by a line.
void ChanceModel::solve(const Curve& curve, std::span<const double> target,
                        std::span<const double> built, Work& work,
                        std::span<double> pressure) const {
  const std::size_t samples = pressure.size();
  const std::vector<double>& levels = curve.surface.levels_mpa();
  std::vector<double> residual(levels.size() * samples);
  for (std::size_t level = 0; level < levels.size(); ++level) {
    curve.surface.residual(level, work.x, samples,
                           std::span(residual).subspan(level * samples, samples));
  }
  for (std::size_t i = 0; i < samples; ++i) {
    const double softness = work.x[i];
    const double wanted = target[i] - curve.per_built * built[i];
    const auto at_level = [&](std::size_t level) {
      return cells_.at(std::log(levels[level]) - softness) + residual[level * samples + i];
    };
    if (wanted <= at_level(0)) {
      pressure[i] = 0;
      continue;
    }
    std::size_t under = 0;
    std::size_t over = levels.size() - 1;
    while (under + 1 < over) {
      const std::size_t middle = (under + over) / 2;
      (at_level(middle) <= wanted ? under : over) = middle;
    }
    const double from = residual[under * samples + i];
    const double between = (residual[over * samples + i] - from) / (levels[over] - levels[under]);
    // Beyond the last level the line goes on, but never falls: there would be no pressure to find.
    const bool beyond_last = over + 1 == levels.size() && wanted > at_level(over);
    const double per_mpa = beyond_last ? std::max(between, 0.0) : between;
    const auto beyond = [&](double p) {
      return cells_.at(std::log(p) - softness) + from + per_mpa * (p - levels[under]) - wanted;
    };
    constexpr double close_mm = 1e-7;  // far below what a pressure shows
    pressure[i] = rising_root({levels[under], levels[over], close_mm}, beyond);
  }
}

/// What the shims really come to, beyond the load that the curves were solved with.
void ChanceModel::add_shims(const ShimTotal& shims, std::size_t samples, Work& work) const {
  const int share = shifts_->shim_thickness;
  const double longer = shims.total_mm - load_.thickness_mm;
  for (std::size_t i = 0; i < samples; ++i) {
    const double off =
        share < 0 ? 0 : shims.spread_mm * work.value[static_cast<std::size_t>(share) * samples + i];
    work.built[i] += longer + off;
    work.thinnest[i] += longer + off;
    work.thickest[i] += longer + off;
  }
}

/// The force of a frame's rods, as a factor on what it was brought to.
double ChanceModel::frame_factor(const Work& work, std::size_t samples, std::size_t i) const {
  const int shape = shifts_->frame_force;
  return shape < 0 ? 1 : 1 + work.x[static_cast<std::size_t>(1 + shape) * samples + i];
}

void ChanceModel::pressures(const ShimTotal& shims, std::span<const double> u, std::size_t samples,
                            std::span<double> out) const {
  Work work(samples, all_.size(), inputs_.shape.size());
  prepare(u, samples, work);
  add_shims(shims, samples, work);
  const auto row = [&](std::size_t which) { return out.subspan(which * samples, samples); };
  std::ranges::fill(row(0), never_met);
  std::vector<double> found(samples);
  for (const Curve& curve : curves_) {
    if (curve.kind.building && frame_) {
      for (std::size_t i = 0; i < samples; ++i) {
        row(1)[i] = built_in_frame_mpa_ * frame_factor(work, samples, i);
      }
    } else if (curve.kind.building) {
      solve(curve, work.built, work.built, work, row(1));
    } else {
      solve(curve, work.thinnest, work.built, work, found);
      std::ranges::transform(row(0), found, row(0).begin(),
                             [](double a, double b) { return std::min(a, b); });
    }
  }
  solve_highest(samples, work, row(2));
}

void ChanceModel::solve_highest(std::size_t samples, Work& work, std::span<double> out) const {
  std::ranges::fill(out, 0.0);
  std::vector<double> found(samples);
  for (const Curve& curve : curves_) {
    if (!curve.kind.building) {
      solve(curve, work.thickest, work.built, work, found);
      std::ranges::transform(out, found, out.begin(),
                             [](double a, double b) { return std::max(a, b); });
    }
  }
}

void ChanceModel::highest_pressures(const ShimTotal& shims, std::span<const double> u,
                                    std::size_t samples, std::span<double> out) const {
  Work work(samples, all_.size(), inputs_.shape.size());
  prepare(u, samples, work);
  add_shims(shims, samples, work);
  solve_highest(samples, work, out);
}

}  // namespace stackfit
