// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "cli/answer_words.hpp"
#include "cli/view_text_parts.hpp"
#include "cli/words_warning.hpp"

namespace stackfit::cli {
namespace {

std::string times_as_stiff(double factor) {
  const std::string figure = fmt::format("{:.2g}", factor);
  return figure == "2" ? "twice" : figure == "0.5" ? "half" : figure + " times";
}

struct MoveWords {
  std::string what;
  std::string_view next;  ///< what to do about it; may be empty
};

MoveWords words_of(const Move& move, const Answer& answer, const Figures& figures) {
  const auto marked = [&](const std::string& text, Assumed id) {
    return text + std::string(star(rests_on(answer, id)));
  };
  switch (move.code) {
    case MoveCode::full_charge:
      return {"charged to 100 %", ""};
    case MoveCode::box_shorter:
      return {fmt::format("box {} shorter", figures.length(move.by)), "5 readings to 0.2 mm"};
    case MoveCode::cells_stiffer:
      return {marked(fmt::format("cells {} as stiff", times_as_stiff(move.by)), Assumed::squeeze_a),
              "press-test one cell"};
    case MoveCode::charge_misread:
      return {marked(fmt::format("charge {:.0f} points off", std::fabs(move.by) * 100),
                     Assumed::charge_doubt),
              "count Ah from full"};
    case MoveCode::hotter:
      return {fmt::format("{:.0f} K warmer", move.by), ""};
    case MoveCode::capacity_loss:
      return {marked(fmt::format("{} capacity lost", percent(move.by)), Assumed::growth), ""};
    case MoveCode::rigid_walls:
      return {marked("walls that never bow", Assumed::wall_thickness), "measure the walls"};
  }
  return {};
}

std::string signed_pressure(double mpa, const Figures& figures) {
  return fmt::format("{}{} {}", mpa < 0 ? "-" : "+", figures.pressure_number(std::fabs(mpa)),
                     figures.pressure_unit());
}

std::string_view standing_words(Standing standing) {
  switch (standing) {
    case Standing::inside:
      return "inside";
    case Standing::below:
      return "OUTSIDE, below";
    case Standing::loose:
      return "OUTSIDE, loose";
    case Standing::above:
    case Standing::above_limit:
      return "OUTSIDE, above";
  }
  return "";
}

// The line on age tells capacity lost; where there is a chance, it holds what was misread.
bool worth_a_line(const Move& move, const TextPage& page) {
  const bool told_elsewhere =
      move.code == MoveCode::hotter || move.code == MoveCode::capacity_loss ||
      (page.answer.chance.has_value() &&
       (move.code == MoveCode::charge_misread || move.code == MoveCode::box_shorter ||
        move.code == MoveCode::rigid_walls));
  return page.all || !told_elsewhere;
}

void write_move(TextPage& page, const Move& move) {
  const MoveWords words = words_of(move, page.answer, page.figures);
  page.lines.columns({{words.what, 25},
                      {signed_pressure(move.change_mpa, page.figures), 10, true},
                      {fmt::format("   {}{}{}", standing_words(move.standing),
                                   words.next.empty() ? "" : "; ", words.next)}});
}

void write_life(TextPage& page) {
  const PlanResult& plan = page.answer.plan;
  if (!plan.life_span) {
    return;
  }
  const bool assumed =
      rests_on(page.answer, Assumed::growth) || rests_on(page.answer, Assumed::growth_under_load);
  page.lines.columns(
      {{fmt::format("capacity lost{}", star(assumed)), 35},
       {"   "},
       {fmt::format("inside to {}, then take some out", life_text(*plan.life_span))}});
}

// Gaps left bare are told in one line: the plan has named them already.
std::vector<std::string> told_warnings(const TextPage& page) {
  std::vector<std::string> told;
  int bare = 0;
  for (const Warning& warning : page.answer.warnings) {
    const bool repeated = warning.code == WarningCode::metal_left_bare && bare++ > 0;
    if (!repeated) {
      told.push_back(sentence(warning, page.figures));
    }
    if (repeated && bare == 2) {
      told.back() += ", and in the others named above";
    }
  }
  return told;
}

}  // namespace

void write_moves(TextPage& page) {
  if (page.answer.moves.empty()) {
    return;
  }
  page.lines.line("WHAT MOVES THE HIGHEST", Emphasis::heading);
  for (const Move& move : page.answer.moves) {
    if (worth_a_line(move, page)) {
      write_move(page, move);
    }
  }
  write_life(page);
}

void write_warnings(TextPage& page) {
  constexpr std::size_t shown_at_most = 5;
  const std::vector<std::string> told = told_warnings(page);
  if (told.empty()) {
    page.lines.blank();
    return;
  }
  const std::size_t shown = page.all ? told.size() : std::min(told.size(), shown_at_most);
  page.lines.line("MIND", Emphasis::heading);
  for (std::size_t i = 0; i < shown; ++i) {
    page.lines.wrapped("- " + told[i], {.first = 2, .next = 4});
  }
  if (shown < told.size()) {
    page.lines.line(fmt::format("  {} more: --all", told.size() - shown));
  }
  page.lines.blank();
}

}  // namespace stackfit::cli
