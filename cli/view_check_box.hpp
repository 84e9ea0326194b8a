// SPDX-License-Identifier: GPL-3.0-or-later
//
// The box part of a check, as lines of text and as a block of JSON.
//
// For: the views of the check command, which print cells, log and voltages themselves.
// Not for: deciding anything (solver/box_check.hpp). Cautions are the caller's.
#pragma once

#include <nlohmann/json.hpp>
#include <string_view>

#include "cli/figures.hpp"
#include "cli/text_lines.hpp"
#include "solver/box_check.hpp"

namespace stackfit::cli {

/// The enumerators' own names, as JSON carries them. They never change.
[[nodiscard]] std::string_view code(BoxOutcome value);
[[nodiscard]] std::string_view code(Replacement value);
[[nodiscard]] std::string_view code(WayToOpen value);

/// `all`: also what can wait while all is well.
void check_box_text(const BoxCheck& check, TextLines& lines, const Figures& figures,
                    bool all = false);

[[nodiscard]] nlohmann::ordered_json check_box_json(const BoxCheck& check);

}  // namespace stackfit::cli
