// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/nearest_key.hpp"

#include <algorithm>
#include <cctype>
#include <utility>

namespace stackfit::cli {
namespace {

// A key longer than this is no slip of the pen, and is not worth the time.
constexpr std::size_t longest_word = 64;
constexpr std::size_t most_slips = 3;

char small_letter(char letter) {
  return static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
}

// Letters put in, taken out, changed, or two neighbours swapped; capitals do not count.
std::size_t distance(std::string_view left, std::string_view right) {
  std::vector<std::size_t> two_back;
  std::vector<std::size_t> back(right.size() + 1);
  for (std::size_t column = 0; column <= right.size(); ++column) back[column] = column;
  for (std::size_t row = 1; row <= left.size(); ++row) {
    std::vector<std::size_t> now{row};
    for (std::size_t column = 1; column <= right.size(); ++column) {
      const char a = small_letter(left[row - 1]);
      const char b = small_letter(right[column - 1]);
      std::size_t least = std::min(back[column], now[column - 1]) + 1;
      least = std::min(least, back[column - 1] + (a == b ? 0U : 1U));
      const bool swapped = row > 1 && column > 1 && a == small_letter(right[column - 2]) &&
                           small_letter(left[row - 2]) == b;
      if (swapped) least = std::min(least, two_back[column - 2] + 1);
      now.push_back(least);
    }
    two_back = std::move(back);
    back = std::move(now);
  }
  return back[right.size()];
}

}  // namespace

std::optional<std::string> nearest_word(std::string_view written,
                                        const std::vector<std::string>& known) {
  std::optional<std::string> nearest;
  if (written.empty() || written.size() > longest_word) return nearest;
  // Of two equally near, the one that begins alike: a first letter is seldom wrong.
  std::pair best{longest_word, true};
  for (const std::string& word : known) {
    const std::pair slips{distance(written, word),
                          small_letter(word.front()) != small_letter(written.front())};
    const std::size_t longer = std::max(word.size(), written.size());
    const std::size_t near = std::clamp<std::size_t>(longer / 2, 1, most_slips);
    if (slips.first <= near && slips < best) {
      best = slips;
      nearest = word;
    }
  }
  return nearest;
}

}  // namespace stackfit::cli
