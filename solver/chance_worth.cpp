// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/chance_worth.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "solver/chance.hpp"
#include "solver/monte_carlo.hpp"

namespace stackfit {
namespace {

constexpr std::uint64_t seed = 51;
constexpr std::int64_t samples = 24'576;
/// Draws that read alike are one in so many, whatever is read.
constexpr std::size_t bins = 24;
/// Of two figures read together, each is told apart in so many.
constexpr std::size_t bins_of_two = 5;
/// Totals of shims that are tried in every bin.
constexpr std::size_t most_totals = 48;
/// A chance is not said to rise by less than this.
constexpr double worth_saying = 0.01;

/// Half a 95 % span.
double half_span(const Drawn& drawn) {
  return drawn.spread == Spread::uniform ? 0.5 * (drawn.bounds.high - drawn.bounds.low)
                                         : 0.5 * normal_95 * (drawn.width + drawn.width_above);
}

/// What stays open of a figure once it is measured, over what is open now: a ratio of widths.
double left_open(const Drawn& drawn, double half_span_after) {
  const double now = half_span(drawn);
  return now > 0 ? std::min(1.0, half_span_after / now) : 1;
}

struct Measurement {
  Measuring measure = Measuring::press_test;
  std::vector<std::size_t> inputs;
  std::vector<double> open;  ///< of each
};

/// What a careful person gets each figure down to: half a 95 % span, in its unit or, for factors,
/// as a logarithm.
std::vector<Measurement> measurements(const Study& study, const ChanceModel& model) {
  constexpr double charge_points = 0.02;
  constexpr double box_mm = 0.2;
  constexpr double row_mm = 0.2;
  constexpr double stack_share = 0.01;
  constexpr double friction_share = 0.15;
  constexpr double fixity_part = 0.1;
  const double shims_said = study.build().uncertainty.shims.value_or(
      study.assumptions().fraction(Assumed::shim_thickness));
  const double press = std::log(study.assumptions()[Assumed::said_softness]);
  const double swing = std::log1p(study.assumptions().fraction(Assumed::said_swing));
  std::map<Measuring, Measurement> found;
  const auto add = [&](Measuring measure, std::size_t input, double after) {
    const double open = left_open(*model.inputs()[input], after);
    if (open < 1) {
      Measurement& m = found[measure];
      m.measure = measure;
      m.inputs.push_back(input);
      m.open.push_back(open);
    }
  };
  for (std::size_t i = 0; i < model.inputs().size(); ++i) {
    switch (model.inputs()[i]->id) {
      case ChanceInput::squeeze_a:
        add(Measuring::press_test, i, press);
        break;
      case ChanceInput::measured_charge:
        add(Measuring::count_charge, i, charge_points);
        break;
      case ChanceInput::box_length:
        add(Measuring::box_length, i, box_mm);
        break;
      case ChanceInput::calipers_common:
      case ChanceInput::lot_thickness:
        add(Measuring::row_length, i, row_mm);
        break;
      case ChanceInput::shim_thickness:
        add(Measuring::shim_stack, i, stack_share / shims_said * half_span(*model.inputs()[i]));
        break;
      case ChanceInput::swing_net:
      case ChanceInput::swing_hump:
        add(Measuring::swing_test, i, swing);
        break;
      case ChanceInput::friction:
        add(Measuring::pull_test, i, std::log1p(friction_share));
        break;
      case ChanceInput::edge_fixity:
        add(Measuring::wall_bow, i, fixity_part);
        break;
      default:
        break;
    }
  }
  std::vector<Measurement> list;
  for (auto& [measure, measurement] : found) {
    list.push_back(std::move(measurement));
  }
  return list;
}

/// Totals that the kit can make, thinned out; the plan's own among them.
std::vector<ShimTotal> totals_to_try(const Study& study, const ShimTotal& shims, Span wanted) {
  std::map<std::int64_t, ShimTotal> by_total;
  if (!study.row().kit.empty() && study.build().placed.empty()) {
    for (const std::vector<int>& used : study.placeable()) {
      const ShimTotal total = shim_total(study.row(), used);
      if (total.total_mm >= wanted.low && total.total_mm <= wanted.high) {
        by_total.emplace(to_nm(total.total_mm), total);
      }
    }
  }
  std::vector<ShimTotal> list{shims};
  const std::size_t step = by_total.size() / most_totals + 1;
  std::size_t n = 0;
  for (const auto& [nm, total] : by_total) {
    if (n++ % step == 0) {
      list.push_back(total);
    }
  }
  return list;
}

/// The draws, and for every total which of them it passes in.
class Draws {
 public:
  Draws(const Study& study, const ChanceModel& model, const ShimTotal& shims, int threads)
      : model_(model), inputs_(model.inputs().size()) {
    // Every figure's draw, one more for what its measurement leaves open, and the windows.
    DrawPlan plan;
    plan.seed = seed;
    plan.inputs = 2 * inputs_;
    plan.outputs = 2 * inputs_ + window_rows;
    plan.samples = samples;
    plan.threads = threads;
    plan.distribution = DrawPlan::Distribution::uniform;
    rows_ = draw_samples(plan, [&](const SampleBlock& block) {
      const std::size_t own = inputs_ * block.samples;
      for (std::size_t i = 0; i < 2 * own; ++i) {
        block.out[i] = normal_quantile(block.draws[i]);
      }
      model.windows(block.draws.first(own), block.samples, block.out.subspan(2 * own));
    });
    judge(study, shims);
  }

  /// The chance expected where the best total is chosen among draws that read alike.
  [[nodiscard]] Worth expected(const Measurement& measurement) const {
    std::map<std::size_t, std::vector<std::size_t>> alike;
    const std::vector<std::size_t> bin = bins_of(measurement);
    for (std::size_t i = 0; i < samples; ++i) {
      alike[bin[i]].push_back(i);
    }
    double kept = 0;
    for (const auto& [number, members] : alike) {
      for (const std::size_t half : {std::size_t{0}, std::size_t{1}}) {
        const std::size_t best = best_total(members, half);
        for (std::size_t k = 1 - half; k < members.size(); k += 2) {
          kept += passes_[best][members[k]] != 0 ? 1 : 0;
        }
      }
    }
    Worth worth;
    worth.measure = measurement.measure;
    worth.chance_after = kept / static_cast<double>(samples);
    worth.standard_error = std::sqrt(worth.chance_after * (1 - worth.chance_after) / samples);
    return worth;
  }

 private:
  [[nodiscard]] double row(std::size_t which, std::size_t i) const {
    return rows_[which * samples + i];
  }

  void judge(const Study& study, const ShimTotal& shims) {
    const std::size_t first = 2 * inputs_;
    const std::vector<double> windows(rows_.begin() + static_cast<std::ptrdiff_t>(first * samples),
                                      rows_.end());
    // Totals that hardly any draw wants are not worth trying.
    std::vector<double> from;
    std::vector<double> to;
    for (std::size_t i = 0; i < samples; ++i) {
      const DrawnWindow w = window_of(windows, samples, i);
      from.push_back(w.loosest);
      to.push_back(std::min({w.tightest, w.at_limit, w.got_in}));
    }
    std::sort(from.begin(), from.end());
    std::sort(to.begin(), to.end());
    constexpr std::size_t edge = samples / 100;
    for (const ShimTotal& total :
         totals_to_try(study, shims, {from[edge], to[samples - 1 - edge]})) {
      std::vector<char> passed(samples);
      for (std::size_t i = 0; i < samples; ++i) {
        passed[i] = window_of(windows, samples, i).holds(total) ? 1 : 0;
      }
      passes_.push_back(std::move(passed));
    }
  }

  [[nodiscard]] std::size_t best_total(const std::vector<std::size_t>& members,
                                       std::size_t half) const {
    std::size_t best = 0;
    std::int64_t most = -1;
    for (std::size_t total = 0; total < passes_.size(); ++total) {
      std::int64_t kept = 0;
      for (std::size_t k = half; k < members.size(); k += 2) {
        kept += passes_[total][members[k]];
      }
      if (kept > most) {
        most = kept;
        best = total;
      }
    }
    return best;
  }

  /// What the measurement reads of its n-th figure: standard normal, correlated with the truth.
  [[nodiscard]] std::vector<std::size_t> ranks(const Measurement& measurement, std::size_t n,
                                               std::size_t parts) const {
    const std::size_t input = measurement.inputs[n];
    const double open = measurement.open[n];
    const double seen = std::sqrt(1 - open * open);
    std::vector<std::pair<double, std::size_t>> readings(samples);
    for (std::size_t i = 0; i < samples; ++i) {
      readings[i] = {seen * row(input, i) + open * row(inputs_ + input, i), i};
    }
    std::sort(readings.begin(), readings.end());
    std::vector<std::size_t> rank(samples);
    for (std::size_t place = 0; place < samples; ++place) {
      rank[readings[place].second] = place * parts / samples;
    }
    return rank;
  }

  [[nodiscard]] std::vector<std::size_t> bins_of(const Measurement& measurement) const {
    const std::size_t parts = measurement.inputs.size() == 1 ? bins : bins_of_two;
    std::vector<std::size_t> bin(samples, 0);
    for (std::size_t n = 0; n < measurement.inputs.size(); ++n) {
      const std::vector<std::size_t> rank = ranks(measurement, n, parts);
      for (std::size_t i = 0; i < samples; ++i) {
        bin[i] = bin[i] * parts + rank[i];
      }
    }
    return bin;
  }

  const ChanceModel& model_;
  std::size_t inputs_;
  std::vector<double> rows_;
  std::vector<std::vector<char>> passes_;  ///< [total][draw]
};

}  // namespace

std::vector<Worth> worth_of_measuring(const Study& study, const ChanceModel& model,
                                      const ShimTotal& shims, int threads) {
  std::vector<Worth> list;
  const Draws draws(study, model, shims, threads);
  const double now = draws.expected({}).chance_after;
  for (const Measurement& measurement : measurements(study, model)) {
    Worth worth = draws.expected(measurement);
    worth.chance_before = now;
    if (worth.chance_after > now + std::max(worth_saying, 2 * worth.standard_error)) {
      list.push_back(worth);
    }
  }
  std::stable_sort(list.begin(), list.end(),
                   [](const Worth& a, const Worth& b) { return a.chance_after > b.chance_after; });
  return list;
}

}  // namespace stackfit
