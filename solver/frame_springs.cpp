// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/frame_springs.hpp"

#include <algorithm>
#include <cmath>

#include "solver/holding.hpp"
#include "solver/row_frame.hpp"

namespace stackfit {
namespace {

/// A stack whose forces lie closer together by the closing curve than this share of what can be set
/// is not solved: the curve is off by less.
constexpr double worth_solving = 0.7;

bool stands_clear(const Frame& frame, const DiscSize& disc) {
  const double half = 0.5 * disc.outer_mm;
  const auto& at = frame.rods.at;
  for (std::size_t i = 0; i < at.size(); ++i) {
    if (std::abs(at[i].x_mm) + half > 0.5 * frame.plates.width_mm ||
        std::abs(at[i].y_mm) + half > 0.5 * frame.plates.height_mm) {
      return false;
    }
    for (std::size_t j = 0; j < i; ++j) {
      if (std::hypot(at[i].x_mm - at[j].x_mm, at[i].y_mm - at[j].y_mm) < disc.outer_mm) {
        return false;
      }
    }
  }
  return true;
}

std::optional<DiscSize> in_stock(const DiscSprings& disc) {
  for (const DiscSize& one : disc_stock()) {
    if (one.outer_mm == disc.outer_mm && one.inner_mm == disc.inner_mm &&
        one.thickness_mm == disc.thickness_mm && one.cone_height_mm == disc.cone_height_mm) {
      return one;
    }
  }
  return std::nullopt;
}

/// By how much the springs' length differs over a window of forces.
double setting_mm(const SpringSet& springs, const Span& force_n, int rods) {
  return springs.deflection_at(force_n.high / rods) - springs.deflection_at(force_n.low / rods);
}

}  // namespace

std::vector<DiscStack> disc_stacks(const Frame& frame, double thread_mm,
                                   const std::vector<DiscSize>& stock) {
  std::vector<DiscStack> stacks;
  for (const DiscSize& disc : stock) {
    const bool usable = disc_suits(disc, thread_mm) && stands_clear(frame, disc) &&
                        disc_set(springs_of(disc, 1, 1)).rises_all_the_way();
    for (int parallel = 1; usable && parallel <= most_parallel; ++parallel) {
      for (int series = 1; series <= most_series; ++series) {
        stacks.push_back({disc, parallel, series});
      }
    }
  }
  std::stable_sort(stacks.begin(), stacks.end(), [](const DiscStack& a, const DiscStack& b) {
    return a.discs() != b.discs()
               ? a.discs() < b.discs()
               : a.discs() * disc_mass_g(a.disc) < b.discs() * disc_mass_g(b.disc);
  });
  return stacks;
}

SpringOrder describe_springs(const FrameWindows& frame, const RodSprings& springs) {
  SpringOrder out;
  const int rods = frame.rods().count;
  if (const auto* disc = std::get_if<DiscSprings>(&springs)) {
    out.disc = *disc;
    const std::optional<DiscSize> sold = in_stock(*disc);
    out.series = sold ? sold->series : ' ';
    out.discs = rods * disc->parallel * disc->series;
    out.mass_g = out.discs * disc_mass_g({' ', disc->outer_mm, disc->inner_mm, disc->thickness_mm,
                                          disc->cone_height_mm});
  }
  const SpringSet set = frame.spring_set(springs).value();
  out.free_length_mm = set.free_length_mm();
  out.recommended_travel_mm = set.recommended_travel_mm();
  out.windows = frame.windows(springs);
  for (const ForceWindow& window : out.windows) {
    out.setting_mm = std::max(out.setting_mm, setting_mm(set, window.force_n, rods));
  }
  return out;
}

std::optional<SpringOrder> smallest_springs(const FrameWindows& frame,
                                            const std::vector<DiscStack>& stacks) {
  for (const DiscStack& stack : stacks) {
    const DiscSprings discs = springs_of(stack.disc, stack.parallel, stack.series);
    const SpringSet set = disc_set(discs);
    const double setting = setting_mm(set, widest(frame.estimated_n(set)), frame.rods().count);
    if (setting < worth_solving * least_setting_mm) {
      continue;
    }
    SpringOrder order = describe_springs(frame, discs);
    if (order.setting_mm >= least_setting_mm) {
      return order;
    }
  }
  return std::nullopt;
}

}  // namespace stackfit
