// SPDX-License-Identifier: GPL-3.0-or-later
//
// A chance as a person reads it: `88 in 100`, what makes it uncertain, what to measure next.
//
// For: views. Not for: computing one (solver); no word here decides anything.
#pragma once

#include <string>
#include <string_view>

#include "solver/chance_result.hpp"

namespace stackfit::cli {

/// The enumerator's own name, as JSON carries it. Never changes.
[[nodiscard]] std::string_view code(ChanceInput value);
[[nodiscard]] std::string_view code(Measuring value);

/// `88 in 100`, `994 in 1000`, `more than 999 in 1000`: always rounded down, so that no chance
/// reads better than it is, and never more than 999 in 1000.
[[nodiscard]] std::string chance_text(const ChanceOf& chance);
[[nodiscard]] std::string chance_text(double chance);
/// `likely inside your band` and its siblings, by the same figure.
[[nodiscard]] std::string_view likelihood(double chance);
/// Whether a plan is likelier to fail than not.
[[nodiscard]] bool likelier_not(double chance);
/// Of 100 draws, `4`, `0.3` or `under 0.1`.
[[nodiscard]] std::string share_text(double share);
/// `charge when measured`.
[[nodiscard]] std::string_view plain(ChanceInput value);
/// What is drawn, with the kind of shims it is of where there are several.
[[nodiscard]] std::string name_of(const InputShare& share);
/// `a press test of one cell would raise the chance from 71 to 93 in 100 (shims chosen again by
/// what it reads)`; not in full: `a press test of one cell from 71 to 93 in 100`.
[[nodiscard]] std::string sentence(const Worth& worth, const ChanceOf& now, bool in_full);
/// Whether measuring changes the printed figure at all.
[[nodiscard]] bool raises(const Worth& worth, const ChanceOf& now);

/// What no chance of this program holds.
inline constexpr std::string_view chance_leaves_out =
    "Not in the chance: how columns shear against each other beyond m, creep, floor friction, a "
    "dome where only boards were read, and whether your band itself is right.";

}  // namespace stackfit::cli
