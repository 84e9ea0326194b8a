// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/words_warning.hpp"

#include <fmt/format.h>

#include <cmath>

#include "cli/answer_words.hpp"
#include "cli/text_lines.hpp"

namespace stackfit::cli {
namespace {

constexpr std::size_t longest_name = 24;
// How finely to measure what is asked for: worth about a kilopascal on a row of eight.
constexpr double reading_step_mm = 0.05;
constexpr double wall_step_mm = 0.1;
// A sheet this much smaller than the face leaves the can's rim free (common practice).
constexpr double clear_of_rim_mm = 5;

// A plate's next step up, in tenths of a millimetre.
double next_hundredth(double times) {
  return std::ceil(times * 100) / 100;
}

double next_tenth_mm(double thickness_mm) {
  constexpr double tenths = 10;
  return std::ceil(thickness_mm * tenths) / tenths;
}

// What a warning's figures mean depends on its code (solver/warnings.cpp and the row's parts);
// the families below read them so.
struct Teller {
  const Warning& warning;
  const Figures& figures;

  [[nodiscard]] std::string where() const {
    return shortened(printable(warning.where), longest_name);
  }
  [[nodiscard]] std::string at_charge() const {
    return warning.charge < 0 ? std::string() : " at " + charge_text(warning.charge);
  }
  /// Rounded so that neither figure claims more than is so.
  [[nodiscard]] std::string not_exhaustive() const {
    constexpr double places = 100;
    const double found = std::floor(warning.size * places) / places;
    const double bound = std::ceil(warning.limit * places) / places;
    return fmt::format(
        "too many ways to try them all; best found: margin {:.2f}; no plan can have more than "
        "{:.2f}, a gap of {:.2f}; keep to 6 thicknesses",
        found, bound, bound - found);
  }
  /// `3 of 8`, where size counts cells out of limit.
  [[nodiscard]] std::string cells_of_all() const {
    return fmt::format("{:.0f} of {:.0f} cells", warning.size, warning.limit);
  }
  /// `add 0.30 mm of shims` or `take out 0.30 mm of shims`.
  [[nodiscard]] std::string shims() const {
    if (warning.where == "frame") {
      return warning.next_step > 0
                 ? fmt::format("bring the frame to {}", figures.force(warning.next_step))
                 : std::string("softer springs, or 1 more in series");
    }
    return fmt::format("{} {} of shims", warning.next_step < 0 ? "take out" : "add",
                       figures.thickness(std::fabs(warning.next_step)));
  }

  [[nodiscard]] std::string over(std::string_view what) const;
  [[nodiscard]] std::string of_pressing() const;
  [[nodiscard]] std::string of_walls() const;
  [[nodiscard]] std::string of_laws() const;
  [[nodiscard]] std::string of_measuring() const;
  [[nodiscard]] std::string of_parts() const;
};

std::string Teller::over(std::string_view what) const {
  const std::string mend =
      warning.where == "frame"
          ? shims()
          : fmt::format("take out {} of shims", figures.thickness(warning.next_step));
  return fmt::format("{}{}: {} as judged, {} over; {}", what, at_charge(),
                     figures.pressure(warning.limit + warning.size),
                     figures.pressure_number(warning.size), mend);
}

std::string Teller::of_pressing() const {
  switch (warning.code) {
    case WarningCode::below_band:
      return fmt::format("below your band{}: {}, {} short; {}", at_charge(),
                         figures.pressure(warning.limit - warning.size),
                         figures.pressure_number(warning.size), shims());
    case WarningCode::loose:
      return fmt::format("loose{}: {} of room; {}", at_charge(), figures.length(warning.size),
                         shims());
    case WarningCode::above_band:
      return over("above your band");
    case WarningCode::above_limit:
      return over("ABOVE THE MAKER'S LIMIT");
    case WarningCode::build_outside_assembly_range:
      return fmt::format("as built {}, the range for assembly ends at {}; {}",
                         figures.pressure(warning.size), figures.pressure(warning.limit), shims());
    case WarningCode::far_from_build_target:
      return fmt::format("as built {}, the maker says {}; to meet that {}",
                         figures.pressure(warning.size), figures.pressure(warning.limit), shims());
    case WarningCode::swing_exceeds_band:
      return fmt::format(
          "the cells breathe {}, the band takes {}; ask the maker for the range in "
          "use, or let a pad give {}",
          figures.length(warning.size), figures.length(warning.limit),
          figures.length(warning.size - warning.limit));
    case WarningCode::tolerance_narrower_than_swing:
      return fmt::format(
          "the +/- printed with the force takes {}, the cells breathe {}; ask the "
          "maker for the range in use, {} wider",
          figures.length(warning.limit), figures.length(warning.size),
          figures.length(warning.size - warning.limit));
    default:
      return {};
  }
}

std::string Teller::of_walls() const {
  switch (warning.code) {
    case WarningCode::walls_bow_far:
      return fmt::format(
          "{} bow {}, beyond half their {}: computed as stretching with it; take {} or thicker",
          where(), figures.length(warning.size), figures.length(warning.limit),
          figures.length(next_tenth_mm(warning.next_step)));
    case WarningCode::lid_left_out:
      return fmt::format(
          "the walls stretch, and what the screwed lid then holds is left out: the highest is "
          "higher and the lowest lower than shown; take walls of {} or more",
          figures.length(next_tenth_mm(warning.next_step)));
    case WarningCode::wall_stress:
      return fmt::format(
          "{}: {:.0f} MPa at the surface, {:.0f} is what its metal bears with a margin *; take {} "
          "or thicker, or ask its maker for the yield stress",
          where(), warning.size, warning.limit, figures.length(next_tenth_mm(warning.next_step)));
    case WarningCode::rib_stress:
      return fmt::format(
          "{}: {:.0f} MPa at the outer edge of a rib, {:.0f} is what its metal bears with a margin "
          "*; take wall and ribs {:.2f} times as thick, the ribs as much higher",
          where(), warning.size, warning.limit, next_hundredth(warning.next_step));
    case WarningCode::ribs_by_themselves:
      return fmt::format(
          "{} stretch as they bow, and a welded rib then counts by itself, the soft side: they bow "
          "{} or less; measure the bow under the row",
          where(), figures.length(warning.size));
    case WarningCode::stiffening_grows_too:
      return fmt::format(
          "{}: the thickness to take goes with what stiffens the wall: take all of it {:.2f} times "
          "as "
          "thick, ribs as much higher",
          where(), next_hundredth(warning.next_step));
    case WarningCode::wall_is_thick:
      return fmt::format(
          "{} {} thick on {} of span: shear, left out, adds a few per cent to the bow; measure the "
          "bow to {}",
          where(), figures.length(warning.size), figures.length(warning.limit),
          figures.length(wall_step_mm));
    case WarningCode::rod_overloaded:
      return fmt::format(
          "a rod pulls {}{}, it begins to stretch for good at {}; take a thicker one",
          figures.force(warning.size), at_charge(), figures.force(warning.limit));
    case WarningCode::springs_solid:
      return fmt::format(
          "the springs are pressed solid{}: nothing gives any more; take 1 more in series",
          at_charge());
    case WarningCode::rods_slack:
      return fmt::format("the rods hang slack{} by {}; springs with that much more travel",
                         at_charge(), figures.length(warning.size));
    default:
      return {};
  }
}

std::string Teller::of_laws() const {
  switch (warning.code) {
    case WarningCode::force_implausible:
      return fmt::format(
          "{} on the face is far above what cells are pressed with; read the data sheet's force "
          "again: a digit too many?",
          figures.pressure(warning.size));
    case WarningCode::terminals_do_not_meet:
      return fmt::format("terminals are up to {} off the bus bar's {}; slots or flexible bars",
                         figures.length(warning.size), figures.length(warning.limit));
    case WarningCode::bar_does_not_go_on:
      return fmt::format("bar {} does not go on: {} off, its holes take {}; {}", where(),
                         figures.length(warning.size), figures.length(warning.limit),
                         warning.next_step > 0
                             ? fmt::format("a slot of {}", figures.length(warning.next_step))
                             : "a longer slot or a flexible bar");
    case WarningCode::bar_must_flex:
      return fmt::format(
          "terminals {} move {} against each other in use (a rigid bar bears {} *); flexible bars "
          "on {}",
          where(), figures.length(warning.size), figures.length(warning.limit),
          counted(static_cast<int>(warning.next_step), "pair"));
    case WarningCode::cells_change_groups:
      return fmt::format(
          "{} moved change the parallel groups; match capacities within each group first, or set "
          "cells_may_move false",
          counted(static_cast<int>(warning.size), "cell"));
    case WarningCode::outside_squeeze_law:
      return fmt::format("{}{} is beyond what the softness law knows; stay below {}",
                         figures.pressure(warning.size), at_charge(),
                         figures.pressure(warning.limit));
    case WarningCode::pad_solid:
      return fmt::format("pad in {}: {}{} squeezes it solid; take one that is not by {}", where(),
                         figures.pressure(warning.size), at_charge(),
                         figures.pressure(warning.size));
    case WarningCode::rubber_outside_law:
      return fmt::format("rubber in {}: {}{} is beyond its law; stay below {}", where(),
                         figures.pressure(warning.size), at_charge(),
                         figures.pressure(warning.limit));
    case WarningCode::can_carries_load:
      if (warning.where == "rims") {
        return fmt::format(
            "the cans' rims carry {} of the force{}; a full film, shims {} smaller spare them",
            percent(warning.size), at_charge(), figures.length(clear_of_rim_mm));
      }
      return fmt::format("rims of {} carry load too; a full film, shims {} smaller spare them",
                         counted(static_cast<int>(warning.size), "cell"),
                         figures.length(clear_of_rim_mm));
    default:
      return {};
  }
}

std::string Teller::of_measuring() const {
  switch (warning.code) {
    case WarningCode::row_differs_from_sum:
      return fmt::format("the row reads {} {} than its cells' sum; measure it again at 3 places",
                         figures.length(std::fabs(warning.size)),
                         warning.size < 0 ? "less" : "more");
    case WarningCode::readings_may_be_pressed:
      return fmt::format("cells read {} thin, as if pressed ({}): were they? say `pressed`",
                         figures.length(std::fabs(warning.size)), figures.length(warning.limit));
    case WarningCode::readings_may_be_free:
      return fmt::format(
          "cells read {} thick, as if not pressed ({}): if so, say `edge` or `boards`",
          figures.length(std::fabs(warning.size)), figures.length(warning.limit));
    case WarningCode::dome_not_measured:
      return fmt::format("domes of {} not measured; read each between two boards to {}",
                         cells_of_all(), figures.thickness(reading_step_mm));
    case WarningCode::cells_not_measured:
      return fmt::format("{} not measured, taken at the data sheet's thickness *; read each to {}",
                         cells_of_all(), figures.thickness(reading_step_mm));
    case WarningCode::flat_at_boards_value:
      return fmt::format(
          "{} taken as flat *, edges not measured; read them to {} (edges {} "
          "thinner are common)",
          cells_of_all(), figures.thickness(reading_step_mm), figures.length(warning.next_step));
    case WarningCode::dome_of_one_face:
      return fmt::format("one face only read on {}: the other is taken alike *; read it too to {}",
                         cells_of_all(), figures.thickness(reading_step_mm));
    case WarningCode::dome_point_off:
      return fmt::format(
          "cell {}: point {:.0f} is {} {} the dome of the others and left out; read it again to {}",
          where(), warning.limit, figures.thickness(std::fabs(warning.size)),
          warning.size < 0 ? "below" : "above", figures.thickness(reading_step_mm));
    case WarningCode::dome_readings_differ:
      return fmt::format(
          "cell {}: its faces say a dome of {}, its thicknesses {}; is + outwards? read both again "
          "to {}",
          where(), figures.thickness(warning.size), figures.thickness(warning.limit),
          figures.thickness(reading_step_mm));
    case WarningCode::charge_guessed:
      return fmt::format(
          "charge when measured taken as {} *; know it within {:.0f} points: charge "
          "one cell full, count the Ah down",
          percent(warning.charge), warning.size * 100);
    case WarningCode::signs_not_said:
      return fmt::format("signs not said of {}; look for smell, leak, heat, dents, write `signs`",
                         cells_of_all());
    case WarningCode::no_force_given:
      return fmt::format(
          "no force or range was given: the band is made from {} *; ask the maker for both",
          figures.pressure(warning.size));
    case WarningCode::swelling_near_watch:
      return fmt::format(
          "cell {} is swollen by {}, not pressed from {} on; read it again to {}, watch it",
          where(), figures.length(warning.size), figures.length(warning.limit),
          figures.thickness(reading_step_mm));
    case WarningCode::box_readings_differ:
      return fmt::format("inside lengths differ by {}, their mean is used; measure to {}",
                         figures.length(warning.size), figures.length(warning.limit));
    case WarningCode::ask_when_force_applies:
      return fmt::format(
          "the data sheet does not say when its {} applies; ask the maker: at "
          "assembly, always, or never above",
          figures.force(warning.size));
    default:
      return {};
  }
}

std::string Teller::of_parts() const {
  switch (warning.code) {
    case WarningCode::swollen_cell:
      if (warning.next_step > 0) {
        return fmt::format(
            "cell {} may be swollen by {} (watch from {}), its edge is not known; measure the edge "
            "to {}, do not press it",
            where(), figures.length(warning.size), figures.length(warning.limit),
            figures.thickness(reading_step_mm));
      }
      return fmt::format(
          "cell {} is swollen by {} (set aside from {}); set this 1 cell aside "
          "outdoors, do not press or charge it",
          where(), figures.length(warning.size), figures.length(warning.limit));
    case WarningCode::swollen_pressed_flat:
      return fmt::format(
          "swollen cell {} is pressed flat: {} of its face touches, {} at most; take sheets out "
          "or leave this 1 cell out",
          where(), percent(warning.size), percent(warning.limit));
    case WarningCode::swollen_watched:
      return fmt::format(
          "cell {} is swollen: at most {} of its face touches, up to {}{}; measure its middle and "
          "edge again in 1 month",
          where(), percent(warning.size), figures.pressure(warning.next_step), at_charge());
    case WarningCode::signs_seen:
      return fmt::format(
          "cell {} shows a sign; set this 1 cell aside outdoors, do not press or "
          "charge it",
          where());
    case WarningCode::walls_assumed:
      return fmt::format(
          "end walls not said, taken as {} aluminium, screwed *; rigid ones would give {} to {}; "
          "measure the wall to {}",
          figures.length(warning.size), figures.pressure_number(warning.limit),
          figures.pressure(warning.next_step), figures.length(wall_step_mm));
    case WarningCode::floor_not_said:
      return "floor: not said; 1 insulating sheet under the row, 1 at each side";
    case WarningCode::thicker_than_data_sheet:
      return fmt::format(
          "cell {} reads {} more than the data sheet allows; measure it again, a deformed can is "
          "set aside",
          where(), figures.length(warning.size));
    case WarningCode::voltage_contradicts_charge:
      return fmt::format("cell {} at {:.2f} V is not at {}; rest it 1 hour, measure both again",
                         where(), warning.size, percent(warning.charge));
    case WarningCode::material_not_said:
      return fmt::format(
          "material of {} not said, taken as an insulating plastic *; say it: 1 metal sheet "
          "bridges 2 cans",
          where());
    case WarningCode::metal_left_bare:
      if (warning.where == "floor") {
        return "the floor is bare metal; put 1 insulating sheet under the row, 1 at each side";
      }
      return fmt::format("gap {}: metal left bare; put 1 full-face insulating sheet in", where());
    case WarningCode::uneven_coverage:
      return fmt::format("sheets press only {} of the face; use full-face ones, {} at least",
                         percent(warning.size), percent(warning.limit));
    case WarningCode::uneven_pressure:
      return fmt::format(
          "the pressure is uneven{}: up to {}, {:.1f} times the mean, {} of the face touches; "
          "stiffer walls or flatter cells even it",
          at_charge(), figures.pressure(warning.next_step), warning.size, percent(warning.limit));
    case WarningCode::search_not_exhaustive:
      return not_exhaustive();
    default:
      return {};
  }
}

}  // namespace

std::string sentence(const Warning& warning, const Figures& figures) {
  const Teller teller{warning, figures};
  for (std::string text : {teller.of_pressing(), teller.of_walls(), teller.of_laws(),
                           teller.of_measuring(), teller.of_parts()}) {
    if (!text.empty()) {
      return text;
    }
  }
  return std::string(code(warning.code));
}

}  // namespace stackfit::cli
