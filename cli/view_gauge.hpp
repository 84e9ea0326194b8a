// SPDX-License-Identifier: GPL-3.0-or-later
//
// A gauge's answer in words and as JSON.
//
// For: the gauge command. Contract, as of every view: 80 columns, nothing decided here.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "cli/units.hpp"
#include "solver/gauge.hpp"

namespace stackfit::cli {

struct GaugeStyle {
  bool colour = false;
  bool error_assumed = false;  ///< the readings' error was not said
  bool sheets_known = true;    ///< else there is nothing to hold the reading against
  UnitChoice units;
};
[[nodiscard]] std::string gauge_text(const GaugeAnswer& answer, const std::string& title,
                                     const GaugeStyle& style);
[[nodiscard]] nlohmann::ordered_json gauge_json(const GaugeAnswer& answer);

}  // namespace stackfit::cli
