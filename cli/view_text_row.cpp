// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>

#include "cli/answer_words.hpp"
#include "cli/gap_recipes.hpp"
#include "cli/view_text_parts.hpp"

namespace stackfit::cli {
namespace {

constexpr int cells_a_line = 8;

bool wall_goes_on_last(const Answer& answer) {
  return answer.insertion.method == BuildMethod::end_wall_last;
}

// The gap before the cell, as `|a|`.
std::string gap_mark(char letter) {
  return fmt::format("|{}|", letter);
}

struct PictureLines {
  std::string parts;
  std::string polarity;
};

// Ids in place of numbers where cells were moved and the picture has room for them.
bool shows_ids(const Answer& answer) {
  constexpr std::size_t most_in_picture = 3;
  return answer.order && answer.order->moved > 0 &&
         std::ranges::all_of(answer.order->ids, [](const std::string& id) {
           return printable(id).size() <= most_in_picture;
         });
}

std::string cell_in_picture(const Answer& answer, std::size_t i) {
  return shows_ids(answer) ? printable(answer.cells[i].id)
                           : fmt::format("{}", static_cast<std::size_t>(answer.first_cell) + i);
}

// Cells first..last (from 0) with the gap before each; the last gap closes the row.
PictureLines picture(const Answer& answer, const GapRecipes& recipes, std::size_t first,
                     std::size_t last) {
  PictureLines lines;
  for (std::size_t i = first; i < last; ++i) {
    lines.parts +=
        fmt::format("{}{:^3}", gap_mark(recipes.letter_of_gap[i]), cell_in_picture(answer, i));
    lines.polarity += fmt::format("   {:^3}", answer.cells[i].plus_near_side ? '+' : '-');
  }
  return lines;
}

}  // namespace

std::string_view first_wall_name(const Answer& answer) {
  if (answer.clamp_frame) {
    return "first plate";
  }
  if (!wall_goes_on_last(answer)) {
    return "wall";
  }
  return answer.first_wall_opens && !answer.last_wall_opens ? "loose wall" : "fixed wall";
}

std::string_view last_wall_name(const Answer& answer) {
  if (answer.clamp_frame) {
    return "last plate";
  }
  if (!wall_goes_on_last(answer)) {
    return "wall";
  }
  return answer.first_wall_opens && !answer.last_wall_opens ? "fixed wall" : "loose wall";
}

void write_row(TextPage& page) {
  const Answer& answer = page.answer;
  const GapRecipes recipes = recipes_of(answer.plan, page.figures);
  const std::size_t count = std::min(answer.cells.size(), recipes.letter_of_gap.size() - 1);
  const std::string margin = fmt::format("  {} ", first_wall_name(answer));
  for (std::size_t first = 0; first < count; first += cells_a_line) {
    const std::size_t last = std::min(first + cells_a_line, count);
    PictureLines lines = picture(answer, recipes, first, last);
    if (last == count) {
      lines.parts +=
          fmt::format("{} {}", gap_mark(recipes.letter_of_gap[count]), last_wall_name(answer));
    }
    page.lines.line((first == 0 ? margin : std::string(margin.size(), ' ')) + lines.parts);
    page.lines.line(std::string(margin.size(), ' ') + lines.polarity);
  }
  for (const GapRecipe& recipe : recipes.recipes) {
    page.lines.wrapped(fmt::format("{} = {}", recipe.letter, recipe.words),
                       {.first = 2, .next = 6});
  }
}

}  // namespace stackfit::cli
