// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a press test says, as text and as JSON.
//
// For: `stackfit softness`. Prints a PressResult; decides nothing.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "cli/units.hpp"
#include "solver/press_result.hpp"

namespace stackfit::cli {

/// A press test answered, with what a view needs beside the figures.
struct SoftnessAnswer {
  PressResult result;
  std::string table;                    ///< name of the file of readings
  std::optional<double> face_area_mm2;  ///< where loads were forces or a face was said
};

struct SoftnessStyle {
  bool colour = false;
  UnitChoice units;
};

[[nodiscard]] std::string softness_text(const SoftnessAnswer& answer, const SoftnessStyle& style);
[[nodiscard]] nlohmann::ordered_json softness_json(const SoftnessAnswer& answer);

/// What goes into the build file's "cell": `"softness": { "a": "0.052 MPa", "b": 171 }`.
[[nodiscard]] std::string softness_lines(const PressLaw& law);
/// The same for a command line: `--set cell.softness.a="0.052 MPa" --set cell.softness.b=171`.
[[nodiscard]] std::string softness_sets(const PressLaw& law);

}  // namespace stackfit::cli
