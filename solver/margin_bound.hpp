// SPDX-License-Identifier: GPL-3.0-or-later
//
// What margin no plan of a kit can exceed, whatever its counts: from the shims' total alone.
//
// For: saying how good the best found may be at most where a kit is too large to exhaust.
// Not for: the plan itself; shim_search.hpp finds it.
#pragma once

#include <limits>

#include "solver/shim_plan.hpp"

namespace stackfit {

inline constexpr double infinite_margin = std::numeric_limits<double>::infinity();

/// Infinite where the problem does not give its kindest sides; minus infinite where the whole kit
/// does not keep the hard rules' least or most total.
[[nodiscard]] double margin_bound(const PlanProblem& problem);

}  // namespace stackfit
