// SPDX-License-Identifier: GPL-3.0-or-later
//
// Fills an answer's picture: pressure map, the walls' lines, the curves to play with.
//
// For: answer.cpp. Not for: drawing.
#pragma once

#include "solver/answer.hpp"
#include "solver/study.hpp"

namespace stackfit {

/// `result`: what describe_plan says of the plan.
[[nodiscard]] Picture picture_of(const Study& study, const ShimPlan& plan,
                                 const PlanResult& result);

}  // namespace stackfit
