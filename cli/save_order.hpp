// SPDX-License-Identifier: GPL-3.0-or-later
//
// A copy of a build with the box as `size` ordered it: length, width, height, walls, kit.
//
// For: `size --save`, so that `pick` can be asked about the box before it is made. Contract: what
// was read is kept; the copy stands alone; `pick` reads it.
// Not for: sheets as placed (save_build.hpp).
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "cli/read_build.hpp"
#include "solver/size.hpp"

namespace stackfit::cli {

[[nodiscard]] nlohmann::ordered_json ordered_document(const ReadBuild& read,
                                                      const SizeAnswer& answer,
                                                      std::string_view date);
/// Writes the copy whole or not at all. Throws std::runtime_error, with the reason.
void save_ordered(const std::string& path, const ReadBuild& read, const SizeAnswer& answer);

}  // namespace stackfit::cli
