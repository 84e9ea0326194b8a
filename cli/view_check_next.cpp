// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the log says, what leaving cells out does, and what to do next.
#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "cli/answer_words.hpp"
#include "cli/check_words.hpp"
#include "cli/days.hpp"
#include "cli/text_lines.hpp"
#include "cli/view_check_parts.hpp"
#include "solver/robust.hpp"

namespace stackfit::cli {
namespace {

std::string date_in_words(const CellCondition& cell, const Figures& figures) {
  if (!cell.reaches) {
    return cell.growth->readings < 3 ? "two readings give no date" : "none within 10 years";
  }
  const ReachedOn& reached = *cell.reaches;
  const std::string latest =
      reached.latest ? "to " + day_text(*reached.latest) : std::string("or later, perhaps never");
  return fmt::format("{} {}: {} ({} {})", code(reached.followed),
                     figures.thickness_number(reached.level_mm), day_text(reached.on),
                     day_text(reached.earliest), latest);
}

void write_growth_line(CheckPage& page, const CellCondition& cell, std::size_t width) {
  const CheckAnswer& answer = page.answer;
  const Growth& growth = *cell.growth;
  const double months =
      static_cast<double>((answer.next_check - answer.today).count()) / days_per_month;
  const double gain_mm = growth.mm_per_month * months;
  const std::string columns =
      fmt::format("  {}  {:<6} {:>+8.3f} {:>6} {:>3}  {}  ", padded(short_id(cell.id), width),
                  code(growth.followed), 100 * growth.per_month,
                  (gain_mm < 0 ? "" : "+") + page.figures.thickness_number(gain_mm),
                  growth.readings, day_text(growth.first));
  write_beside(page.lines, columns, date_in_words(cell, page.figures));
}

// The cells that grow fastest first; a long list only where all is asked for.
std::vector<const CellCondition*> growing(const CheckAnswer& answer, bool all) {
  constexpr std::size_t shown_at_most = 4;
  std::vector<const CellCondition*> cells;
  for (const CellCondition& cell : answer.cells) {
    if (cell.growth) {
      cells.push_back(&cell);
    }
  }
  std::ranges::stable_sort(cells, std::ranges::greater{},
                           [](const CellCondition* cell) { return cell->growth->per_month; });
  if (!all && cells.size() > shown_at_most) {
    cells.resize(shown_at_most);
  }
  return cells;
}

std::string volts(double value) {
  return fmt::format("{:.1f} V", value);
}

void write_voltages(CheckPage& page, const LeftOut& out) {
  if (out.after.series == 0) {
    page.lines.wrapped("No group keeps a cell: nothing is left of this battery.", item_indent);
    return;
  }
  const std::string count =
      out.after.series == out.before.series
          ? fmt::format("Still {} in series", out.after.series)
          : fmt::format("{} in series become {}", out.before.series, out.after.series);
  page.lines.wrapped(fmt::format("{}: {} nominal *, charged to {} *.", count,
                                 volts(out.after.nominal_v), volts(out.after.charge_v)),
                     item_indent);
  if (out.after.series == out.before.series) {
    return;
  }
  page.lines.wrapped(
      fmt::format("THE OLD CHARGER, {}{}, would put {:.2f} V on each cell; {:.2f} V * is the most. "
                  "{}",
                  volts(out.charger_v), out.charger_said ? "" : " *", out.charger_per_cell_v,
                  out.cell_charge_v,
                  out.charger_too_high
                      ? fmt::format("That is FIRE: never connect it. Charger, BMS and cut-offs for "
                                    "{} in series, or like cells in their places.",
                                    out.after.series)
                      : "Set BMS and cut-offs for the new count."),
      item_indent, out.charger_too_high ? Emphasis::bad : Emphasis::none);
}

void write_groups(CheckPage& page, const LeftOut& out) {
  if (out.short_groups.empty()) {
    return;
  }
  std::string groups;
  for (const ShortGroup& group : out.short_groups) {
    groups += fmt::format("{}group {} keeps {} of {}", groups.empty() ? "" : ", ", group.group,
                          group.left, out.parallel);
  }
  page.lines.wrapped(
      fmt::format("{}. The whole string has the capacity of its smallest group, {:.0f} %, and that "
                  "group's cells carry {:.2f} times the current: fuse and cut-offs to match, or "
                  "a like cell in each gap. Regrouped, the cells make {} whole groups.",
                  groups, 100 * out.capacity_left, out.current_up, out.left / out.parallel),
      item_indent);
}

bool has_spoken(const CellCondition& cell, CellRule rule) {
  return std::ranges::any_of(cell.spoken,
                             [rule](const RuleSpoken& spoken) { return spoken.rule == rule; });
}

// What would set a watched cell aside, as a size to measure against.
std::string sizes_to_watch(const CheckAnswer& answer, const Figures& figures) {
  constexpr std::size_t shown_at_most = 4;
  std::string text;
  std::size_t shown = 0;
  const double most = assumption(Assumed::dome_set_aside).value / 100;
  const double slack = assumption(Assumed::dome_slack).value / 100;
  for (const CellCondition& cell : answer.cells) {
    const bool swells = has_spoken(cell, CellRule::swelling) || has_spoken(cell, CellRule::growth);
    if (cell.verdict != CellVerdict::watch || !swells || !cell.dome_mm || shown == shown_at_most) {
      continue;
    }
    const double limit_mm = *cell.edge_mm + (most + slack) * answer.nominal_mm;
    text += fmt::format("{}{} at {}", shown++ == 0 ? "" : ", ", short_id(cell.id),
                        figures.thickness(limit_mm));
  }
  return text.empty() ? text : " Set aside once the middle reads more: " + text + ".";
}

std::string ids_with(const CheckAnswer& answer, CellRule rule) {
  constexpr int named_at_most = 12;
  std::string text;
  int count = 0;
  for (const CellCondition& cell : answer.cells) {
    if (has_spoken(cell, rule) && ++count <= named_at_most) {
      text += (text.empty() ? "" : ", ") + short_id(cell.id);
    }
  }
  return count <= named_at_most ? text : fmt::format("{} and {} more", text, count - named_at_most);
}

void write_missing(CheckPage& page) {
  const CheckAnswer& answer = page.answer;
  const std::string signs = ids_with(answer, CellRule::signs_not_said);
  if (!signs.empty()) {
    page.lines.wrapped(fmt::format("{}: smell, leak, heat, dent, soft, noisy, colour? Write it, or "
                                   "none, under signs: without it no cell is better than watch.",
                                   signs),
                       item_indent);
  }
  std::string middle = ids_with(answer, CellRule::swelling_not_measured);
  if (!middle.empty()) {
    page.lines.wrapped(fmt::format("{}: read the edge 10 mm in from the rim and the cell between "
                                   "two flat boards, light hand: their difference is the dome.",
                                   middle),
                       item_indent);
  }
}

// Cells that only the meter tells apart.
void write_unlike_others(CheckPage& page) {
  std::string ids;
  for (const CellCondition& cell : page.answer.cells) {
    if (cell.verdict == CellVerdict::watch &&
        (has_spoken(cell, CellRule::low_voltage) || has_spoken(cell, CellRule::low_capacity) ||
         has_spoken(cell, CellRule::high_resistance))) {
      ids += (ids.empty() ? "" : ", ") + short_id(cell.id);
    }
  }
  if (!ids.empty()) {
    page.lines.wrapped(fmt::format("{}: bring it alone to the others' voltage, let it rest 7 days, "
                                   "read again. What has fallen behind again is set aside.",
                                   ids),
                       item_indent);
  }
}

void write_not_compared(CheckPage& page) {
  const auto fewest = static_cast<int>(fewest_to_compare);
  const Compared& compared = page.answer.compared;
  std::string text;
  const auto add = [&](int cells, const char* what) {
    if (cells < fewest) {
      text += fmt::format("{}{}", text.empty() ? "" : ", ", what);
    }
  };
  add(compared.voltages, "rested voltage");
  add(compared.capacities, "capacity");
  add(compared.resistances, "resistance");
  if (!text.empty()) {
    page.lines.wrapped(fmt::format("Not compared (fewer than {} cells have it): {}.", fewest, text),
                       item_indent);
  }
}

void write_unlike(CheckPage& page) {
  int unlike = 0;
  for (const CellCondition& cell : page.answer.cells) {
    unlike += cell.unlike;
  }
  if (unlike > 0) {
    page.lines.wrapped(
        fmt::format("{} of the log left out: charge not said, or more than {:.0f} points * from "
                    "today's.",
                    counted(unlike, "line"), 100 * assumption(Assumed::like_charge).value),
        item_indent);
  }
}

// Those that grow too, and more slowly than the last one listed.
void write_slower(CheckPage& page, std::size_t listed) {
  const auto growing = std::ranges::count_if(
      page.answer.cells, [](const CellCondition& cell) { return cell.growth.has_value(); });
  const auto slower = static_cast<int>(growing) - static_cast<int>(listed);
  if (slower > 0) {
    page.lines.line(fmt::format("  {} more slowly: --all", counted(slower, "cell")));
  }
}

}  // namespace

void write_growth(CheckPage& page) {
  if (!page.answer.log_given) {
    return;
  }
  const std::vector<const CellCondition*> cells = growing(page.answer, page.all);
  const std::size_t width = id_width(page.answer);
  page.lines.line("GROWTH by the log: like compared with like only, fastest first",
                  Emphasis::heading);
  if (!cells.empty()) {
    page.lines.line(fmt::format("  {}  by      %/month   next  of  since       limit reached *",
                                padded("cell", width)));
  }
  for (const CellCondition* cell : cells) {
    write_growth_line(page, *cell, width);
  }
  write_slower(page, cells.size());
  if (cells.empty()) {
    page.lines.wrapped(
        fmt::format("Nothing to compare yet: two like readings {} days apart.", shortest_span_days),
        item_indent);
  }
  write_unlike(page);
  page.lines.blank();
}

void write_left_out(CheckPage& page) {
  if (!page.answer.left_out) {
    return;
  }
  const LeftOut& out = *page.answer.left_out;
  page.lines.line(fmt::format("LEAVING {} OUT OF {}", out.cells - out.left, out.cells),
                  Emphasis::heading);
  if (out.series_said) {
    write_voltages(page, out);
    write_groups(page, out);
  } else {
    page.lines.wrapped(
        fmt::format("changes the voltages, and what the old charger does to each cell. How is it "
                    "wired? Not said: --set series={}, or series and parallel.",
                    out.cells),
        item_indent);
  }
  page.lines.wrapped(
      fmt::format("A gap takes a like cell (same maker, capacity, resistance and charge as the "
                  "others; parallel cells first brought to one voltage) or a rigid insulated block "
                  "{} thick and as large as the face. Never shims.",
                  page.figures.thickness(page.answer.filler_mm)),
      item_indent);
  page.lines.blank();
}

void write_next(CheckPage& page) {
  const CheckAnswer& answer = page.answer;
  page.lines.line("NEXT", Emphasis::heading);
  if (answer.count(CellVerdict::set_aside) > 0) {
    page.lines.wrapped(
        fmt::format("Set aside: {}. Terminals taped, one by one, outdoors or in a place that may "
                    "burn out; to a battery collection point. Not charged, not sold on.",
                    ids_of(answer, CellVerdict::set_aside)),
        item_indent);
  }
  write_missing(page);
  if (answer.count(CellVerdict::watch) > 0) {
    page.lines.wrapped(fmt::format("Watch: {}.{}", ids_of(answer, CellVerdict::watch),
                                   sizes_to_watch(answer, page.figures)),
                       item_indent);
  }
  write_unlike_others(page);
  write_not_compared(page);
  page.lines.wrapped(fmt::format("Measure again by {}, at the same charge and in the same way{}.",
                                 day_text(answer.next_check),
                                 answer.log_given ? "" : "; --log log.csv keeps the readings"),
                     item_indent);
  if (!answer.box_unusable.empty()) {
    page.lines.wrapped("The box was not judged: " + answer.box_unusable, item_indent);
  } else if (answer.has_box && !answer.box) {
    page.lines.wrapped("The box was not judged: it needs the cells' face and thickness.",
                       item_indent);
  } else if (answer.has_box) {
    page.lines.wrapped("What these cells see in their box: stackfit pressure, on the same file.",
                       item_indent);
  }
  page.lines.blank();
}

}  // namespace stackfit::cli
