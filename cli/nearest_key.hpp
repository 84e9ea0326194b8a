// SPDX-License-Identifier: GPL-3.0-or-later
//
// The key a person most likely meant.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace stackfit::cli {

/// The known word nearest to `written`, or none where nothing is near: the fewest letters put
/// in, taken out, changed or swapped: at most half of the longer word, and three. Known words are
/// not empty.
[[nodiscard]] std::optional<std::string> nearest_word(std::string_view written,
                                                      const std::vector<std::string>& known);

}  // namespace stackfit::cli
