// SPDX-License-Identifier: GPL-3.0-or-later
//
// A copy of the build as it is about to be made: sheets placed, charge and temperature said.
//
// For: `--save`, so that `pressure` (and whatever measures the pack later) sees the same row.
// Contract, each tested: 1 what was read is kept, notes too; 2 the copy stands alone, a table of
// cells read into it; 3 read again, it gives the same figures. Not for: a build that was not read
// without problems, or writing as such (whole_file.hpp).
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "cli/read_build.hpp"
#include "solver/answer.hpp"

namespace stackfit::cli {

/// `date` as it is to stand in the note, such as 2031-04-05.
[[nodiscard]] nlohmann::ordered_json saved_document(const ReadBuild& read, const Answer& answer,
                                                    std::string_view date);
/// Today, local time.
[[nodiscard]] std::string today();
/// Writes the copy whole or not at all. Throws std::runtime_error, with the reason, where it
/// cannot be written or where `path` is one of the files read.
void save_build(const std::string& path, const ReadBuild& read, const Answer& answer);

}  // namespace stackfit::cli
