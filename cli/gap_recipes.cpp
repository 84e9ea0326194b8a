// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/gap_recipes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <string_view>

#include "cli/answer_words.hpp"
#include "cli/text_lines.hpp"

namespace stackfit::cli {
namespace {

constexpr std::size_t longest_sheet_name = 20;
constexpr std::string_view letters = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
constexpr char no_letter_left = '?';

// A name that holds a figure (`0.80`, `GRP 0.5`) says its thickness; another gets it added.
std::string label(const GapSheet& sheet, const Figures& figures) {
  std::string name = shortened(printable(sheet.name), longest_sheet_name);
  const bool has_figure = name.find_first_of("0123456789") != std::string::npos;
  if (has_figure) {
    return name;
  }
  const std::string thickness = figures.thickness_number(sheet.thickness_mm);
  return name.empty() ? thickness : fmt::format("{} {}", name, thickness);
}

std::string in_words(const GapSheet& sheet, const Figures& figures) {
  const std::string_view what = sheet.origin == SheetOrigin::pad     ? " (pad)"
                                : sheet.origin == SheetOrigin::fixed ? " (always there)"
                                                                     : "";
  constexpr int counted_in_words = 10;
  return fmt::format("{}{} {}{}", count_word(sheet.count),
                     sheet.count < counted_in_words ? "" : " x", label(sheet, figures), what);
}

struct Kind {
  std::string words;
  double total_mm = 0;
  bool lone = false;  ///< one sheet or none: its words say the total
  int gaps = 0;
};

bool is_lone(const GapResult& gap) {
  return gap.sheets.empty() || (gap.sheets.size() == 1 && gap.sheets.front().count == 1);
}

std::string all_in_words(const std::vector<GapSheet>& sheets, const Figures& figures) {
  std::string words;
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    if (i > 0) {
      words += i + 1 == sheets.size() ? " and " : ", ";
    }
    words += in_words(sheets[i], figures);
  }
  return words;
}

}  // namespace

std::string sheets_in_words(const GapResult& gap, const Figures& figures) {
  return all_in_words(gap.sheets, figures);
}

std::string shims_in_words(const GapResult& gap, const Figures& figures) {
  std::vector<GapSheet> shims;
  std::ranges::copy_if(gap.sheets, std::back_inserter(shims),
                       [](const GapSheet& sheet) { return sheet.origin == SheetOrigin::kit; });
  return shims.empty() ? "none" : all_in_words(shims, figures);
}

GapRecipes recipes_of(const PlanResult& plan, const Figures& figures) {
  GapRecipes result;
  std::vector<Kind> kinds;
  for (const GapResult& gap : plan.gaps) {
    const std::string words = gap.sheets.empty() ? "nothing" : all_in_words(gap.sheets, figures);
    auto found = std::ranges::find(kinds, words, &Kind::words);
    if (found == kinds.end()) {
      kinds.push_back({words, gap.total_mm, is_lone(gap)});
      found = std::prev(kinds.end());
    }
    ++found->gaps;
    const auto index = static_cast<std::size_t>(found - kinds.begin());
    result.letter_of_gap += index < letters.size() ? letters[index] : no_letter_left;
  }
  for (std::size_t i = 0; i < kinds.size(); ++i) {
    const char letter = i < letters.size() ? letters[i] : no_letter_left;
    const std::string total =
        kinds[i].lone ? std::string() : ": " + figures.thickness(kinds[i].total_mm);
    result.recipes.push_back(
        {letter, fmt::format("{}{}, in {}", kinds[i].words, total, counted(kinds[i].gaps, "gap"))});
  }
  return result;
}

}  // namespace stackfit::cli
