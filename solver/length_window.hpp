// SPDX-License-Identifier: GPL-3.0-or-later
//
// The inner lengths of a box in which a row with a given load of shims passes.
//
// For: sizing a box. A longer box and thinner shims are the same to the row, so one study, at any
// length near by, tells all lengths of one load: the load's thickness is shifted until the band is
// left at either end. What this leaves out, heat and stretch of the box's own change in length,
// is about a hundredth of a millimetre for 20 mm.
// Not for: which loads a kit can make (kit_search.hpp, shim_plan.hpp); clamp frames, whose length
// is the row's own.
#pragma once

#include <optional>
#include <vector>

#include "solver/study.hpp"

namespace stackfit {

/// Inner lengths [mm] at which the load passes: band, limit, build method and walls all kept, in
/// every required state. Empty where no length does.
/// Where the band is passed over, low > high: from the longest length that is not below it to the
/// shortest that is not above.
[[nodiscard]] std::optional<Span> length_window(const Study& study, const ShimLoad& load);
/// The same, empty where low > high.
[[nodiscard]] std::optional<Span> passing_lengths(const Study& study, const ShimLoad& load);

/// Lengths that touch or overlap made one; rising.
[[nodiscard]] std::vector<Span> merged(std::vector<Span> lengths);

/// The same build in a box of another inner length [mm].
[[nodiscard]] Build at_length(Build build, double inner_length_mm);

}  // namespace stackfit
