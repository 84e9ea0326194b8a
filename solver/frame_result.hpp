// SPDX-License-Identifier: GPL-3.0-or-later
//
// A clamp frame in figures for the bench: how its rods and springs stand, and how to bring it to
// its force.
//
// For: spring length, turns past snug, overall length, and torque only where it says something.
// Not for: the plates (wall_result.hpp).
#pragma once

#include <optional>

#include "solver/answer.hpp"
#include "solver/study.hpp"

namespace stackfit {

/// Empty for a box.
[[nodiscard]] std::optional<FrameResult> frame_result(const Study& study, const ShimLoad& load,
                                                      const PlanResult& plan);

}  // namespace stackfit
