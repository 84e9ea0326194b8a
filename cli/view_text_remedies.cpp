// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <string>

#include "cli/view_text_parts.hpp"
#include "cli/words_chance.hpp"
#include "cli/words_remedy.hpp"

namespace stackfit::cli {
namespace {

constexpr TextLines::Indent listed{.first = 2, .next = 4};

// ` -> 36 to 83 kPa, 93 in 100`.
std::string result_text(const Remedy& remedy, const Figures& figures) {
  return fmt::format(" -> {} to {}{}", figures.pressure_number(remedy.lowest_mpa),
                     figures.pressure(remedy.highest_mpa),
                     remedy.chance ? ", " + chance_text(*remedy.chance) : "");
}

void write_list(TextPage& page, std::size_t shown_at_most) {
  const auto& remedies = page.answer.remedies;
  const std::size_t shown = page.all ? remedies.size() : std::min(remedies.size(), shown_at_most);
  for (std::size_t i = 0; i < shown; ++i) {
    page.lines.wrapped(
        "- " + sentence(remedies[i], page.figures) + result_text(remedies[i], page.figures),
        listed);
    if (const auto argument = set_argument(remedies[i])) {
      page.lines.verbatim("    " + shell_option(*argument));
    }
  }
  if (shown < remedies.size()) {
    page.lines.line(fmt::format("  {} more: --all", remedies.size() - shown));
  }
}

void write_none_found(TextPage& page) {
  const bool way_out_works =
      std::ranges::any_of(page.answer.insertion.ways_out, &WayOutResult::works);
  if (way_out_works || !page.answer.remedies_sought) {
    return;
  }
  page.lines.blank();
  page.lines.wrapped(
      "No single change was found that mends it: another box, pads that give, "
      "or a narrower charge must be combined.",
      {.first = 0, .next = 2});
}

}  // namespace

void write_remedies(TextPage& page) {
  constexpr std::size_t mending_shown = 4;
  constexpr std::size_t surer_shown = 2;
  if (page.answer.inside()) {
    if (!page.answer.remedies.empty()) {
      page.lines.line("WORTH A CHANGE, least effort first", Emphasis::heading);
      write_list(page, surer_shown);
      page.lines.blank();
    }
    return;
  }
  if (page.answer.remedies.empty()) {
    write_none_found(page);
    return;
  }
  page.lines.blank();
  page.lines.line("ONE OF THESE MENDS IT, least effort first", Emphasis::heading);
  write_list(page, mending_shown);
}

}  // namespace stackfit::cli
