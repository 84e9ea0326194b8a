// SPDX-License-Identifier: GPL-3.0-or-later
//
// How sure: pressures with their 95 % intervals against the band, and a hundred builds like it.
//
// For: the build sheet; the answer must hold a chance. Not for: drawing lots (solver/chance.hpp).
#pragma once

#include <string>

#include "solver/answer.hpp"

namespace stackfit::cli {

[[nodiscard]] std::string pressure_spread(const Answer& answer, const std::string& id);

}  // namespace stackfit::cli
