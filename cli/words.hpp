// SPDX-License-Identifier: GPL-3.0-or-later
//
// The words a build file may use for a closed set of answers: materials, joints, methods.
//
// For: word -> enumerator, and the list of words for a message.
// Not for: quantities (quantity.hpp). The JSON Schema lists the same words; a test holds the two
// together.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "solver/build.hpp"

namespace stackfit::cli {

template <class Meaning>
struct Word {
  std::string_view text;
  Meaning meaning;
};

// Where several words mean the same, the first is the one to print.
[[nodiscard]] std::span<const Word<Chemistry>> chemistry_words();
[[nodiscard]] std::span<const Word<ForceWhen>> force_when_words();
[[nodiscard]] std::span<const Word<RangeAppliesTo>> applies_to_words();
[[nodiscard]] std::span<const Word<CellSurface>> surface_words();
[[nodiscard]] std::span<const Word<WallMaterial>> wall_material_words();
/// Of a whole wall: what holds its sides and bottom alike.
[[nodiscard]] std::span<const Word<WallJoint>> joint_words();
/// Of one edge, which may be open.
[[nodiscard]] std::span<const Word<WallJoint>> edge_joint_words();
[[nodiscard]] std::span<const Word<InPlane>> in_plane_words();
[[nodiscard]] std::span<const Word<RibAlong>> rib_along_words();
[[nodiscard]] std::span<const Word<RibJoint>> rib_joint_words();
[[nodiscard]] std::span<const Word<Lid>> lid_words();
[[nodiscard]] std::span<const Word<Opens>> opens_words();
[[nodiscard]] std::span<const Word<Floor>> floor_words();
[[nodiscard]] std::span<const Word<SheetMaterial>> sheet_material_words();
[[nodiscard]] std::span<const Word<BuildMethod>> method_words();
[[nodiscard]] std::span<const Word<PlaceWord>> place_words();

/// Capitals and hyphens do not matter.
[[nodiscard]] bool same_words(std::string_view left, std::string_view right);

template <class Meaning>
std::optional<Meaning> find_word(std::span<const Word<Meaning>> words, std::string_view text) {
  for (const Word<Meaning>& word : words) {
    if (same_words(word.text, text)) return word.meaning;
  }
  return std::nullopt;
}

/// The word to print for a meaning.
template <class Meaning>
std::string_view first_word(std::span<const Word<Meaning>> words, Meaning meaning) {
  for (const Word<Meaning>& word : words) {
    if (word.meaning == meaning) return word.text;
  }
  return {};
}

/// `a, b or c`: one word for each meaning.
template <class Meaning>
std::string word_list(std::span<const Word<Meaning>> words) {
  std::string list;
  std::string last;
  for (std::size_t index = 0; index < words.size(); ++index) {
    if (index > 0 && words[index].meaning == words[index - 1].meaning) continue;
    if (!last.empty()) list += (list.empty() ? "" : ", ") + last;
    last = std::string(words[index].text);
  }
  return list.empty() ? last : list + " or " + last;
}

}  // namespace stackfit::cli
