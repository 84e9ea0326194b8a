// SPDX-License-Identifier: GPL-3.0-or-later
//
// Gaps that hold the same sheets share a letter, so that a row is drawn once and read at a glance.
//
// For: drawing a row. Not for: choosing sheets (solver).
#pragma once

#include <string>
#include <vector>

#include "cli/figures.hpp"
#include "solver/answer.hpp"

namespace stackfit::cli {

struct GapRecipe {
  char letter = 'a';
  std::string words;  ///< `one 0.80 and one 0.50: 1.30 mm, in 9 gaps`
};

struct GapRecipes {
  std::vector<GapRecipe> recipes;
  std::string letter_of_gap;  ///< one letter a gap, from wall-1 to n-wall
};

/// Letters in the order the recipes first occur; past the alphabet every other is `?`.
[[nodiscard]] GapRecipes recipes_of(const PlanResult& plan, const Figures& figures);

/// All that lies in a gap: `one 0.80, one 0.50 and one FR4 0.3 (always there)`.
[[nodiscard]] std::string sheets_in_words(const GapResult& gap, const Figures& figures);
/// The gap's shims from the kit alone: `one 0.80 and one 0.50`, or `none`.
[[nodiscard]] std::string shims_in_words(const GapResult& gap, const Figures& figures);

}  // namespace stackfit::cli
