// SPDX-License-Identifier: GPL-3.0-or-later
//
// The words of a press test's codes: short stable names for JSON, sentences for people.
//
// For: view_softness*.cpp.
#pragma once

#include <string>
#include <string_view>

#include "cli/figures.hpp"
#include "cli/view_softness.hpp"

namespace stackfit::cli {

[[nodiscard]] std::string_view code(PressWarning value);
[[nodiscard]] std::string_view code(ErrorSource value);
[[nodiscard]] std::string_view code(PressFitEnd value);

/// After "FITTED, BUT": what is the matter, in a few words.
[[nodiscard]] std::string_view short_words(PressWarning value);
/// What is the matter, how big, and what to do next.
[[nodiscard]] std::string sentence(PressWarning value, const SoftnessAnswer& answer,
                                   const Figures& figures);

/// `88 kPa`, with the force on the face where there is one: `88 kPa (231 kgf)`.
[[nodiscard]] std::string load_words(double pressure_mpa, const SoftnessAnswer& answer,
                                     const Figures& figures);
/// `-0.05 mm`, always with its sign.
[[nodiscard]] std::string signed_mm(double mm);

}  // namespace stackfit::cli
