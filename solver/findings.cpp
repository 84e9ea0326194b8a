// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings.hpp"

#include <algorithm>
#include <utility>

namespace stackfit {

void Findings::note(Assumed id) {
  if (std::find(assumed.begin(), assumed.end(), id) == assumed.end()) {
    assumed.push_back(id);
  }
}

void Findings::note(AssumedWord word) {
  const bool known = std::any_of(words.begin(), words.end(),
                                 [&](const AssumedWord& other) { return other.what == word.what; });
  if (!known) {
    words.push_back(std::move(word));
  }
}

double Findings::said_or(const std::optional<double>& said, const Assumptions& assumptions,
                         Assumed id) {
  if (said) {
    return *said;
  }
  note(id);
  return assumptions[id];
}

}  // namespace stackfit
