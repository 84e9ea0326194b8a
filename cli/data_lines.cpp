// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/data_lines.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <string>
#include <vector>

#include "cli/characters.hpp"
#include "cli/words.hpp"

namespace stackfit::cli {
namespace {

constexpr const char* thickness_line_allowed =
    "the data sheet's line, such as 63.4±0.6 mm 30-40% 240kgf; charge and force may be left out";
constexpr const char* shim_pile_allowed =
    "a thickness, x, how many, and the material if known, such as 0.8x14 or 0.8 mm x 14 "
    "polypropylene";
constexpr const char* wall_allowed =
    "a thickness, a metal and a joint (folded, welded or screwed), such as 3 mm aluminium folded; "
    "or rigid";
constexpr const char* face_allowed = "width x height without terminals, such as 152x188 (mm)";

constexpr std::array times_signs{std::string_view("x"), std::string_view("X"),
                                 std::string_view("\xC3\x97"), std::string_view("*")};

struct Sides {
  std::string_view left;
  std::string_view right;
};

std::optional<Sides> split_at_times(std::string_view text) {
  for (const std::string_view sign : times_signs) {
    const std::size_t at = text.find(sign);
    if (at != std::string_view::npos) {
      return Sides{trimmed(text.substr(0, at)), trimmed(text.substr(at + sign.size()))};
    }
  }
  return std::nullopt;
}

std::vector<std::string> words_of(std::string_view text) {
  static constexpr std::string_view breaks = " \t,;@()";
  std::vector<std::string> words;
  while (true) {
    text.remove_prefix(std::min(text.find_first_not_of(breaks), text.size()));
    if (text.empty()) return words;
    const std::size_t end = std::min(text.find_first_of(breaks), text.size());
    words.emplace_back(text.substr(0, end));
    text.remove_prefix(end);
  }
}

// "30 - 40 %" and "63.4 ± 0.6" become one word each, so that words can be told apart by spaces.
std::string closed_up(std::string_view text) {
  std::string out(text);
  static constexpr std::array joints{std::string_view("\xC2\xB1"), std::string_view("+/-"),
                                     std::string_view("+-"), std::string_view("\xE2\x80\x93"),
                                     std::string_view("-")};
  for (const std::string_view joint : joints) {
    for (auto at = out.find(joint); at != std::string::npos; at = out.find(joint, at + 1)) {
      const std::size_t behind = at + joint.size();
      const std::size_t next = std::min(out.find_first_not_of(' ', behind), out.size());
      out.erase(behind, next - behind);
      while (at > 0 && out[at - 1] == ' ') out.erase(--at, 1);
    }
  }
  return out;
}

// Words put together into quantities: a word that begins with a digit begins a new one, others
// are its unit, or the fraction of "2 1/2 in". Filling words of data sheets are dropped.
std::vector<std::string> quantities_of(std::string_view text) {
  static constexpr std::array filling{std::string_view("at"),     std::string_view("under"),
                                      std::string_view("with"),   std::string_view("soc"),
                                      std::string_view("charge"), std::string_view("force"),
                                      std::string_view("and")};
  std::vector<std::string> parts;
  for (const std::string& word : words_of(closed_up(text))) {
    const auto same = [&](std::string_view other) { return same_words(word, other); };
    if (std::ranges::any_of(filling, same)) continue;
    const bool fraction = !parts.empty() && word.find('/') != std::string::npos &&
                          read_count(parts.back()).has_value();
    if (parts.empty() || (is_digit(word[0]) && !fraction)) {
      parts.push_back(word);
    } else {
      parts.back() += ' ' + word;
    }
  }
  return parts;
}

template <class Value, class Other>
Parsed<Value> refused(const Parsed<Other>& why, const char* allowed) {
  return {std::nullopt, allowed, why.mend.empty() ? why.allowed : why.mend, {}};
}

}  // namespace

std::optional<int> read_count(std::string_view text) {
  const std::string_view inner = trimmed(text);
  int count = 0;
  const auto [end, error] = std::from_chars(inner.data(), inner.data() + inner.size(), count);
  if (error != std::errc{} || end != inner.data() + inner.size() || count < 0) return std::nullopt;
  return count;
}

Parsed<ThicknessLine> read_thickness_line(std::string_view text) {
  const std::vector<std::string> parts = quantities_of(text);
  if (parts.empty()) return {std::nullopt, thickness_line_allowed, {}, {}};
  const auto thickness = read_toleranced(parts[0], Dimension::length);
  if (!thickness.ok()) return refused<ThicknessLine>(thickness, thickness_line_allowed);
  ThicknessLine line{thickness.value->value, thickness.value->tolerance, {}, {}};
  std::string note = thickness.note;
  for (std::size_t index = 1; index < parts.size(); ++index) {
    if (parts[index].ends_with('%') && !line.at_charge) {
      const auto charge = read_span(parts[index], Dimension::charge);
      if (!charge.ok()) return refused<ThicknessLine>(charge, thickness_line_allowed);
      line.at_charge = charge.value;
    } else if (!line.under_force_n) {
      const auto force = read_quantity(parts[index], Dimension::force);
      if (!force.ok()) return refused<ThicknessLine>(force, thickness_line_allowed);
      line.under_force_n = force.value;
      note = force.note;
    } else {
      return {std::nullopt, thickness_line_allowed, "nothing may follow: " + parts[index], {}};
    }
  }
  return {line, {}, {}, note};
}

Parsed<ShimPile> read_shim_pile(std::string_view text) {
  const auto sides = split_at_times(text);
  if (!sides) return {std::nullopt, shim_pile_allowed, {}, {}};
  const auto thickness = read_quantity(sides->left, Dimension::length);
  if (!thickness.ok()) return refused<ShimPile>(thickness, shim_pile_allowed);
  const std::size_t end =
      std::min(sides->right.find_first_not_of("0123456789"), sides->right.size());
  const auto count = read_count(sides->right.substr(0, end));
  const bool in_parts =
      end < sides->right.size() && (sides->right[end] == '.' || sides->right[end] == ',');
  if (!count || in_parts)
    return {std::nullopt, shim_pile_allowed, "how many is a whole number", {}};
  ShimPile pile{*thickness.value, *count, {}};
  const std::string_view material = trimmed(sides->right.substr(end));
  if (!material.empty()) {
    pile.material = find_word(sheet_material_words(), material);
    if (!pile.material) {
      return {std::nullopt,
              shim_pile_allowed,
              "the material is one of " + word_list(sheet_material_words()),
              {}};
    }
  }
  return {pile, {}, {}, {}};
}

Parsed<PlateWall> read_wall(std::string_view text) {
  PlateWall wall;
  std::string material;
  for (const std::string& part : quantities_of(text)) {
    // A part is a quantity with the words behind it: "3 mm aluminium folded".
    std::string quantity;
    for (const std::string& word : words_of(part)) {
      if (const auto joint = find_word(joint_words(), word)) {
        wall.joint = joint;
      } else if (is_digit(word[0]) || find_unit(Dimension::length, word) != nullptr) {
        quantity += (quantity.empty() ? "" : " ") + word;
      } else {
        material += (material.empty() ? "" : " ") + word;
      }
    }
    if (quantity.empty()) continue;
    const auto thickness = read_quantity(quantity, Dimension::length);
    if (!thickness.ok()) return refused<PlateWall>(thickness, wall_allowed);
    wall.thickness_mm = thickness.value;
  }
  if (!material.empty()) {
    wall.material = find_word(wall_material_words(), material);
    if (!wall.material) {
      return {std::nullopt,
              wall_allowed,
              "the material is one of " + word_list(wall_material_words()),
              {}};
    }
  }
  if (!wall.thickness_mm && !wall.material && !wall.joint) {
    return {std::nullopt, wall_allowed, {}, {}};
  }
  return {wall, {}, {}, {}};
}

Parsed<FaceSize> read_face(std::string_view text) {
  const auto sides = split_at_times(text);
  if (!sides) return {std::nullopt, face_allowed, {}, {}};
  const auto height = read_quantity(sides->right, Dimension::length);
  if (!height.ok()) return refused<FaceSize>(height, face_allowed);
  // "6x7 in": the unit written once serves both.
  const std::size_t unit = sides->right.find_last_of("0123456789.") + 1;
  const bool bare = read_number(sides->left).has_value();
  const std::string left = bare ? std::string(sides->left) + std::string(sides->right.substr(unit))
                                : std::string(sides->left);
  const auto width = read_quantity(left, Dimension::length);
  if (!width.ok()) return refused<FaceSize>(width, face_allowed);
  return {FaceSize{*width.value, *height.value, {}}, {}, {}, {}};
}

}  // namespace stackfit::cli
