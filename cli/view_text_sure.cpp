// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstddef>
#include <string>

#include "cli/answer_words.hpp"
#include "cli/view_text_parts.hpp"
#include "cli/words_chance.hpp"

namespace stackfit::cli {
namespace {

constexpr TextLines::Indent listed{.first = 2, .next = 4};
constexpr std::size_t longest_input = 34;

// `9 too tight, 4 too loose`: only what happens at all, most first.
std::string how_it_fails(const Chance& chance) {
  struct Way {
    double share;
    std::string_view words;
  };
  std::array ways{Way{chance.above, "too tight"}, Way{chance.below, "too loose"},
                  Way{chance.above_limit, "above the limit"}, Way{chance.not_got_in, "not got in"}};
  std::ranges::stable_sort(ways, std::ranges::greater{}, &Way::share);
  std::string text;
  for (const Way& way : ways) {
    if (way.share > 0) {
      text += fmt::format("{}{} {}", text.empty() ? "" : ", ", share_text(way.share), way.words);
    }
  }
  return text;
}

// `0.3`: one figure is all an error of an error is worth.
std::string error_text(const ChanceOf& chance) {
  return fmt::format("{:.1g}", std::max(chance.standard_error * 100, 0.01));
}

void write_how_it_fails(TextPage& page) {
  const Chance& chance = *page.answer.chance;
  if (chance.plan.more_than) {
    page.lines.wrapped(
        fmt::format("{}: none of {} draws failed", chance_text(chance.plan), chance.plan.samples),
        listed);
    return;
  }
  const std::string fails = how_it_fails(chance);
  page.lines.wrapped(
      fmt::format("{} (+-{}, {} draws){}{}", chance_text(chance.plan), error_text(chance.plan),
                  chance.plan.samples, fails.empty() ? "" : "; else, in 100: ", fails),
      listed);
}

// By which rule it is chosen only where the rules differ.
void write_rival(TextPage& page, std::string_view rule, const ChanceRival& rival) {
  std::string sheets;
  for (std::size_t kind = 0; kind < rival.used.size() && kind < page.answer.plan.kit.size();
       ++kind) {
    if (rival.used[kind] > 0) {
      sheets += fmt::format("{}{} of {}", sheets.empty() ? "" : ", ", rival.used[kind],
                            shortened(printable(page.answer.plan.kit[kind].name), 8));
    }
  }
  page.lines.wrapped(
      fmt::format("by {}: {}, margin {:.2f}; {} of shims{}{}", rule, chance_text(rival.chance),
                  rival.margin, page.figures.thickness(rival.shim_total_mm),
                  sheets.empty() ? "" : ": ", sheets),
      listed);
}

void write_rivals(TextPage& page) {
  const Chance& chance = *page.answer.chance;
  if (!chance.by_chance || !chance.by_margin) {
    return;
  }
  write_rival(page, "chance", *chance.by_chance);
  write_rival(page, "margin", *chance.by_margin);
}

void write_worth(TextPage& page) {
  constexpr std::size_t shown_at_most = 2;
  const Chance& chance = *page.answer.chance;
  std::size_t shown = 0;
  for (const Worth& worth : chance.worth) {
    const bool told = page.all || (raises(worth, chance.plan) && shown < shown_at_most);
    if (told) {
      page.lines.wrapped(sentence(worth, chance.plan, shown == 0), listed);
      ++shown;
    }
  }
}

std::string spread_text(const PressureSpread& spread, const Figures& figures) {
  return fmt::format("{:>6} {:>6} {:>6}", figures.pressure_number(spread.low_mpa),
                     figures.pressure_number(spread.median_mpa),
                     figures.pressure_number(spread.high_mpa));
}

void write_spreads(TextPage& page) {
  const Chance& chance = *page.answer.chance;
  page.lines.line(fmt::format("  {:<23}  2.5 %    50 % 97.5 % of draws, {}", "face pressure",
                              page.figures.pressure_unit()));
  const auto row = [&](std::string_view name, const PressureSpread& spread) {
    page.lines.line(fmt::format("    {:<21} {}", name, spread_text(spread, page.figures)));
  };
  row("lowest", chance.lowest);
  row("as built", chance.as_built);
  row("highest", chance.highest);
}

std::string hundred(double share) {
  return fmt::format("{:.0f}", std::clamp(share, 0.0, 1.0) * 100);
}

// Two columns for the highest pressure, two for failing: alone, and with what it acts together
// with.
void write_inputs(TextPage& page) {
  if (page.answer.chance->inputs.empty()) {
    return;
  }
  page.lines.line(fmt::format("  {:<36}{:>19}{:>19}", "share of the doubt, in 100",
                              "highest pressure", "failing"));
  page.lines.line(
      fmt::format("  {:<36}{:>9}{:>10}{:>9}{:>10}", "", "alone", "with all", "alone", "with all"));
  for (const InputShare& share : page.answer.chance->inputs) {
    const std::string name =
        shortened(name_of(share), longest_input - 2) + std::string(star(share.assumed));
    const std::string padding(36 - std::min<std::size_t>(display_width(name), 36), ' ');
    page.lines.line(fmt::format("  {}{}{:>9}{:>10}{:>9}{:>10}", name, padding,
                                hundred(share.first_order_pressure), hundred(share.total_pressure),
                                hundred(share.first_order_failing), hundred(share.total_failing)));
  }
}

}  // namespace

void write_sure(TextPage& page) {
  if (!page.answer.chance) {
    return;
  }
  page.lines.line(
      page.answer.chance->assumed_inputs ? "HOW SURE, with assumed inputs *" : "HOW SURE",
      Emphasis::heading);
  write_how_it_fails(page);
  write_rivals(page);
  write_worth(page);
  if (page.all) {
    write_spreads(page);
    write_inputs(page);
    page.lines.wrapped(chance_leaves_out, listed);
  }
}

}  // namespace stackfit::cli
