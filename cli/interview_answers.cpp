// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/interview_answers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>

#include "cli/characters.hpp"
#include "cli/data_lines.hpp"
#include "cli/words.hpp"

namespace stackfit::cli {
namespace {

constexpr int most_cells = 512;

std::string small_letters(std::string_view text) {
  std::string out(text);
  std::ranges::transform(out, out.begin(), [](unsigned char letter) {
    return static_cast<char>(std::tolower(letter));
  });
  return out;
}

std::vector<std::string> split(std::string_view text, std::string_view breaks) {
  std::vector<std::string> parts;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find_first_of(breaks), text.size());
    const std::string_view part = trimmed(text.substr(0, end));
    if (!part.empty()) parts.emplace_back(part);
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return parts;
}

// A number and the letter that follows it: "4s", "2 p", "8 in series".
struct Counted {
  int number = 0;
  char letter = ' ';
};

std::optional<std::vector<Counted>> read_counted(std::string_view text) {
  std::vector<Counted> found;
  while (true) {
    text.remove_prefix(std::min(text.find_first_of("0123456789"), text.size()));
    if (text.empty()) return found;
    const std::size_t end = std::min(text.find_first_not_of("0123456789"), text.size());
    const auto number = read_count(text.substr(0, end));
    if (!number) return std::nullopt;
    text.remove_prefix(end);
    const std::size_t next = std::min(text.find_first_of("0123456789"), text.size());
    const std::size_t letter = text.substr(0, next).find_first_of("sp");
    found.push_back({*number, letter == std::string_view::npos ? ' ' : text[letter]});
  }
}

Parsed<CellCount> refused_count() {
  return {std::nullopt,
          fmt::format("how many cells, 1 to {}, such as 8, 8s, or 4s2p for 4 groups in series of "
                      "2 in parallel",
                      most_cells),
          {},
          {}};
}

// With a comma for the decimal point, where something else stands between the figures.
std::string with_point(std::string text) {
  for (std::size_t at = 1; at + 1 < text.size(); ++at) {
    if (text[at] == ',' && is_digit(text[at - 1]) && is_digit(text[at + 1])) text[at] = '.';
  }
  return text;
}

bool starts_with_number(const std::string& text) {
  return !text.empty() && (is_digit(text[0]) || text[0] == '.');
}

// At semicolons, else at spaces between bare numbers, else at commas.
std::vector<std::string> split_lengths(std::string_view text) {
  if (text.find(';') != std::string_view::npos) {
    std::vector<std::string> parts = split(text, ";");
    std::ranges::transform(parts, parts.begin(), with_point);
    return parts;
  }
  std::vector<std::string> parts = split(text, " \t");
  // "63,5 63,8": between spaces the comma is a decimal point. One figure alone could be two.
  std::vector<std::string> pointed = parts;
  std::ranges::transform(pointed, pointed.begin(), with_point);
  const auto is_number = [](const std::string& part) { return read_number(part).has_value(); };
  if (parts.size() > 1 && std::ranges::all_of(pointed, is_number)) return pointed;
  if (text.find(',') != std::string_view::npos) return split(text, ",");
  return std::ranges::all_of(parts, is_number)
             ? parts
             : std::vector<std::string>{std::string(trimmed(text))};
}

}  // namespace

Parsed<CellCount> read_cell_count(std::string_view text) {
  const auto counted = read_counted(small_letters(text));
  if (!counted || counted->empty() || counted->size() > 2) return refused_count();
  CellCount out;
  int cells = 1;
  for (const Counted& part : *counted) {
    if (part.number < 1 || part.number > most_cells) return refused_count();
    cells *= part.number;
    std::optional<int>& slot = part.letter == 'p' ? out.parallel : out.series;
    if (slot) return refused_count();
    if (part.letter != ' ') slot = part.number;
  }
  const bool plain = !out.series && !out.parallel;
  if (cells > most_cells || (plain && counted->size() > 1)) return refused_count();
  // Whoever says series and leaves parallel out means one string.
  if (out.series && !out.parallel) out.parallel = 1;
  if (out.parallel && !out.series) return refused_count();
  out.cells = cells;
  return {out, {}, {}, {}};
}

Parsed<std::vector<std::string>> read_lengths(std::string_view text) {
  const std::vector<std::string> parts = split_lengths(text);
  if (parts.empty()) return {std::nullopt, what_is_allowed(Dimension::length), {}, {}};
  for (const std::string& part : parts) {
    const auto length = read_quantity(part, Dimension::length);
    if (!length.ok()) {
      return {std::nullopt, length.allowed, fmt::format("\"{}\": {}", part, length.mend), {}};
    }
    if (*length.value <= 0) {
      return {std::nullopt, "lengths above zero", fmt::format("\"{}\"", part), {}};
    }
  }
  return {parts, {}, {}, {}};
}

Parsed<nlohmann::ordered_json> read_kit(std::string_view text) {
  std::vector<std::string> parts = split(text, ",;");
  if (parts.size() == 1) {
    // Without commas, each word that begins with a number and holds an x is a pile of its own.
    const std::vector<std::string> words = split(text, " \t");
    const bool piles = std::ranges::all_of(words, [](const std::string& word) {
      return starts_with_number(word) && word.find_first_of("xX*") != std::string::npos;
    });
    if (piles) parts = words;
  }
  nlohmann::ordered_json kit = nlohmann::ordered_json::array();
  for (const std::string& part : parts) {
    const auto pile = read_shim_pile(part);
    if (!pile.ok()) {
      return {std::nullopt, pile.allowed, fmt::format("\"{}\" {}", part, pile.mend), {}};
    }
    nlohmann::ordered_json shim{{"thickness", fmt::format("{:g} mm", pile.value->thickness_mm)},
                                {"count", pile.value->count}};
    if (pile.value->material) {
      shim["material"] = std::string(first_word(sheet_material_words(), *pile.value->material));
    }
    kit.push_back(std::move(shim));
  }
  if (kit.empty()) return {std::nullopt, "such as 0.8x14 0.5x12", {}, {}};
  return {kit, {}, {}, {}};
}

Parsed<MeasuringWay> read_way(std::string_view text) {
  const std::string_view inner = trimmed(text);
  static constexpr std::array keys{"edge", "middle", "boards"};
  for (const char* key : keys) {
    if (same_words(inner, key)) return {MeasuringWay{key, {}, {}}, {}, {}, {}};
  }
  if (inner.ends_with(".csv")) return {MeasuringWay{{}, {}, std::string(inner)}, {}, {}, {}};
  static constexpr std::string_view pressed = "pressed";
  if (same_words(inner.substr(0, pressed.size()), pressed)) {
    const std::string_view force = trimmed(inner.substr(pressed.size()));
    const auto read = read_quantity(force, Dimension::force);
    if (read.ok() && *read.value > 0) {
      return {MeasuringWay{std::string(pressed), std::string(force), {}}, {}, {}, read.note};
    }
    return {std::nullopt, "pressed with the force behind it, such as pressed 100 kgf", {}, {}};
  }
  return {std::nullopt, "edge, middle, boards, pressed 100kgf, or the name of a CSV table", {}, {}};
}

Parsed<std::string> read_opens(std::string_view text) {
  struct Answer {
    const char* typed;
    const char* word;
  };
  static constexpr std::array answers{
      Answer{"one", "one end wall"}, Answer{"one end wall", "one end wall"},
      Answer{"yes", "one end wall"}, Answer{"y", "one end wall"},
      Answer{"both", "both"},        Answer{"no", "none"},
      Answer{"n", "none"},           Answer{"none", "none"}};
  for (const Answer& answer : answers) {
    if (same_words(trimmed(text), answer.typed)) return {std::string(answer.word), {}, {}, {}};
  }
  return {std::nullopt, "one, both or no", {}, {}};
}

Parsed<std::vector<CellSign>> read_signs(std::string_view text, std::size_t cells) {
  std::vector<CellSign> signs;
  if (same_words(trimmed(text), "none")) return {signs, {}, {}, {}};
  for (const std::string& part : split(text, ",;")) {
    const std::size_t end = std::min(part.find_first_not_of("0123456789"), part.size());
    const auto cell = read_count(part.substr(0, end));
    const std::string_view sign = trimmed(std::string_view(part).substr(end));
    if (!cell || *cell < 1 || static_cast<std::size_t>(*cell) > cells || sign.empty()) {
      return {std::nullopt,
              fmt::format("none, or the cell's number (1 to {}) and what you see: 3 dent, 5 smell",
                          cells),
              {},
              {}};
    }
    signs.push_back({static_cast<std::size_t>(*cell), std::string(sign)});
  }
  return {signs, {}, {}, {}};
}

}  // namespace stackfit::cli
