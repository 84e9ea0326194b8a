// SPDX-License-Identifier: GPL-3.0-or-later
//
// Width and height, terminals, hold and weight of the box as ordered.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/answer_words.hpp"
#include "cli/text_lines.hpp"
#include "cli/view_size_parts.hpp"

namespace stackfit::cli {
namespace {

std::string_view plain(SectionPart part) {
  switch (part) {
    case SectionPart::faces:
      return "cells";
    case SectionPart::face_tolerance:
    case SectionPart::height_tolerance:
      return "their tolerance";
    case SectionPart::between_rows:
      return "between rows";
    case SectionPart::side_sheets:
      return "two side sheets";
    case SectionPart::slide_room:
      return "room to slide";
    case SectionPart::floor_sheet:
      return "floor sheet";
    case SectionPart::raise:
      return "raise over the floor's corners";
    case SectionPart::cell_height:
      return "cells";
    case SectionPart::terminals:
      return "terminals";
    case SectionPart::over_terminals:
      return "room over them";
    case SectionPart::lid_sheet:
      return "lid sheet";
    case SectionPart::paint:
      return "paint";
    case SectionPart::rounding:
      return "rounded up";
  }
  return "";
}

std::string_view plain(SectionPlace place) {
  switch (place) {
    case SectionPlace::side_foot:
      return "where the side walls meet the floor";
    case SectionPlace::end_foot:
      return "where the end walls meet the floor";
    case SectionPlace::upright:
      return "in the upright corners";
    case SectionPlace::end_wall:
      return "on an end wall";
    case SectionPlace::side_wall:
      return "on a side wall";
    case SectionPlace::floor:
      return "on the floor";
    case SectionPlace::lid:
      return "under the lid";
    case SectionPlace::width:
      return "in the width";
    case SectionPlace::height:
      return "in the height";
  }
  return "";
}

std::string step_words(const SectionRemedy& remedy) {
  switch (remedy.step) {
    case SectionStep::raise_floor:
      return fmt::format("raise the cells by {:.1f} mm of sheet", remedy.mm);
    case SectionStep::stand_off:
      return fmt::format("{:.1f} mm more between end cell and wall", remedy.mm);
    case SectionStep::spacer_plate:
      return fmt::format("a spacer plate of {:.1f} mm with holes over the heads", remedy.mm);
    case SectionStep::holes_over_heads:
      return fmt::format("holes of {:.1f} mm depth over the heads", remedy.mm);
    case SectionStep::wider:
      return fmt::format("{:.1f} mm wider", remedy.mm);
    case SectionStep::higher:
      return fmt::format("{:.1f} mm higher", remedy.mm);
    case SectionStep::insulating_sheet:
      return fmt::format("an insulating sheet of {:.1f} mm", remedy.mm);
  }
  return "";
}

std::string conflict_words(const SectionConflict& conflict) {
  std::string text;
  switch (conflict.code) {
    case SectionConflictCode::corner_filled:
      text = fmt::format("a cell's edge stands {:.1f} mm in the {} {}", conflict.mm,
                         conflict.feature == CornerFeature::bead ? "weld bead" : "bend",
                         plain(conflict.place));
      break;
    case SectionConflictCode::head_in_the_way:
      text = fmt::format("screw heads stand {:.1f} mm into the cells {}", conflict.mm,
                         plain(conflict.place));
      break;
    case SectionConflictCode::no_sheet:
      text = fmt::format("bare metal {}", plain(conflict.place));
      break;
    case SectionConflictCode::does_not_go_in:
      text = fmt::format("{:.1f} mm short {}: the cells do not go in", conflict.mm,
                         plain(conflict.place));
      break;
    case SectionConflictCode::room_short:
      text = fmt::format("{:.1f} mm of the wanted room is missing {}", conflict.mm,
                         plain(conflict.place));
      break;
  }
  for (std::size_t i = 0; i < conflict.steps.size(); ++i) {
    text += (i == 0 ? ": " : ", or ") + step_words(conflict.steps[i]);
  }
  return text;
}

std::string sum_words(const InnerSize& size) {
  std::string text;
  for (const SectionPartSize& part : size.parts) {
    if (part.mm == 0) {
      continue;
    }
    text += fmt::format("{}{:g}{} {}", text.empty() ? "" : " + ", part.mm, part.assumed ? " *" : "",
                        plain(part.part));
  }
  return text;
}

void write_section(SizePage& page) {
  const BoxSection& section = *page.answer.section;
  page.lines.blank();
  page.lines.line("WIDTH AND HEIGHT", Emphasis::heading);
  const auto total = [](std::string_view what, const InnerSize& size) {
    return fmt::format("{} {} = {}", what, ordered(size.nominal_mm), sum_words(size));
  };
  page.lines.wrapped(total("width", section.width), item_indent);
  page.lines.wrapped(total("height", section.height), item_indent);
  for (const SectionConflict& conflict : section.conflicts) {
    page.lines.wrapped(conflict_words(conflict), item_indent, Emphasis::bad);
  }
  const Levelling& level = section.levelling;
  if (page.all && level.span_mm > 0) {
    page.lines.wrapped(
        fmt::format("cell tops may differ by {:.1f} mm: level them under a top plate "
                    "with the kit's sheets",
                    level.span_mm),
        item_indent);
  }
}

void write_terminals(SizePage& page) {
  const auto& slots = page.answer.details->terminals;
  if (!slots || slots->pairs.empty()) {
    return;
  }
  const TerminalPair& worst = slots->pairs[slots->worst_pair];
  const TerminalPair& moving = slots->pairs[slots->most_moving];
  std::string text = fmt::format(
      "{:.1f} mm apart{}, worst pair {}-{} off by {:+.1f}; over the swing they move "
      "{:.2f}",
      slots->wanted_mm, slots->wanted_said ? " wanted" : "", worst.cell, worst.cell + 1,
      worst.deviation_mm, moving.movement_mm);
  if (slots->play_mm) {
    text += worst.goes_on.value_or(true)
                ? fmt::format("; the bars go on (play {:.1f})", *slots->play_mm)
                : fmt::format("; the bar does NOT go on (play {:.1f}): slot of {:.1f} mm",
                              *slots->play_mm, slots->slot_needed_mm.value_or(0));
  }
  if (slots->flexible_due && !slots->flexible_said) {
    text +=
        fmt::format("; use flexible bars, a rigid one bears {:.1f} *", slots->rigid_movement_mm);
  }
  write_item(page, "terminals", text);
}

void write_hold(SizePage& page) {
  const auto& hold = page.answer.details->hold;
  if (!hold) {
    return;
  }
  std::string text = fmt::format(
      "by friction alone {:.1f} g across, in the loosest state ({:.2f} friction{}); "
      "{:g} g is asked",
      hold->holds_g, hold->friction, size_star(page.answer, Assumed::friction_low), hold->asked_g);
  if (!hold->across.holds) {
    text += fmt::format(": side blocks must carry {}", page.figures.force(hold->across.missing_n));
  }
  if (!hold->up.holds) {
    text += fmt::format("; thrown upwards a strap or the lid must carry {}",
                        page.figures.force(hold->up.missing_n));
  }
  write_item(page, "hold", text);
}

void write_weight(SizePage& page) {
  const Lifting& lifting = page.answer.details->lifting;
  std::string text =
      fmt::format("{:.0f} kg, box {:.1f} of it{}", lifting.total_kg, lifting.masses.box_kg,
                  size_star(page.answer, Assumed::cell_density));
  switch (lifting.whole) {
    case Lifters::one_person:
      text += fmt::format(": one person (up to {:.0f} kg)", lifting.one_kg);
      break;
    case Lifters::two_persons:
      text += fmt::format(": two persons (one: up to {:.0f} kg)", lifting.one_kg);
      break;
    case Lifters::in_parts:
      text += fmt::format(": more than two persons may lift ({:.0f} kg): build it where it stays",
                          lifting.two_kg);
      break;
  }
  write_item(page, "weight", text);
}

}  // namespace

void write_inside(SizePage& page) {
  if (page.answer.section && (page.all || !page.answer.section->conflicts.empty() ||
                              !page.answer.section->width.said_mm)) {
    write_section(page);
  }
  if (page.answer.details) {
    page.lines.blank();
    page.lines.line(page.answer.frame ? "IN THE FRAME" : "IN THE BOX", Emphasis::heading);
    write_terminals(page);
    write_hold(page);
    write_weight(page);
  }
}

}  // namespace stackfit::cli
