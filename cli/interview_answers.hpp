// SPDX-License-Identifier: GPL-3.0-or-later
//
// Answers of the interview, as people give them at the bench.
//
// For: one line typed -> what goes into the build file, or what is allowed instead. The figures
// are read by the same parsers as those of a file.
// Not for: asking (interview.hpp).
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "cli/quantity.hpp"
#include "solver/build.hpp"

namespace stackfit::cli {

/// `8`, `8s`, `4s2p`, `4 in series, 2 parallel`.
struct CellCount {
  int cells = 0;
  std::optional<int> series;  ///< not said where only a number was given
  std::optional<int> parallel;
};
[[nodiscard]] Parsed<CellCount> read_cell_count(std::string_view text);

/// `63.5 63.8 63,4; 64.0`: several lengths, as texts with their units. With semicolons or spaces
/// between them, a comma may be a decimal point.
[[nodiscard]] Parsed<std::vector<std::string>> read_lengths(std::string_view text);

/// `0.8x14 0.5x12`, or with commas and materials: a list for the key "kit".
[[nodiscard]] Parsed<nlohmann::ordered_json> read_kit(std::string_view text);

/// How the cells were measured: a key of a cell, and the force where it is `pressed`.
struct MeasuringWay {
  std::string key;    ///< edge, middle, boards or pressed
  std::string force;  ///< as typed; only for pressed
  std::string table;  ///< a CSV table's name, in place of the key
};
[[nodiscard]] Parsed<MeasuringWay> read_way(std::string_view text);

/// `one`, `both`, `no`: whether an end wall comes off.
[[nodiscard]] Parsed<std::string> read_opens(std::string_view text);

/// `none`, or `3 dent, 5 smell`: signs by the cell's number, from 1.
struct CellSign {
  std::size_t cell = 0;
  std::string sign;
};
[[nodiscard]] Parsed<std::vector<CellSign>> read_signs(std::string_view text, std::size_t cells);

}  // namespace stackfit::cli
