// SPDX-License-Identifier: GPL-3.0-or-later
#include <string>

#include "cli/cautions.hpp"
#include "cli/check_words.hpp"
#include "cli/days.hpp"
#include "cli/view_check.hpp"
#include "cli/view_check_box.hpp"
#include "cli/view_json_parts.hpp"

namespace stackfit::cli {
namespace {

template <class DayOrNone>
Json day_or_null(const DayOrNone& day) {
  return day ? Json(day_text(*day)) : Json(nullptr);
}

Json spoken_json(const RuleSpoken& spoken) {
  return {{"rule", code(spoken.rule)},
          {"verdict", code(spoken.verdict)},
          {"figure", spoken.figure},
          {"limit", spoken.limit},
          {"since", day_or_null(spoken.since)},
          {"words", spoken.words.empty() ? Json(nullptr) : Json(spoken.words)},
          {"value", spoken.value},
          {"usual", spoken.usual}};
}

Json growth_json(const std::optional<Growth>& growth) {
  if (!growth) {
    return nullptr;
  }
  return {
      {"followed", code(growth->followed)},   {"readings", growth->readings},
      {"first", day_text(growth->first)},     {"last", day_text(growth->last)},
      {"mm_per_month", growth->mm_per_month}, {"error_mm_per_month", growth->error_mm_per_month},
      {"per_month", growth->per_month}};
}

Json reaches_json(const std::optional<ReachedOn>& reaches) {
  if (!reaches) {
    return nullptr;
  }
  return {{"followed", code(reaches->followed)},
          {"level_mm", reaches->level_mm},
          {"on", day_text(reaches->on)},
          {"earliest", day_text(reaches->earliest)},
          {"latest", day_or_null(reaches->latest)}};
}

Json cell_json(const CellCondition& cell) {
  Json spoken = Json::array();
  for (const RuleSpoken& rule : cell.spoken) {
    spoken.push_back(spoken_json(rule));
  }
  return {{"id", cell.id},
          {"verdict", code(cell.verdict)},
          {"shows_sign", cell.shows_sign},
          {"edge_mm", or_null(cell.edge_mm)},
          {"highest_mm", or_null(cell.highest_mm)},
          {"dome_mm", or_null(cell.dome_mm)},
          {"swelling_mm", or_null(cell.swelling_mm)},
          {"swelling", or_null(cell.swelling)},
          {"rules", spoken},
          {"growth", growth_json(cell.growth)},
          {"reaches", reaches_json(cell.reaches)},
          {"log_lines_unlike", cell.unlike}};
}

Json voltages_json(const PackVoltages& voltages) {
  return {{"series", voltages.series},
          {"nominal_v", voltages.nominal_v},
          {"charge_v", voltages.charge_v}};
}

Json left_out_json(const std::optional<LeftOut>& out) {
  if (!out) {
    return nullptr;
  }
  Json json{{"cells", out->cells}, {"left", out->left}, {"series_said", out->series_said}};
  if (!out->series_said) {
    return json;
  }
  Json groups = Json::array();
  for (const ShortGroup& group : out->short_groups) {
    groups.push_back({{"group", group.group}, {"left", group.left}});
  }
  json["parallel"] = out->parallel;
  json["before"] = voltages_json(out->before);
  json["after"] = voltages_json(out->after);
  json["cell_charge_v"] = out->cell_charge_v;
  json["charger_v"] = out->charger_v;
  json["charger_said"] = out->charger_said;
  json["charger_per_cell_v"] = out->charger_per_cell_v;
  json["charger_too_high"] = out->charger_too_high;
  json["short_groups"] = groups;
  json["capacity_left"] = out->capacity_left;
  json["current_up"] = out->current_up;
  return json;
}

Json assumed_json(const std::vector<Assumed>& assumed) {
  Json list = Json::array();
  for (const Assumed id : assumed) {
    const Assumption& entry = assumption(id);
    list.push_back({{"key", entry.key},
                    {"plain", entry.plain},
                    {"value", entry.value},
                    {"unit", entry.unit},
                    {"why", entry.why},
                    {"source", entry.source}});
  }
  return list;
}

}  // namespace

Json json_of(const CheckAnswer& answer) {
  Json cells = Json::array();
  for (const CellCondition& cell : answer.cells) {
    cells.push_back(cell_json(cell));
  }
  Json json;
  json["stackfit_answer"] = answer_format;
  json["question"] = "check";
  json["title"] = answer.title;
  json["verdict"] = code(answer.verdict);
  json["inside"] = answer.verdict == CellVerdict::no_fault_found;
  json["cell_count"] = answer.cells.size();
  json["measured_on"] = day_text(answer.today);
  json["nominal_mm"] = answer.nominal_mm;
  json["nominal_from"] = code(answer.nominal_from);
  json["tolerance_mm"] = or_null(answer.tolerance_mm);
  json["cells"] = cells;
  json["compared"] = {{"voltages", answer.compared.voltages},
                      {"capacities", answer.compared.capacities},
                      {"resistances", answer.compared.resistances}};
  json["log_given"] = answer.log_given;
  json["log_lines"] = answer.log_lines;
  json["box"] = answer.box ? check_box_json(*answer.box) : Json(nullptr);
  json["left_out"] = left_out_json(answer.left_out);
  json["filler_mm"] = answer.filler_mm;
  json["next_check"] = day_text(answer.next_check);
  json["assumed"] = assumed_json(answer.assumed);
  json["cautions"] = {std::string("STOP: ") + cautions::never_pressed, cannot_clear,
                      cautions::overruled};
  return json;
}

}  // namespace stackfit::cli
