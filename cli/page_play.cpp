// SPDX-License-Identifier: GPL-3.0-or-later
//
// What the page can be played with: sliders, and the solver's reduced curves as data.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/answer_words.hpp"
#include "cli/page_parts.hpp"
#include "cli/page_template.hpp"
#include "cli/page_text.hpp"
#include "cli/view_json_parts.hpp"

namespace stackfit::cli {
namespace {

// Enough digits for a curve that is read to 1 %; the solved states carry all of theirs.
double few_digits(double value) {
  return std::stod(fmt::format("{:.4g}", value));
}

Json few_digits(const std::vector<double>& values) {
  Json list = Json::array();
  for (const double value : values) {
    list.push_back(few_digits(value));
  }
  return list;
}

Json kind_json(const PlayKind& kind) {
  return {{"settled", kind.settled},
          {"stiff_pads", kind.stiff_pads},
          {"face_pressure_mpa", few_digits(kind.face_pressure_mpa)},
          {"highest_local_mpa", few_digits(kind.highest_local_mpa)},
          {"wall_bow_mm", few_digits(kind.wall_bow_mm)}};
}

Json solved_json(const char* name, const StateResult& state) {
  return {{"name", name},
          {"charge", state.charge},
          {"temperature_c", state.temperature_c},
          {"capacity_loss", state.capacity_loss},
          {"settled", state.settled},
          {"stiff_pads", state.stiff_pads},
          {"face_pressure_mpa", state.face_pressure_mpa},
          {"highest_local_mpa", state.highest_local_mpa},
          {"wall_bow_mm", state.wall_bow_mm},
          {"force_n", state.force_n},
          {"standing", code(state.standing)}};
}

struct Named {
  const char* name;
  const StateResult* state;
};

std::vector<Named> solved_states(const PlanResult& plan) {
  std::vector<Named> states = {
      {"as built", &plan.as_built}, {"lowest", &plan.lowest}, {"highest", &plan.highest}};
  for (const StateResult& state : plan.states) {
    states.push_back({"", &state});
  }
  return states;
}

bool can_play(const Answer& answer) {
  return answer.has_plan && answer.rows.empty() && answer.picture &&
         !answer.picture->play.kinds.empty();
}

}  // namespace

std::string play_json(const Answer& answer) {
  if (!can_play(answer)) {
    return "";
  }
  const Play& play = answer.picture->play;
  const PlanResult& plan = answer.plan;
  Json json;
  json["build"] = {{"charge", answer.build_charge},
                   {"temperature_c", answer.build_temperature_c},
                   {"total_mm", plan.shim_total_mm},
                   {"bow_mm", plan.as_built.wall_bow_mm}};
  json["window"] = {{"charge", json_of(answer.use_charge)},
                    {"temperature_c", json_of(answer.use_temperature_c)},
                    {"capacity_loss", json_of(answer.use_capacity_loss)}};
  json["band"] = {{"low_mpa", answer.band.low_mpa},
                  {"high_mpa", answer.band.high_mpa},
                  {"limit_mpa", or_null(answer.band.limit_mpa)},
                  {"margin", answer.band.model_margin}};
  json["face_area_mm2"] = answer.band.face_area_mm2;
  json["charge"] = play.charge;
  json["longer_mm"] = play.longer_mm;
  json["longer_mm_per_k"] = play.longer_mm_per_k;
  json["longer_mm_per_loss"] = play.longer_mm_per_loss;
  json["most_loss"] = play.most_loss;
  json["least_temperature_c"] = play.least_temperature_c;
  json["most_temperature_c"] = play.most_temperature_c;
  json["total_mm"] = play.total_mm;
  json["least_total_mm"] = play.total_mm.front();
  json["most_total_mm"] = play.total_mm.back();
  json["shift_mm"] = play.shift_mm;
  json["kinds"] = Json::array();
  for (const PlayKind& kind : play.kinds) {
    json["kinds"].push_back(kind_json(kind));
  }
  json["solved"] = Json::array();
  for (const Named& solved : solved_states(plan)) {
    json["solved"].push_back(solved_json(solved.name, *solved.state));
  }
  return json.dump();
}

std::string play_html(const Answer& answer) {
  if (!can_play(answer)) {
    return "";
  }
  PageData data;
  data.set("rows_note", "Shims that are added or left out are taken to cover the whole face.");
  data.set("frame_note", answer.clamp_frame
                             ? "In a clamp frame the nuts are turned to the force, whatever the "
                               "shims: their total changes nothing here."
                             : "");
  return filled("part_play.html", data);
}

}  // namespace stackfit::cli
