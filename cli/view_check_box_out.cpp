// SPDX-License-Identifier: GPL-3.0-or-later
//
// How a row presses as it stands in its box, and how a cell is got out of it again.
#include <fmt/format.h>

#include <string>

#include "cli/answer_words.hpp"
#include "cli/view_check_box_parts.hpp"

namespace stackfit::cli {
namespace {

constexpr TextLines::Indent step{.first = 2, .next = 5};

class OutText {
 public:
  OutText(BoxPage& page, const TakingOut& out) : page_(page), out_(out) {}

  void today() {
    const TakingOut& out = out_;
    if (page_.check.clamp_frame) {
      page_.lines.wrapped(
          fmt::format("as it stands the frame is taken to pull with {}, as it was set: "
                      "read the springs or `gauge` it",
                      newtons_beside(out.today.force_n, page_.figures)),
          box_lines);
      return;
    }
    const bool fits_so = page_.check.outcome == BoxOutcome::fits_as_it_is;
    if (!(out.today.force_n > 0)) {
      page_.lines.wrapped(
          fmt::format("today, at {} charge, nothing is pressed: {} of room",
                      charge_text(out.today.charge), page_.figures.length(out.today.loose_by_mm)),
          box_lines);
      return;
    }
    page_.lines.wrapped(
        fmt::format("{}today, at {} charge, it presses with {}, {} on the face{}: {}",
                    out.press ? "THE BOX HAS BECOME A PRESS: " : "", charge_text(out.today.charge),
                    page_.figures.pressure(out.today.face_pressure_mpa),
                    newtons_beside(out.today.force_n, page_.figures), at_its_worst(out.today),
                    plain(out.today.standing)),
        box_lines, out.press ? Emphasis::bad : Emphasis::none);
    if (out.press && fits_so) {
      page_.lines.wrapped("that is beyond the charge it is used at: bring it back into that window",
                          box_lines, Emphasis::bad);
    }
  }

  /// A limit is passed locally first: then that figure is told too.
  [[nodiscard]] std::string at_its_worst(const StateResult& state) const {
    if (state.standing != Standing::above_limit || !page_.check.band.limit_mpa) {
      return {};
    }
    return fmt::format(" and {} where it is most, judged {} against {}",
                       page_.figures.pressure(state.highest_local_mpa),
                       page_.figures.pressure(page_.check.band.judged(state.highest_local_mpa)),
                       page_.figures.pressure(*page_.check.band.limit_mpa));
  }

  void taking_out() {
    page_.lines.line("TAKING A CELL OUT", Emphasis::heading);
    const TakingOut& out = out_;
    if (in_short()) {
      written_short(out);
      never_a_lever();
      return;
    }
    if (!page_.check.clamp_frame) {
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
    never_a_lever();
  }

  /// Nothing calls for it to be opened, and how it would be is long.
  [[nodiscard]] bool in_short() const {
    const bool is_long = out_.way == WayToOpen::end_wall ||
                         (out_.way == WayToOpen::nothing_opens && out_.opens_said);
    return is_long && !page_.all && !out_.press && page_.check.outcome == BoxOutcome::fits_as_it_is;
  }

  void written_short(const TakingOut& out) {
    const std::string by_hand = fmt::format("by hand no: {} of pull today, a hand may {}",
                                            newtons_beside(out.at_today.pull_n, page_.figures),
                                            newtons_beside(out.pull_limit_n, page_.figures));
    const std::string then =
        out.way == WayToOpen::end_wall
            ? fmt::format(
                  "By its end wall, with two clamps on first that hold {}: --all has the "
                  "steps, before a screw is turned",
                  newtons_beside(out.most_released_n(), page_.figures))
            : "And no wall comes off: no cell can be got out of this box as it is; --all says "
              "what then";
    page_.lines.wrapped(by_hand + ". " + then, box_lines);
  }

  void never_a_lever() {
    page_.lines.wrapped("never a lever, hammer, mallet or jack, on any part of a cell", box_lines);
  }

  void by_hand(const TakingOut& out) {
    const bool can = out.way == WayToOpen::draw_out;
    page_.lines.wrapped(fmt::format("by hand today: {} of pull, a hand may {}: {}",
                                    newtons_beside(out.at_today.pull_n, page_.figures),
                                    newtons_beside(out.pull_limit_n, page_.figures),
                                    can ? "yes, straight up" : "no"),
                        box_lines, can ? Emphasis::good : Emphasis::none);
    if (can) {
      return;
    }
    if (out.at_charge) {
      page_.lines.wrapped(
          fmt::format("at {} charge: {} of pull, yes; bring the row there first, slowly",
                      charge_text(out.at_charge->charge),
                      newtons_beside(out.at_charge->pull_n, page_.figures)),
          box_lines, Emphasis::good);
    } else if (out.charge_barred) {
      page_.lines.wrapped(
          "at another charge: no; a cell shows a sign and is neither charged nor "
          "discharged",
          box_lines);
    } else {
      page_.lines.wrapped(fmt::format("at no charge {} {}: {} at the easiest, {}",
                                      out.discharge_only ? "from today's down to" : "down to",
                                      charge_text(out.lowest_charge),
                                      newtons_beside(out.easiest.pull_n, page_.figures),
                                      charge_text(out.easiest.charge)),
                          box_lines);
    }
  }

  [[nodiscard]] std::string comes_free(const TakingOut& out) const {
    const std::string span = out.released_span_n ? fmt::format(", cells soft to stiff * {} to {},",
                                                               newtons(out.released_span_n->low),
                                                               newtons(out.released_span_n->high))
                                                 : "";
    return fmt::format("{}{} comes free and the row springs back {}",
                       newtons_beside(out.released_force_n, page_.figures), span,
                       page_.figures.length(out.spring_back_mm));
  }

  void end_wall(const TakingOut& out) {
    page_.lines.wrapped("so it is opened by its end wall: " + comes_free(out), box_lines);
    if (!out.charge_barred && out.easiest.charge != out.today.charge) {
      page_.lines.wrapped(
          fmt::format("at {} charge less comes free, {}: {} it there first, slowly",
                      charge_text(out.easiest.charge),
                      newtons_beside(out.easiest.force_n, page_.figures),
                      out.easiest.charge < out.today.charge ? "discharge" : "charge"),
          box_lines);
    }
    page_.lines.wrapped("1. bus bars off, a cap on every terminal", step);
    page_.lines.wrapped(
        fmt::format("2. two clamps from end wall to end wall, on boards, to hold {}",
                    newtons_beside(out.most_released_n(), page_.figures)),
        step);
    page_.lines.wrapped("3. the wall's screws a turn each, round and round, until all are out",
                        step);
    page_.lines.wrapped(
        fmt::format("4. the clamps a turn each, in turn, over {}; then the wall and the "
                    "cells come out by themselves",
                    page_.figures.length(out.spring_back_mm)),
        step);
  }

  void nuts(const TakingOut& out) {
    page_.lines.wrapped(
        fmt::format("by its nuts, a turn each in rotation, {:.1f} turns in all on each "
                    "of {} rods: {}",
                    out.turns_to_free, out.rods, comes_free(out)),
        box_lines);
  }

  void nothing_opens(const TakingOut& out) {
    if (!out.opens_said) {
      page_.lines.wrapped(
          "so it must be opened, and whether an end wall comes off was not said: say "
          "box.opens",
          box_lines, Emphasis::bad);
      return;
    }
    page_.lines.wrapped("and no wall comes off: no cell can be got out of this box as it is",
                        box_lines, Emphasis::bad);
    if (out.charge_barred) {
      page_.lines.wrapped(
          "1. outdoors, away from anything that burns; do not charge or discharge it", step);
    } else {
      page_.lines.wrapped(
          fmt::format("1. bring it to {} charge, slowly, where it presses least, {}; "
                      "then leave it disconnected",
                      charge_text(out.easiest.charge),
                      newtons_beside(out.easiest.force_n, page_.figures)),
          step);
    }
    page_.lines.wrapped(
        "2. have the box cut open by someone qualified for batteries, with clamps over "
        "both end walls first, away from the cells, no sparks into it",
        step);
    page_.lines.wrapped(fmt::format("3. tell them: {}", comes_free(out)), step);
  }

  BoxPage& page_;
  const TakingOut& out_;
};

}  // namespace

void write_today(BoxPage& page) {
  if (page.check.taking_out) {
    OutText(page, *page.check.taking_out).today();
  }
}

void write_taking_out(BoxPage& page) {
  if (page.check.taking_out) {
    OutText(page, *page.check.taking_out).taking_out();
  }
}

}  // namespace stackfit::cli
