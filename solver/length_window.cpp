// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/length_window.hpp"

#include <algorithm>
#include <cmath>

namespace stackfit {
namespace {

/// Shifts are found to this [mm]: far below what a rule shows, or curves know.
constexpr double shift_known_mm = 1e-4;

ShimLoad shifted(ShimLoad load, double by_mm) {
  load.thickness_mm += by_mm;
  return load;
}

/// Where a condition that turns true as the shift rises does so, between two shifts.
template <typename Holds>
double turns_true_between(double low, double high, const Holds& holds) {
  while (high - low > shift_known_mm) {
    const double middle = 0.5 * (low + high);
    (holds(middle) ? high : low) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace

std::optional<Span> length_window(const Study& study, const ShimLoad& load) {
  const Row& row = study.row();
  const RowModel& model = study.model();
  const auto judged = [&](double shift) { return model.judge(shifted(load, shift)); };
  const auto pressed = [&](double shift) { return judged(shift).not_below; };
  const auto too_much = [&](double shift) {
    const RowModel::Judgement j = judged(shift);
    return !(j.not_above && j.walls_hold && j.spares_swollen &&
             method_holds(study.insertion(), model, shifted(load, shift)));
  };
  // Loose by a twentieth of the row, and squeezed by as much: no band lies beyond either.
  constexpr double reach_share = 0.05;
  double reach = reach_share * row.nominal_mm * static_cast<double>(row.cells.size());
  for (const RowGap& gap : row.gaps) {
    reach += gap.pads_mm();
  }
  const double touch = -model.built_interference_mm(load);
  const double low = touch - model.greatest_bulge_mm() - reach;
  const double high = touch + reach;
  if (!judged(touch).even || pressed(low) || !pressed(high)) {
    return std::nullopt;
  }
  const double from = turns_true_between(low, high, pressed);
  if (too_much(low)) {
    return std::nullopt;
  }
  const double to = too_much(high) ? turns_true_between(low, high, too_much) : high;
  return Span{row.box.inner_length_mm - to, row.box.inner_length_mm - from};
}

std::optional<Span> passing_lengths(const Study& study, const ShimLoad& load) {
  const std::optional<Span> window = length_window(study, load);
  return window && window->low <= window->high ? window : std::nullopt;
}

std::vector<Span> merged(std::vector<Span> lengths) {
  std::sort(lengths.begin(), lengths.end(),
            [](const Span& a, const Span& b) { return a.low < b.low; });
  std::vector<Span> out;
  for (const Span& span : lengths) {
    if (!out.empty() && span.low <= out.back().high) {
      out.back().high = std::max(out.back().high, span.high);
    } else {
      out.push_back(span);
    }
  }
  return out;
}

Build at_length(Build build, double inner_length_mm) {
  build.box.inner_length_mm = {inner_length_mm};
  return build;
}

}  // namespace stackfit
