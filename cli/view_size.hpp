// SPDX-License-Identifier: GPL-3.0-or-later
//
// What `size` answers, in words and as JSON.
//
// For: the size command. Contract, as of every view: 80 columns, nothing decided here.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "cli/view_text.hpp"
#include "solver/size.hpp"

namespace stackfit::cli {

[[nodiscard]] std::string size_text(const SizeAnswer& answer, const TextStyle& style);
/// `--assumed`: every starred value.
[[nodiscard]] std::string size_assumed_text(const SizeAnswer& answer, const TextStyle& style);
[[nodiscard]] nlohmann::ordered_json size_json(const SizeAnswer& answer);

}  // namespace stackfit::cli
