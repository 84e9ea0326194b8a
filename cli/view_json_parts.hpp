// SPDX-License-Identifier: GPL-3.0-or-later
//
// The blocks of the JSON answer.
//
// For: view_json*.cpp only.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <vector>

#include "solver/answer.hpp"

namespace stackfit::cli {

using Json = nlohmann::ordered_json;

/// What "stackfit_answer" says. Changes only when a key changes its meaning or goes.
inline constexpr int answer_format = 1;

// view_json_plan.cpp
[[nodiscard]] Json json_of(const StateResult& state);
[[nodiscard]] Json json_of(const PlanResult& plan);
// view_json_chance.cpp
[[nodiscard]] Json json_of(const ChanceOf& chance);
[[nodiscard]] Json json_of(const ChanceRival& rival);
[[nodiscard]] Json json_of(const Chance& chance);
// view_json_advice.cpp
[[nodiscard]] Json json_of(const Move& move);
[[nodiscard]] Json json_of(const InsertionResult& insertion);
[[nodiscard]] Json json_of(const Warning& warning);
[[nodiscard]] Json json_of(const Failure& failure);
[[nodiscard]] Json json_of(const Remedy& remedy);
[[nodiscard]] Json json_of(const AssumedUse& use);
[[nodiscard]] Json json_of(const AssumedWord& word);

[[nodiscard]] inline Json json_of(const Span& span) {
  return {{"low", span.low}, {"high", span.high}};
}

/// The value, or null.
template <class Value>
[[nodiscard]] Json or_null(const std::optional<Value>& value) {
  if (!value) {
    return nullptr;
  }
  if constexpr (std::is_arithmetic_v<Value>) {
    return *value;
  } else {
    return json_of(*value);
  }
}

template <class Value>
[[nodiscard]] Json json_list(const std::vector<Value>& values) {
  Json list = Json::array();
  for (const Value& value : values) {
    list.push_back(json_of(value));
  }
  return list;
}

}  // namespace stackfit::cli
