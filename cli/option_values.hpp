// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the options of the command line take: one of a few words, a file, or a text of one's own.
//
// For: completions and manual pages. Not for: refusing what is wrong, which whoever reads the
// option does (options_build.hpp, options_chance.hpp, command_gauge.hpp); the words are theirs.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

namespace stackfit::cli {

enum class Takes : std::uint8_t {
  nothing,  ///< a flag
  text,
  words,  ///< one of a list; `open`: or something else
  file    ///< to read or to write
};

struct OptionValue {
  Takes takes = Takes::nothing;
  std::vector<std::string_view> words;  ///< one for each meaning
  bool open = false;
};

/// Of "--by", or of a word that stands by itself ("BUILD"); text where nothing more is known.
[[nodiscard]] OptionValue value_of_option(std::string_view option);

/// Those of which more is known than that they take a text.
[[nodiscard]] std::vector<std::string_view> options_with_known_values();

}  // namespace stackfit::cli
