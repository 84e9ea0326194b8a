// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/view_check_box.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "cli/answer_words.hpp"

namespace stackfit::cli {
namespace {

constexpr TextLines::Indent flowing{.first = 2, .next = 4};
constexpr TextLines::Indent nested{.first = 4, .next = 6};
constexpr TextLines::Indent step{.first = 2, .next = 5};
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

std::string newtons(double newton) {
  return fmt::format("{:.0f} N", newton);
}

/// Newtons, and beside them the unit asked for; kgf is what a spring balance shows.
std::string pull(double newton, const Figures& figures) {
  const std::string asked = figures.force(newton);
  return fmt::format("{} ({})", newtons(newton), asked);
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
  BoxText(const BoxCheck& check, TextLines& lines, const Figures& figures)
      : check_(check), lines_(lines), figures_(figures) {}

  void write() {
    lines_.line(
        fmt::format("{}{}", check_.clamp_frame ? "IN THE CLAMP FRAME" : "IN THE BOX", band()),
        Emphasis::heading);
    if (check_.outcome == BoxOutcome::several_rows) {
      lines_.wrapped(
          "not checked: rows side by side share their walls; ask `stackfit pressure` of the whole "
          "box",
          flowing);
      return;
    }
    today();
    if (check_.out.empty()) {
      row(check_.row);
    } else {
      cells_that_come_out();
    }
    replacements();
    order();
    taking_out();
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

  void today() {
    if (!check_.taking_out) {
      return;
    }
    const TakingOut& out = *check_.taking_out;
    if (check_.clamp_frame) {
      lines_.wrapped(fmt::format("as it stands the frame is taken to pull with {}, as it was set: "
                                 "read the springs or `gauge` it",
                                 pull(out.today.force_n, figures_)),
                     flowing);
      return;
    }
    const bool fits_so = check_.outcome == BoxOutcome::fits_as_it_is;
    if (!(out.today.force_n > 0)) {
      lines_.wrapped(
          fmt::format("today, at {} charge, nothing is pressed: {} of room",
                      charge_text(out.today.charge), figures_.length(out.today.loose_by_mm)),
          flowing);
      return;
    }
    lines_.wrapped(
        fmt::format("{}today, at {} charge, it presses with {}, {} on the face{}: {}",
                    out.press ? "THE BOX HAS BECOME A PRESS: " : "", charge_text(out.today.charge),
                    figures_.pressure(out.today.face_pressure_mpa),
                    pull(out.today.force_n, figures_), at_its_worst(out.today),
                    plain(out.today.standing)),
        flowing, out.press ? Emphasis::bad : Emphasis::none);
    if (out.press && fits_so) {
      lines_.wrapped("that is beyond the charge it is used at: bring it back into that window",
                     flowing, Emphasis::bad);
    }
  }

  /// A limit is passed locally first: then that figure is told too.
  [[nodiscard]] std::string at_its_worst(const StateResult& state) const {
    if (state.standing != Standing::above_limit || !check_.band.limit_mpa) {
      return {};
    }
    return fmt::format(" and {} where it is most, judged {} against {}",
                       figures_.pressure(state.highest_local_mpa),
                       figures_.pressure(check_.band.judged(state.highest_local_mpa)),
                       figures_.pressure(*check_.band.limit_mpa));
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
      lines_.wrapped(
          fmt::format("as placed it sees {}: {}", sees(*row.as_placed, figures_),
                      row.as_placed->spares_swollen ? std::string(plain(row.as_placed->worst))
                                                    : "a swollen cell is pressed flat"),
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
                   flowing, Emphasis::bad);
    if (check_.replacements.empty()) {
      lines_.wrapped("no cell is left for this box", flowing, Emphasis::bad);
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
        flowing);
    lines_.wrapped(row + "   (+ -: terminal nearest you; pressure stays the same)",
                   {.first = 4, .next = 4});
    if (order.groups_change) {
      lines_.wrapped("cells change their parallel group by it: match capacities first", flowing);
    }
  }

  void taking_out() {
    if (!check_.taking_out) {
      return;
    }
    lines_.line("TAKING A CELL OUT", Emphasis::heading);
    const TakingOut& out = *check_.taking_out;
    if (!check_.clamp_frame) {
      by_hand(out);
    }
    switch (out.way) {
      case WayToOpen::draw_out:
      case WayToOpen::draw_out_at_charge:
        break;
      case WayToOpen::end_wall:
        end_wall(out);
        break;
      case WayToOpen::frame_nuts:
        nuts(out);
        break;
      case WayToOpen::nothing_opens:
        nothing_opens(out);
        break;
    }
    lines_.wrapped("never a lever, hammer, mallet or jack, on any part of a cell", flowing);
  }

  void by_hand(const TakingOut& out) {
    const bool can = out.way == WayToOpen::draw_out;
    lines_.wrapped(fmt::format("by hand today: {} of pull, a hand may {}: {}",
                               pull(out.at_today.pull_n, figures_),
                               pull(out.pull_limit_n, figures_), can ? "yes, straight up" : "no"),
                   flowing, can ? Emphasis::good : Emphasis::none);
    if (can) {
      return;
    }
    if (out.at_charge) {
      lines_.wrapped(
          fmt::format("at {} charge: {} of pull, yes; bring the row there first, slowly",
                      charge_text(out.at_charge->charge), pull(out.at_charge->pull_n, figures_)),
          flowing, Emphasis::good);
    } else if (out.charge_barred) {
      lines_.wrapped(
          "at another charge: no; a cell shows a sign and is neither charged nor "
          "discharged",
          flowing);
    } else {
      lines_.wrapped(fmt::format("at no charge {} {}: {} at the easiest, {}",
                                 out.discharge_only ? "from today's down to" : "down to",
                                 charge_text(out.lowest_charge), pull(out.easiest.pull_n, figures_),
                                 charge_text(out.easiest.charge)),
                     flowing);
    }
  }

  [[nodiscard]] std::string comes_free(const TakingOut& out) const {
    const std::string span = out.released_span_n ? fmt::format(", cells soft to stiff * {} to {},",
                                                               newtons(out.released_span_n->low),
                                                               newtons(out.released_span_n->high))
                                                 : "";
    return fmt::format("{}{} comes free and the row springs back {}",
                       pull(out.released_force_n, figures_), span,
                       figures_.length(out.spring_back_mm));
  }

  void end_wall(const TakingOut& out) {
    lines_.wrapped("so it is opened by its end wall: " + comes_free(out), flowing);
    if (!out.charge_barred && out.easiest.charge != out.today.charge) {
      lines_.wrapped(
          fmt::format("at {} charge less comes free, {}: {} it there first, slowly",
                      charge_text(out.easiest.charge), pull(out.easiest.force_n, figures_),
                      out.easiest.charge < out.today.charge ? "discharge" : "charge"),
          flowing);
    }
    lines_.wrapped("1. bus bars off, a cap on every terminal", step);
    lines_.wrapped(fmt::format("2. two clamps from end wall to end wall, on boards, to hold {}",
                               pull(out.most_released_n(), figures_)),
                   step);
    lines_.wrapped("3. the wall's screws a turn each, round and round, until all are out", step);
    lines_.wrapped(fmt::format("4. the clamps a turn each, in turn, over {}; then the wall and the "
                               "cells come out by themselves",
                               figures_.length(out.spring_back_mm)),
                   step);
  }

  void nuts(const TakingOut& out) {
    lines_.wrapped(fmt::format("by its nuts, a turn each in rotation, {:.1f} turns in all on each "
                               "of {} rods: {}",
                               out.turns_to_free, out.rods, comes_free(out)),
                   flowing);
  }

  void nothing_opens(const TakingOut& out) {
    if (!out.opens_said) {
      lines_.wrapped(
          "so it must be opened, and whether an end wall comes off was not said: say "
          "box.opens",
          flowing, Emphasis::bad);
      return;
    }
    lines_.wrapped("and no wall comes off: no cell can be got out of this box as it is", flowing,
                   Emphasis::bad);
    if (out.charge_barred) {
      lines_.wrapped("1. outdoors, away from anything that burns; do not charge or discharge it",
                     step);
    } else {
      lines_.wrapped(
          fmt::format("1. bring it to {} charge, slowly, where it presses least, {}; "
                      "then leave it disconnected",
                      charge_text(out.easiest.charge), pull(out.easiest.force_n, figures_)),
          step);
    }
    lines_.wrapped(
        "2. have the box cut open by someone qualified for batteries, with clamps over "
        "both end walls first, away from the cells, no sparks into it",
        step);
    lines_.wrapped(fmt::format("3. tell them: {}", comes_free(out)), step);
  }

  const BoxCheck& check_;
  TextLines& lines_;
  const Figures& figures_;
  TextLines::Indent indent_ = flowing;  ///< of what is said of one row
};

}  // namespace

void check_box_text(const BoxCheck& check, TextLines& lines, const Figures& figures) {
  BoxText(check, lines, figures).write();
}

}  // namespace stackfit::cli
