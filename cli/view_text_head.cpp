// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>

#include "cli/answer_words.hpp"
#include "cli/cautions.hpp"
#include "cli/view_text_parts.hpp"
#include "cli/words_chance.hpp"

namespace stackfit::cli {
namespace {

constexpr std::size_t longest_id = 20;
constexpr TextLines::Indent under_verdict{.first = 0, .next = 6};

std::string cell_id(const CellResult& cell) {
  return shortened(printable(cell.id), longest_id);
}

// Why a cell stops everything; empty for one that does not.
std::string why_stopped(const CellResult& cell, const Figures& figures) {
  if (cell.shows_sign) {
    return fmt::format("cell {} shows a sign ({})", cell_id(cell),
                       shortened(printable(cell.signs), longest_id));
  }
  if (cell.refused) {
    return fmt::format("cell {} is swollen by {}", cell_id(cell), figures.length(cell.swelling_mm));
  }
  return {};
}

std::string all_reasons_to_stop(const Answer& answer, const Figures& figures) {
  constexpr int named_at_most = 4;
  std::string reasons;
  int more = 0;
  int named = 0;
  for (const CellResult& cell : answer.cells) {
    const std::string why = why_stopped(cell, figures);
    if (why.empty()) {
      continue;
    }
    if (named == named_at_most) {
      ++more;
      continue;
    }
    reasons += (named++ == 0 ? "" : ", ") + why;
  }
  if (more > 0) {
    reasons += fmt::format(", and {} more", more);
  }
  return reasons.empty() ? "a cell is not fit to be pressed" : reasons;
}

std::string soft_to_stiff(const Answer& answer, const Figures& figures) {
  if (!answer.soft || !answer.stiff) {
    return {};
  }
  const double usual = assumption(Assumed::squeeze_a).value;
  const double low = std::min(answer.soft->lowest_mpa, answer.stiff->lowest_mpa);
  const double high = std::max(answer.soft->highest_mpa, answer.stiff->highest_mpa);
  const auto times = [usual](double a_mpa) {
    const std::string factor = fmt::format("{:.2g}", a_mpa / usual);
    return factor == "0.5" ? "half" : factor == "2" ? "twice" : factor + " times";
  };
  const bool stays = answer.soft->inside && answer.stiff->inside;
  return fmt::format("; {} to {} if the cells are {} or {} as stiff *{}",
                     figures.pressure_number(low), figures.pressure_number(high),
                     times(answer.soft->a_mpa), times(answer.stiff->a_mpa),
                     stays ? "" : ", outside your band");
}

std::string required_states(const Answer& answer, const Figures& figures) {
  std::string text = fmt::format("over {} charge, {}-{} {}", percent(answer.use_charge),
                                 figures.temperature_number(answer.use_temperature_c.low),
                                 figures.temperature_number(answer.use_temperature_c.high),
                                 figures.temperature_unit());
  if (answer.use_capacity_loss.high > 0) {
    text += fmt::format(", to {} capacity lost", percent(answer.use_capacity_loss.high));
  } else {
    text += ", new";
  }
  return text;
}

std::string push_and_limit(const Answer& answer, const Figures& figures) {
  const InsertionResult& insertion = answer.insertion;
  return fmt::format(
      "{} of push{}; stop at {}{}.", figures.force(insertion.push_n),
      star(rests_on(answer, Assumed::friction) || rests_on(answer, Assumed::friction_slip_film)),
      figures.force(insertion.push_limit_n), star(rests_on(answer, Assumed::push_limit)));
}

std::string_view instead_of_hand(const InsertionResult& insertion) {
  switch (insertion.method) {
    case BuildMethod::hand:
      return "";
    case BuildMethod::end_wall_last:
      return insertion.method_said ? " You said the end wall goes on last: see steps 2-3."
                                   : " One end wall comes off, so it goes on last: see steps 2-3.";
    case BuildMethod::clamp:
      return " You said the row is clamped while it goes in: see steps 2-3.";
    case BuildMethod::walls_spread:
      return " You said the walls are spread meanwhile: see steps 2-3.";
  }
  return "";
}

void write_getting_in(TextPage& page) {
  const Answer& answer = page.answer;
  const InsertionResult& insertion = answer.insertion;
  if (!answer.has_plan || answer.question != Question::pick || answer.clamp_frame) {
    return;
  }
  if (!answer.inside() && answer.failure.rule != FailedRule::build_method) {
    return;
  }
  const bool by_hand_works = insertion.push_n <= insertion.push_limit_n;
  const std::string_view see = answer.inside() ? instead_of_hand(insertion) : "";
  const std::string push = push_and_limit(answer, page.figures);
  if (by_hand_works && insertion.method == BuildMethod::hand) {
    page.lines.wrapped("BY HAND - the last cell needs " + push, under_verdict);
  } else if (by_hand_works) {
    page.lines.wrapped(fmt::format("HAND WOULD DO - the last cell needs {}{}", push, see),
                       under_verdict);
  } else {
    page.lines.wrapped(fmt::format("NOT BY HAND - the last cell would need {}{}", push, see),
                       under_verdict);
  }
}

// `50 to 94 kPa`, or that nothing is pressed at all.
std::string pressures_in_words(const PlanResult& plan, const Figures& figures) {
  if (plan.highest.face_pressure_mpa == 0) {
    return "no pressure at all";
  }
  return fmt::format("{} to {}", figures.pressure_number(plan.lowest.face_pressure_mpa),
                     figures.pressure(plan.highest.face_pressure_mpa));
}

std::string_view leading_words(const Answer& answer) {
  if (answer.inside()) {
    return "";
  }
  return answer.question == Question::pressure ? "It sees " : "The nearest gives ";
}

// Swollen cells that the plan leaves room to: never far from the verdict.
std::string watched_cells(const Answer& answer, const Figures& figures) {
  std::string ids;
  double most = 0;
  for (const CellResult& cell : answer.cells) {
    if (cell.beyond_watch && !cell.refused) {
      ids += (ids.empty() ? "" : ", ") + cell_id(cell);
      most = std::max(most, cell.swelling_mm);
    }
  }
  if (ids.empty()) {
    return {};
  }
  return fmt::format(" SWOLLEN, to be watched: cell {} (by up to {}).", ids, figures.length(most));
}

// `; likely inside (88 in 100, with assumed inputs *)`.
std::string chance_words(const Answer& answer) {
  if (!answer.chance) {
    return {};
  }
  const ChanceOf& chance = answer.chance->plan;
  const double at_least = chance.more_than.value_or(chance.chance);
  // Of several rows the least sure one's is told: all together are no surer.
  const bool rows = !answer.rows.empty() && !chance.more_than;
  return fmt::format("; {} ({}{}{})", likelihood(at_least), rows ? "at most " : "",
                     chance_text(chance),
                     answer.chance->assumed_inputs ? ", with assumed inputs *" : "");
}

// The chance holds the softness too: with it the bracket is one figure more under --all.
std::string bracket_words(const Answer& answer, const Figures& figures, bool all) {
  const bool told = answer.inside() && (all || !answer.chance);
  return told ? soft_to_stiff(answer, figures) : "";
}

std::string verdict_sentence(const Answer& answer, const Figures& figures, bool all) {
  std::string text(plain(answer.verdict));
  text += ": ";
  if (!answer.inside()) {
    text += why_not(answer, figures) + ". ";
  }
  if (answer.has_plan) {
    text += fmt::format("{}{} {}{}{}.", leading_words(answer),
                        pressures_in_words(answer.plan, figures), required_states(answer, figures),
                        chance_words(answer), bracket_words(answer, figures, all));
  }
  text += watched_cells(answer, figures);
  if (!answer.assumed.empty()) {
    text += " (* is assumed: --assumed)";
  }
  return text;
}

}  // namespace

void write_stop(TextPage& page) {
  if (page.answer.verdict != Verdict::stop) {
    page.lines.line(std::string("STOP: ") + cautions::never_pressed, Emphasis::bad);
    return;
  }
  page.lines.wrapped(fmt::format("STOP: {}.", all_reasons_to_stop(page.answer, page.figures)),
                     under_verdict, Emphasis::bad);
  page.lines.wrapped(fmt::format("Never press it flat, charge it or build with it: no plan is "
                                 "given. Set it aside outdoors, away from anything that burns. "
                                 "And always: {}",
                                 cautions::never_pressed),
                     {.first = 6, .next = 6});
}

void write_title(TextPage& page) {
  const Answer& answer = page.answer;
  const std::string command = fmt::format("stackfit {}  ", code(answer.question));
  const std::string right = fmt::format("{}, built at {}", counted(answer.cell_count, "cell"),
                                        percent(answer.build_charge));
  const std::size_t room = line_width - command.size() - right.size() - 2;
  const std::string title =
      shortened(answer.title.empty() ? "(no title)" : printable(answer.title), room);
  const std::size_t gap = line_width - command.size() - display_width(title) - right.size();
  page.lines.line(command + title + std::string(gap, ' ') + right);
  page.lines.blank();
}

void write_verdict(TextPage& page) {
  page.lines.wrapped(verdict_sentence(page.answer, page.figures, page.all), under_verdict,
                     page.answer.inside() ? Emphasis::good : Emphasis::bad);
  write_getting_in(page);
}

}  // namespace stackfit::cli
