// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/answer_words.hpp"
#include "cli/view_json_parts.hpp"
#include "cli/words_remedy.hpp"
#include "cli/words_warning.hpp"

namespace stackfit::cli {
namespace {

// The value where the condition holds, else null.
template <class Value>
Json where(bool speaks, const Value& value) {
  return speaks ? Json(value) : Json(nullptr);
}

// Of the fields of a remedy only those its code speaks of are filled.
bool speaks_of_thickness(RemedyCode which) {
  return which == RemedyCode::add_shims || which == RemedyCode::insulating_sheets ||
         which == RemedyCode::end_pads || which == RemedyCode::end_wall;
}

bool counts_pieces(RemedyCode which) {
  return speaks_of_thickness(which) && which != RemedyCode::end_wall;
}

Json way_json(const WayOutResult& way) {
  const bool lower = way.way == WayOut::lower_charge;
  const bool spread = way.way == WayOut::walls_spread;
  const bool clamp = way.way == WayOut::clamp;
  return {{"way", code(way.way)},
          {"works", way.works},
          {"force_n", way.force_n},
          {"charge", where(lower, way.charge)},
          {"spread_mm", where(spread, way.spread_mm)},
          {"face_pressure_mpa", where(clamp, way.face_pressure_mpa)},
          {"within_limit", where(clamp, way.within_limit)}};
}

}  // namespace

Json json_of(const Move& move) {
  return {{"code", code(move.code)},
          {"by", move.by},
          {"change_mpa", move.change_mpa},
          {"face_pressure_mpa", move.face_pressure_mpa},
          {"standing", code(move.standing)}};
}

Json json_of(const InsertionResult& insertion) {
  Json json{{"method", code(insertion.method)},
            {"method_said", insertion.method_said},
            {"works", insertion.works},
            {"push_n", insertion.push_n},
            {"draw_out_n", insertion.draw_out_n},
            {"push_limit_n", insertion.push_limit_n},
            {"friction", insertion.friction},
            {"friction_other", insertion.friction_other},
            {"slip_film", insertion.slip_film},
            {"wall_force_n", insertion.wall_force_n},
            {"last_cell", where(insertion.last_cell != 0, insertion.last_cell)}};
  json["ways_out"] = Json::array();
  for (const WayOutResult& way : insertion.ways_out) {
    json["ways_out"].push_back(way_json(way));
  }
  return json;
}

Json json_of(const Warning& warning) {
  return {{"code", code(warning.code)},
          {"where", where(!warning.where.empty(), warning.where)},
          {"charge", where(warning.charge >= 0, warning.charge)},
          {"size", warning.size},
          {"limit", warning.limit},
          {"next_step", warning.next_step},
          {"sentence", sentence(warning, Figures())}};
}

Json json_of(const Failure& failure) {
  return {{"rule", code(failure.rule)},
          {"wanted_total_mm", or_null(failure.wanted_total_mm)},
          {"nearest_total_mm", failure.nearest_total_mm},
          {"swing_mm", failure.swing_mm},
          {"band_takes_mm", failure.band_takes_mm},
          {"sheets_due", failure.sheets_due},
          {"sheets_on_hand", failure.sheets_on_hand}};
}

Json json_of(const Remedy& remedy) {
  const auto is = [&](RemedyCode which) { return remedy.code == which; };
  const bool more = is(RemedyCode::more_of_a_kind);
  const auto set = set_argument(remedy);
  return {{"code", code(remedy.code)},
          {"name", where(!remedy.name.empty(), remedy.name)},
          {"thickness_mm", where(speaks_of_thickness(remedy.code), remedy.thickness_mm)},
          {"count", where(more || counts_pieces(remedy.code), remedy.count)},
          {"kit_index", where(more, remedy.kit_index)},
          {"box_length_mm", where(is(RemedyCode::box_length), remedy.value)},
          {"frame_force_n", where(is(RemedyCode::frame_force), remedy.value)},
          {"build_charge", where(is(RemedyCode::build_charge), remedy.value)},
          {"use_charge", where(is(RemedyCode::charge_window), json_of(remedy.window))},
          {"grade", where(is(RemedyCode::end_pads), remedy.grade)},
          {"method", where(is(RemedyCode::build_method), code(remedy.method))},
          {"effort", remedy.effort},
          {"margin", remedy.margin},
          {"passes", remedy.passes},
          {"lowest_mpa", remedy.lowest_mpa},
          {"highest_mpa", remedy.highest_mpa},
          {"chance", or_null(remedy.chance)},
          {"sentence", sentence(remedy, Figures())},
          {"set", set ? Json(set->path + "=" + set->value) : Json(nullptr)}};
}

Json json_of(const AssumedUse& use) {
  const Assumption& entry = assumption(use.id);
  return {{"key", entry.key},
          {"plain", entry.plain},
          {"value", use.value},
          {"unit", entry.unit},
          {"low", entry.low},
          {"high", entry.high},
          {"why", entry.why},
          {"source", entry.source},
          {"worth_low_mpa", use.worth_low_mpa},
          {"worth_high_mpa", use.worth_high_mpa}};
}

Json json_of(const AssumedWord& word) {
  return {{"what", word.what}, {"taken", word.taken}, {"why", word.why}};
}

}  // namespace stackfit::cli
