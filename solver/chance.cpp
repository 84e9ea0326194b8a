// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/chance.hpp"

#include <algorithm>
#include <cmath>
#include <future>
#include <utility>

#include "solver/chance_worth.hpp"
#include "solver/monte_carlo.hpp"
#include "solver/sensitivity.hpp"

namespace stackfit {
namespace {

constexpr std::uint64_t seed = 20'261'128;
/// Draws are added in rounds of so many until they settle the chance.
constexpr std::int64_t round_samples = 10'240;
/// Draws of which the pressures themselves are solved.
constexpr std::int64_t pressure_samples = 10'240;

std::vector<double> draw_windows(const ChanceModel& model, std::int64_t samples, std::int64_t first,
                                 int threads) {
  DrawPlan plan;
  plan.seed = seed;
  plan.inputs = model.inputs().size();
  plan.outputs = window_rows;
  plan.samples = samples;
  plan.threads = threads;
  plan.first_sample = static_cast<std::uint64_t>(first);
  plan.distribution = DrawPlan::Distribution::uniform;
  return draw_samples(plan, [&](const SampleBlock& block) {
    model.windows(block.draws, block.samples, block.out);
  });
}

/// How many of some draws keep the rule, and how the others break it.
struct Count {
  std::int64_t samples = 0;
  std::int64_t kept = 0;
  std::int64_t below = 0;
  std::int64_t above = 0;
  std::int64_t above_limit = 0;
  std::int64_t not_got_in = 0;

  void add(const std::vector<double>& rows, const ShimTotal& shims) {
    const std::size_t drawn = rows.size() / window_rows;
    for (std::size_t i = 0; i < drawn; ++i) {
      const DrawnWindow window = window_of(rows, drawn, i);
      const double total = window.really(shims);
      kept += window.holds(shims) ? 1 : 0;
      below += total < window.loosest ? 1 : 0;
      above += total > window.tightest ? 1 : 0;
      above_limit += total > window.at_limit ? 1 : 0;
      not_got_in += total > window.got_in ? 1 : 0;
    }
    samples += static_cast<std::int64_t>(drawn);
  }
};

Count count_until_settled(const ChanceModel& model, const ShimTotal& shims,
                          const ChanceOptions& options) {
  Count count;
  do {
    // Many draws in one go keep both cores busy; few at a time keep the memory small.
    constexpr std::int64_t most_at_once = 262'144;
    const std::int64_t left = options.samples - count.samples;
    const std::int64_t now = std::clamp(left, round_samples, most_at_once);
    // Draws that had no say in which plan is taken.
    const std::int64_t first = shared_samples + count.samples;
    count.add(draw_windows(model, now, first, options.threads), shims);
  } while (count.samples < options.samples || !settled(chance_by_count(count.kept, count.samples)));
  return count;
}

}  // namespace

DrawnWindow window_of(const std::vector<double>& rows, std::size_t samples, std::size_t i) {
  const auto at = [&](WindowRow row) { return rows[static_cast<std::size_t>(row) * samples + i]; };
  return {at(WindowRow::loosest), at(WindowRow::tightest), at(WindowRow::at_limit),
          at(WindowRow::got_in), at(WindowRow::shim_share)};
}

ChanceStudy::ChanceStudy(const Study& study, const ShimLoad& near, const ChanceOptions& options)
    : study_(study),
      options_(options),
      model_(study, near, {}, options.threads),
      shared_(draw_windows(model_, shared_samples, 0, options.threads)) {
  order_windows();
}

/// A plan's shims are T (1 + r share) where all kinds are off by one share of themselves, with r
/// between one over the root of the number of kinds, all used alike, and one, a single kind.
void ChanceStudy::order_windows() {
  constexpr std::size_t steps = 4;
  const auto kinds = static_cast<double>(std::max<std::size_t>(1, study_.row().kit.size()));
  const double least = 1 / std::sqrt(kinds);
  const std::size_t samples = shared_.size() / window_rows;
  for (std::size_t step = 0; step <= steps; ++step) {
    Ordered ordered;
    ordered.spread_share = least + (1 - least) * static_cast<double>(step) / steps;
    for (std::size_t i = 0; i < samples; ++i) {
      const DrawnWindow window = window_of(shared_, samples, i);
      const double thicker = 1 + ordered.spread_share * window.shim_share;
      const double to = std::min({window.tightest, window.at_limit, window.got_in});
      if (window.loosest <= to) {
        ordered.from.push_back(window.loosest / thicker);
        ordered.to.push_back(to / thicker);
      }
    }
    std::sort(ordered.from.begin(), ordered.from.end());
    std::sort(ordered.to.begin(), ordered.to.end());
    ordered_.push_back(std::move(ordered));
    if (least == 1) {
      break;
    }
  }
}

double ChanceStudy::Ordered::chance(double total_mm, std::size_t samples) const {
  const auto begun = std::upper_bound(from.begin(), from.end(), total_mm) - from.begin();
  const auto ended = std::lower_bound(to.begin(), to.end(), total_mm) - to.begin();
  return static_cast<double>(begun - ended) / static_cast<double>(samples);
}

double ChanceStudy::quick(const ShimTotal& shims) const {
  const std::size_t samples = shared_.size() / window_rows;
  const double share = shims.total_mm > 0 ? shims.spread_mm / shims.total_mm : 1;
  std::size_t above = 0;
  while (above + 1 < ordered_.size() && ordered_[above].spread_share < share) {
    ++above;
  }
  const Ordered& high = ordered_[above];
  const double at_high = high.chance(shims.total_mm, samples);
  if (above == 0 || high.spread_share <= share) {
    return at_high;
  }
  const Ordered& low = ordered_[above - 1];
  const double between = (share - low.spread_share) / (high.spread_share - low.spread_share);
  return at_high + (1 - between) * (low.chance(shims.total_mm, samples) - at_high);
}

ChanceOf ChanceStudy::of(const ShimTotal& shims) const {
  ChanceOptions settled_will_do = options_;
  settled_will_do.samples = 0;
  const Count count = count_until_settled(model_, shims, settled_will_do);
  return chance_by_count(count.kept, count.samples);
}

void ChanceStudy::spread_pressures(const ShimTotal& shims, Chance& chance) const {
  constexpr std::size_t figures = 3;
  DrawPlan plan;
  plan.seed = seed;
  plan.inputs = model_.inputs().size();
  plan.outputs = figures;
  plan.samples = pressure_samples;
  plan.threads = options_.threads;
  plan.distribution = DrawPlan::Distribution::uniform;
  const std::vector<double> drawn = draw_samples(plan, [&](const SampleBlock& block) {
    model_.pressures(shims, block.draws, block.samples, block.out);
  });
  const auto spread = [&](std::size_t which) {
    const auto from = drawn.begin() + static_cast<std::ptrdiff_t>(which * pressure_samples);
    std::vector<double> one(from, from + pressure_samples);
    std::sort(one.begin(), one.end());
    const auto at = [&](double share) {
      return one[static_cast<std::size_t>(share * static_cast<double>(one.size() - 1))];
    };
    constexpr double tail = 0.025;
    return PressureSpread{at(tail), at(0.5), at(1 - tail)};
  };
  chance.lowest = spread(0);
  chance.as_built = spread(1);
  chance.highest = spread(2);
}

/// Shares of the variance of the highest pressure, and of passing or not.
std::vector<InputShare> ChanceStudy::share_out(const ShimTotal& shims) const {
  SensitivityQuestion question;
  question.inputs = model_.inputs().size();
  question.outputs = 2;
  question.base_samples = 1024;
  const auto indices = sensitivity(
      question, [&](std::span<const double> u, std::size_t points, std::span<double> out) {
        std::vector<double> rows(window_rows * points);
        model_.windows(u, points, rows);
        model_.highest_pressures(shims, u, points, out.first(points));
        for (std::size_t i = 0; i < points; ++i) {
          out[points + i] = window_of(rows, points, i).holds(shims) ? 0 : 1;
        }
      });
  std::vector<InputShare> shared;
  for (std::size_t input = 0; input < question.inputs; ++input) {
    const Drawn& drawn = *model_.inputs()[input];
    // Estimates of what is hardly there come out on either side of nothing.
    const auto share = [&](std::size_t output, double SensitivityIndices::*which) {
      return std::clamp(indices[output][input].*which, 0.0, 1.0);
    };
    shared.push_back(
        {drawn.id, drawn.where, drawn.assumed, share(0, &SensitivityIndices::first_order),
         share(0, &SensitivityIndices::total), share(1, &SensitivityIndices::first_order),
         share(1, &SensitivityIndices::total)});
  }
  return shared;
}

/// Greatest first.
void ChanceStudy::sort_shares(std::vector<InputShare> shares, Chance& chance) {
  chance.inputs = std::move(shares);
  // Of a few failures nothing can be shared out.
  constexpr double enough_failing = 0.02;
  const bool fails = chance.plan.chance <= 1 - enough_failing;
  for (InputShare& input : chance.inputs) {
    input.first_order_failing = fails ? input.first_order_failing : 0;
    input.total_failing = fails ? input.total_failing : 0;
  }
  std::stable_sort(chance.inputs.begin(), chance.inputs.end(),
                   [fails](const InputShare& a, const InputShare& b) {
                     return fails ? a.total_failing > b.total_failing
                                  : a.total_pressure > b.total_pressure;
                   });
}

Chance ChanceStudy::assess(const std::vector<int>& used) const {
  const ShimTotal shims = shim_total(study_.row(), used);
  // All three only read the model; what they find does not hang on when.
  const auto when = options_.threads == 1 ? std::launch::deferred : std::launch::async;
  auto shares = std::async(when, [&] { return share_out(shims); });
  auto worth = std::async(when, [&] {
    // Of several rows the kit is not this one's alone.
    const bool alone = study_.place().companions.empty();
    return alone ? worth_of_measuring(study_, model_, shims, options_.threads)
                 : std::vector<Worth>{};
  });
  const Count count = count_until_settled(model_, shims, options_);
  Chance chance;
  chance.plan = chance_by_count(count.kept, count.samples);
  const auto share = [&](std::int64_t of) {
    return static_cast<double>(of) / static_cast<double>(count.samples);
  };
  chance.below = share(count.below);
  chance.above = share(count.above);
  chance.above_limit = share(count.above_limit);
  chance.not_got_in = share(count.not_got_in);
  chance.assumed_inputs = std::any_of(model_.inputs().begin(), model_.inputs().end(),
                                      [](const Drawn* drawn) { return drawn->assumed; });
  spread_pressures(shims, chance);
  sort_shares(shares.get(), chance);
  chance.worth = worth.get();
  return chance;
}

}  // namespace stackfit
