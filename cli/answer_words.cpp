// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/answer_words.hpp"

#include <algorithm>
#include <array>

#include "cli/words.hpp"

namespace stackfit::cli {
namespace {}  // namespace

std::string_view plain(Verdict value) {
  switch (value) {
    case Verdict::fits:
      return "FITS";
    case Verdict::fits_on_assumed_figures:
      return "FITS ON ASSUMED FIGURES";
    case Verdict::does_not_fit:
      return "DOES NOT FIT";
    case Verdict::stop:
      return "STOP";
  }
  return no_such_word;
}

std::string_view plain(Standing value) {
  switch (value) {
    case Standing::inside:
      return "inside";
    case Standing::below:
      return "below your band";
    case Standing::loose:
      return "loose";
    case Standing::above:
      return "above your band";
    case Standing::above_limit:
      return "above the maker's limit";
  }
  return no_such_word;
}

std::string_view plain(BuildMethod value) {
  const auto words = method_words();
  const auto found = std::ranges::find(words, value, &Word<BuildMethod>::meaning);
  return found == words.end() ? no_such_word : found->text;
}

std::string count_word(int count) {
  static constexpr std::array<std::string_view, 10> names{"no",   "one", "two",   "three", "four",
                                                          "five", "six", "seven", "eight", "nine"};
  const bool named = count >= 0 && count < static_cast<int>(names.size());
  return named ? std::string(names[static_cast<std::size_t>(count)]) : std::to_string(count);
}

std::string counted(int count, std::string_view singular) {
  std::string text = std::to_string(count) + " ";
  text += singular;
  if (count != 1) {
    text += "s";
  }
  return text;
}

}  // namespace stackfit::cli
