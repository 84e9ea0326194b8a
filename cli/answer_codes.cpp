// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/answer_words.hpp"

#include <array>
#include <cstddef>

namespace stackfit::cli {
namespace {

struct WarningName {
  WarningCode code;
  std::string_view name;
};

using W = WarningCode;
// In the order of WarningCode, none left out: checked below.
constexpr std::array warning_names{
    WarningName{W::swollen_cell, "swollen_cell"},
    WarningName{W::signs_seen, "signs_seen"},
    WarningName{W::swollen_pressed_flat, "swollen_pressed_flat"},
    WarningName{W::swollen_watched, "swollen_watched"},
    WarningName{W::metal_left_bare, "metal_left_bare"},
    WarningName{W::force_implausible, "force_implausible"},
    WarningName{W::below_band, "below_band"},
    WarningName{W::loose, "loose"},
    WarningName{W::above_band, "above_band"},
    WarningName{W::above_limit, "above_limit"},
    WarningName{W::build_outside_assembly_range, "build_outside_assembly_range"},
    WarningName{W::walls_bow_far, "walls_bow_far"},
    WarningName{W::lid_left_out, "lid_left_out"},
    WarningName{W::wall_stress, "wall_stress"},
    WarningName{W::rib_stress, "rib_stress"},
    WarningName{W::ribs_by_themselves, "ribs_by_themselves"},
    WarningName{W::stiffening_grows_too, "stiffening_grows_too"},
    WarningName{W::rod_overloaded, "rod_overloaded"},
    WarningName{W::springs_solid, "springs_solid"},
    WarningName{W::rods_slack, "rods_slack"},
    WarningName{W::swing_exceeds_band, "swing_exceeds_band"},
    WarningName{W::tolerance_narrower_than_swing, "tolerance_narrower_than_swing"},
    WarningName{W::no_force_given, "no_force_given"},
    WarningName{W::ask_when_force_applies, "ask_when_force_applies"},
    WarningName{W::swelling_near_watch, "swelling_near_watch"},
    WarningName{W::box_readings_differ, "box_readings_differ"},
    WarningName{W::terminals_do_not_meet, "terminals_do_not_meet"},
    WarningName{W::bar_does_not_go_on, "bar_does_not_go_on"},
    WarningName{W::bar_must_flex, "bar_must_flex"},
    WarningName{W::cells_change_groups, "cells_change_groups"},
    WarningName{W::readings_may_be_pressed, "readings_may_be_pressed"},
    WarningName{W::readings_may_be_free, "readings_may_be_free"},
    WarningName{W::thicker_than_data_sheet, "thicker_than_data_sheet"},
    WarningName{W::voltage_contradicts_charge, "voltage_contradicts_charge"},
    WarningName{W::row_differs_from_sum, "row_differs_from_sum"},
    WarningName{W::cells_not_measured, "cells_not_measured"},
    WarningName{W::dome_not_measured, "dome_not_measured"},
    WarningName{W::flat_at_boards_value, "flat_at_boards_value"},
    WarningName{W::dome_of_one_face, "dome_of_one_face"},
    WarningName{W::dome_point_off, "dome_point_off"},
    WarningName{W::dome_readings_differ, "dome_readings_differ"},
    WarningName{W::walls_assumed, "walls_assumed"},
    WarningName{W::can_carries_load, "can_carries_load"},
    WarningName{W::outside_squeeze_law, "outside_squeeze_law"},
    WarningName{W::pad_solid, "pad_solid"},
    WarningName{W::rubber_outside_law, "rubber_outside_law"},
    WarningName{W::charge_guessed, "charge_guessed"},
    WarningName{W::material_not_said, "material_not_said"},
    WarningName{W::floor_not_said, "floor_not_said"},
    WarningName{W::far_from_build_target, "far_from_build_target"},
    WarningName{W::signs_not_said, "signs_not_said"},
    WarningName{W::uneven_coverage, "uneven_coverage"},
    WarningName{W::uneven_pressure, "uneven_pressure"},
    WarningName{W::wall_is_thick, "wall_is_thick"},
    WarningName{W::search_not_exhaustive, "search_not_exhaustive"},
};

constexpr bool in_order() {
  for (std::size_t i = 0; i < warning_names.size(); ++i) {
    if (warning_names[i].code != static_cast<WarningCode>(i)) {
      return false;
    }
  }
  return warning_names.back().code == WarningCode::search_not_exhaustive;
}
static_assert(in_order(), "every warning has its name, in the order of WarningCode");

}  // namespace

std::string_view code(Question value) {
  switch (value) {
    case Question::pick:
      return "pick";
    case Question::pressure:
      return "pressure";
  }
  return no_such_word;
}

std::string_view code(Verdict value) {
  switch (value) {
    case Verdict::fits:
      return "fits";
    case Verdict::fits_on_assumed_figures:
      return "fits_on_assumed_figures";
    case Verdict::does_not_fit:
      return "does_not_fit";
    case Verdict::stop:
      return "stop";
  }
  return no_such_word;
}

std::string_view code(DomeBy value) {
  switch (value) {
    case DomeBy::not_measured:
      return "not_measured";
    case DomeBy::thickness:
      return "thickness";
    case DomeBy::straightedge:
      return "straightedge";
    case DomeBy::points:
      return "points";
  }
  return no_such_word;
}

std::string_view code(ExponentFrom value) {
  switch (value) {
    case ExponentFrom::fitted:
      return "fitted";
    case ExponentFrom::at_end:
      return "at_end";
    case ExponentFrom::too_few_points:
      return "too_few_points";
    case ExponentFrom::low_dome:
      return "low_dome";
  }
  return no_such_word;
}

std::string_view code(Standing value) {
  switch (value) {
    case Standing::inside:
      return "inside";
    case Standing::below:
      return "below";
    case Standing::loose:
      return "loose";
    case Standing::above:
      return "above";
    case Standing::above_limit:
      return "above_limit";
  }
  return no_such_word;
}

std::string_view code(ForceWhen value) {
  switch (value) {
    case ForceWhen::assembly:
      return "assembly";
    case ForceWhen::always:
      return "always";
    case ForceWhen::never_above:
      return "never_above";
    case ForceWhen::not_said:
      return "not_said";
  }
  return no_such_word;
}

std::string_view code(SheetOrigin value) {
  switch (value) {
    case SheetOrigin::kit:
      return "kit";
    case SheetOrigin::fixed:
      return "fixed";
    case SheetOrigin::pad:
      return "pad";
  }
  return no_such_word;
}

std::string_view code(MoveCode value) {
  switch (value) {
    case MoveCode::full_charge:
      return "full_charge";
    case MoveCode::box_shorter:
      return "box_shorter";
    case MoveCode::cells_stiffer:
      return "cells_stiffer";
    case MoveCode::charge_misread:
      return "charge_misread";
    case MoveCode::hotter:
      return "hotter";
    case MoveCode::capacity_loss:
      return "capacity_loss";
    case MoveCode::rigid_walls:
      return "rigid_walls";
  }
  return no_such_word;
}

std::string_view code(WayOut value) {
  switch (value) {
    case WayOut::end_wall_last:
      return "end_wall_last";
    case WayOut::walls_spread:
      return "walls_spread";
    case WayOut::lower_charge:
      return "lower_charge";
    case WayOut::clamp:
      return "clamp";
    case WayOut::slip_film:
      return "slip_film";
  }
  return no_such_word;
}

std::string_view code(BuildMethod value) {
  switch (value) {
    case BuildMethod::hand:
      return "hand";
    case BuildMethod::end_wall_last:
      return "end_wall_last";
    case BuildMethod::clamp:
      return "clamp";
    case BuildMethod::walls_spread:
      return "walls_spread";
  }
  return no_such_word;
}

std::string_view code(Floor value) {
  switch (value) {
    case Floor::not_said:
      return "not_said";
    case Floor::insulated:
      return "insulated";
    case Floor::bare:
      return "bare";
  }
  return no_such_word;
}

std::string_view code(WarningCode value) {
  return warning_names[static_cast<std::size_t>(value)].name;
}

std::string_view code(RemedyCode value) {
  switch (value) {
    case RemedyCode::add_shims:
      return "add_shims";
    case RemedyCode::more_of_a_kind:
      return "more_of_a_kind";
    case RemedyCode::box_length:
      return "box_length";
    case RemedyCode::frame_force:
      return "frame_force";
    case RemedyCode::charge_window:
      return "charge_window";
    case RemedyCode::build_method:
      return "build_method";
    case RemedyCode::build_charge:
      return "build_charge";
    case RemedyCode::slip_film:
      return "slip_film";
    case RemedyCode::insulating_sheets:
      return "insulating_sheets";
    case RemedyCode::end_wall:
      return "end_wall";
    case RemedyCode::cell_order:
      return "cell_order";
    case RemedyCode::end_pads:
      return "end_pads";
  }
  return no_such_word;
}

std::string_view code(FailedRule value) {
  switch (value) {
    case FailedRule::none:
      return "none";
    case FailedRule::too_few_insulating_sheets:
      return "too_few_insulating_sheets";
    case FailedRule::pressure_out_of_reach:
      return "pressure_out_of_reach";
    case FailedRule::total_not_in_kit:
      return "total_not_in_kit";
    case FailedRule::build_method:
      return "build_method";
    case FailedRule::metal_left_bare:
      return "metal_left_bare";
    case FailedRule::uneven_coverage:
      return "uneven_coverage";
    case FailedRule::rods_overloaded:
      return "rods_overloaded";
    case FailedRule::frame_force:
      return "frame_force";
    case FailedRule::walls_bow_too_far:
      return "walls_bow_too_far";
    case FailedRule::swollen_pressed_flat:
      return "swollen_pressed_flat";
    case FailedRule::swollen_cell:
      return "swollen_cell";
    case FailedRule::signs:
      return "signs";
  }
  return no_such_word;
}

}  // namespace stackfit::cli
