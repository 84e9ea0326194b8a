// SPDX-License-Identifier: GPL-3.0-or-later
//
// What every command that works on a build is told, and how it gets from there to a build.
//
// For: build file, options without a file, --set, --units; problems told all at once.
// Not for: what a command then answers (command_*.hpp).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/console.hpp"
#include "cli/options_build.hpp"
#include "cli/read_build.hpp"
#include "cli/units.hpp"

namespace stackfit::cli {

/// Each as typed; empty where it was not.
struct BuildInput {
  std::string file;               ///< a build file, `-` for standard input
  BuildOptions plain;             ///< a build without a file
  std::vector<std::string> sets;  ///< `path=value`, in order
  std::string units;              ///< `mm,kPa,kgf`
  BuildNeeds needs = BuildNeeds::whole_row;

  [[nodiscard]] bool any() const { return !file.empty() || plain.any(); }
};

/// The name of the build's file without its folder; empty where there is none.
[[nodiscard]] std::string file_name(const BuildInput& input);

/// A build and the units to answer in.
struct BuildTaken {
  ReadBuild read;
  UnitChoice units;
};

/// Reads the build. Where it cannot be used every problem has been written to `console.err`,
/// together with `more` (those of the command's own options), and nothing is returned: the
/// command ends with exit_unusable. Notes are written there too.
[[nodiscard]] std::optional<BuildTaken> take_build(const BuildInput& input, Console& console,
                                                   std::vector<Problem> more = {});

/// Writes problems and their count; gives exit_unusable.
int refuse(Console& console, const std::vector<Problem>& problems);
/// Writes how things were read, where that is worth a word.
void tell(Console& console, const std::vector<ReadingNote>& notes);

}  // namespace stackfit::cli
