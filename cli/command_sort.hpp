// SPDX-License-Identifier: GPL-3.0-or-later
//
// `sort`: a pile of measured cells into several packs.
//
// For: a table of cells, and a build whose box, kit and kind of cell serve for every pack.
// Not for: the answer itself (solver/sort_packs.hpp).
#pragma once

#include <string>
#include <vector>

#include "cli/console.hpp"

namespace stackfit::cli {

/// Each as typed; empty where it was not.
struct SortOptions {
  std::string table;  ///< the pile; `-` for standard input
  std::string packs;
  std::string cells;      ///< in each pack; not given: as many as the build has
  std::string build;      ///< one pack's build
  std::string thickness;  ///< the data sheet's line
  std::string face;
  std::string charge;  ///< at which the cells were measured
  std::vector<std::string> sets;
  std::string units;
  std::string save;  ///< one file for each pack: this with _1, _2 ... behind it
  bool json = false;
  bool assumed = false;
  bool all = false;
};

/// Exit status as in console.hpp: a warning where a pack does not pass or a cell is set aside.
[[nodiscard]] int run_sort(const SortOptions& options, Console& console);

}  // namespace stackfit::cli
