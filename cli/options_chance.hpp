// SPDX-License-Identifier: GPL-3.0-or-later
//
// `--need-chance`, `--by`, `--samples` and `--threads` as numbers.
//
// For: commands that compute a chance. Not for: how well figures are known, which stands in the
// build file under `uncertainty`.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "cli/read_build.hpp"
#include "solver/chance_options.hpp"

namespace stackfit::cli {

/// What `--by` takes; nothing typed is the first.
inline constexpr std::array<std::string_view, 2> by_words{"chance", "margin"};

/// Each as typed; empty where it was not.
struct ChanceInWords {
  std::string need;
  std::string by;
  std::string samples;
  std::string threads;
  bool none = false;  ///< --no-chance
};

struct ChanceRead {
  ChanceOptions options;
  bool wanted = true;  ///< a chance is to be computed
  std::vector<Problem> problems;
};

/// With all that is wrong with them.
[[nodiscard]] ChanceRead read_chance_options(const ChanceInWords& words);

}  // namespace stackfit::cli
