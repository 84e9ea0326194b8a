// SPDX-License-Identifier: GPL-3.0-or-later
//
// What was assumed and what was noticed on the way from a build to an answer.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/answer.hpp"

namespace stackfit {

struct Findings {
  std::vector<Warning> warnings;
  std::vector<Assumed> assumed;  ///< each once, in the order met
  std::vector<AssumedWord> words;

  /// Notes that an assumed number was used.
  void note(Assumed id);
  /// Notes a word or material that was assumed; the same `what` once.
  void note(AssumedWord word);
  void warn(Warning warning) { warnings.push_back(std::move(warning)); }
  /// What was said, or else the assumed value, noted. Value and table share one unit.
  [[nodiscard]] double said_or(const std::optional<double>& said, const Assumptions& assumptions,
                               Assumed id);
};

}  // namespace stackfit
