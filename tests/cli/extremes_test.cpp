// SPDX-License-Identifier: GPL-3.0-or-later
//
// Builds at the ends of what can be said: an answer whose every figure is finite and whose printed
// states are in balance, with the warning that names what is odd; or a refusal in words.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "cli/view_json.hpp"
#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"
#include "tests/row_residual.hpp"
#include "tests/solver/sample_frame.hpp"

using namespace stackfit;
using namespace stackfit::testing;

namespace {

/// Where the whole answer has a number that is none; empty: nowhere.
std::string not_finite(const nlohmann::ordered_json& json, const std::string& path = "") {
  if (json.is_number_float()) {
    return std::isfinite(json.get<double>()) ? "" : path;
  }
  std::string found;
  if (json.is_structured()) {
    for (const auto& [key, value] : json.items()) {
      found += not_finite(value, path + "/" + key);
    }
  }
  return found;
}

void check_printed_states(const Build& build, const PlanResult& plan) {
  const Study study(build, {});
  std::vector<int> used;
  for (const KitUse& kind : plan.kit) {
    used.push_back(kind.used);
  }
  const ShimLoad load = study.load_of(used);
  std::vector<StateResult> printed = plan.states;
  printed.insert(printed.end(), {plan.as_built, plan.lowest, plan.highest});
  for (const StateResult& state : printed) {
    const RowState asked{state.charge, state.temperature_c, state.capacity_loss, state.settled,
                         state.stiff_pads};
    const Residual left = RowResidual(study, load).at(asked);
    CHECK(left.gap_mm < 1e-9);
    CHECK(left.force_share < 1e-8);
    CHECK(left.walls_share < 1e-8);
    const double force = study.model().solve_fully(asked, load).force_n;
    CHECK(std::abs(force - state.force_n) <= 1e-9 * force);
  }
}

/// What was placed is taken as it is: no plan is chosen, no remedy sought. Empty where the build is
/// refused, which must be in words.
std::optional<Answer> answered(const Build& build) {
  try {
    Answer answer = build.placed.empty() ? answer_pick(build) : answer_pressure(build);
    const std::string where = not_finite(cli::json_of(answer));
    INFO(where);
    CHECK(where.empty());
    if (answer.has_plan) {
      check_printed_states(build, answer.plan);
    } else {
      CHECK(answer.failure.rule != FailedRule::none);
    }
    return answer;
  } catch (const UnusableBuild& refused) {
    CHECK(std::string(refused.what()).size() > 20);
    return std::nullopt;
  }
}

bool warns(const std::optional<Answer>& answer, WarningCode code) {
  return answer && sample::find_warning(answer->warnings, code) != nullptr;
}

Build between_plates(int cells, double thickness_mm, double room_mm) {
  Build b = sample::known(cells, room_mm);
  b.box.end_walls = PlateWall{thickness_mm, WallMaterial::aluminium, WallJoint::folded};
  b.box.side_walls = {2, WallMaterial::aluminium};
  b.box.inner_width_mm = 124;
  b.box.inner_height_mm = 110;
  b.build.method = BuildMethod::end_wall_last;
  return b;
}

Build with_edges(Build b, const std::vector<double>& edges_mm) {
  double longer = 0;
  for (std::size_t i = 0; i < edges_mm.size(); ++i) {
    longer += edges_mm[i] - *b.cells[i].edge_mm;
    b.cells[i].edge_mm = b.cells[i].middle_mm = edges_mm[i];
  }
  b.box.inner_length_mm.front() += longer;
  return b;
}

}  // namespace

TEST_CASE("extreme: one cell") {
  const auto answer = answered(between_plates(1, 3, 1.0));
  REQUIRE(answer);
  CHECK(answer->plan.gaps.size() == 2);
}

TEST_CASE("extreme: sixty-four cells") {
  Build build = between_plates(64, 6, 48);
  for (KitShim& shim : build.kit) {
    shim.count = 80;
  }
  const auto answer = answered(build);
  REQUIRE(answer);
  CHECK(answer->has_plan);
}

TEST_CASE("extreme: walls of 0.2 mm bow further than the model knows, and that is said") {
  const auto answer = answered(sample::placed_evenly(between_plates(4, 0.2, 3.5), "thick"));
  CHECK(warns(answer, WarningCode::walls_bow_far));
}

TEST_CASE("extreme: walls of 50 mm are nearly rigid, and that they are thick is said") {
  const auto answer = answered(between_plates(4, 50, 3.5));
  CHECK(warns(answer, WarningCode::wall_is_thick));
  Build rigid = between_plates(4, 50, 3.5);
  rigid.box.end_walls = RigidWall{};
  const Answer beside = answer_pick(rigid);
  REQUIRE(answer->has_plan);
  CHECK(answer->plan.highest.force_n == Catch::Approx(beside.plan.highest.force_n).epsilon(0.05));
}

TEST_CASE("extreme: a foam driven solid is said to be so") {
  Build build = sample::known(4, 0);
  PadInput pad = sample::with_pads().pads.front();
  build.pads.push_back(pad);
  build.box.inner_length_mm.front() += 2 * 0.3 * pad.thickness_mm;
  CHECK(warns(answered(build), WarningCode::pad_solid));
}

TEST_CASE("extreme: disc springs driven past flat are said to be solid") {
  Build build = sample::sample_frame(0.03, 0.25);
  build.frame->plates.thickness_mm = 10;
  build.frame->rods.size = "M6";
  build.frame->springs = DiscSprings{20, 10.2, 1.1, 0.45, {}, 1, 1};
  build.frame->force_n = 5600;  // nearly flat as built
  build.cell.swing = SwingFigures{0.02, 0.005};
  const auto answer = answered(build);
  CHECK(warns(answer, WarningCode::springs_solid));
}

TEST_CASE("extreme: a face of two by three millimetres") {
  Build build = sample::known();
  build.cell.face = {2, 3, 0.0};
  CHECK(answered(build));
}

TEST_CASE("extreme: cells as hard as steel and as soft as down") {
  for (const SoftnessLaw& law : {SoftnessLaw{10, 5000}, SoftnessLaw{1e-4, 5}}) {
    Build rigid = sample::known();
    rigid.cell.softness = law;
    CHECK(answered(rigid));
    Build bends = between_plates(4, 3, 3.5);
    bends.cell.softness = law;
    CHECK(answered(sample::placed_evenly(bends, "thick")));
  }
}

TEST_CASE("extreme: cells that do not breathe") {
  Build build = sample::known();
  build.cell.swing = SwingFigures{0, 0};
  build.use.temperature_c = Span{20, 20};
  const auto answer = answered(build);
  REQUIRE(answer);
  REQUIRE(answer->has_plan);
  CHECK(answer->plan.highest.force_n == answer->plan.lowest.force_n);
}

TEST_CASE("extreme: cells from thin to thick in one row") {
  CHECK(answered(with_edges(sample::known(4, 3.5), {5, 70, 40.01, 39})));
  CHECK(answered(with_edges(between_plates(4, 3, 3.5), {5, 70, 40.01, 39})));
}

TEST_CASE("extreme: a range in millibar is the same range") {
  const auto in_mbar =
      cli::testing::read_text(cli::testing::plain_build, {{"cell.range", "300-2500 mbar"}});
  const auto in_kpa =
      cli::testing::read_text(cli::testing::plain_build, {{"cell.range", "30-250 kPa"}});
  REQUIRE(in_mbar.build);
  REQUIRE(in_kpa.build);
  const PressureRange a = in_mbar.build->cell.range.value();
  const PressureRange b = in_kpa.build->cell.range.value();
  CHECK(a.low_mpa == Catch::Approx(b.low_mpa).epsilon(1e-15));
  CHECK(a.high_mpa == Catch::Approx(b.high_mpa).epsilon(1e-15));
  Build build = sample::known();
  build.cell.range = a;
  CHECK(answered(build));
}
