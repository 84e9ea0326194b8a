// SPDX-License-Identifier: GPL-3.0-or-later
//
// The best plan by mixed-integer linear programs, solved by GLPK level by level: each rule of
// solver/shim_plan.hpp is an objective, and its optimum becomes a constraint of the next. Shares
// no code with the search and none with brute force.
//
// For: tests and benchmarks, where libglpk is installed.
#pragma once

#include "tests/plan/brute_force.hpp"
#include "tests/plan/drawn_plan.hpp"

namespace plan_checks {

/// Throws std::runtime_error where GLPK gives up or an optimum is not whole: never a wrong answer.
[[nodiscard]] ReferencePlan milp_plan(const DrawnPlan& plan);

}  // namespace plan_checks
