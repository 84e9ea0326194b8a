// SPDX-License-Identifier: GPL-3.0-or-later
//
// Who gives: what the row is too long by, divided among cells, pads, walls and sheets.
//
// For: the build sheet. Not for: frames' rods, which are part of the walls here.
#pragma once

#include <string>

#include "solver/answer.hpp"

namespace stackfit::cli {

[[nodiscard]] std::string who_gives(const PlanResult& plan, const std::string& id);

}  // namespace stackfit::cli
