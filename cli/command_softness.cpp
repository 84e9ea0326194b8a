// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/command_softness.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <optional>
#include <utility>
#include <vector>

#include "cli/build_input.hpp"
#include "cli/data_lines.hpp"
#include "cli/press_csv.hpp"
#include "cli/press_protocol.hpp"
#include "cli/quantity.hpp"
#include "cli/view_softness.hpp"
#include "solver/band.hpp"
#include "solver/findings.hpp"

namespace stackfit::cli {
namespace {

// The cell that was pressed and the band the law is for.
struct Wanted {
  std::optional<double> face_area_mm2;
  double nominal_mm = 0;
  std::optional<double> reading_error_mm;
  std::optional<WantedBand> band;
  UnitChoice units;
  bool corner_assumed = false;
};

class OptionsTaker {
 public:
  OptionsTaker(const SoftnessOptions& options, const PressTable& table, Console& console)
      : options_(options), table_(table), console_(console), problems_(table.problems) {}

  // Nothing where something could not be used; all of it has been told then.
  std::optional<Wanted> take() {
    take_range();
    take_reading_error();
    return options_.build.empty() ? from_options() : from_build();
  }

 private:
  void problem(std::string option, std::string found, std::string allowed, std::string mend = {}) {
    problems_.push_back(
        {{std::move(option), 0, 0, ""}, std::move(found), std::move(allowed), std::move(mend)});
  }

  // What an option says, or nothing with a problem noted.
  template <class Value>
  std::optional<Value> taken(const std::string& option, const std::string& text,
                             const Parsed<Value>& read) {
    if (!read.ok()) problem(option, fmt::format("\"{}\"", text), read.allowed, read.mend);
    return read.value;
  }

  void take_range() {
    if (options_.range.empty()) return;
    const auto range =
        taken("--range", options_.range, read_span(options_.range, Dimension::pressure));
    if (!range) return;
    if (range->low <= 0 || range->low >= range->high) {
      return problem("--range", fmt::format("\"{}\"", options_.range),
                     "a low pressure above zero, then a higher one: 50-150kPa");
    }
    wanted_.band = WantedBand{*range, false};
  }

  void take_reading_error() {
    if (options_.reading_error.empty()) return;
    const auto error = taken("--reading-error", options_.reading_error,
                             read_quantity(options_.reading_error, Dimension::length));
    if (error && *error <= 0) {
      return problem("--reading-error", fmt::format("\"{}\"", options_.reading_error),
                     "a length above zero, such as 0.02mm");
    }
    wanted_.reading_error_mm = error;
  }

  void take_thickness() {
    if (options_.thickness.empty()) {
      return problem("--thickness", "no nominal thickness",
                     "the data sheet's thickness, such as --thickness \"58.2 mm\"",
                     "or name the build it is for: --for build.json");
    }
    const auto line =
        taken("--thickness", options_.thickness, read_thickness_line(options_.thickness));
    if (line && line->nominal_mm <= 0) {
      return problem("--thickness", fmt::format("\"{}\"", options_.thickness),
                     "a thickness above zero");
    }
    if (line) wanted_.nominal_mm = line->nominal_mm;
  }

  void take_face() {
    if (options_.face.empty()) {
      if (!table_.by_force()) return;
      return problem("--face", "loads that are forces, and no face",
                     "the size of the face they press, such as --face 141x183",
                     "or name the build it is for: --for build.json");
    }
    const auto face = taken("--face", options_.face, read_face(options_.face));
    if (!face) return;
    if (face->width_mm <= 0 || face->height_mm <= 0) {
      return problem("--face", fmt::format("\"{}\"", options_.face),
                     "a width and a height above zero");
    }
    set_face(*face);
  }

  void set_face(const FaceSize& face) {
    wanted_.face_area_mm2 = press_face_area_mm2(face, Assumptions());
    wanted_.corner_assumed = !face.corner_radius_mm;
  }

  std::optional<Wanted> from_options() {
    take_face();
    take_thickness();
    const UnitChoiceRead units = read_unit_choice(options_.units);
    if (!units.problem.empty()) {
      problem("--units", fmt::format("\"{}\"", options_.units), units.problem);
    }
    if (!problems_.empty()) {
      refuse(console_, problems_);
      return {};
    }
    wanted_.units = units.choice;
    return std::move(wanted_);
  }

  std::optional<Wanted> from_build() {
    if (!options_.face.empty() || !options_.thickness.empty()) {
      problem("--for", "a build together with --face or --thickness", "one of the two",
              "the build says both already");
    }
    BuildInput input;
    input.file = options_.build;
    input.units = options_.units;
    const auto build = take_build(input, console_, std::move(problems_));
    if (!build) return {};
    const CellType& cell = build->read.build->cell;
    set_face(cell.face);
    wanted_.nominal_mm = cell.thickness.nominal_mm;
    wanted_.units = build->units;
    if (!wanted_.band) {
      Findings unused;
      const BandResult band = make_band(cell, *wanted_.face_area_mm2, Assumptions(), unused);
      wanted_.band = WantedBand{{band.low_mpa, band.high_mpa}, band.assumed};
    }
    return std::move(wanted_);
  }

  const SoftnessOptions& options_;
  const PressTable& table_;
  Console& console_;
  std::vector<Problem> problems_;
  Wanted wanted_;
};

SoftnessAnswer answered(const PressTest& test, const Wanted& wanted, const PressTable& table,
                        std::string name) {
  const Assumptions assumptions;
  const PressFit fit(test, assumptions);
  SoftnessAnswer answer{press_result(fit, wanted.band, assumptions), std::move(name),
                        wanted.face_area_mm2};
  if (table.by_force() && wanted.corner_assumed) {
    answer.result.assumed.push_back(Assumed::corner_radius);
  }
  return answer;
}

}  // namespace

int run_softness(const SoftnessOptions& options, Console& console) {
  if (options.table.empty()) {
    return deliver(console, press_protocol(), exit_inside);
  }
  const TextFile file = read_text_file(options.table);
  const PressTable table = read_press_table(file);
  const std::optional<Wanted> wanted = OptionsTaker(options, table, console).take();
  if (!wanted) {
    return exit_unusable;
  }
  const PressedCell cell{wanted->face_area_mm2.value_or(0), wanted->nominal_mm,
                         wanted->reading_error_mm};
  const PressTestTaken taken = take_press_test(table, cell, Assumptions());
  if (!taken.problems.empty()) {
    return refuse(console, taken.problems);
  }
  tell(console, table.notes);
  constexpr int indent = 2;
  const SoftnessAnswer answer = answered(taken.test, *wanted, table, file.name);
  const std::string text =
      options.json ? softness_json(answer).dump(indent) + "\n"
                   : softness_text(answer, {.colour = console.colour, .units = wanted->units});
  return deliver(console, text, answer.result.clean() ? exit_inside : exit_warning);
}

}  // namespace stackfit::cli
