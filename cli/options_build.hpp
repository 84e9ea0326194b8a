// SPDX-License-Identifier: GPL-3.0-or-later
//
// A build without a file: the plain options of the command line.
//
// For: options as typed -> values by path, which read_build works into a document.
// Not for: checking the figures (convert_build.hpp), or the command line itself.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "cli/read_build.hpp"

namespace stackfit::cli {

/// What `--measured` takes besides "pressed" with its force.
inline constexpr std::array<std::string_view, 3> ways_of_measuring{"edge", "middle", "boards"};

/// Each as typed after its option; empty where the option was not given.
struct BuildOptions {
  std::string measured;       ///< edge, middle, boards, or "pressed 240kgf"
  std::string cells;          ///< 63.5,63.8,... readings in mm, or with units
  std::string face;           ///< 152x188
  std::string thickness;      ///< the data sheet's line
  std::string force;          ///< the data sheet's force line
  std::string when;           ///< assembly, always, never above, not said
  std::string charge;         ///< at which the cells were measured
  std::string range;          ///< 50-150kPa
  std::string box;            ///< inside length, or several with commas
  std::string wall;           ///< 3mm aluminium folded
  std::string opens;          ///< one end wall, both, none
  std::string shims;          ///< 0.8x14,0.5x12
  std::string shim_material;  ///< polypropylene

  [[nodiscard]] bool any() const;
};

struct OptionsRead {
  std::vector<PathValue> values;  ///< for BuildSource::options
  std::vector<Problem> problems;
  std::vector<ReadingNote> notes;
};

[[nodiscard]] OptionsRead read_options(const BuildOptions& options);

/// What stands for a file's name where there is none.
inline constexpr const char* all_options = "the options";

/// The option whose value stands at this path or below it, such as `--cells` for cells.3.edge;
/// all_options where there is none.
[[nodiscard]] std::string option_of(const std::string& path);

}  // namespace stackfit::cli
