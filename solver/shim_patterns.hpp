// SPDX-License-Identifier: GPL-3.0-or-later
//
// Patterns of shims for one gap under a limit, and the placing of a whole vector. Internal to
// the shim search.
#pragma once

#include <compare>
#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <utility>
#include <vector>

#include "solver/count_set.hpp"
#include "solver/shim_plan.hpp"

namespace stackfit {

/// What a gap between cells must keep: its sheet total within a window, its terminals' spacing
/// within so many steps of the wanted one. And a gap at a wall: its sheet total below a most.
struct GapLimit {
  static constexpr std::int64_t any = std::numeric_limits<std::int64_t>::max();
  std::int64_t low_nm = 0;
  std::int64_t high_nm = any;
  std::int64_t terminal_steps = any;
  std::int64_t wall_most_nm = any;
  std::optional<std::int64_t> inner_total_nm;  ///< where the wish is the row's own mean

  auto operator<=>(const GapLimit&) const = default;  // NOLINT(modernize-use-nullptr): a false hit
  /// No limit on a gap between cells by itself.
  [[nodiscard]] bool open() const { return low_nm == 0 && high_nm == any && terminal_steps == any; }
  /// The same for a gap at a wall.
  [[nodiscard]] GapLimit at_wall() const { return {0, wall_most_nm, any, any, {}}; }
};

struct TotalSpan {
  std::int64_t least_nm = 0;
  std::int64_t most_nm = 0;
};

/// Patterns for one gap: so many of each kind.
using Patterns = std::vector<std::vector<int>>;

class GapPatterns {
 public:
  GapPatterns(const PlanProblem& problem, const CountBox& box) : problem_(problem), box_(box) {}

  /// One insulating sheet that may lie in the gap.
  [[nodiscard]] std::vector<std::vector<int>> single_insulators(std::size_t gap) const;
  [[nodiscard]] std::vector<bool> allowed_somewhere() const;
  [[nodiscard]] std::vector<bool> allowed_in(std::size_t gap) const;
  /// All patterns for a gap, in lexicographic order.
  [[nodiscard]] std::vector<std::vector<int>> within(std::size_t gap, const GapLimit& limit,
                                                     std::int64_t most_shims_nm) const;
  [[nodiscard]] std::int64_t total_nm(const std::vector<int>& counts) const;
  [[nodiscard]] std::int64_t inner_fixed_nm() const;
  /// Sums of shims that the kit can make, up to a most; ascending.
  [[nodiscard]] std::vector<std::int64_t> attainable(std::int64_t most_nm) const;
  /// Totals that gaps between cells can have, fixed sheets included; ascending.
  [[nodiscard]] std::vector<std::int64_t> gap_totals(std::int64_t most_shims_nm) const;
  /// Whether one pattern for each gap between cells can make this total, counts aside.
  [[nodiscard]] bool add_up_to(const std::vector<Patterns>& by_gap,
                               std::int64_t inner_total_nm) const;
  /// What divides every thickness of the kit and every fixed total.
  [[nodiscard]] std::int64_t common_divisor_nm() const;
  [[nodiscard]] std::int64_t most_fixed_nm() const;
  /// Least shims in all gaps between cells when each gap's total is at least `low`.
  [[nodiscard]] std::int64_t least_shims_nm(std::int64_t low_nm) const;
  /// The most terminal steps that some gap can be off.
  [[nodiscard]] std::int64_t most_steps(
      const std::vector<std::optional<std::int64_t>>& inner_totals,
      std::int64_t most_shims_nm) const;

  using VisitVector = std::function<void(const std::vector<int>&, std::int64_t total_nm)>;
  /// Every vector of the box with its total in the span.
  void for_each_vector(const TotalSpan& span, const VisitVector& visit) const;

 private:
  [[nodiscard]] std::int64_t steps(std::size_t gap, std::int64_t gap_total_nm,
                                   const GapLimit& limit) const;
  [[nodiscard]] TotalSpan within_steps(std::size_t gap, const GapLimit& limit) const;
  void descend(std::size_t kind, const std::vector<int>& caps, const TotalSpan& span,
               std::vector<int>& counts, std::int64_t total, const VisitVector& visit) const;

  const PlanProblem& problem_;
  const CountBox& box_;
};

/// The lexicographically least placing that uses exactly `used` under a limit; empty where
/// there is none.
[[nodiscard]] std::optional<std::vector<std::vector<int>>> place_least(
    const PlanProblem& problem, const GapLimit& limit, const std::vector<int>& used);

}  // namespace stackfit
