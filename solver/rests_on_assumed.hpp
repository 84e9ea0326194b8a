// SPDX-License-Identifier: GPL-3.0-or-later
//
// Whether an answer stands on figures that were assumed.
#pragma once

#include "solver/study.hpp"

namespace stackfit {

/// Whether anything that was assumed weakens the verdict: all but what is part of the method, or
/// moves no pressure.
[[nodiscard]] bool rests_on_assumed(const Study& study);

}  // namespace stackfit
