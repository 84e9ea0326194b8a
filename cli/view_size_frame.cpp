// SPDX-License-Identifier: GPL-3.0-or-later
//
// What to order for a clamp frame: rods, plates, springs and the force to bring it to.
#include <fmt/format.h>

#include <algorithm>

#include "cli/answer_words.hpp"
#include "cli/view_size_parts.hpp"

namespace stackfit::cli {
namespace {

void write_rods(SizePage& page, const RodOrder& rods) {
  if (rods.thread_mm == 0) {
    write_item(page, "rods",
               "no thread from M5 to M16 holds and stands clear of the cells: move "
               "the rods outwards, or take a stronger grade");
    return;
  }
  std::string text = fmt::format(
      "{} of M{:g}, grade {}{}{}: {} each at the band's top, {:.0f} % of their proof "
      "load (half at most *); holes {:g} mm",
      rods.count, rods.thread_mm, rods.grade, rods.grade_assumed ? " *" : "",
      rods.length_mm > 0 ? fmt::format(", {:g} mm long", rods.length_mm) : "",
      page.figures.force(rods.greatest_each_n), 100 * rods.proof_share, rods.hole_mm);
  if (rods.said_mm && !rods.said_holds) {
    text += fmt::format(". The M{:g} you named do not hold", *rods.said_mm);
  }
  write_item(page, "rods", text);
}

std::string at_top(const PlateTrial& plate, const Figures& figures) {
  std::string text = fmt::format("bows {} of {}", figures.length_number(plate.bow_mm),
                                 figures.length(plate.most_bow_mm));
  if (plate.most_stress_mpa > 0) {
    text += fmt::format(", stress {:.1f} of {:.1f} MPa", plate.stress_mpa, plate.most_stress_mpa);
  }
  return text;
}

std::string why_it_fails(const PlateTrial& plate) {
  if (!plate.solved) {
    return "far too thin";
  }
  std::string why = plate.bow_holds() ? "" : fmt::format("bows {:.1f} mm", plate.bow_mm);
  if (!plate.stress_holds()) {
    why += fmt::format("{}{:.1f} MPa", why.empty() ? "" : " and ", plate.stress_mpa);
  }
  return why;
}

void write_plates(SizePage& page, const PlateOrder& plates) {
  std::string text =
      fmt::format("{:g} mm, two alike: at the band's top, {}, {}", plates.chosen.thickness_mm,
                  page.figures.force(plates.force_n), at_top(plates.chosen, page.figures));
  if (plates.lasting_wood) {
    text += " (wood under a lasting load bears half *)";
  }
  if (plates.next_thinner) {
    text += fmt::format("; {:g} mm fails: {}", plates.next_thinner->thickness_mm,
                        why_it_fails(*plates.next_thinner));
  }
  if (!plates.chosen.holds()) {
    text += ". No thickness of your stock holds: take thicker plates, or metal ones";
  }
  write_item(page, "plates", text);
}

std::string window_words(const std::vector<ForceWindow>& windows, const Figures& figures) {
  std::string text;
  for (const ForceWindow& window : windows) {
    text +=
        fmt::format("{}{} to {}", text.empty() ? "" : ", ",
                    figures.force_number(window.force_n.low), figures.force(window.force_n.high));
  }
  return text;
}

void write_springs(SizePage& page, const FrameOrder& frame) {
  if (frame.springs) {
    const SpringOrder& s = *frame.springs;
    write_item(
        page, "springs",
        fmt::format("{} disc springs {:g} x {:g} x {:g} mm, h0 {:g}: on each rod {} in series, {} "
                    "nested; stack {:.1f} mm free, squeezed by {:.1f} of {:.1f} mm at most",
                    s.discs, s.disc.outer_mm, s.disc.inner_mm, s.disc.thickness_mm,
                    s.disc.cone_height_mm, s.disc.series, s.disc.parallel, s.free_length_mm,
                    s.deflection_mm, s.recommended_travel_mm));
  } else if (frame.problem == FrameProblem::no_springs) {
    write_item(page, "springs",
               fmt::format("none in the table of disc springs holds the band over the swing of "
                           "{}: a wider range, or less charge in use",
                           page.figures.length(frame.breathing_mm)));
  }
  if (frame.rods_alone.empty()) {
    write_item(page, "",
               fmt::format("rods alone cannot: the cells breathe {}, and no force keeps every "
                           "state in the band",
                           page.figures.length(frame.breathing_mm)));
  } else {
    write_item(
        page, "",
        fmt::format("rods alone would do with {}", window_words(frame.rods_alone, page.figures)));
  }
}

void write_force(SizePage& page, const FrameOrder& frame) {
  if (frame.problem != FrameProblem::none || !frame.plan || !frame.plan->frame) {
    return;
  }
  const FrameResult& set = *frame.plan->frame;
  std::string text =
      fmt::format("{}, all rods together; {} keep every state in the band",
                  page.figures.force(frame.force_n), window_words(frame.windows, page.figures));
  if (frame.makers_force_n) {
    text += fmt::format("; the maker's {} {}", page.figures.force(*frame.makers_force_n),
                        frame.makers_force_holds ? "is among them" : "is NOT among them");
  }
  write_item(page, "force", text);
  text = fmt::format("{:.1f} turns of each nut past snug; {:.1f} mm over both plates",
                     set.turns_past_snug, set.overall_length_mm);
  if (set.has_springs) {
    text = fmt::format("springs {:.1f} mm long, from {:.1f} free; then ",
                       set.as_built.spring_length_mm, set.spring_free_length_mm) +
           text;
  }
  write_item(page, "set by", text);
}

}  // namespace

void write_frame_order(SizePage& page) {
  const FrameOrder& frame = *page.answer.frame;
  page.lines.blank();
  page.lines.line("WHAT TO ORDER", Emphasis::heading);
  write_rods(page, frame.rods);
  if (frame.plates) {
    write_plates(page, *frame.plates);
    if (frame.plates->chosen.holds()) {
      write_springs(page, frame);
      write_force(page, frame);
    }
  }
  if (!page.answer.as_ordered.kit.empty()) {
    std::string text;
    for (const KitShim& shim : page.answer.as_ordered.kit) {
      text += fmt::format("{}{} of {}", text.empty() ? "" : ", ", shim.count,
                          page.figures.thickness(shim.sheet.thickness_mm));
    }
    write_item(page, "sheets", text + ", one in every gap");
  }
  if (frame.plan) {
    page.lines.blank();
    write_size_pressures(
        page, {frame.plan->lowest.face_pressure_mpa, frame.plan->as_built.face_pressure_mpa,
               frame.plan->highest.face_pressure_mpa, frame.plan->life_span});
  }
}

}  // namespace stackfit::cli
