// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/view_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <vector>

#include "cli/answer_words.hpp"
#include "cli/cautions.hpp"
#include "cli/check_words.hpp"
#include "cli/days.hpp"
#include "cli/view_check_box.hpp"
#include "cli/view_check_parts.hpp"

namespace stackfit::cli {
namespace {

constexpr std::size_t longest_id = 10;
constexpr std::size_t named_at_most = 12;
constexpr TextLines::Indent hanging{.first = 0, .next = 6};

// As written, with the day where it stands in the log.
std::string sign_of(const CellCondition& cell) {
  constexpr std::size_t longest_sign = 30;
  const auto spoken = std::ranges::find_if(cell.spoken, [](const RuleSpoken& rule) {
    return rule.rule == CellRule::sign_seen || rule.rule == CellRule::sign_in_log;
  });
  if (spoken == cell.spoken.end()) return {};
  const std::string sign = shortened(printable(spoken->words), longest_sign);
  return spoken->since ? fmt::format("{}, on {}", sign, day_text(*spoken->since)) : sign;
}

std::string signs_in_words(const CheckAnswer& answer) {
  constexpr int signs_named = 4;
  std::string text;
  int named = 0;
  int more = 0;
  for (const CellCondition& cell : answer.cells) {
    if (!cell.shows_sign) continue;
    if (named == signs_named) {
      ++more;
      continue;
    }
    text +=
        fmt::format("{}cell {} ({})", named++ == 0 ? "" : ", ", short_id(cell.id), sign_of(cell));
  }
  return more == 0 ? text : fmt::format("{} and {} more", text, more);
}

void write_stop(CheckPage& page) {
  if (!page.answer.any_sign()) {
    page.lines.line(std::string("STOP: ") + cautions::never_pressed, Emphasis::bad);
    return;
  }
  page.lines.wrapped(stop_sentence(page.answer), hanging, Emphasis::bad);
}

void write_title(CheckPage& page) {
  const CheckAnswer& answer = page.answer;
  const std::string right =
      fmt::format("{}, measured on {}", counted(static_cast<int>(answer.cells.size()), "cell"),
                  day_text(answer.today));
  const std::string command = "stackfit check  ";
  const std::size_t room = line_width - command.size() - right.size() - 2;
  const std::string title = shortened(printable(answer.title), room);
  page.lines.line(padded(command + title, line_width - right.size()) + right);
  page.lines.blank();
}

std::string verdict_sentence(const CheckAnswer& answer) {
  const int aside = answer.count(CellVerdict::set_aside);
  const int watched = answer.count(CellVerdict::watch);
  const int sound = answer.count(CellVerdict::no_fault_found);
  std::string text;
  if (aside > 0) {
    text = fmt::format("SET ASIDE {} of {}: {}. ", aside, answer.cells.size(),
                       ids_of(answer, CellVerdict::set_aside));
  }
  if (watched > 0) {
    text += fmt::format("{} {}: {}. ", aside > 0 ? "Watch" : "WATCH", watched,
                        ids_of(answer, CellVerdict::watch));
  }
  text += fmt::format("{} in {}.", text.empty() ? "NO FAULT FOUND" : "No fault found",
                      sound == 0 ? "none" : std::to_string(sound));
  if (sound > 0) {
    text.back() = ':';
    text += fmt::format(" {}.", cannot_clear);
  }
  return text + " (* is assumed: --assumed)";
}

std::string thickness_or_dash(const std::optional<double>& mm, const Figures& figures) {
  return mm ? figures.thickness_number(*mm) : "-";
}

void write_cells(CheckPage& page) {
  const CheckAnswer& answer = page.answer;
  const Figures& figures = page.figures;
  const std::size_t width = id_width(answer);
  page.lines.wrapped(fmt::format("THE CELLS, in {}; swollen in % of {}", figures.length_unit(),
                                 nominal_in_words(answer, figures)),
                     {.first = 0, .next = 2}, Emphasis::heading);
  page.lines.line(fmt::format("  {}  {:>6} {:>6} {:>7}  {:<14}  why", padded("cell", width), "edge",
                              "dome", "swollen", "verdict"));
  for (const CellCondition& cell : answer.cells) {
    const std::string swollen = cell.swelling ? fmt::format("{:.1f}", 100 * *cell.swelling) : "-";
    const std::string columns =
        fmt::format("  {}  {:>6} {:>6} {:>7}  {:<14}  ", padded(short_id(cell.id), width),
                    thickness_or_dash(cell.edge_mm, figures),
                    thickness_or_dash(cell.dome_mm, figures), swollen, plain(cell.verdict));
    write_beside(page.lines, columns, why(cell));
  }
  page.lines.blank();
}

std::string_view unit_of(const Assumption& entry) {
  return entry.unit == "1" ? std::string_view{} : entry.unit;
}

}  // namespace

std::string stop_sentence(const CheckAnswer& answer) {
  return fmt::format(
      "STOP: {}: outdoors now, away from anything that burns. Never charge, press or build with "
      "it. "
      "And always: {}",
      signs_in_words(answer), cautions::never_pressed);
}

void write_verdict(CheckPage& page) {
  const bool good = page.answer.verdict == CellVerdict::no_fault_found;
  page.lines.wrapped(verdict_sentence(page.answer), hanging, good ? Emphasis::good : Emphasis::bad);
  if (page.answer.box && page.answer.box_warns()) {
    page.lines.wrapped("THE BOX DOES NOT DO AS IT IS: see IN THE BOX.", hanging, Emphasis::bad);
  }
  page.lines.blank();
}

std::string nominal_in_words(const CheckAnswer& answer, const Figures& figures) {
  const std::string mm = figures.thickness(answer.nominal_mm);
  switch (answer.nominal_from) {
    case NominalFrom::data_sheet:
      return mm + ", the data sheet's";
    case NominalFrom::median_edge:
      return mm + " *, their median edge (--thickness)";
    case NominalFrom::median_highest:
      return mm + " *, their median (--thickness)";
    case NominalFrom::nothing:
      break;
  }
  return "a thickness not said (--thickness)";
}

std::string why(const CellCondition& cell) {
  std::string text;
  for (const RuleSpoken& spoken : cell.spoken) {
    text += (text.empty() ? "" : "; ") + reason(spoken);
  }
  return text.empty() ? cannot_clear : text;
}

std::string padded(std::string_view text, std::size_t width) {
  const std::size_t used = display_width(text);
  return std::string(text) + std::string(width > used ? width - used : 0, ' ');
}

void write_beside(TextLines& lines, const std::string& columns, const std::string& text) {
  lines.beside(columns, text);
}

std::size_t id_width(const CheckAnswer& answer) {
  std::size_t width = std::string_view("cell").size();
  for (const CellCondition& cell : answer.cells) {
    width = std::max(width, display_width(short_id(cell.id)));
  }
  return width;
}

std::string short_id(const std::string& id) {
  return shortened(printable(id), longest_id);
}

std::string ids_of(const CheckAnswer& answer, CellVerdict verdict) {
  std::string text;
  std::size_t named = 0;
  std::size_t more = 0;
  for (const CellCondition& cell : answer.cells) {
    if (cell.verdict != verdict) continue;
    if (named == named_at_most) {
      ++more;
    } else {
      text += (named++ == 0 ? "" : ", ") + short_id(cell.id);
    }
  }
  return more == 0 ? text : fmt::format("{} and {} more", text, more);
}

std::string text_of(const CheckAnswer& answer, const TextStyle& style) {
  CheckPage page{answer, Figures(style.units), style.all, TextLines(style.colour)};
  write_stop(page);
  write_title(page);
  write_verdict(page);
  write_cells(page);
  write_check_body(page);
  page.lines.wrapped(cautions::overruled, {});
  return page.lines.text();
}

void write_check_body(CheckPage& page) {
  write_growth(page);
  write_left_out(page);
  if (page.answer.box) {
    check_box_text(*page.answer.box, page.lines, page.figures, page.all);
    page.lines.blank();
  }
  write_next(page);
}

std::string assumed_text(const CheckAnswer& answer, const TextStyle& style) {
  CheckPage page{answer, Figures(style.units), style.all, TextLines(style.colour)};
  write_stop(page);
  write_assumed(page);
  page.lines.blank();
  page.lines.wrapped(cautions::overruled, {});
  return page.lines.text();
}

void write_assumed(CheckPage& page) {
  const CheckAnswer& answer = page.answer;
  page.lines.wrapped("ASSUMED, not the maker's: limits and figures behind the verdicts, and why.",
                     {});
  page.lines.blank();
  for (const Assumed id : answer.assumed) {
    const Assumption& entry = assumption(id);
    page.lines.wrapped(fmt::format("* {}: {:g} {}", entry.plain, entry.value, unit_of(entry)),
                       {.first = 0, .next = 4}, Emphasis::heading);
    page.lines.wrapped(fmt::format("{}. From: {}.", entry.why, entry.source),
                       {.first = 4, .next = 4});
  }
  if (answer.nominal_from == NominalFrom::median_edge ||
      answer.nominal_from == NominalFrom::median_highest) {
    page.lines.wrapped(
        fmt::format("* nominal thickness: {}", nominal_in_words(answer, page.figures)),
        {.first = 0, .next = 4}, Emphasis::heading);
  }
  if (!answer.chemistry_said) {
    page.lines.wrapped("* chemistry: LFP/graphite (--set cell.chemistry=NMC)",
                       {.first = 0, .next = 4}, Emphasis::heading);
  }
}

}  // namespace stackfit::cli
