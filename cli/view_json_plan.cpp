// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/answer_words.hpp"
#include "cli/view_json_parts.hpp"

namespace stackfit::cli {
namespace {

Json sheet_json(const GapSheet& sheet) {
  return {{"name", sheet.name},           {"thickness_mm", sheet.thickness_mm},
          {"count", sheet.count},         {"origin", code(sheet.origin)},
          {"insulates", sheet.insulates}, {"slippery_face", sheet.slippery_face}};
}

Json gap_json(const GapResult& gap) {
  Json sheets = Json::array();
  for (const GapSheet& sheet : gap.sheets) {
    sheets.push_back(sheet_json(sheet));
  }
  const bool slippery = gap.slippery_towards_cell != 0;
  return {{"gap", gap.name},
          {"sheets", sheets},
          {"total_mm", gap.total_mm},
          {"insulation_due", gap.insulation_due},
          {"insulated", gap.insulated},
          {"slippery_towards_cell", slippery ? Json(gap.slippery_towards_cell) : Json(nullptr)}};
}

Json use_json(const KitUse& use) {
  return {{"name", use.name},
          {"thickness_mm", use.thickness_mm},
          {"used", use.used},
          {"on_hand", use.on_hand}};
}

void add_sheets(Json& json, const PlanResult& plan) {
  json["gaps"] = Json::array();
  for (const GapResult& gap : plan.gaps) {
    json["gaps"].push_back(gap_json(gap));
  }
  json["kit"] = Json::array();
  for (const KitUse& use : plan.kit) {
    json["kit"].push_back(use_json(use));
  }
  json["shim_total_mm"] = plan.shim_total_mm;
  json["bare_metal"] = plan.bare_metal;
}

Json wall_json(const WallResult& wall) {
  Json json{{"which", wall.both   ? "both"
                      : wall.last ? "last"
                                  : "first"},
            {"bow_mm", wall.bow_mm},
            {"bow_middle_mm", wall.bow_middle_mm}};
  if (!wall.by_measured_bow) {
    json["thickness_mm"] = wall.thickness_mm;
    json["stress_mpa"] = wall.stress_mpa;
    json["yield_mpa"] = wall.yield_mpa;
    json["second_plate_mm"] = or_null(wall.second_plate_mm);
    json["stress_in_second_plate"] = wall.stress_in_second_plate;
    json["rib_stress_mpa"] = or_null(wall.rib_stress_mpa);
    json["rib_yield_mpa"] = wall.rib_stress_mpa ? Json(wall.rib_yield_mpa) : Json(nullptr);
  }
  return json;
}

Json rods_json(const RodsInState& rods) {
  return {{"charge", rods.charge},
          {"rod_force_n", rods.rod_force_n},
          {"proof_share", rods.proof_share},
          {"spring_length_mm", rods.spring_length_mm},
          {"springs_solid", rods.beyond_travel},
          {"springs_past_working_travel", rods.beyond_recommended},
          {"loose_by_mm", rods.loose_by_mm}};
}

Json frame_json(const FrameResult& frame) {
  return {{"rods", frame.rods},
          {"force_n", frame.force_n},
          {"proof_load_n", frame.proof_load_n},
          {"closure_mm", frame.closure_mm},
          {"turns_past_snug", frame.turns_past_snug},
          {"overall_length_mm", frame.overall_length_mm},
          {"spring_free_length_mm", frame.spring_free_length_mm},
          {"as_built", rods_json(frame.as_built)},
          {"lowest", rods_json(frame.lowest)},
          {"highest", rods_json(frame.highest)},
          {"torque_nmm", or_null(frame.torque_nmm)}};
}

Json bars_json(const TerminalUse& use) {
  return {{"play_mm", or_null(use.play_mm)},
          {"go_on", or_null(use.go_on)},
          {"go_on_always", or_null(use.go_on_always)},
          {"worst_pair", use.worst_pair},
          {"slot_mm", or_null(use.slot_mm)},
          {"movement_mm", use.movement_mm},
          {"moving_pair", use.moving_pair},
          {"flexible_due", use.flexible_due},
          {"flexible_said", use.flexible_said}};
}

void add_lengths(Json& json, const PlanResult& plan) {
  json["interference_mm"] = plan.interference_mm;
  json["interference_edge_mm"] = plan.interference_edge_mm;
  json["interference_middle_mm"] = plan.interference_middle_mm;
  json["cells_give_mm"] = plan.cells_give_mm;
  json["sheets_give_mm"] = plan.sheets_give_mm;
  json["pads_give_mm"] = plan.pads_give_mm;
  json["walls_give_mm"] = plan.walls_give_mm;
  json["terminal_spacing_mm"] = plan.terminal_spacing_mm;
  json["terminal_deviation_mm"] = plan.terminal_deviation_mm;
  json["terminals"] = plan.terminals ? bars_json(*plan.terminals) : Json(nullptr);
}

}  // namespace

Json json_of(const StateResult& state) {
  return {{"charge", state.charge},
          {"temperature_c", state.temperature_c},
          {"capacity_loss", state.capacity_loss},
          {"settled", state.settled},
          {"stiff_pads", state.stiff_pads},
          {"face_pressure_mpa", state.face_pressure_mpa},
          {"force_n", state.force_n},
          {"highest_local_mpa", state.highest_local_mpa},
          {"lowest_local_mpa", state.lowest_local_mpa},
          {"contact_share", state.contact_share},
          {"centre_of_pressure_x_mm", state.centre_x_mm},
          {"centre_of_pressure_y_mm", state.centre_y_mm},
          {"wall_bow_mm", state.wall_bow_mm},
          {"loose_by_mm", state.loose_by_mm},
          {"standing", code(state.standing)}};
}

Json json_of(const PlanResult& plan) {
  Json json;
  json["passes"] = plan.passes;
  json["worst"] = code(plan.worst);
  json["margin"] = plan.margin;
  json["proven_best"] = plan.proven_best;
  const auto& proof = plan.margin_proof;
  json["best_margin"] = proof ? Json(proof->best_found) : Json(nullptr);
  json["margin_bound"] = proof ? Json(proof->bound) : Json(nullptr);
  json["margin_gap"] = proof ? Json(proof->gap) : Json(nullptr);
  add_sheets(json, plan);
  add_lengths(json, plan);
  json["as_built"] = json_of(plan.as_built);
  json["lowest"] = json_of(plan.lowest);
  json["highest"] = json_of(plan.highest);
  json["states"] = json_list(plan.states);
  json["sheets_cover_share"] = plan.sheets_cover_share;
  json["rim_share"] = or_null(plan.rim_share);
  json["walls"] = Json::array();
  for (const WallResult& wall : plan.walls) {
    json["walls"].push_back(wall_json(wall));
  }
  json["frame"] = plan.frame ? frame_json(*plan.frame) : Json(nullptr);
  json["life_capacity_loss_mean"] = or_null(plan.life_mean);
  json["life_capacity_loss"] = or_null(plan.life_span);
  return json;
}

}  // namespace stackfit::cli
