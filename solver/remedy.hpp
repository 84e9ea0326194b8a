// SPDX-License-Identifier: GPL-3.0-or-later
//
// When nothing fits: the rule that fails, and the smallest single changes that mend it.
//
// Every remedy listed has been applied to the build and solved in full; one that did not give
// a passing plan is not listed.
#pragma once

#include <vector>

#include "solver/answer.hpp"
#include "solver/study.hpp"

namespace stackfit {

/// Why no plan passes.
[[nodiscard]] Failure explain_failure(const Study& study, const ShimPlan& plan);

/// Single changes that give a passing plan, least effort first: shims, then how it is built,
/// how it is used, pads, and a box of another length last.
[[nodiscard]] std::vector<Remedy> find_remedies(const Study& study);

/// The build with one remedy applied: what the view's --set line does, for tests and checks.
[[nodiscard]] Build apply(const Remedy& remedy, Build build);

}  // namespace stackfit
