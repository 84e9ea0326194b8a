// SPDX-License-Identifier: GPL-3.0-or-later
//
// The packs of a sorting, a file for each.
//
// For: `sort --save`. With a build: that build with the pack's cells and its shims placed, for
// `pick` and `pressure`. Without one: the pile's header and the pack's lines, as they stand there.
// Contract, each tested: 1 all files are written or none; 2 no input is written over.
// Not for: writing as such (whole_file.hpp).
#pragma once

#include <string>
#include <vector>

#include "cli/read_build.hpp"
#include "cli/whole_file.hpp"
#include "solver/sort_packs.hpp"

namespace stackfit::cli {

/// `box`: what was read of the build, where there is one. `prefix` is a folder that exists, or the
/// beginning of the files' names.
[[nodiscard]] std::vector<FileToWrite> pack_files(const std::string& prefix,
                                                  const std::string& table, const ReadBuild& pile,
                                                  const ReadBuild* box, const SortAnswer& answer);

}  // namespace stackfit::cli
