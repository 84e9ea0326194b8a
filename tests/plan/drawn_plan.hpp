// SPDX-License-Identifier: GPL-3.0-or-later
//
// Kits and rows drawn at random, with a margin that brute force, a MILP and the search read alike:
// concave and piecewise linear in what the shims press, in whole numbers, so that no rounding
// decides anywhere.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "solver/shim_plan.hpp"

namespace plan_checks {

/// All lengths of a drawn plan are whole multiples of this: half a terminal step, so that steps
/// have something to round.
inline constexpr std::int64_t unit_nm = 25'000;
/// Margins are whole multiples of 1 / this: a power of two, so that doubles hold them exactly.
inline constexpr std::int64_t margin_parts = 1024;

/// start + slope * press, in parts of the margin.
struct MarginLine {
  std::int64_t start = 0;
  std::int64_t slope = 0;
};

/// The margin as the model makes it: 'p - low' rises and 'high - (1 + m) p' falls as more presses.
struct MarginLaw {
  std::vector<MarginLine> rising;
  std::vector<MarginLine> falling;
  /// What one sheet of each kind presses, in units of length: its thickness, less where it is soft.
  std::vector<std::int64_t> press_units;
  /// A plan passes with a margin of 0 or more, and where this is given with no more press (as the
  /// hand that closes the box allows it).
  std::optional<std::int64_t> most_passing_press;

  [[nodiscard]] std::int64_t press(const std::vector<int>& used) const;
  [[nodiscard]] std::int64_t parts_at(std::int64_t press) const;
};

struct DrawnPlan {
  stackfit::PlanProblem problem;
  MarginLaw law;
};

/// Gives the problem its score and its kindest sides by the law.
void judge_by(const MarginLaw& law, stackfit::PlanProblem& problem);

/// 2 to 5 cells, 1 to 3 kinds; places, insulation due, fixed sheets, soft kinds, terminals and a
/// limit on the total now and then; targets in and out of the kit's reach. At most
/// `most_placings` for brute force.
[[nodiscard]] DrawnPlan draw_plan(unsigned seed, double most_placings);

}  // namespace plan_checks
