// SPDX-License-Identifier: GPL-3.0-or-later
//
// An answer's codes as words: short stable names for JSON, shop words for people.
//
// For: every view, so that one thing has one name. Not for: the words of a build file
// (words.hpp), whole sentences on warnings and remedies (words_warning.hpp, words_remedy.hpp).
#pragma once

#include <string>
#include <string_view>

#include "solver/answer.hpp"

namespace stackfit::cli {

/// What a function of an enumeration ends with, after a switch over all of it. No default anywhere:
/// a missing case is a compiler warning, and warnings are errors here.
inline constexpr std::string_view no_such_word;

/// The enumerator's own name, as JSON carries it: `fits_on_assumed_figures`. Never changes.
[[nodiscard]] std::string_view code(Question value);
[[nodiscard]] std::string_view code(Verdict value);
[[nodiscard]] std::string_view code(DomeBy value);
[[nodiscard]] std::string_view code(ExponentFrom value);
[[nodiscard]] std::string_view code(Standing value);
[[nodiscard]] std::string_view code(ForceWhen value);
[[nodiscard]] std::string_view code(SheetOrigin value);
[[nodiscard]] std::string_view code(MoveCode value);
[[nodiscard]] std::string_view code(WayOut value);
[[nodiscard]] std::string_view code(BuildMethod value);
[[nodiscard]] std::string_view code(Floor value);
[[nodiscard]] std::string_view code(WarningCode value);
[[nodiscard]] std::string_view code(RemedyCode value);
[[nodiscard]] std::string_view code(FailedRule value);

/// `FITS ON ASSUMED FIGURES`.
[[nodiscard]] std::string_view plain(Verdict value);
/// `inside`, `above your band`.
[[nodiscard]] std::string_view plain(Standing value);
/// The word a build file takes for a method: `end wall last`.
[[nodiscard]] std::string_view plain(BuildMethod value);

/// `one`, `two` ... `nine`, then figures.
[[nodiscard]] std::string count_word(int count);
/// `1 sheet`, `3 sheets`.
[[nodiscard]] std::string counted(int count, std::string_view singular);

}  // namespace stackfit::cli
