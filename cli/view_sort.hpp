// SPDX-License-Identifier: GPL-3.0-or-later
//
// The answer of `sort`, as text for the bench or as JSON.
//
// For: printing a SortAnswer; the first line says STOP. Not for: deciding anything.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "cli/view_text.hpp"
#include "solver/sort_packs.hpp"

namespace stackfit::cli {

/// About 40 lines, 80 columns; --all lists every pack and cell.
[[nodiscard]] std::string sort_text(const SortAnswer& answer, const TextStyle& style);
/// Every limit and figure that is assumed, why and from where.
[[nodiscard]] std::string sort_assumed_text(const SortAnswer& answer, const TextStyle& style);
/// Everything, in mm, um, Ah, mAh and MPa.
[[nodiscard]] nlohmann::ordered_json sort_json(const SortAnswer& answer);

}  // namespace stackfit::cli
