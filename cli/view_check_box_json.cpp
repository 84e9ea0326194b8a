// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/answer_words.hpp"
#include "cli/view_check_box.hpp"
#include "cli/view_json_parts.hpp"

namespace stackfit::cli {
namespace {

Json change_json(const GapChange& gap) {
  Json sheets = Json::array();
  for (const SheetChange& sheet : gap.sheets) {
    sheets.push_back({{"name", sheet.name},
                      {"thickness_mm", sheet.thickness_mm},
                      {"before", sheet.before},
                      {"after", sheet.after}});
  }
  return {{"gap", gap.gap},
          {"before_mm", gap.before_mm},
          {"after_mm", gap.after_mm},
          {"sheets", sheets}};
}

Json changes_json(const ChangedSheets& changes) {
  Json gaps = Json::array();
  for (const GapChange& gap : changes.gaps) {
    gaps.push_back(change_json(gap));
  }
  return {{"taken_out", changes.taken_out},     {"put_in", changes.put_in},
          {"fewest", changes.fewest},           {"shims_before_mm", changes.before_mm},
          {"shims_after_mm", changes.after_mm}, {"gaps", gaps}};
}

Json bracket_json(const std::optional<Bracket>& bracket) {
  if (!bracket) {
    return nullptr;
  }
  return {{"squeeze_a_mpa", bracket->a_mpa},
          {"lowest_mpa", bracket->lowest_mpa},
          {"highest_mpa", bracket->highest_mpa},
          {"inside", bracket->inside}};
}

Json row_json(const RowCheck& row) {
  const bool failed = !row.fits();
  return {{"outcome", code(row.outcome)},
          {"placed", row.placed},
          {"watched", row.watched},
          {"as_placed", or_null(row.as_placed)},
          {"changes", row.changes ? changes_json(*row.changes) : Json(nullptr)},
          {"changed", or_null(row.changed)},
          {"soft", bracket_json(row.soft)},
          {"stiff", bracket_json(row.stiff)},
          {"insertion", or_null(row.insertion)},
          {"failure", failed ? json_of(row.failure) : Json(nullptr)}};
}

Json draw_json(const DrawOut& draw) {
  return {{"charge", draw.charge},
          {"face_pressure_mpa", draw.face_pressure_mpa},
          {"force_n", draw.force_n},
          {"pull_n", draw.pull_n}};
}

Json taking_out_json(const TakingOut& out) {
  Json json{{"way", code(out.way)},
            {"today", json_of(out.today)},
            {"press", out.press},
            {"pull_today_n", out.at_today.pull_n},
            {"pull_limit_n", out.pull_limit_n},
            {"friction", out.friction},
            {"friction_other", out.friction_other},
            {"lowest_charge", out.lowest_charge},
            {"at_charge", out.at_charge ? draw_json(*out.at_charge) : Json(nullptr)},
            {"easiest", draw_json(out.easiest)},
            {"charge_barred_by_sign", out.charge_barred},
            {"discharge_only", out.discharge_only},
            {"opens_said", out.opens_said},
            {"wall_opens", out.wall_opens},
            {"released_force_n", out.released_force_n},
            {"released_span_n", or_null(out.released_span_n)},
            {"spring_back_mm", out.spring_back_mm},
            {"cells_give_mm", out.give.cells_mm},
            {"sheets_give_mm", out.give.sheets_mm},
            {"pads_give_mm", out.give.pads_mm},
            {"walls_give_mm", out.give.walls_mm}};
  json["turns_to_free"] = out.rods > 0 ? Json(out.turns_to_free) : Json(nullptr);
  return json;
}

Json figures_json(const OrderFigures& figures) {
  return {{"terminal_deviation_mm", figures.deviation_mm},
          {"facing_swelling_mm", figures.facing_swelling_mm}};
}

Json order_json(const BoxCheck& check) {
  const CellOrder& order = *check.order;
  Json places = Json::array();
  for (const OrderedPlace& place : order.places) {
    places.push_back(
        {{"cell", check.order_ids[place.cell]}, {"plus_near_side", place.plus_near_side}});
  }
  return {{"places", places},
          {"before", figures_json(order.before)},
          {"after", figures_json(order.after)},
          {"moved", order.moved},
          {"worth_it", order.worth_it},
          {"status", order.proven ? "proven" : "best_found"},
          {"groups_change", order.groups_change}};
}

}  // namespace

std::string_view code(BoxOutcome value) {
  switch (value) {
    case BoxOutcome::fits_as_it_is:
      return "fits_as_it_is";
    case BoxOutcome::fits_with_sheets_changed:
      return "fits_with_sheets_changed";
    case BoxOutcome::only_by_flattening:
      return "only_by_flattening";
    case BoxOutcome::cannot_be_put_together:
      return "cannot_be_put_together";
    case BoxOutcome::does_not_fit:
      return "does_not_fit";
    case BoxOutcome::cells_come_out:
      return "cells_come_out";
    case BoxOutcome::several_rows:
      return "several_rows";
  }
  return {};
}

std::string_view code(Replacement value) {
  return value == Replacement::like_cell ? "like_cell" : "block";
}

std::string_view code(WayToOpen value) {
  switch (value) {
    case WayToOpen::draw_out:
      return "draw_out";
    case WayToOpen::draw_out_at_charge:
      return "draw_out_at_charge";
    case WayToOpen::end_wall:
      return "end_wall";
    case WayToOpen::frame_nuts:
      return "frame_nuts";
    case WayToOpen::nothing_opens:
      return "nothing_opens";
  }
  return {};
}

nlohmann::ordered_json check_box_json(const BoxCheck& check) {
  const bool checked = check.outcome != BoxOutcome::several_rows;
  Json out = Json::array();
  for (const CellOut& cell : check.out) {
    out.push_back({{"id", cell.id}, {"place", cell.place}, {"handed_in", cell.handed_in}});
  }
  Json replacements = Json::array();
  for (const ReplacementCheck& with : check.replacements) {
    replacements.push_back({{"with", code(with.with)},
                            {"thickness_mm", with.thickness_mm},
                            {"row", row_json(with.row)}});
  }
  Json assumed = Json::array();
  for (const Assumed id : check.assumed) {
    assumed.push_back(assumption(id).key);
  }
  return {{"outcome", code(check.outcome)},
          {"clamp_frame", check.clamp_frame},
          {"figures_assumed", check.figures_assumed},
          {"assumed", assumed},
          {"come_out", out},
          {"row", checked && check.out.empty() ? row_json(check.row) : Json(nullptr)},
          {"replacements", replacements},
          {"order", check.order ? order_json(check) : Json(nullptr)},
          {"taking_out", check.taking_out ? taking_out_json(*check.taking_out) : Json(nullptr)}};
}

}  // namespace stackfit::cli
