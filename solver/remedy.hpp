// SPDX-License-Identifier: GPL-3.0-or-later
//
// When nothing fits, or the chance is poor: the rule that fails, and the smallest single changes
// that mend it.
//
// Every remedy listed has been applied to the build and solved in full; one that did not give
// a passing plan is not listed.
// For: answer.cpp. Not for: several changes at once, or boxes yet to be made (size.hpp).
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "solver/answer.hpp"
#include "solver/study.hpp"

namespace stackfit {

/// Why no plan passes.
[[nodiscard]] Failure explain_failure(const Study& study, const ShimPlan& plan);

/// What a change costs the person; remedies are ranked by it.
namespace effort {
inline constexpr int at_the_bench = 1;  ///< minutes, nothing bought: method, order, turning nuts
inline constexpr int another_use = 2;   ///< hours, nothing bought: charge to build or run at
inline constexpr int small_parts = 3;   ///< sheets, shims, films: bought, or cut in an evening
inline constexpr int soft_parts = 4;    ///< pads of a certain foam, or other end walls
inline constexpr int another_box = 5;
}  // namespace effort

/// The chance that is sought where nobody said one.
inline constexpr double enough_chance = 0.9;

/// When a change is worth listing, besides giving a plan that passes.
struct RemedyGoal {
  /// How the plan of a changed build is chosen; empty: Study::choose.
  std::function<ShimPlan(const Study&)> choose;
  /// The chance of a changed build's plan; none where it cannot be told.
  std::function<std::optional<double>(const Study&, const ShimPlan&)> chance;
  /// Changes with less, or with none told, are not listed. 0: any that passes, and its chance told.
  double needed = enough_chance;
};

/// Single changes that give a passing plan that is good enough, least effort first; of equal
/// effort the fewest pieces and the nearest figures first. Of each sort of change the smallest is
/// listed.
[[nodiscard]] std::vector<Remedy> find_remedies(const Study& study,
                                                const RemedyGoal* goal = nullptr);

/// Where terminals do not meet their bars and the cells are not said to be movable: whether
/// letting them change places mends that, with the sheets chosen anew.
[[nodiscard]] std::optional<Remedy> order_remedy(const Study& study, const PlanResult& plan);

/// The build with one remedy applied: what the view's --set line does, for tests and checks.
[[nodiscard]] Build apply(const Remedy& remedy, Build build);

}  // namespace stackfit
