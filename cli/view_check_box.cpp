// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/view_check_box.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "cli/answer_words.hpp"
#include "cli/view_check_box_parts.hpp"

namespace stackfit::cli {
namespace {

constexpr TextLines::Indent nested{.first = 4, .next = 6};
constexpr std::size_t longest_name = 20;

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    text += i == 0 ? "" : i + 1 == words.size() ? " and " : ", ";
    text += printable(words[i]);
  }
  return text;
}

std::string cells_named(const std::vector<std::string>& ids) {
  return (ids.size() == 1 ? "cell " : "cells ") + joined(ids);
}

std::string sheet_name(const SheetChange& sheet, const Figures& figures) {
  return sheet.name.empty() ? figures.thickness_number(sheet.thickness_mm)
                            : shortened(printable(sheet.name), longest_name);
}

/// `take out one 0.50, put in one 0.30; 1.30 -> 1.10 mm`.
std::string change_words(const GapChange& gap, const Figures& figures) {
  std::string out;
  std::string in;
  for (const SheetChange& sheet : gap.sheets) {
    const int by = sheet.after - sheet.before;
    std::string& list = by < 0 ? out : in;
    list += fmt::format("{}{} {}", list.empty() ? "" : ", ", count_word(std::abs(by)),
                        sheet_name(sheet, figures));
  }
  std::string text = out.empty() ? "" : "take out " + out;
  text += out.empty() || in.empty() ? "" : ", ";
  text += in.empty() ? "" : "put in " + in;
  return fmt::format("{}; {} -> {}", text, figures.thickness_number(gap.before_mm),
                     figures.thickness(gap.after_mm));
}

/// `1-2, 2-3: put in one 0.80; ...`: gaps where the same is done share a line.
std::vector<std::string> change_lines(const ChangedSheets& changed, const Figures& figures) {
  std::vector<std::pair<std::string, std::string>> lines;  // gaps, what is done there
  for (const GapChange& gap : changed.gaps) {
    const std::string words = change_words(gap, figures);
    const auto same =
        std::ranges::find_if(lines, [&](const auto& line) { return line.second == words; });
    if (same == lines.end()) {
      lines.emplace_back(gap.gap, words);
    } else {
      same->first += ", " + gap.gap;
    }
  }
  std::vector<std::string> text;
  for (const auto& [gaps, words] : lines) {
    text.push_back(gaps + ": " + words);
  }
  return text;
}

std::string sees(const PlanResult& plan, const Figures& figures) {
  return fmt::format("{} to {} in use", figures.pressure_number(plan.lowest.face_pressure_mpa),
                     figures.pressure(plan.highest.face_pressure_mpa));
}

/// Soft and stiff cells, where the squeeze law is assumed.
std::string brackets(const RowCheck& row, const Figures& figures) {
  if (!row.soft || !row.stiff) {
    return {};
  }
  const double low = std::min(row.soft->lowest_mpa, row.stiff->lowest_mpa);
  const double high = std::max(row.soft->highest_mpa, row.stiff->highest_mpa);
  return fmt::format(" (cells soft to stiff *: {} to {}{})", figures.pressure_number(low),
                     figures.pressure_number(high),
                     row.soft->inside && row.stiff->inside ? ", inside" : ", not inside");
}

std::string_view rule_words(FailedRule rule) {
  switch (rule) {
    case FailedRule::none:
      return "no plan passes";
    case FailedRule::too_few_insulating_sheets:
      return "too few insulating sheets: each gap needs one over the full face";
    case FailedRule::pressure_out_of_reach:
      return "no total of shims keeps the band from the lowest to the highest";
    case FailedRule::total_not_in_kit:
      return "the shims on hand cannot make up the total";
    case FailedRule::build_method:
      return "it cannot be put together as said: see build.method";
    case FailedRule::metal_left_bare:
      return "metal is left bare";
    case FailedRule::uneven_coverage:
      return "the sheets press too small a part of the face";
    case FailedRule::walls_bow_too_far:
      return "the end walls bow beyond what any figure holds for";
    case FailedRule::rods_overloaded:
      return "the rods are pulled beyond their proof load";
    case FailedRule::frame_force:
      return "at this force the frame does not keep your band";
    case FailedRule::swollen_cell:
    case FailedRule::swollen_pressed_flat:
      return "your band is reached only where a swollen cell is pressed flat";
    case FailedRule::signs:
      return "a cell shows a sign of harm";
  }
  return {};
}

class BoxText {
 public:
  explicit BoxText(BoxPage page)
      : page_(page), check_(page.check), lines_(page.lines), figures_(page.figures) {}

  void write() {
    lines_.line(
        fmt::format("{}{}", check_.clamp_frame ? "IN THE CLAMP FRAME" : "IN THE BOX", band()),
        Emphasis::heading);
    if (check_.outcome == BoxOutcome::several_rows) {
      lines_.wrapped(
          "not checked: rows side by side share their walls; ask `stackfit pressure` of the whole "
          "box",
          box_lines);
      return;
    }
    write_today(page_);
    if (check_.out.empty()) {
      row(check_.row);
    } else {
      cells_that_come_out();
    }
    replacements();
    order();
    write_taking_out(page_);
  }

 private:
  [[nodiscard]] std::string band() const {
    if (check_.outcome == BoxOutcome::several_rows) {
      return {};
    }
    const BandResult& band = check_.band;
    std::string text =
        fmt::format("   your band {} to {}{}", figures_.pressure_number(band.low_mpa),
                    figures_.pressure(band.high_mpa), band.assumed ? " *" : "");
    if (band.limit_mpa) {
      text += fmt::format(", never above {}", figures_.pressure(*band.limit_mpa));
    }
    return text;
  }

  void row(const RowCheck& row) {
    switch (row.outcome) {
      case BoxOutcome::fits_as_it_is:
        lines_.wrapped(fmt::format("FITS AS IT IS{}: {}{}; leave the sheets where they are", star(),
                                   sees(*row.as_placed, figures_), brackets(row, figures_)),
                       indent_, Emphasis::good);
        break;
      case BoxOutcome::fits_with_sheets_changed:
        changes(row);
        break;
      case BoxOutcome::only_by_flattening:
        lines_.wrapped(
            fmt::format("REFUSED: {}, {}. It comes out, or the maker names a lower range",
                        rule_words(row.failure.rule), cells_named(row.watched)),
            indent_, Emphasis::bad);
        break;
      case BoxOutcome::cannot_be_put_together:
        write_cannot_be_put_together(page_, row, indent_);
        break;
      default:
        does_not_fit(row);
        break;
    }
    life(row);
    watched(row);
  }

  void changes(const RowCheck& row) {
    const ChangedSheets& changed = *row.changes;
    if (row.placed && row.as_placed) {
      lines_.wrapped(fmt::format("as placed it sees {}: {}", sees(*row.as_placed, figures_),
                                 as_placed_is(row)),
                     indent_, Emphasis::bad);
    }
    lines_.wrapped(fmt::format("FITS WITH {}{}: then {}{}; shims {} -> {}",
                               row.placed ? "SHEETS CHANGED" : "THESE SHEETS", star(),
                               sees(*row.changed, figures_), brackets(row, figures_),
                               figures_.thickness_number(changed.before_mm),
                               figures_.thickness(changed.after_mm)),
                   indent_, Emphasis::good);
    for (const std::string& line : change_lines(changed, figures_)) {
      lines_.wrapped(line, {.first = indent_.first + 2, .next = indent_.next + 2});
    }
    if (row.placed) {
      lines_.wrapped(
          fmt::format("{} out, {} in{}", counted(changed.taken_out, "piece"), changed.put_in,
                      changed.fewest ? ": no fewer will do" : ": fewer may do"),
          indent_);
    }
  }

  [[nodiscard]] std::string as_placed_is(const RowCheck& row) const {
    if (row.insertion) {
      return fmt::format("inside, but what goes in cannot be got in: {}",
                         why_not_closed(*row.insertion, figures_));
    }
    return row.as_placed->spares_swollen ? std::string(plain(row.as_placed->worst))
                                         : "a swollen cell is pressed flat";
  }

  [[nodiscard]] std::string_view star() const { return check_.figures_assumed ? " *" : ""; }

  /// How long the plan lasts: what grows further is not taken back by any sheet.
  void life(const RowCheck& row) {
    const PlanResult* plan = row.plan();
    if (plan != nullptr && plan->life_span) {
      lines_.wrapped(fmt::format("inside until another {} of capacity is lost{}; then look again",
                                 life_text(*plan->life_span), check_.growth_assumed ? " *" : ""),
                     indent_);
    }
  }

  void does_not_fit(const RowCheck& row) {
    const Failure& failure = row.failure;
    std::string text = fmt::format("DOES NOT FIT: {}", rule_words(failure.rule));
    if (failure.rule == FailedRule::pressure_out_of_reach) {
      text +=
          fmt::format("; the cells breathe {}, the band takes {}",
                      figures_.length(failure.swing_mm), figures_.length(failure.band_takes_mm));
    }
    if (failure.rule == FailedRule::total_not_in_kit && failure.wanted_total_mm) {
      text += fmt::format("; shims must come to {} to {} in all, the nearest is {}",
                          figures_.thickness_number(failure.wanted_total_mm->low),
                          figures_.thickness(failure.wanted_total_mm->high),
                          figures_.thickness(failure.nearest_total_mm));
    }
    lines_.wrapped(text + "; `stackfit pick` lists what mends it", indent_, Emphasis::bad);
  }

  void watched(const RowCheck& row) {
    const PlanResult* plan = row.plan();
    if (row.watched.empty() || plan == nullptr) {
      return;
    }
    lines_.wrapped(
        fmt::format("{}: swollen, to be watched, not pressed flat: at most {} of the face touches, "
                    "{} where it does; read it again in a month",
                    cells_named(row.watched), charge_text(plan->swollen_contact),
                    figures_.pressure(plan->highest.highest_local_mpa)),
        indent_);
  }

  void cells_that_come_out() {
    std::vector<std::string> ids;
    for (const CellOut& cell : check_.out) {
      ids.push_back(cell.id);
    }
    lines_.wrapped(fmt::format("{} {} out. The place is never filled with shims", cells_named(ids),
                               ids.size() == 1 ? "comes" : "come"),
                   box_lines, Emphasis::bad);
    if (check_.replacements.empty()) {
      lines_.wrapped("no cell is left for this box", box_lines, Emphasis::bad);
    }
  }

  void replacements() {
    indent_ = nested;
    for (const ReplacementCheck& with : check_.replacements) {
      const bool like = with.with == Replacement::like_cell;
      lines_.line(like ? fmt::format("  with a like cell in each place, {} at the edge and flat:",
                                     figures_.thickness(with.thickness_mm))
                       : fmt::format("  with a rigid insulating block of {} in each place:",
                                     figures_.thickness(with.thickness_mm)));
      row(with.row);
      if (!like) {
        lines_.wrapped("with fewer cells it is another battery: look at voltages and charger first",
                       indent_);
      }
    }
  }

  void order() {
    if (!check_.order || check_.fitting() == nullptr) {
      return;
    }
    const CellOrder& order = *check_.order;
    if (!order.worth_it) {
      return;
    }
    std::string row;
    for (const OrderedPlace& place : order.places) {
      row += fmt::format("{}{}{}", row.empty() ? "" : "  ", printable(check_.order_ids[place.cell]),
                         place.plus_near_side ? '+' : '-');
    }
    lines_.wrapped(
        fmt::format("if it is apart anyway, a better order ({}): terminals within {} of even "
                    "spacing, now {}; swelling that faces swelling {} at most, now {}",
                    order.proven ? "none is better" : "best found",
                    figures_.length(order.after.deviation_mm),
                    figures_.length(order.before.deviation_mm),
                    figures_.length(order.after.facing_swelling_mm),
                    figures_.length(order.before.facing_swelling_mm)),
        box_lines);
    lines_.wrapped(row + "   (+ -: terminal nearest you; pressure stays the same)",
                   {.first = 4, .next = 4});
    if (order.groups_change) {
      lines_.wrapped("cells change their parallel group by it: match capacities first", box_lines);
    }
  }

  BoxPage page_;
  const BoxCheck& check_;
  TextLines& lines_;
  const Figures& figures_;
  TextLines::Indent indent_ = box_lines;  ///< of what is said of one row
};

}  // namespace

std::string newtons(double newton) {
  return fmt::format("{:.0f} N", newton);
}

std::string newtons_beside(double newton, const Figures& figures) {
  return fmt::format("{} ({})", newtons(newton), figures.force(newton));
}

void check_box_text(const BoxCheck& check, TextLines& lines, const Figures& figures, bool all) {
  BoxText({check, lines, figures, all}).write();
}

}  // namespace stackfit::cli
