// SPDX-License-Identifier: GPL-3.0-or-later
//
// A table of measured cells, as many as fill several packs -> cells and their kind.
//
// For: `sort`, whose cells stand in no row yet. Problems as with a build: all in one run, each
// with its place.
// Not for: builds (read_build.hpp); what a table's columns mean (cells_csv.hpp).
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "cli/convert_build.hpp"
#include "cli/read_build.hpp"

namespace stackfit::cli {

struct PileSource {
  std::string table;            ///< path, "-" for standard input
  std::vector<PathValue> sets;  ///< from --set, in order
  /// What stands beside the cells: keys of a document that was read without problems.
  nlohmann::ordered_json beside = {};
};

/// The build that is read has cells and what is known of their kind, no box and no row.
[[nodiscard]] ReadBuild read_pile(const PileSource& source);

/// The cells of a document without a box.
[[nodiscard]] Converted convert_pile(const nlohmann::ordered_json& document, const Places& places);

}  // namespace stackfit::cli
