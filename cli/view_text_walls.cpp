// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/view_text_walls.hpp"

#include <fmt/format.h>

namespace stackfit::cli {
namespace {

constexpr TextLines::Indent hanging{.first = 2, .next = 6};
constexpr double n_mm_in_n_m = 1000;

std::string_view name_of(const WallResult& wall) {
  return wall.both ? "end walls bow" : wall.last ? "last wall bows" : "first wall bows";
}

// `, 65 MPa at the surface (yields at 110 *)`.
std::string stress_words(double stress_mpa, std::string_view where, double yield_mpa) {
  std::string text = fmt::format(", {:.0f} MPa {}", stress_mpa, where);
  if (yield_mpa > 0) {
    text += fmt::format(" (yields at {:.0f} *)", yield_mpa);
  }
  return text;
}

// One state of the rods: `as built 527 N a rod, springs 25.6 mm long`.
std::string rods_words(std::string_view when, const RodsInState& rods, bool springs,
                       const Figures& figures) {
  std::string text = fmt::format("{} {} a rod", when, figures.force(rods.rod_force_n));
  if (springs) {
    text += fmt::format(", springs {} long", figures.thickness(rods.spring_length_mm));
  }
  if (rods.beyond_travel) {
    text += " (solid)";
  } else if (rods.beyond_recommended) {
    text += " (past their working travel)";
  }
  return text;
}

}  // namespace

std::string wall_words(const PlanResult& plan, const Figures& figures) {
  std::string text;
  for (const WallResult& wall : plan.walls) {
    text += fmt::format("{}{} {} at most", text.empty() ? "" : "; ", name_of(wall),
                        figures.length(wall.bow_mm));
    if (wall.by_measured_bow) {
      continue;
    }
    text += stress_words(
        wall.stress_mpa,
        wall.stress_in_second_plate ? "at the second plate's surface" : "at the surface",
        wall.yield_mpa);
    if (wall.rib_stress_mpa) {
      text += stress_words(*wall.rib_stress_mpa, "at a rib's outer edge", wall.rib_yield_mpa);
    }
  }
  return text;
}

std::string frame_length(const FrameResult& frame, const Figures& figures) {
  return fmt::format("{} over both plates at the rods when built",
                     figures.length(frame.overall_length_mm));
}

void write_frame(TextPage& page, const FrameResult& frame) {
  const Figures& figures = page.figures;
  std::string set =
      fmt::format("bring the {} rods to {} together: ", frame.rods, figures.force(frame.force_n));
  if (frame.has_springs) {
    set += fmt::format("springs from {} to {}, or ", figures.thickness(frame.spring_free_length_mm),
                       figures.thickness(frame.as_built.spring_length_mm));
  }
  set += fmt::format("{:.1f} turns past snug, evenly, or {} over the plates", frame.turns_past_snug,
                     figures.length(frame.overall_length_mm));
  if (frame.torque_nmm) {
    set += fmt::format("; torque {:.1f} to {:.1f} N.m *", frame.torque_nmm->low / n_mm_in_n_m,
                       frame.torque_nmm->high / n_mm_in_n_m);
  } else {
    set += "; no torque: at so small a force it says nothing";
  }
  page.lines.wrapped(set, hanging);
  page.lines.wrapped(fmt::format("rods: {}; {}; {}; they bear {} each",
                                 rods_words("as built", frame.as_built, frame.has_springs, figures),
                                 rods_words("lowest", frame.lowest, frame.has_springs, figures),
                                 rods_words("highest", frame.highest, frame.has_springs, figures),
                                 figures.force(frame.proof_load_n)),
                     hanging);
}

}  // namespace stackfit::cli
