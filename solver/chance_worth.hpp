// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a measurement would be worth: the chance to be expected after it, with the shims chosen
// again by what it reads.
//
// A measurement cannot make a given plan safer; it tells which plan to take. So every draw is
// given a reading of the figure, right but for what the measurement leaves open; draws that read
// alike are put together, the best total of shims that the kit has is found on one half of them
// and its chance counted on the other, both ways round, so that no luck is counted as worth.
#pragma once

#include <vector>

#include "solver/chance_model.hpp"

namespace stackfit {

/// Greatest first; only what a person can measure here, and what raises the chance by more than the
/// draws can tell, against the same choice of shims with nothing read.
[[nodiscard]] std::vector<Worth> worth_of_measuring(const Study& study, const ChanceModel& model,
                                                    const ShimTotal& shims, int threads);

}  // namespace stackfit
