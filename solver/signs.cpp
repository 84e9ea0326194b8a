// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/signs.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <string>

namespace stackfit {
namespace {

// Letters of other alphabets are bytes beyond ASCII.
bool is_letter(unsigned char byte) {
  return std::isalpha(byte) != 0 || byte >= 0x80;
}

std::string plain_words(std::string_view words) {
  std::string plain;
  for (const char letter : words) {
    plain += static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
  }
  const auto is_space = [](char letter) { return letter == ' ' || letter == '\t'; };
  plain.erase(plain.begin(), std::find_if_not(plain.begin(), plain.end(), is_space));
  plain.erase(std::find_if_not(plain.rbegin(), plain.rend(), is_space).base(), plain.end());
  return plain;
}

}  // namespace

Signs signs_in(std::string_view words) {
  if (std::none_of(words.begin(), words.end(), is_letter)) {
    return Signs::not_said;
  }
  constexpr std::array<std::string_view, 4> none{"none", "no", "nothing", "ok"};
  const bool is_none = std::find(none.begin(), none.end(), plain_words(words)) != none.end();
  return is_none ? Signs::none : Signs::seen;
}

}  // namespace stackfit
