// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>

#include "cli/answer_words.hpp"
#include "cli/view_text_parts.hpp"
#include "cli/words_remedy.hpp"

namespace stackfit::cli {
namespace {

constexpr TextLines::Indent listed{.first = 2, .next = 4};

std::string why_out_of_reach(const Answer& answer, const Figures& figures) {
  const Failure& failure = answer.failure;
  if (failure.swing_mm > failure.band_takes_mm) {
    return fmt::format("the cells breathe {}, the band takes {}: no total of shims helps",
                       figures.length(failure.swing_mm), figures.length(failure.band_takes_mm));
  }
  // The swing alone would go in: heat, settling pads or their grade's spread take the rest.
  return fmt::format(
      "the cells breathe {}, the band takes {}, but with heat and what pads lose "
      "no one total of shims serves both the lowest and the highest",
      figures.length(failure.swing_mm), figures.length(failure.band_takes_mm));
}

std::string why_not_in_kit(const Failure& failure, const Figures& figures) {
  if (!failure.wanted_total_mm) {
    return "the kit cannot make up the total that is needed";
  }
  return fmt::format("the shims must come to {} to {} in all; the nearest the kit makes is {}",
                     figures.thickness_number(failure.wanted_total_mm->low),
                     figures.thickness(failure.wanted_total_mm->high),
                     figures.thickness(failure.nearest_total_mm));
}

std::string why_method_fails(BuildMethod method) {
  switch (method) {
    case BuildMethod::hand:
      return "the last cell cannot be pushed in by hand";
    case BuildMethod::end_wall_last:
      return "the end wall is to go on last, but none comes off";
    case BuildMethod::clamp:
      return "clamped until the last cell goes in, the others would be pressed too hard";
    case BuildMethod::walls_spread:
      return "the walls do not give, so they cannot be spread";
  }
  return {};
}

// What is placed is judged as it stands: which state is worst, not what shims might do.
std::string worst_of_placed(const Answer& answer) {
  if (!answer.plan.bare_metal.empty()) {
    return "metal is left bare";
  }
  if (!answer.plan.spares_swollen) {
    return "a swollen cell is pressed flat: take sheets out, or the cell";
  }
  if (answer.plan.worst != Standing::inside) {
    return std::string(plain(answer.plan.worst));
  }
  return why_method_fails(answer.insertion.method);
}

// Why a way does not work.
std::string failing_way(const WayOutResult& way, bool opens_said, const Figures& figures) {
  switch (way.way) {
    case WayOut::end_wall_last:
      return opens_said ? "end wall last: no end wall comes off"
                        : "end wall last: not said whether one comes off; say `opens`";
    case WayOut::walls_spread:
      return way.force_n > 0 ? fmt::format("walls spread: {} would bend them too far",
                                           figures.force(way.force_n))
                             : "walls spread: they do not give";
    case WayOut::lower_charge:
      return "lower charge: even the lowest allowed is not enough";
    case WayOut::clamp:
      return fmt::format("clamping the others: {} would be too much for them",
                         figures.pressure(way.face_pressure_mpa));
    case WayOut::slip_film:
      return fmt::format("slip film: still {} of push", figures.force(way.force_n));
  }
  return {};
}

void write_ways_out(TextPage& page) {
  for (const WayOutResult& way : page.answer.insertion.ways_out) {
    page.lines.wrapped(
        (way.works ? "works: " + sentence(way, page.figures)
                   : "no: " + failing_way(way, page.answer.insertion.opens_said, page.figures)),
        listed);
    if (way.works && !page.answer.insertion.works) {
      page.lines.verbatim("    " + shell_option(set_argument(way)));
    }
  }
}

// Of a cell that only a flattening plan would take in.
void write_way_with_swollen(TextPage& page) {
  for (const CellResult& cell : page.answer.cells) {
    if (!cell.beyond_watch || cell.refused) {
      continue;
    }
    page.lines.wrapped(
        fmt::format("- leave cell {} out, or take a like cell for it; it is never shimmed or "
                    "pressed until it lies flat",
                    shortened(printable(cell.id), 20)),
        listed);
  }
  page.lines.wrapped(
      "- pads that give at both ends leave a dome its room: name them in `pads` and ask again",
      listed);
  page.lines.wrapped("- stackfit check says what each cell is still good for", listed);
}

}  // namespace

std::string why_not(const Answer& answer, const Figures& figures) {
  const Failure& failure = answer.failure;
  if (answer.question == Question::pressure && answer.has_plan) {
    return worst_of_placed(answer);
  }
  switch (failure.rule) {
    case FailedRule::none:
      return std::string(plain(answer.plan.worst));
    case FailedRule::too_few_insulating_sheets:
      return fmt::format("{} need a full-face insulating sheet, the kit has {}",
                         counted(failure.sheets_due, "gap"), failure.sheets_on_hand);
    case FailedRule::pressure_out_of_reach:
      return why_out_of_reach(answer, figures);
    case FailedRule::total_not_in_kit:
      return why_not_in_kit(failure, figures);
    case FailedRule::build_method:
      return why_method_fails(answer.insertion.method);
    case FailedRule::metal_left_bare:
      return "bare metal is left: every can is insulated from walls, sides, floor and neighbours";
    case FailedRule::uneven_coverage:
      return "the sheets press too small a part of the face";
    case FailedRule::walls_bow_too_far:
      return "the end walls bow beyond three times their thickness, and no figure holds for that";
    case FailedRule::rods_overloaded:
      return "the rods are pulled beyond their proof load; take thicker or stronger ones";
    case FailedRule::frame_force:
      return "at this force the frame does not keep your band";
    case FailedRule::swollen_cell:
      return "a cell is too swollen to be pressed at all";
    case FailedRule::swollen_pressed_flat:
      return "your band is reached only where a swollen cell is pressed flat: refused";
    case FailedRule::signs:
      return "a cell shows a sign of harm and must not be pressed";
  }
  return {};
}

void write_failure(TextPage& page) {
  const Answer& answer = page.answer;
  const bool method_fails = answer.failure.rule == FailedRule::build_method;
  if (method_fails || page.all) {
    write_ways_out(page);
  }
  if (answer.failure.rule == FailedRule::swollen_pressed_flat) {
    write_way_with_swollen(page);
  }
  if (!answer.inside() && answer.question == Question::pick) {
    write_remedies(page);
  }
  page.lines.blank();
}

}  // namespace stackfit::cli
