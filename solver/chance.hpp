// SPDX-License-Identifier: GPL-3.0-or-later
//
// How sure an answer is: the chance that a plan passes, that of its rivals, and what to measure.
//
// For: the answer (answer.cpp), and the choice of a plan by its chance. The draws are made once:
// plans share them, so that what differs between two plans is not the luck of the draw.
// Not for: what a draw does (chance_model.hpp) or the drawing itself (monte_carlo.hpp).
#pragma once

#include <optional>
#include <vector>

#include "solver/chance_model.hpp"
#include "solver/chance_options.hpp"

namespace stackfit {

class ChanceStudy {
 public:
  /// `near`: a plan near those asked for. `study` must outlive it.
  ChanceStudy(const Study& study, const ShimLoad& near, const ChanceOptions& options = {});

  /// Draws until the plan's chance is settled: of rivals, which are to be compared.
  [[nodiscard]] ChanceOf of(const ShimTotal& shims) const;
  /// By the draws that all plans share; quick.
  [[nodiscard]] double quick(const ShimTotal& shims) const;

  /// All there is to say of a plan, its looser one aside; by as many draws as the options ask for,
  /// at least as many as settle it.
  [[nodiscard]] Chance assess(const std::vector<int>& used) const;

  [[nodiscard]] const ChanceModel& model() const { return model_; }

 private:
  /// Windows of totals in rising order of their ends, where shims are off by a share of their
  /// spread over their total.
  struct Ordered {
    double spread_share = 0;
    std::vector<double> from;
    std::vector<double> to;
    [[nodiscard]] double chance(double total_mm, std::size_t samples) const;
  };
  void order_windows();
  void spread_pressures(const ShimTotal& shims, Chance& chance) const;
  [[nodiscard]] std::vector<InputShare> share_out(const ShimTotal& shims) const;
  static void sort_shares(std::vector<InputShare> shares, Chance& chance);

  const Study& study_;
  ChanceOptions options_;
  ChanceModel model_;
  std::vector<double> shared_;  ///< windows of the shared draws, WindowRow after WindowRow
  std::vector<Ordered> ordered_;
};

/// Samples that all plans share.
inline constexpr std::int64_t shared_samples = 20'480;

/// Whether one draw's window holds these shims.
struct DrawnWindow {
  double loosest = 0;
  double tightest = 0;
  double at_limit = 0;
  double got_in = 0;
  double shim_share = 0;

  [[nodiscard]] double really(const ShimTotal& shims) const {
    return shims.total_mm + shim_share * shims.spread_mm;
  }
  [[nodiscard]] bool holds(const ShimTotal& shims) const {
    const double t = really(shims);
    return t >= loosest && t <= tightest && t <= at_limit && t <= got_in;
  }
};
[[nodiscard]] DrawnWindow window_of(const std::vector<double>& rows, std::size_t samples,
                                    std::size_t i);

}  // namespace stackfit
