// SPDX-License-Identifier: GPL-3.0-or-later
//
// The codes of `check` as words: short stable names for JSON, shop words for people.
//
// For: view_check*.cpp. Not for: answer_words.hpp's codes of the other commands.
#pragma once

#include <string>
#include <string_view>

#include "cli/figures.hpp"
#include "solver/check.hpp"

namespace stackfit::cli {

/// The enumerator's own name, as JSON carries it. Never changes.
[[nodiscard]] std::string_view code(CellVerdict value);
[[nodiscard]] std::string_view code(CellRule value);
[[nodiscard]] std::string_view code(Followed value);
[[nodiscard]] std::string_view code(NominalFrom value);

/// `no fault found`, `watch`, `SET ASIDE`.
[[nodiscard]] std::string_view plain(CellVerdict value);
/// Why, in a few words with figure and limit: `swollen 3.5 % (limit 2.5 % *)`.
[[nodiscard]] std::string reason(const RuleSpoken& spoken);
/// Printed beside every `no fault found`.
inline constexpr const char* cannot_clear = "thickness cannot clear a cell";

}  // namespace stackfit::cli
