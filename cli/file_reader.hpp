// SPDX-License-Identifier: GPL-3.0-or-later
//
// Builds whose files are handed over by whoever asks, in place of the disk's.
//
// For: reading a build, or a pile, together with the tables that it names out of memory. Nothing
// else is then opened, whatever the build names.
// Not for: commands, which read the disk (read_build.hpp, read_pile.hpp).
#pragma once

#include <functional>
#include <string>

#include "cli/read_build.hpp"
#include "cli/read_pile.hpp"
#include "cli/text_file.hpp"

namespace stackfit::cli {

/// A file by its path. One that is not there has a problem without a line.
using FileReader = std::function<TextFile(const std::string&)>;

/// Where a build's files come from.
struct BuildFiles {
  FileReader build;   ///< the build file itself, or the pile; "-" is standard input
  FileReader tables;  ///< what it names
};
/// The disk's.
[[nodiscard]] BuildFiles files_on_disk();

[[nodiscard]] ReadBuild read_build(const BuildSource& source, const BuildFiles& files);
[[nodiscard]] ReadBuild read_pile(const PileSource& source, const BuildFiles& files);

}  // namespace stackfit::cli
