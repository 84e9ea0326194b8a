// SPDX-License-Identifier: GPL-3.0-or-later
//
// Where the cells may change places: the order that an answer is given for.
//
// For: choosing it before anything else is said, so that ids, polarity, voltages and what-ifs are
// those of the build in that order.
// Not for: the choice itself (order_plan.hpp).
#pragma once

#include <optional>
#include <vector>

#include "solver/answer.hpp"
#include "solver/study.hpp"

namespace stackfit {

/// The best order of a row's cells. Empty where there is nothing to choose (Study::choose_order),
/// sheets are placed already, or a cell must not be pressed at all.
[[nodiscard]] std::optional<OrderResult> best_order(const Study& study);

/// The build with its cells so: `places` has where each now stands, counted from 1.
[[nodiscard]] Build in_order(Build build, const std::vector<int>& places);

}  // namespace stackfit
