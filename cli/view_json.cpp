// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/view_json.hpp"

#include <string>

#include "cli/answer_words.hpp"
#include "cli/cautions.hpp"
#include "cli/view_json_parts.hpp"

namespace stackfit::cli {
namespace {

Json outlier_json(const OutlyingReading& off) {
  return {{"point", off.number},
          {"x_mm", off.point.x_mm},
          {"y_mm", off.point.y_mm},
          {"z_mm", off.point.z_mm},
          {"residual_mm", off.residual_mm}};
}

// What only points tell is null under a straightedge.
Json face_json(const FaceDome& face) {
  const bool points = face.by == DomeBy::points;
  const auto of_points = [&](double value) { return points ? Json(value) : Json(nullptr); };
  Json outliers = Json::array();
  for (const OutlyingReading& off : face.outliers) {
    outliers.push_back(outlier_json(off));
  }
  return {{"face", face.front ? "front" : "back"},
          {"by", code(face.by)},
          {"dome_mm", face.dome_mm},
          {"dome_error_mm", of_points(face.error_mm)},
          {"exponent", of_points(face.exponent)},
          {"exponent_error", of_points(face.exponent_error)},
          {"exponent_assumed", face.exponent_assumed},
          {"exponent_from", points ? Json(code(face.exponent_from)) : Json(nullptr)},
          {"residual_mm", of_points(face.residual_mm)},
          {"flatness_mm", of_points(face.flatness_mm)},
          {"points_used", face.points_used},
          {"outliers", outliers}};
}

Json dome_json(const CellDome& dome) {
  Json faces = Json::array();
  for (const FaceDome& face : dome.faces) {
    faces.push_back(face_json(face));
  }
  return {{"by", code(dome.by)},
          {"one_face", dome.one_face},
          {"error_mm", or_null(dome.error_mm)},
          {"exponent", dome.exponent},
          {"exponent_assumed", dome.exponent_assumed},
          {"boards_mm", or_null(dome.boards_mm)},
          {"faces", faces}};
}

Json cell_json(const CellResult& cell) {
  return {{"id", cell.id},
          {"free_mm", cell.free_mm},
          {"edge_mm", cell.edge_mm},
          {"dome_mm", cell.dome_mm},
          {"dome", dome_json(cell.dome)},
          {"slack_mm", cell.slack_mm},
          {"swelling_mm", cell.swelling_mm},
          {"plus_near_side", cell.plus_near_side},
          {"beyond_watch", cell.beyond_watch},
          {"refused", cell.refused},
          {"signs", cell.signs.empty() ? Json(nullptr) : Json(cell.signs)},
          {"shows_sign", cell.shows_sign}};
}

Json band_json(const BandResult& band) {
  return {{"low_mpa", band.low_mpa},
          {"high_mpa", band.high_mpa},
          {"assumed", band.assumed},
          {"limit_mpa", or_null(band.limit_mpa)},
          {"build_target_mpa", or_null(band.build_target_mpa)},
          {"build_low_mpa", or_null(band.build_low_mpa)},
          {"build_high_mpa", or_null(band.build_high_mpa)},
          {"target_assumed", band.target_assumed},
          {"from_force", band.from_force ? Json(code(*band.from_force)) : Json(nullptr)},
          {"model_margin", band.model_margin},
          {"face_area_mm2", band.face_area_mm2}};
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

Json cells_of(const Answer& answer) {
  Json list = Json::array();
  for (const CellResult& cell : answer.cells) {
    list.push_back(cell_json(cell));
  }
  return list;
}

Json order_json(const OrderResult& order) {
  return {{"ids", order.ids},
          {"places", order.places},
          {"moved", order.moved},
          {"proven", order.proven},
          {"fewest_moved_proven", order.fewest_moved},
          {"deviation_bound_mm", order.bound_mm},
          {"deviation_as_listed_mm", order.before_mm},
          {"groups_change", order.groups_change}};
}

// Who and what was asked, and the conditions the answer holds for.
void add_question(Json& json, const Answer& answer) {
  json["stackfit_answer"] = answer_format;
  json["question"] = code(answer.question);
  json["title"] = answer.title;
  json["verdict"] = code(answer.verdict);
  json["inside"] = answer.inside();
  json["cell_count"] = answer.cell_count;
  json["first_cell"] = answer.first_cell;
  json["series"] = answer.series;
  json["parallel"] = answer.parallel;
  json["build_charge"] = answer.build_charge;
  json["build_temperature_c"] = answer.build_temperature_c;
  json["use_charge"] = json_of(answer.use_charge);
  json["use_temperature_c"] = json_of(answer.use_temperature_c);
  json["use_capacity_loss"] = json_of(answer.use_capacity_loss);
  json["first_wall_opens"] = answer.first_wall_opens;
  json["last_wall_opens"] = answer.last_wall_opens;
  json["clamp_frame"] = answer.clamp_frame;
  json["walls_are_metal"] = answer.walls_are_metal;
  json["floor"] = code(answer.floor);
}

void add_findings(Json& json, const Answer& answer) {
  json["cells"] = cells_of(answer);
  json["order"] = answer.order ? order_json(*answer.order) : Json(nullptr);
  json["band"] = band_json(answer.band);
  json["plan"] = answer.has_plan ? json_of(answer.plan) : Json(nullptr);
  json["looser"] = or_null(answer.looser);
  json["soft"] = bracket_json(answer.soft);
  json["stiff"] = bracket_json(answer.stiff);
  json["edges_thinner"] = bracket_json(answer.edges_thinner);
  json["rigid"] = or_null(answer.rigid);
  json["chance"] = or_null(answer.chance);
}

void add_advice(Json& json, const Answer& answer) {
  json["moves"] = json_list(answer.moves);
  json["insertion"] = json_of(answer.insertion);
  json["sense_lead_v"] = answer.sense_lead_v;
  json["voltage_assumed"] = answer.voltage_assumed;
  json["terminal_torque_nmm"] = or_null(answer.terminal_torque_nmm);
  json["warnings"] = json_list(answer.warnings);
  json["failure"] = json_of(answer.failure);
  json["remedies"] = json_list(answer.remedies);
  json["assumed"] = json_list(answer.assumed);
  json["assumed_words"] = json_list(answer.assumed_words);
  json["cautions"] = {std::string("STOP: ") + cautions::never_pressed, cautions::overruled};
  json["curve_charge"] = answer.curve_charge;
  json["curve_pressure_mpa"] = answer.curve_pressure_mpa;
}

// Each of several rows, in the same shape; empty where there is one.
void add_rows(Json& json, const Answer& answer) {
  json["row_number"] = answer.row_number;
  json["rows"] = Json::array();
  for (const Answer& row : answer.rows) {
    json["rows"].push_back(json_of(row));
  }
}

}  // namespace

Json json_of(const Answer& answer) {
  Json json;
  add_question(json, answer);
  add_findings(json, answer);
  add_advice(json, answer);
  add_rows(json, answer);
  return json;
}

}  // namespace stackfit::cli
