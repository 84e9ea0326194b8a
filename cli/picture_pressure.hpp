// SPDX-License-Identifier: GPL-3.0-or-later
//
// Face pressure against charge, with the band, as an inline drawing a script can play with.
//
// For: the build sheet. New as solved; aged, cold and warm by the picture's reduced curves.
// Not for: figures that are judged: those are the plan's own states.
#pragma once

#include <string>

#include "solver/answer.hpp"

namespace stackfit::cli {

[[nodiscard]] std::string pressure_over_charge(const Answer& answer, const std::string& id);

}  // namespace stackfit::cli
