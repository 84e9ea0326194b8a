// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/command_gauge.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <ostream>
#include <sstream>
#include <stdexcept>
#include <utility>
#include <vector>

#include "cli/node.hpp"
#include "cli/pretty_json.hpp"
#include "cli/quantity.hpp"
#include "cli/save_build.hpp"
#include "cli/view_gauge.hpp"
#include "cli/whole_file.hpp"
#include "solver/gauge.hpp"

namespace stackfit::cli {
namespace {

/// Of a straightedge with feelers, a dial or a caliper (common practice).
constexpr double usual_error_mm = 0.05;
// Finer than any caliper, and as coarse as a joiner's rule.
constexpr Span plausible_error_mm{0.001, 5};

/// The options as numbers, with all that is wrong with them.
class Asked {
 public:
  explicit Asked(const GaugeOptions& options) : options_(options) { read(); }

  std::vector<GaugeReading> readings;
  std::vector<Problem> problems;
  std::optional<double> charge;
  std::optional<double> temperature_c;
  bool error_assumed = false;

 private:
  std::optional<double> quantity(const char* option, const std::string& text, Dimension dimension) {
    if (text.empty()) {
      return {};
    }
    const Parsed<double> parsed = read_number(text) ? read_bare(*read_number(text), dimension)
                                                    : read_quantity(text, dimension);
    if (!parsed.ok()) {
      problem(option, text, parsed.allowed, parsed.mend);
    }
    return parsed.value;
  }

  void problem(const char* option, std::string found, std::string allowed, std::string mend) {
    problems.push_back({{option, 0, 0, ""}, std::move(found), std::move(allowed), std::move(mend)});
  }

  std::vector<std::string> parts(const std::string& text) {
    std::vector<std::string> out;
    std::istringstream all(text);
    for (std::string part; std::getline(all, part, ',');) {
      out.push_back(part);
    }
    return out;
  }

  void read_place(GaugeReading& reading) {
    if (options_.at.empty()) {
      return;
    }
    const std::vector<std::string> at = parts(options_.at);
    if (at.size() != 2) {
      problem("--at", options_.at, "two lengths from the middle of the wall, right and up: 40,-20",
              "");
      return;
    }
    reading.x_mm = quantity("--at", at[0], Dimension::length).value_or(0);
    reading.y_mm = quantity("--at", at[1], Dimension::length).value_or(0);
  }

  // A bow or a gap, each with the same reading of the empty box.
  void read_less_empty(GaugeKind kind, const char* option, const std::string& now,
                       const char* empty_option, const std::string& empty, double error) {
    const auto read_now = quantity(option, now, Dimension::length);
    const auto read_empty = quantity(empty_option, empty, Dimension::length);
    if (now.empty() && empty.empty()) {
      return;
    }
    if (now.empty() || empty.empty()) {
      problem(
          now.empty() ? option : empty_option, "nothing",
          "the reading now and the same reading before the cells went in",
          kind == GaugeKind::bow
              ? "a wall that was checked flat when empty: --empty-bow 0mm; one never read empty "
                "cannot be gauged by its bow"
              : "the inside length at that place when empty");
      return;
    }
    if (!read_now || !read_empty) {
      return;
    }
    GaugeReading reading{kind, *read_now, *read_empty, error, options_.wall == gauged_walls.back(),
                         0,    0};
    read_place(reading);
    readings.push_back(reading);
  }

  void read_springs(double error) {
    if (options_.spring_length.empty()) {
      return;
    }
    double sum = 0;
    const std::vector<std::string> lengths = parts(options_.spring_length);
    for (const std::string& length : lengths) {
      sum += quantity("--spring-length", length, Dimension::length).value_or(0);
    }
    GaugeReading reading;
    reading.kind = GaugeKind::spring_length;
    reading.now = sum / static_cast<double>(lengths.size());
    reading.error = error;
    readings.push_back(reading);
  }

  void read() {
    const auto said = quantity("--error", options_.error, Dimension::length);
    const double error = said.value_or(usual_error_mm);
    if (said && !is_within(error, plausible_error_mm)) {
      problem("--error", options_.error,
              fmt::format("a length from {:g} to {:g} mm, such as 0.05mm", plausible_error_mm.low,
                          plausible_error_mm.high),
              "the doubt of one reading, as a standard uncertainty");
    }
    error_assumed = options_.error.empty();
    if (!options_.wall.empty() &&
        std::ranges::find(gauged_walls, options_.wall) == gauged_walls.end()) {
      problem("--which-wall", options_.wall, "first (before cell 1) or last", "");
    }
    read_less_empty(GaugeKind::bow, "--bow", options_.bow, "--empty-bow", options_.empty_bow,
                    error);
    read_less_empty(GaugeKind::gap, "--gap", options_.gap, "--empty-gap", options_.empty_gap,
                    error);
    read_springs(error);
    if (const auto torque = quantity("--torque", options_.torque, Dimension::torque)) {
      GaugeReading reading;
      reading.kind = GaugeKind::torque;
      reading.now = *torque;
      readings.push_back(reading);
    }
    charge = quantity("--today", options_.today_charge, Dimension::charge);
    if (charge && !is_within(*charge, whole_charge)) {
      problem("--today", options_.today_charge, "a charge from 0 to 100 %", "");
    }
    temperature_c = quantity("--temperature", options_.temperature, Dimension::temperature);
    if (temperature_c && !is_within(*temperature_c, plausible_celsius)) {
      problem("--temperature", options_.temperature,
              fmt::format("a temperature from {:g} to {:g} C", plausible_celsius.low,
                          plausible_celsius.high),
              "check the unit");
    }
    if (readings.empty() && problems.empty()) {
      problem("the command line", "no reading",
              "--bow with --empty-bow, --gap with --empty-gap, --spring-length or --torque",
              "for example --bow 1.9mm --empty-bow 0.3mm --today 40%");
    }
  }

  const GaugeOptions& options_;
};

int learn(const GaugeOptions& options, const ReadBuild& read, const GaugeAnswer& answer,
          Console& console) {
  if (!answer.learned) {
    console.err << fmt::format(
        "{} was not written: no softness within four times of the one taken explains the reading, "
        "or no sheets are placed, or the build gives a table\n",
        options.learn);
    return 0;
  }
  nlohmann::ordered_json document = read.document;
  document["cell"]["softness"] = {
      {"a", fmt::format("{:.4g} MPa", answer.learned->a_mpa)},
      {"b", answer.learned->b},
      {"note",
       fmt::format("Learned by stackfit gauge on {}, {:.3g} to {:.3g} MPa by the reading's "
                   "error; right only if box, cells and charge are.",
                   today(), answer.learned->a_span_mpa.low, answer.learned->a_span_mpa.high)}};
  try {
    write_whole_file(options.learn, pretty_json(document), read.files);
  } catch (const std::runtime_error& error) {
    console.err << "stackfit: " << error.what() << '\n';
    return exit_failed;
  }
  return 0;
}

}  // namespace

int run_gauge(const GaugeOptions& options, Console& console) {
  const Asked asked(options);
  if (!options.input.any()) {
    console.err << "No build was given. For example:\n"
                   "  stackfit gauge built.json --bow 1.9mm --empty-bow 0.3mm --today 40%\n";
    return exit_unusable;
  }
  const std::optional<BuildTaken> taken = take_build(options.input, console, asked.problems);
  if (!taken) {
    return exit_unusable;
  }
  const Build& build = *taken->read.build;
  if (build.rows.value_or(1) > 1) {
    return refuse(console, {{{"rows", 0, 0, ""},
                             fmt::format("{} rows side by side", *build.rows),
                             "one row: what a wall shows of several cannot be told apart",
                             ""}});
  }
  const Study study(build, {});
  RowState state = study.model().build_state();
  state.stiff_pads = false;
  state.charge = asked.charge.value_or(state.charge);
  state.temperature_c = asked.temperature_c.value_or(state.temperature_c);
  for (const GaugeReading& reading : asked.readings) {
    const std::string_view reason = why_not_gauged(study, reading);
    if (!reason.empty()) {
      return refuse(
          console,
          {{{"the reading", 0, 0, ""}, "what cannot be gauged here", std::string(reason), ""}});
    }
  }
  const GaugeAnswer answer = gauge(study, state, asked.readings, !options.learn.empty());
  int failed = 0;
  if (!options.learn.empty()) {
    failed = learn(options, taken->read, answer, console);
  }
  const bool agrees =
      answer.readings_agree && (!answer.predicted || answer.predicted->suspects.empty());
  const int status = answer.standing == Standing::inside && agrees ? exit_inside : exit_warning;
  const GaugeStyle style{console.colour, asked.error_assumed, answer.predicted.has_value(),
                         taken->units};
  constexpr int indent = 2;
  const int shown = deliver(console,
                            options.json ? gauge_json(answer).dump(indent) + "\n"
                                         : gauge_text(answer, build.title, style),
                            status);
  return failed != 0 ? failed : shown;
}

}  // namespace stackfit::cli
