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
  return fmt::format("Every cell at {}, within {:.2f} V of each other; {} insulated.",
                     percent(answer.build_charge), volts_within,
                     answer.clamp_frame ? "what the frame stands on" : "floor and sides");
}

std::string from_wall_to_wall(const Answer& answer, std::string_view from) {
  if (!answer.rows.empty()) {
    return fmt::format("Each row from the {}: sheets, cell, sheets, cell ... to the last sheets.",
                       from);
  }
  if (answer.cell_count <= 2) {
    return fmt::format("From the {}: sheets, cell 1, {}sheets.", from,
                       answer.cell_count == 2 ? "sheets, cell 2, " : "");
  }
  return fmt::format("From the {}: sheets, cell {}, sheets, cell {} ... cell {}, sheets.", from,
                     cell_at(answer, 1), cell_at(answer, 2), cell_at(answer, answer.cell_count));
}

std::string keep_off() {
  return "Push on flat walls only, never on a terminal, lid, vent or can edge; no mallet, jack, "
         "lever or body weight.";
}

std::string pushes_back(const Answer& answer, const Figures& figures) {
  return fmt::format("It pushes back with {}.", figures.force(answer.insertion.wall_force_n));
}

// Where one cell goes in last: between two others, never against a wall or a pad.
std::string all_but_the_last(const Answer& answer) {
  const int last = answer.insertion.last_cell;
  if (last <= 1 || last >= answer.cell_count) {
    return from_wall_to_wall(answer, "first wall");
  }
  return fmt::format(
      "From both walls inwards: sheets and cells, all but cell {}, which goes in "
      "last, between cells {} and {}, with its sheets.",
      cell_at(answer, last), cell_at(answer, last - 1), cell_at(answer, last + 1));
}

std::vector<std::string> hand_steps(const Answer& answer, const Figures& figures) {
  const InsertionResult& insertion = answer.insertion;
  return {all_but_the_last(answer),
          fmt::format("Slide it down {}with {}, through a full-width block on the can's shoulders, "
                      "clear of terminals and vent; stop at {}; no mallet, jack, lever or body "
                      "weight.",
                      insertion.slip_film ? "between slip films, one on each face, " : "",
                      figures.force(insertion.push_n), figures.force(insertion.push_limit_n)),
          fmt::format("To open: draw the same cell out again, {}{}.",
                      figures.force(insertion.draw_out_n),
                      insertion.draw_out_n > insertion.push_limit_n
                          ? "; more than a hand should: lower the charge first"
                          : "")};
}

std::vector<std::string> end_wall_steps(const Answer& answer, const Figures& figures) {
  const bool from_last = answer.first_wall_opens && !answer.last_wall_opens;
  const std::string laying =
      from_last ? fmt::format("From the fixed wall: sheets, cell {}, sheets ... cell {}, sheets.",
                              cell_at(answer, answer.cell_count), cell_at(answer, 1))
                : from_wall_to_wall(answer, "fixed wall");
  return {laying,
          "Draw the loose wall in evenly: two clamps, then the screws (clamps pull, screws only "
          "hold). " +
              pushes_back(answer, figures) +
              " To open: clamps on first, then a screw a turn each. " + keep_off()};
}

// The force or way that was worked out for this method; null where it was not.
const WayOutResult* worked_out(const Answer& answer, WayOut which) {
  const auto& ways = answer.insertion.ways_out;
  const auto found = std::ranges::find(ways, which, &WayOutResult::way);
  return found == ways.end() ? nullptr : &*found;
}

std::vector<std::string> clamp_steps(const Answer& answer, const Figures& figures) {
  const WayOutResult* clamp = worked_out(answer, WayOut::clamp);
  const std::string force =
      clamp == nullptr ? "" : fmt::format(", to {} and no more", figures.force(clamp->force_n));
  return {all_but_the_last(answer),
          fmt::format("Clamp those in place back between flat plates, evenly{}; lower the last "
                      "one in and let the clamps out a turn each. {} To open, clamp again first.",
                      force, pushes_back(answer, figures)),
          keep_off()};
}

std::vector<std::string> spread_steps(const Answer& answer, const Figures& figures) {
  const WayOutResult* spread = worked_out(answer, WayOut::walls_spread);
  const std::string by =
      spread == nullptr ? "" : fmt::format(" by {}", figures.length(spread->spread_mm));
  return {fmt::format("Spread the end walls{}, held square, and lay the row in from one wall: "
                      "sheets, cell {}, sheets ... cell {}, sheets.",
                      by, cell_at(answer, 1), cell_at(answer, answer.cell_count)),
          fmt::format("Let the walls back a little at a time. {} To open, spread them again "
                      "first. {}",
                      pushes_back(answer, figures), keep_off())};
}

std::vector<std::string> frame_steps(const Answer& answer, const Figures& figures) {
  return {from_wall_to_wall(answer, "first plate"),
          fmt::format("Put the last plate on, nuts to snug by hand, then evenly, a turn each in "
                      "turn, to the length above. {} To open: a turn each, evenly. {}",
                      pushes_back(answer, figures), keep_off())};
}

std::vector<std::string> steps_of(const Answer& answer, const Figures& figures) {
  if (answer.clamp_frame) {
    return frame_steps(answer, figures);
  }
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
    for (std::size_t i = first; i < last; ++i) {
      text += fmt::format("{:>8.2f}", volts[i]);
    }
    if (last == volts.size()) {
      text += fmt::format(" V{}", star(page.answer.voltage_assumed));
    }
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
  for (const std::string& text : steps_of(page.answer, page.figures)) {
    step(text);
  }
  if (!page.answer.sense_lead_v.empty()) {
    step("After each bus bar, meter from the first - to the newest +:");
    write_voltages(page);
  }
  page.lines.blank();
}

}  // namespace stackfit::cli
