// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/answer_words.hpp"

namespace stackfit::cli {
namespace {

// A missing case is a compiler warning, and warnings are errors here: no default anywhere.
constexpr std::string_view no_such_word;

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
    case MoveCode::cells_softer:
      return "cells_softer";
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
  switch (value) {
    case WarningCode::swollen_cell:
      return "swollen_cell";
    case WarningCode::signs_seen:
      return "signs_seen";
    case WarningCode::below_band:
      return "below_band";
    case WarningCode::loose:
      return "loose";
    case WarningCode::above_band:
      return "above_band";
    case WarningCode::above_limit:
      return "above_limit";
    case WarningCode::build_outside_assembly_range:
      return "build_outside_assembly_range";
    case WarningCode::swing_exceeds_band:
      return "swing_exceeds_band";
    case WarningCode::tolerance_narrower_than_swing:
      return "tolerance_narrower_than_swing";
    case WarningCode::ask_when_force_applies:
      return "ask_when_force_applies";
    case WarningCode::readings_may_be_pressed:
      return "readings_may_be_pressed";
    case WarningCode::readings_may_be_free:
      return "readings_may_be_free";
    case WarningCode::row_differs_from_sum:
      return "row_differs_from_sum";
    case WarningCode::dome_not_measured:
      return "dome_not_measured";
    case WarningCode::cells_not_measured:
      return "cells_not_measured";
    case WarningCode::flat_at_boards_value:
      return "flat_at_boards_value";
    case WarningCode::walls_assumed:
      return "walls_assumed";
    case WarningCode::can_carries_load:
      return "can_carries_load";
    case WarningCode::outside_squeeze_law:
      return "outside_squeeze_law";
    case WarningCode::pad_solid:
      return "pad_solid";
    case WarningCode::rubber_outside_law:
      return "rubber_outside_law";
    case WarningCode::charge_guessed:
      return "charge_guessed";
    case WarningCode::floor_not_said:
      return "floor_not_said";
    case WarningCode::metal_left_bare:
      return "metal_left_bare";
    case WarningCode::far_from_build_target:
      return "far_from_build_target";
    case WarningCode::signs_not_said:
      return "signs_not_said";
    case WarningCode::uneven_coverage:
      return "uneven_coverage";
    case WarningCode::search_not_exhaustive:
      return "search_not_exhaustive";
  }
  return no_such_word;
}

std::string_view code(RemedyCode value) {
  switch (value) {
    case RemedyCode::add_shims:
      return "add_shims";
    case RemedyCode::more_of_a_kind:
      return "more_of_a_kind";
    case RemedyCode::box_length:
      return "box_length";
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
    case RemedyCode::end_pads:
      return "end_pads";
    case RemedyCode::leave_out_cells:
      return "leave_out_cells";
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
    case FailedRule::swollen_cell:
      return "swollen_cell";
    case FailedRule::signs:
      return "signs";
  }
  return no_such_word;
}

}  // namespace stackfit::cli
