// SPDX-License-Identifier: GPL-3.0-or-later
//
// A press test's answer as JSON: every figure, one unit each.
#include "cli/cautions.hpp"
#include "cli/view_json_parts.hpp"
#include "cli/view_softness.hpp"
#include "cli/words_softness.hpp"

namespace stackfit::cli {
namespace {

Json span_json(const PressSpan& span) {
  return {{"low", span.open_low ? Json(nullptr) : Json(span.span.low)},
          {"high", span.open_high ? Json(nullptr) : Json(span.span.high)}};
}

Json point_json(const PressPoint& point) {
  return {{"pressure_mpa", point.pressure_mpa},
          {"squeeze_mm", point.squeeze_mm},
          {"span_mpa", json_of(point.span_mpa)},
          {"assumed_mpa", point.assumed_mpa},
          {"assumed_span_mpa", json_of(point.assumed_span_mpa)},
          {"above_test", point.above_test}};
}

Json law_json(const PressResult& result) {
  return {{"a_mpa", result.law.a_mpa},
          {"a_span_mpa", span_json(result.a_mpa)},
          {"b", result.law.b},
          {"b_span", span_json(result.b)},
          {"free_mm", result.law.free_mm},
          {"free_span_mm", span_json(result.free_mm)},
          {"nominal_mm", result.nominal_mm},
          {"correlation_ln_a_ln_b", result.ln_a_ln_b_correlation},
          {"fit_end", code(result.fit_end)},
          {"prior_used", result.prior_used},
          {"reading_error_mm", result.reading_error_mm},
          {"reading_error_from", code(result.error_source)},
          {"good_up_to_mpa", result.reach_mpa}};
}

Json loads_json(const PressResult& result) {
  Json list = Json::array();
  for (const PressLoadResult& load : result.loads) {
    list.push_back({{"pressure_mpa", load.pressure_mpa},
                    {"thickness_mm", load.thickness_mm},
                    {"residual_mm", load.residual_mm},
                    {"error_mm", load.error_mm},
                    {"readings", load.readings}});
  }
  return list;
}

Json band_json(const PressResult& result) {
  const auto point = [](const std::optional<PressPoint>& at) {
    return at ? point_json(*at) : Json(nullptr);
  };
  return {{"low_mpa", result.band.mpa.low}, {"high_mpa", result.band.mpa.high},
          {"assumed", result.band.assumed}, {"from_loads", result.band_from_loads},
          {"at_low", point(result.low)},    {"at_middle", point_json(result.middle)},
          {"at_high", point(result.high)}};
}

Json outlier_json(const PressResult& result) {
  if (!result.outlier) return nullptr;
  return {{"load", result.outlier->load + 1}, {"off_mm", result.outlier->off_mm}};
}

Json way_back_json(const PressResult& result) {
  if (!result.way_back) return nullptr;
  return {{"readings", result.way_back->readings},
          {"thinner_mm", result.way_back->thinner_mm},
          {"shows", result.way_back->shows}};
}

Json assumed_json(const PressResult& result) {
  Json list = Json::array();
  for (const Assumed id : result.assumed) {
    const Assumption& line = assumption(id);
    list.push_back(
        {{"key", line.key}, {"value", line.value}, {"low", line.low}, {"high", line.high}});
  }
  return list;
}

}  // namespace

nlohmann::ordered_json softness_json(const SoftnessAnswer& answer) {
  const PressResult& result = answer.result;
  Json json;
  json["stackfit_answer"] = answer_format;
  json["question"] = "softness";
  json["table"] = answer.table;
  json["inside"] = result.clean();
  json["face_area_mm2"] = or_null(answer.face_area_mm2);
  json["readings"] = result.readings;
  json["law"] = law_json(result);
  json["softness"] = Json::parse('{' + softness_lines(result.law) + '}')["softness"];
  json["band"] = band_json(result);
  json["tangent_mpa"] = result.tangent_mpa;
  json["tangent_span_mpa"] = json_of(result.tangent_span_mpa);
  json["give_mm_per_mpa"] = result.give_mm_per_mpa;
  json["stiffer_than_assumed"] = result.stiffer;
  json["stiffer_span"] = json_of(result.stiffer_span);
  json["loads"] = loads_json(result);
  json["outlier"] = outlier_json(result);
  json["way_back"] = way_back_json(result);
  json["warnings"] = Json::array();
  for (const PressWarning warning : result.warnings) json["warnings"].push_back(code(warning));
  json["assumed"] = assumed_json(result);
  json["cautions"] = {std::string("STOP: ") + cautions::never_pressed, cautions::overruled};
  return json;
}

}  // namespace stackfit::cli
