// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "cli/answer_words.hpp"
#include "cli/view_text_parts.hpp"

namespace stackfit::cli {
namespace {

constexpr TextLines::Indent step_indent{.first = 2, .next = 4};

// Cells joined further apart than this push current through each other (common practice).
constexpr double volts_within = 0.02;

std::string first_step(const Answer& answer) {
  return fmt::format(
      "Every cell at {}, within {:.2f} V of each other; floor and sides "
      "insulated.",
      percent(answer.build_charge), volts_within);
}

std::string from_wall_to_wall(const Answer& answer, std::string_view from) {
  return fmt::format("From the {}: sheets, cell 1, sheets, cell 2 ... cell {}, sheets.", from,
                     answer.cell_count);
}

std::string keep_off() {
  return "Push on flat walls only, never on a terminal, lid, vent or can edge; no mallet, jack, "
         "lever or body weight.";
}

std::string opening(const Answer& answer, const Figures& figures) {
  return fmt::format("It pushes back with {}. To open: clamps on first, then a screw a turn each.",
                     figures.force(answer.insertion.wall_force_n));
}

std::vector<std::string> hand_steps(const Answer& answer, const Figures& figures) {
  const InsertionResult& insertion = answer.insertion;
  std::vector<std::string> steps;
  if (insertion.last_cell > 1 && insertion.last_cell < answer.cell_count) {
    steps.push_back(
        fmt::format("From both walls inwards: sheets and cells, all but cell {0}, which "
                    "goes in last, between cells {1} and {2}, with its sheets.",
                    insertion.last_cell, insertion.last_cell - 1, insertion.last_cell + 1));
  } else {
    steps.push_back(from_wall_to_wall(answer, "first wall"));
  }
  steps.push_back(
      fmt::format("Slide it down with {}, through a full-width block on the can's "
                  "shoulders, clear of terminals and vent; stop at {}; no mallet, jack, "
                  "lever or body weight.",
                  figures.force(insertion.push_n), figures.force(insertion.push_limit_n)));
  steps.push_back(fmt::format("To open: draw the same cell out again, {}.",
                              figures.force(insertion.draw_out_n)));
  return steps;
}

std::vector<std::string> end_wall_steps(const Answer& answer, const Figures& figures) {
  const bool from_last = answer.first_wall_opens && !answer.last_wall_opens;
  const std::string laying =
      from_last ? fmt::format("From the fixed wall: sheets, cell {}, sheets ... cell 1, sheets.",
                              answer.cell_count)
                : from_wall_to_wall(answer, "fixed wall");
  return {laying,
          "Draw the loose wall in evenly: two clamps, then the screws (clamps pull, screws only "
          "hold). " +
              opening(answer, figures) + " " + keep_off()};
}

std::vector<std::string> clamp_steps(const Answer& answer, const Figures& figures) {
  const auto& ways = answer.insertion.ways_out;
  const auto clamp = std::ranges::find(ways, WayOut::clamp, &WayOutResult::way);
  const std::string force =
      clamp == ways.end() ? std::string() : fmt::format(" to {}", figures.force(clamp->force_n));
  return {fmt::format("Lay the row up outside the box between two flat plates. Clamp it evenly{}, "
                      "not more.",
                      force),
          "Lower it in, let the clamps out a turn each, then take them away. " +
              opening(answer, figures) + " " + keep_off()};
}

std::vector<std::string> spread_steps(const Answer& answer, const Figures& figures) {
  const auto& ways = answer.insertion.ways_out;
  const auto spread = std::ranges::find(ways, WayOut::walls_spread, &WayOutResult::way);
  const std::string by = spread == ways.end()
                             ? std::string()
                             : fmt::format(" {} apart", figures.length(spread->spread_mm));
  return {fmt::format("Spread the end walls{} with a spreader held square, and lay the row in "
                      "from one wall.",
                      by),
          "Let the walls back a little at a time. " + opening(answer, figures) + " " + keep_off()};
}

std::vector<std::string> steps_of(const Answer& answer, const Figures& figures) {
  switch (answer.insertion.method) {
    case BuildMethod::hand:
      return hand_steps(answer, figures);
    case BuildMethod::end_wall_last:
      return end_wall_steps(answer, figures);
    case BuildMethod::clamp:
      return clamp_steps(answer, figures);
    case BuildMethod::walls_spread:
      return spread_steps(answer, figures);
  }
  return {};
}

void write_voltages(TextPage& page) {
  constexpr std::size_t a_line = 8;
  const auto& volts = page.answer.sense_lead_v;
  for (std::size_t first = 0; first < volts.size(); first += a_line) {
    std::string text = "   ";
    const std::size_t last = std::min(first + a_line, volts.size());
    for (std::size_t i = first; i < last; ++i) text += fmt::format("{:>8.2f}", volts[i]);
    if (last == volts.size()) text += fmt::format(" V{}", star(page.answer.voltage_assumed));
    page.lines.line(text);
  }
}

}  // namespace

void write_steps(TextPage& page) {
  page.lines.line("PUT IT TOGETHER     rings and watch off, terminals covered", Emphasis::heading);
  int number = 1;
  const auto step = [&](const std::string& text) {
    page.lines.wrapped(fmt::format("{} {}", number++, text), step_indent);
  };
  step(first_step(page.answer));
  for (const std::string& text : steps_of(page.answer, page.figures)) step(text);
  if (!page.answer.sense_lead_v.empty()) {
    step("After each bus bar, meter from the first - to the newest +:");
    write_voltages(page);
  }
  page.lines.blank();
}

}  // namespace stackfit::cli
