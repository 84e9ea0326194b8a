// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/view_assumed.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "cli/figures.hpp"
#include "cli/text_lines.hpp"
#include "cli/view_text_parts.hpp"

namespace stackfit::cli {
namespace {

constexpr TextLines::Indent beneath{.first = 4, .next = 4};

double worth(const AssumedUse& use) {
  return std::max(std::fabs(use.worth_low_mpa), std::fabs(use.worth_high_mpa));
}

std::string_view unit_text(const Assumption& entry) {
  return entry.unit == "1" ? std::string_view{} : entry.unit;
}

// Four figures are enough for any value of the table; 4e-05 reads badly, 40e-6 does not.
std::string value_text(double value) {
  constexpr double millionth = 1e-6;
  const bool tiny = value != 0 && std::fabs(value) < 1000 * millionth;
  return tiny ? fmt::format("{:.4g}e-6", value / millionth) : fmt::format("{:.4g}", value);
}

std::string taken_text(const AssumedUse& use, const Assumption& entry) {
  const std::string_view unit = unit_text(entry);
  std::string text = value_text(use.value);
  if (!unit.empty()) {
    text += fmt::format(" {}", unit);
  }
  return text;
}

std::string span_text(const Assumption& entry) {
  return entry.low < entry.high
             ? fmt::format("{} to {}", value_text(entry.low), value_text(entry.high))
             : "";
}

std::string signed_number(double mpa, const Figures& figures) {
  return (mpa < 0 ? "-" : "+") + figures.pressure_number(std::fabs(mpa));
}

// How far a figure may be off: drawn from, and in no other figure of the answer.
bool only_doubt(Assumed id) {
  constexpr std::array doubts{Assumed::box_reading,   Assumed::shim_thickness, Assumed::edge_fixity,
                              Assumed::said_softness, Assumed::said_swing,     Assumed::said_figure,
                              Assumed::frame_force};
  return std::ranges::find(doubts, id) != doubts.end();
}

std::string worth_text(const AssumedUse& use, const Assumption& entry, const Figures& figures) {
  if (only_doubt(use.id)) {
    return "for the chance alone";
  }
  if (!(entry.low < entry.high)) {
    return "a choice: no span";
  }
  if (worth(use) == 0) {
    return fmt::format("moves the highest by 0 {}", figures.pressure_unit());
  }
  return fmt::format("{} to {} {} on the highest", signed_number(use.worth_low_mpa, figures),
                     signed_number(use.worth_high_mpa, figures), figures.pressure_unit());
}

void write_one(TextLines& lines, const AssumedLine& one) {
  lines.wrapped(fmt::format("* {}: {}{}", one.what, one.taken,
                            one.span.empty() ? "" : fmt::format(" ({})", one.span)),
                {.first = 0, .next = 4}, Emphasis::heading);
  if (!one.worth.empty()) {
    lines.wrapped(one.worth, beneath);
  }
  lines.wrapped(
      one.source.empty() ? one.why + "." : fmt::format("{}. From: {}.", one.why, one.source),
      beneath);
}

std::vector<AssumedUse> largest_first(const Answer& answer) {
  std::vector<AssumedUse> uses = answer.assumed;
  std::ranges::stable_sort(uses, std::ranges::greater{}, worth);
  return uses;
}

}  // namespace

std::vector<AssumedLine> assumed_lines(const Answer& answer, const Figures& figures) {
  std::vector<AssumedLine> lines;
  for (const AssumedUse& use : largest_first(answer)) {
    const Assumption& entry = assumption(use.id);
    lines.push_back({std::string(entry.plain), taken_text(use, entry), span_text(entry),
                     worth_text(use, entry, figures), std::string(entry.why),
                     std::string(entry.source)});
  }
  for (const AssumedWord& word : answer.assumed_words) {
    lines.push_back({printable(word.what), printable(word.taken), "", "", printable(word.why), ""});
  }
  return lines;
}

void write_assumed(TextPage& page) {
  const Answer& answer = page.answer;
  TextLines& lines = page.lines;
  if (answer.assumed.empty() && answer.assumed_words.empty()) {
    lines.line("Nothing in this answer is assumed: every figure was given.");
    return;
  }
  lines.wrapped(
      "ASSUMED, not the maker's: value, 95 % span, what the span moves the highest face "
      "pressure by, why. Most worth first. What you give in the build replaces it.",
      {});
  lines.blank();
  for (const AssumedLine& one : assumed_lines(answer, page.figures)) {
    write_one(lines, one);
  }
  lines.blank();
}

std::string assumed_text(const Answer& answer, const TextStyle& style) {
  TextPage page{answer, Figures(style.units), style.all, TextLines(style.colour)};
  write_stop(page);
  write_assumed(page);
  write_cautions(page);
  return page.lines.text();
}

}  // namespace stackfit::cli
