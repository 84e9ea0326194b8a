// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/frame_windows.hpp"

#include <algorithm>
#include <utility>

#include "solver/holding.hpp"
#include "solver/study.hpp"

namespace stackfit {
namespace {

/// A try that fails by another rule than the band's is below zero by this little.
constexpr double just_fails = -1e-9;
constexpr int estimated_steps = 60;
constexpr double estimated_end_share = 0.0005;
/// The estimate's ends are tried so much to either side: what the curve may be off, and a little.
constexpr double beside_end = 0.003;
constexpr int solved_steps = 8;
constexpr double solved_end_share = 0.007;
/// As built a row may be looser than the band.
constexpr double lowest_over_band = 0.5;

}  // namespace

FrameWindows::FrameWindows(Build build, const Assumptions& assumptions,
                           std::shared_ptr<WallStore> store)
    : build_(std::move(build)), assumptions_(assumptions), store_(std::move(store)) {
  Findings findings;
  build_.frame->springs.reset();
  build_.frame->force_n.reset();
  band_ = resolve_row(build_, assumptions_, findings).band;
  build_.frame->force_n = 0.5 * (band_.low_mpa + band_.high_mpa) * band_.face_area_mm2;
  const Study study(build_, assumptions_, store_);
  rods_ = *study.row().box.rods;
  breathing_mm_ = study.model().breathing_mm();
  closing_.emplace(study, ShimLoad{});
}

Build FrameWindows::build_with(const std::optional<RodSprings>& springs, double force_n) const {
  Build build = build_;
  build.frame->springs = springs;
  build.frame->force_n = force_n;
  return build;
}

Span FrameWindows::worth_trying_n(const std::optional<SpringSet>& springs) const {
  Span over{lowest_over_band * band_.low_mpa * band_.face_area_mm2,
            band_.most_for(band_.high_mpa) * band_.face_area_mm2};
  if (springs) {
    const double working = springs->force_at(springs->recommended_travel_mm()).n;
    over.high = std::min(over.high, working * rods_.count / (1 + band_.model_margin));
  }
  return over;
}

std::optional<SpringSet> FrameWindows::spring_set(const std::optional<RodSprings>& springs) const {
  Findings findings;
  return resolve_row(build_with(springs, 0), assumptions_, findings).box.rods->springs;
}

double FrameWindows::springs_left(const std::optional<SpringSet>& springs,
                                  double greatest_n) const {
  if (!springs) {
    return 1;
  }
  const double working = springs->force_at(springs->recommended_travel_mm()).n;
  return 1 - (1 + band_.model_margin) * greatest_n / rods_.count / working;
}

FrameWindows::Value FrameWindows::estimate(const std::optional<SpringSet>& springs,
                                           double force_n) const {
  Value value;
  value.springs = springs_left(springs, force_n);
  value.band = value.springs;
  if (value.springs < 0) {
    return value;
  }
  RodSet rods = rods_;
  rods.springs = springs;
  rods.force_n = force_n;
  const FrameClosing::Forces forces = closing_->forces(rods);
  value.band = closing_->margin(forces);
  value.springs = springs_left(springs, std::max(forces.built_n, forces.highest_n));
  return value;
}

std::vector<Span> FrameWindows::estimated_n(const std::optional<SpringSet>& springs) const {
  HoldingSearch search;
  search.over = worth_trying_n(springs);
  search.steps = estimated_steps;
  search.end_share = estimated_end_share;
  if (!(search.over.high > search.over.low)) {
    return {};
  }
  return holding_stretches(search,
                           [&](double force_n) { return estimate(springs, force_n).least(); });
}

FrameWindows::Value FrameWindows::solved(const std::optional<RodSprings>& springs,
                                         double force_n) const {
  const Study study(build_with(springs, force_n), assumptions_, store_);
  const ShimPlan plan = study.choose();
  const ShimLoad load = plan.found ? study.load_of(plan.used) : ShimLoad{};
  // Without sheets that insulate every gap there is no plan, but there may be a force.
  const RowModel::Judgement judged = study.model().judge(load, RowModel::By::full_solution);
  const bool passes = plan.found ? plan.passes : judged.passes;
  Value value;
  value.band = passes ? std::max(0.0, judged.margin) : std::min(just_fails, judged.margin);
  const PlanPressures pressures = study.model().evaluate(load);
  value.springs = springs_left(study.row().box.rods->springs,
                               std::max(pressures.as_built.force_n, pressures.highest.force_n));
  return value;
}

std::vector<ForceWindow> FrameWindows::windows(const std::optional<RodSprings>& springs) const {
  const std::optional<SpringSet> set = spring_set(springs);
  HoldingSearch search;
  search.over = worth_trying_n(set);
  if (!(search.over.high > search.over.low)) {
    return {};
  }
  search.steps = solved_steps;
  search.end_share = solved_end_share;
  for (const Span& span : estimated_n(set)) {
    search.also.push_back(0.5 * (span.low + span.high));
    for (const double end : {span.low, span.high}) {
      search.also.push_back((1 - beside_end) * end);
      search.also.push_back((1 + beside_end) * end);
    }
  }
  const auto found =
      holding_stretches(search, [&](double force_n) { return solved(springs, force_n).least(); });
  std::vector<ForceWindow> windows;
  for (const Span& span : found) {
    const Value beyond = estimate(set, span.high * (1 + 2 * solved_end_share));
    windows.push_back({span, set.has_value() && beyond.springs < 0});
  }
  return windows;
}

}  // namespace stackfit
