// SPDX-License-Identifier: GPL-3.0-or-later
#include <string>

#include "cli/cautions.hpp"
#include "cli/check_words.hpp"
#include "cli/view_json_parts.hpp"
#include "cli/view_sort.hpp"

namespace stackfit::cli {
namespace {

std::string_view shims_code(SortShims shims) {
  switch (shims) {
    case SortShims::all:
      return "all";
    case SortShims::none_found:
      return "none_found";
    case SortShims::none_exists:
      break;
  }
  return "none_exists";
}

Json ids_json(const SortAnswer& answer, const std::vector<std::size_t>& cells) {
  Json ids = Json::array();
  for (const std::size_t cell : cells) {
    ids.push_back(answer.ids[cell]);
  }
  return ids;
}

Json figure_json(const SortFigure& figure) {
  return {{"found", figure.found}, {"bound", figure.bound}, {"proven", figure.proven()}};
}

Json conditions_json(const std::vector<CellCondition>& cells) {
  Json list = Json::array();
  for (const CellCondition& cell : cells) {
    Json rules = Json::array();
    for (const RuleSpoken& spoken : cell.spoken) {
      rules.push_back({{"rule", code(spoken.rule)},
                       {"figure", spoken.figure},
                       {"limit", spoken.limit},
                       {"words", spoken.words.empty() ? Json(nullptr) : Json(spoken.words)}});
    }
    list.push_back({{"id", cell.id}, {"shows_sign", cell.shows_sign}, {"rules", rules}});
  }
  return list;
}

Json used_json(const SortAnswer& answer, const std::vector<int>& counts) {
  Json used = Json::array();
  for (std::size_t kind = 0; kind < counts.size(); ++kind) {
    if (counts[kind] > 0) {
      used.push_back({{"name", answer.kit[kind]}, {"count", counts[kind]}});
    }
  }
  return used;
}

Json plan_json(const SortAnswer& answer, const std::optional<PackPlan>& plan) {
  if (!plan) {
    return nullptr;
  }
  Json gaps = Json::array();
  for (std::size_t gap = 0; gap < plan->counts.size(); ++gap) {
    gaps.push_back({{"gap", answer.gaps[gap]}, {"sheets", used_json(answer, plan->counts[gap])}});
  }
  return {{"found", plan->found},
          {"passes", plan->passes},
          {"proven", plan->proven},
          {"used", used_json(answer, plan->used)},
          {"gaps", gaps},
          {"shims_mm", plan->shims_mm},
          {"lowest", json_of(plan->lowest)},
          {"highest", json_of(plan->highest)}};
}

Json packs_json(const SortAnswer& answer) {
  Json packs = Json::array();
  for (const SortedPack& pack : answer.packs) {
    packs.push_back({{"cells", ids_json(answer, pack.cells)},
                     {"row_um", pack.row_um},
                     {"length_serves", pack.length_serves},
                     {"capacity_ah", or_null(pack.capacity_ah)},
                     {"plan", plan_json(answer, pack.plan)}});
  }
  return packs;
}

Json assumed_json(const SortAnswer& answer) {
  Json list = Json::array();
  for (const Assumed id : answer.assumed) {
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

Json sort_json(const SortAnswer& answer) {
  Json json;
  json["stackfit_answer"] = answer_format;
  json["question"] = "sort";
  json["title"] = answer.title;
  json["inside"] = answer.all_pass() && answer.aside.empty();
  json["cell_count"] = answer.pile;
  json["packs_asked"] = answer.packs_asked;
  json["cells_each"] = answer.cells_each;
  json["nominal_mm"] = answer.nominal_mm;
  json["nominal_from"] = code(answer.nominal_from);
  json["best_means"] = {"every pack can be shimmed", "least greatest spread of capacity in a pack",
                        "least difference of the packs' row lengths",
                        "of equals by capacity, thickness and id"};
  json["best_proven"] = answer.best;
  json["shimmable"] = answer.has_box ? Json(shims_code(answer.shims)) : Json(nullptr);
  json["by_capacity"] = answer.by_capacity;
  json["spread_mah"] = answer.by_capacity ? figure_json(answer.spread_mah) : Json(nullptr);
  json["row_difference_um"] = figure_json(answer.difference_um);
  json["rows_at_charge"] = answer.at_charge;
  json["rows_served_mm"] = json_list(answer.served_mm);
  json["kept_clear_mm"] = answer.kept_clear_mm;
  json["packs_passing"] = answer.has_box ? Json(answer.passing()) : Json(nullptr);
  json["packs"] = packs_json(answer);
  json["left_over"] = ids_json(answer, answer.left_over);
  json["set_aside"] = conditions_json(answer.aside);
  json["watched"] = conditions_json(answer.watched);
  json["signs_not_said"] = answer.signs_not_said;
  json["assumed"] = assumed_json(answer);
  json["assumed_words"] = json_list(answer.assumed_words);
  json["cautions"] = {std::string("STOP: ") + cautions::never_pressed, cannot_clear,
                      cautions::overruled};
  return json;
}

}  // namespace stackfit::cli
