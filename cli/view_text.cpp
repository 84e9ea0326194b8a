// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/view_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "cli/view_text_parts.hpp"

namespace stackfit::cli {
namespace {

// Each of several rows with its own plan and pressures.
void write_rows(TextPage& page) {
  for (const Answer& row : page.answer.rows) {
    const int last = row.first_cell + row.cell_count - 1;
    page.lines.line(fmt::format("ROW {} OF {}, cells {} to {}", row.row_number,
                                page.answer.rows.size(), row.first_cell, last),
                    Emphasis::heading);
    if (!row.has_plan) {
      page.lines.line("  no plan");
      page.lines.blank();
      continue;
    }
    TextPage part{row, page.figures, page.all, std::move(page.lines)};
    write_plan(part);
    write_pressure(part);
    page.lines = std::move(part.lines);
  }
}

void write_body(TextPage& page) {
  const Answer& answer = page.answer;
  if (!answer.rows.empty()) {
    write_rows(page);
  } else if (answer.has_plan) {
    write_plan(page);
    write_pressure(page);
  }
  const bool long_form = page.all || answer.question == Question::pressure;
  if (answer.has_plan && long_form) {
    write_states(page);
    write_curve(page);
  }
  if (page.all) {
    write_cells(page);
  }
  if (answer.inside() || page.all) {
    write_moves(page);
  }
  write_sure(page);
  write_warnings(page);
  if (answer.question == Question::pick && answer.inside()) {
    write_steps(page);
    write_remedies(page);
    write_looser(page);
  }
}

}  // namespace

bool rests_on(const Answer& answer, Assumed id) {
  return std::ranges::find(answer.assumed, id, &AssumedUse::id) != answer.assumed.end();
}

std::string_view star(bool assumed) {
  return assumed ? " *" : "";
}

std::string text_of(const Answer& answer, const TextStyle& style) {
  TextPage page{answer, Figures(style.units), style.all, TextLines(style.colour)};
  write_stop(page);
  write_title(page);
  if (answer.verdict == Verdict::stop) {
    // No plan, no pressure, no steps: nothing that could be taken for leave to press.
    write_cells(page);
  } else {
    write_verdict(page);
    write_failure(page);
    write_body(page);
  }
  write_cautions(page);
  return page.lines.text();
}

}  // namespace stackfit::cli
