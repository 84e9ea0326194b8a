// SPDX-License-Identifier: GPL-3.0-or-later
//
// Pressures over the face that is pressed most, in eight levels, as an inline drawing.
//
// For: the build sheet; the answer must hold its picture. Not for: solving.
#pragma once

#include <string>

#include "solver/answer.hpp"

namespace stackfit::cli {

[[nodiscard]] std::string pressure_map(const Answer& answer, const std::string& id);

}  // namespace stackfit::cli
