// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/option_values.hpp"

#include <algorithm>
#include <array>
#include <span>

#include "cli/command_gauge.hpp"
#include "cli/options_build.hpp"
#include "cli/options_chance.hpp"
#include "cli/words.hpp"

namespace stackfit::cli {
namespace {

constexpr std::array files{
    std::string_view{"BUILD"},  std::string_view{"CSV"},       std::string_view{"FILE"},
    std::string_view{"--save"}, std::string_view{"--page"},    std::string_view{"--drawing"},
    std::string_view{"--log"},  std::string_view{"--log-out"}, std::string_view{"--learn"},
    std::string_view{"--for"},  std::string_view{"--build"},
};

struct WordsOfOption {
  std::string_view option;
  std::vector<std::string_view> words;
  bool open = false;
};

// Where several words mean the same, the first.
template <class Meaning>
std::vector<std::string_view> one_for_each(std::span<const Word<Meaning>> words) {
  std::vector<std::string_view> list;
  for (const Word<Meaning>& word : words) {
    if (first_word(words, word.meaning) == word.text) {
      list.push_back(word.text);
    }
  }
  return list;
}

template <std::size_t count>
std::vector<std::string_view> listed(const std::array<std::string_view, count>& words) {
  return {words.begin(), words.end()};
}

std::vector<WordsOfOption> words_of_options() {
  return {
      {"--by", listed(by_words)},
      {"--measured", listed(ways_of_measuring), true},
      {"--when", one_for_each(force_when_words())},
      {"--opens", one_for_each(opens_words())},
      {"--shim-material", one_for_each(sheet_material_words())},
      {"--which-wall", listed(gauged_walls)},
  };
}

}  // namespace

OptionValue value_of_option(std::string_view option) {
  if (std::ranges::find(files, option) != files.end()) {
    return {Takes::file, {}, false};
  }
  for (WordsOfOption& known : words_of_options()) {
    if (known.option == option) {
      return {Takes::words, std::move(known.words), known.open};
    }
  }
  return {Takes::text, {}, false};
}

std::vector<std::string_view> options_with_known_values() {
  std::vector<std::string_view> known{files.begin(), files.end()};
  for (const WordsOfOption& option : words_of_options()) {
    known.push_back(option.option);
  }
  return known;
}

}  // namespace stackfit::cli
