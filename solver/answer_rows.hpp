// SPDX-License-Identifier: GPL-3.0-or-later
//
// Several rows side by side between the same walls.
//
// For: a plan for each row, and what every row does to the others through the walls.
// Not for: one row (answer.cpp), which this asks for each of them.
#pragma once

#include "solver/answer.hpp"
#include "solver/study.hpp"

namespace stackfit {

/// One answer for the whole, with each row's own in `rows`. The kit is shared out evenly, and each
/// row's plan chosen as if the others were as long as it; what is then left over is offered to
/// each row in turn. The plans are told apart from the best by that, and by nothing else; the
/// pressures are those of all rows together, solved in full.
[[nodiscard]] Answer answer_rows(Question question, const Build& build,
                                 const Assumptions& assumptions,
                                 const std::optional<ChanceOptions>& chance = {},
                                 Pictures pictures = Pictures::none);

/// What is said of one row; `given`: its plan, where it is not to be chosen here (answer.cpp).
[[nodiscard]] Answer answer_one_row(Question question, const Study& study, const ShimPlan* given,
                                    const std::optional<ChanceOptions>& chance = {},
                                    Pictures pictures = Pictures::none);

}  // namespace stackfit
