// SPDX-License-Identifier: GPL-3.0-or-later
//
// An answer as text for the bench: 80 columns, about 45 lines, readable without colour.
//
// For: `pick` and `pressure` on a terminal or on paper. Not for: the list of what is assumed
// (view_assumed.hpp) or for programs (view_json.hpp). Nothing is computed here that decides.
#pragma once

#include <string>

#include "cli/units.hpp"
#include "solver/answer.hpp"

namespace stackfit::cli {

struct TextStyle {
  bool colour = false;  ///< the caller knows the terminal and NO_COLOR
  bool all = false;     ///< every warning, every state, every cell
  UnitChoice units;
};

[[nodiscard]] std::string text_of(const Answer& answer, const TextStyle& style);

}  // namespace stackfit::cli
