// SPDX-License-Identifier: GPL-3.0-or-later
#include <string_view>

#include "cli/view_json_parts.hpp"
#include "cli/view_size.hpp"
#include "cli/view_size_parts.hpp"

namespace stackfit::cli {
namespace {

std::string_view code_of(SizeVerdict verdict) {
  switch (verdict) {
    case SizeVerdict::serves:
      return "serves";
    case SizeVerdict::serves_on_assumed_figures:
      return "serves_on_assumed_figures";
    case SizeVerdict::not_as_said:
      return "not_as_said";
    case SizeVerdict::walls_too_weak:
      return "walls_too_weak";
    case SizeVerdict::only_once_measured:
      return "only_once_measured";
    case SizeVerdict::serves_with_pad:
      return "serves_with_pad";
    case SizeVerdict::only_with_thin_wall:
      return "only_with_thin_wall";
    case SizeVerdict::nothing_serves:
      return "nothing_serves";
    case SizeVerdict::stop:
      return "stop";
  }
  return "";
}

std::string_view code_of(OfferFor whom) {
  switch (whom) {
    case OfferFor::these_cells:
      return "these_cells";
    case OfferFor::any_batch:
      return "any_batch";
    case OfferFor::likely_lot:
      return "likely_lot";
    case OfferFor::once_measured:
      return "once_measured";
  }
  return "";
}

Json length_json(const LengthOffer& length) {
  Json kit = Json::array();
  for (const KitToBuy& kind : length.kit) {
    kit.push_back({{"thickness_mm", kind.thickness_mm}, {"count", kind.count}});
  }
  return {{"nominal_mm", length.nominal_mm},
          {"tolerance_plus_mm", length.tolerance_mm},
          {"nominal_between_mm", json_of(length.nominal_between)},
          {"window_mm", length.window_mm},
          {"cells_spread_mm", length.spread_mm},
          {"kit", kit},
          {"sheets", length.sheets()},
          {"filler_mm", length.filler_mm > 0 ? Json(length.filler_mm) : Json(nullptr)},
          {"greatest_step_mm", length.greatest_step_mm},
          {"totals_mm", json_of(length.totals_mm)},
          {"checked", length.checked}};
}

Json offer_json(const SizeOffer& offer) {
  Json json = {{"for", code_of(offer.offered_for)}};
  json.update(length_json(offer.length));
  json["lowest_mpa"] = offer.lowest_mpa;
  json["as_built_mpa"] = offer.built_mpa;
  json["highest_mpa"] = offer.highest_mpa;
  json["margin"] = offer.margin;
  json["life_capacity_loss"] = or_null(offer.life_span);
  return json;
}

Json wall_json(const WallTried& wall) {
  return {{"thickness_mm", wall.thickness_mm}, {"bow_mm", wall.bow_mm},
          {"most_bow_mm", wall.most_bow_mm},   {"stress_mpa", wall.stress_mpa},
          {"allowed_mpa", wall.allowed_mpa},   {"large_bow", wall.large_bow},
          {"bow_holds", wall.bow_holds},       {"stress_holds", wall.stress_holds}};
}

Json walls_json(const WallOrder& walls) {
  if (!walls.bends) {
    return nullptr;
  }
  return {{"found", walls.found},
          {"from_stock", walls.from_stock},
          {"stock_mm", walls.stock_mm},
          {"top_force_n", walls.top_force_n},
          {"safety", walls.safety},
          {"yield_mpa", walls.yield_mpa},
          {"chosen", wall_json(walls.chosen)},
          {"doubled", walls.doubled ? wall_json(*walls.doubled) : Json(nullptr)},
          {"ribbed", walls.ribbed ? Json{{"rib_height_mm", walls.ribbed->rib_height_mm},
                                         {"wall", wall_json(walls.ribbed->wall)}}
                                  : Json(nullptr)},
          {"next_thinner", walls.thinner ? wall_json(*walls.thinner) : Json(nullptr)}};
}

Json bracket_json(const std::optional<SizeBracket>& bracket) {
  if (!bracket) {
    return nullptr;
  }
  return {{"squeeze_a_mpa", bracket->a_mpa},
          {"window_mm", bracket->window_mm},
          {"serves", bracket->serves}};
}

Json inner_json(const InnerSize& size) {
  return {{"nominal_mm", size.nominal_mm},
          {"tolerance_plus_mm", size.tolerance_mm},
          {"painted_mm", size.painted_mm},
          {"said_mm", or_null(size.said_mm)},
          {"left_mm", size.said_mm ? Json(size.left_mm) : Json(nullptr)}};
}

Json terminals_json(const TerminalSlots& slots) {
  Json pairs = Json::array();
  for (const TerminalPair& pair : slots.pairs) {
    pairs.push_back({{"cell", pair.cell},
                     {"built_mm", pair.built_mm},
                     {"deviation_mm", pair.deviation_mm},
                     {"movement_mm", pair.movement_mm},
                     {"goes_on", or_null(pair.goes_on)},
                     {"flexible_due", pair.flexible_due}});
  }
  return {{"wanted_mm", slots.wanted_mm},
          {"play_mm", or_null(slots.play_mm)},
          {"slot_needed_mm", or_null(slots.slot_needed_mm)},
          {"flexible_due", slots.flexible_due},
          {"pairs", pairs}};
}

Json hold_json(const Hold& hold) {
  return {{"asked_g", hold.asked_g},
          {"friction", hold.friction},
          {"holds_across_g", hold.holds_g},
          {"across_missing_n", hold.across.missing_n},
          {"down_missing_n", hold.down.missing_n},
          {"up_missing_n", hold.up.missing_n}};
}

Json cuts_json(const std::vector<CutPart>& cuts) {
  Json list = Json::array();
  for (const CutPart& part : cuts) {
    Json holes = Json::array();
    for (const CutHole& hole : part.holes) {
      holes.push_back(
          {{"x_mm", hole.x_mm}, {"y_mm", hole.y_mm}, {"diameter_mm", hole.diameter_mm}});
    }
    list.push_back(
        {{"part", part_name(part.code)},
         {"name", part.name},
         {"count", part.count},
         {"length_mm", part.length_mm},
         {"width_mm", part.width_mm},
         {"thickness_mm", part.thickness_mm},
         {"diameter_mm", part.diameter_mm},
         {"material", part.material},
         {"tolerance_plus_mm", part.tolerance ? Json(part.tolerance->plus_mm) : Json(nullptr)},
         {"tolerance_minus_mm", part.tolerance ? Json(part.tolerance->minus_mm) : Json(nullptr)},
         {"holes", holes}});
  }
  return list;
}

Json details_json(const std::optional<SizeDetails>& details) {
  if (!details) {
    return nullptr;
  }
  return {{"terminals", details->terminals ? terminals_json(*details->terminals) : Json(nullptr)},
          {"hold", details->hold ? hold_json(*details->hold) : Json(nullptr)},
          {"total_kg", details->lifting.total_kg},
          {"box_kg", details->lifting.masses.box_kg},
          {"parts", cuts_json(details->cuts)}};
}

Json windows_json(const std::vector<ForceWindow>& windows) {
  Json list = Json::array();
  for (const ForceWindow& window : windows) {
    list.push_back(json_of(window.force_n));
  }
  return list;
}

Json plate_json(const PlateTrial& plate) {
  return {{"thickness_mm", plate.thickness_mm},       {"bow_mm", plate.bow_mm},
          {"most_bow_mm", plate.most_bow_mm},         {"stress_mpa", plate.stress_mpa},
          {"most_stress_mpa", plate.most_stress_mpa}, {"holds", plate.holds()}};
}

Json springs_json(const SpringOrder& springs) {
  return {{"outer_mm", springs.disc.outer_mm},
          {"inner_mm", springs.disc.inner_mm},
          {"thickness_mm", springs.disc.thickness_mm},
          {"cone_height_mm", springs.disc.cone_height_mm},
          {"parallel", springs.disc.parallel},
          {"series", springs.disc.series},
          {"discs", springs.discs},
          {"deflection_mm", springs.deflection_mm},
          {"recommended_travel_mm", springs.recommended_travel_mm},
          {"force_windows_n", windows_json(springs.windows)}};
}

Json frame_json(const FrameOrder& frame) {
  return {{"found", frame.problem == FrameProblem::none},
          {"rods",
           {{"count", frame.rods.count},
            {"thread_mm", frame.rods.thread_mm},
            {"grade", frame.rods.grade},
            {"length_mm", frame.rods.length_mm},
            {"proof_share", frame.rods.proof_share}}},
          {"plate", frame.plates ? plate_json(frame.plates->chosen) : Json(nullptr)},
          {"next_thinner", frame.plates && frame.plates->next_thinner
                               ? plate_json(*frame.plates->next_thinner)
                               : Json(nullptr)},
          {"springs", frame.springs ? springs_json(*frame.springs) : Json(nullptr)},
          {"rods_alone_windows_n", windows_json(frame.rods_alone)},
          {"force_windows_n", windows_json(frame.windows)},
          {"force_n", frame.force_n},
          {"plan", frame.plan ? json_of(*frame.plan) : Json(nullptr)}};
}

}  // namespace

Json size_json(const SizeAnswer& answer) {
  Json offers = Json::array();
  for (const SizeOffer& offer : answer.offers) {
    offers.push_back(offer_json(offer));
  }
  Json json = {
      {"stackfit", 1},
      {"question", "size"},
      {"title", answer.title},
      {"verdict", code_of(answer.verdict)},
      {"cells", answer.cell_count},
      {"measured", answer.measured},
      {"cell_nominal_mm", answer.nominal_mm},
      {"cell_tolerance_mm", answer.tolerance_mm},
      {"cells_free_mm", answer.cells_mm},
      {"swing_mm", answer.swing_mm},
      {"band_takes_mm", answer.band_takes_mm},
      {"paint_mm", answer.paint_mm},
      {"walls", walls_json(answer.walls)},
      {"offers", offers},
      {"with_filler", answer.with_filler ? offer_json(*answer.with_filler) : Json(nullptr)},
      {"intervals_mm", json_list(answer.intervals)},
      {"kit_on_hand_intervals_mm", json_list(answer.kit_intervals)}};
  if (answer.pad) {
    json["pad"] = {{"thickness_mm", answer.pad->thickness_mm},
                   {"grade", answer.pad->table ? Json(nullptr) : Json(answer.pad->grade)},
                   {"both_ends", answer.pad->both_ends}};
    json["pad"].update(length_json(answer.pad->length));
  }
  if (answer.thin_wall) {
    json["thin_wall"] = wall_json(answer.thin_wall->wall);
    json["thin_wall"].update(length_json(answer.thin_wall->length));
  }
  if (answer.less_charge) {
    json["less_charge"] = {{"charge", json_of(answer.less_charge->charge)}};
    json["less_charge"].update(length_json(answer.less_charge->length));
  }
  json["short_mm"] = answer.offers.empty() ? Json(answer.short_mm) : Json(nullptr);
  json["hand_refuses"] = answer.hand_refuses;
  json["finer_sheets"] = answer.finer ? length_json(*answer.finer) : Json(nullptr);
  json["wider_band_high_mpa"] =
      answer.wider_high_mpa > 0 ? Json(answer.wider_high_mpa) : Json(nullptr);
  json["end_plate_mm"] = answer.end_plate_mm > 0 ? Json(answer.end_plate_mm) : Json(nullptr);
  json["frame"] = answer.frame ? frame_json(*answer.frame) : Json(nullptr);
  json["width"] = answer.section ? inner_json(answer.section->width) : Json(nullptr);
  json["height"] = answer.section ? inner_json(answer.section->height) : Json(nullptr);
  json["details"] = details_json(answer.details);
  json["soft"] = bracket_json(answer.soft);
  json["stiff"] = bracket_json(answer.stiff);
  json["warnings"] = json_list(answer.warnings);
  json["assumed"] = json_list(answer.assumed);
  json["assumed_words"] = json_list(answer.assumed_words);
  return json;
}

}  // namespace stackfit::cli
