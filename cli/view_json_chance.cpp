// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/view_json_parts.hpp"
#include "cli/words_chance.hpp"

namespace stackfit::cli {
namespace {

Json spread_json(const PressureSpread& spread) {
  return {{"low_mpa", spread.low_mpa},
          {"median_mpa", spread.median_mpa},
          {"high_mpa", spread.high_mpa}};
}

Json share_json(const InputShare& share) {
  return {{"input", code(share.input)},
          {"plain", plain(share.input)},
          {"where", share.where.empty() ? Json(nullptr) : Json(share.where)},
          {"assumed", share.assumed},
          {"first_order_pressure", share.first_order_pressure},
          {"total_pressure", share.total_pressure},
          {"first_order_failing", share.first_order_failing},
          {"total_failing", share.total_failing}};
}

Json worth_json(const Worth& worth, const ChanceOf& now) {
  return {{"measure", code(worth.measure)},
          {"chance_before", worth.chance_before},
          {"chance_after", worth.chance_after},
          {"standard_error", worth.standard_error},
          {"sentence", sentence(worth, now, true)}};
}

// Of the draws, not of the chance: which may overlap.
Json failing_json(const Chance& chance) {
  return {{"below", chance.below},
          {"above", chance.above},
          {"above_limit", chance.above_limit},
          {"not_got_in", chance.not_got_in}};
}

}  // namespace

Json json_of(const ChanceOf& chance) {
  return {{"chance", chance.chance},
          {"standard_error", chance.standard_error},
          {"samples", chance.samples},
          {"more_than", or_null(chance.more_than)},
          {"words", chance_text(chance)}};
}

Json json_of(const ChanceRival& rival) {
  return {{"used", rival.used},
          {"shim_total_mm", rival.shim_total_mm},
          {"margin", rival.margin},
          {"chance", json_of(rival.chance)}};
}

Json json_of(const Chance& chance) {
  Json json = json_of(chance.plan);
  json["assumed_inputs"] = chance.assumed_inputs;
  json["failing"] = failing_json(chance);
  json["lowest"] = spread_json(chance.lowest);
  json["as_built"] = spread_json(chance.as_built);
  json["highest"] = spread_json(chance.highest);
  json["looser"] = or_null(chance.looser);
  json["by_chance"] = or_null(chance.by_chance);
  json["by_margin"] = or_null(chance.by_margin);
  json["rivals"] = json_list(chance.rivals);
  json["inputs"] = Json::array();
  for (const InputShare& share : chance.inputs) {
    json["inputs"].push_back(share_json(share));
  }
  json["worth"] = Json::array();
  for (const Worth& worth : chance.worth) {
    json["worth"].push_back(worth_json(worth, chance.plan));
  }
  json["leaves_out"] = chance_leaves_out;
  return json;
}

}  // namespace stackfit::cli
