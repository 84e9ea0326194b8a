// SPDX-License-Identifier: GPL-3.0-or-later
//
// The table of measured cells -> the list "cells" of a build file.
//
// For: header names with units ("edge (mm)", "edge_mm", "edge [mm]"), one line for each cell.
// Not for: checking the figures (convert_build.hpp, which meets them like any others).
#pragma once

#include <nlohmann/json.hpp>
#include <vector>

#include "cli/places.hpp"
#include "cli/read_build.hpp"
#include "cli/text_file.hpp"

namespace stackfit::cli {

struct CellsTable {
  nlohmann::ordered_json cells = nlohmann::ordered_json::array();
  Places places;  ///< pointers from the list's root: /3/edge
  std::vector<Problem> problems;
};

[[nodiscard]] CellsTable read_cells_table(const TextFile& file);

}  // namespace stackfit::cli
