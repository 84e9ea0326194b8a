// SPDX-License-Identifier: GPL-3.0-or-later
//
// The same plan under one changed figure: brackets, what moves the highest, worth of
// assumptions. They inform; only the stated case decides plan, verdict and exit status.
#pragma once

#include "solver/answer.hpp"
#include "solver/study.hpp"

namespace stackfit {

/// Soft and stiff brackets, edges thinner, rigid walls and moves, into the answer.
void add_what_ifs(const Study& study, const ShimPlan& plan, Answer& answer);

/// Every assumed number used, with the change of the highest pressure at both ends of its span. On
/// so many threads, 0: as many as the machine has.
[[nodiscard]] std::vector<AssumedUse> worth_of_assumptions(const Study& study, const ShimPlan& plan,
                                                           int threads = 0);

}  // namespace stackfit
