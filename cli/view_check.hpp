// SPDX-License-Identifier: GPL-3.0-or-later
//
// The answer of `check`, as text for the bench or as JSON.
//
// For: printing a CheckAnswer; the first line says STOP. Not for: deciding anything.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "cli/text_lines.hpp"
#include "cli/view_text.hpp"
#include "solver/check.hpp"

namespace stackfit::cli {

/// About 40 lines for twelve cells, 80 columns.
[[nodiscard]] std::string text_of(const CheckAnswer& answer, const TextStyle& style);
/// Every limit and figure that is assumed, why and from where.
[[nodiscard]] std::string assumed_text(const CheckAnswer& answer, const TextStyle& style);
/// Everything, in mm, V, fractions and days as text.
[[nodiscard]] nlohmann::ordered_json json_of(const CheckAnswer& answer);

}  // namespace stackfit::cli
