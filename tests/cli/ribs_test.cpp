// SPDX-License-Identifier: GPL-3.0-or-later
//
// Ribs and second plates from the file to the answer and back to what is printed.
#include <algorithm>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "cli/figures.hpp"
#include "cli/read_build.hpp"
#include "cli/view_json_parts.hpp"
#include "cli/view_text_walls.hpp"
#include "solver/answer.hpp"
#include "tests/catch.hpp"

namespace {

using namespace stackfit;
using Catch::Approx;

constexpr const char* ribbed_box = STACKFIT_FIXTURES_DIR "/ribbed_box.json";

Build ribbed(std::vector<cli::PathValue> sets = {}) {
  cli::BuildSource source;
  source.file = ribbed_box;
  source.sets = std::move(sets);
  return cli::read_build(source).build.value();
}

}  // namespace

TEST_CASE("ribs: what the file says of them is what the build holds") {
  const Build build = ribbed({{"box.end_walls.0.ribs.1.at", "8 cm"},
                              {"box.end_walls.0.ribs.0.material", "steel"},
                              {"box.end_walls.0.ribs.0.joint", "screwed"}});
  const auto& first = std::get<PlateWall>(build.box.end_walls.value());
  REQUIRE(first.ribs.size() == 2);
  CHECK(first.ribs[0].along == RibAlong::width);
  CHECK(first.ribs[0].at_mm == 40);
  CHECK(first.ribs[0].thickness_mm == 3);
  CHECK(first.ribs[0].height_mm == 15);
  CHECK(first.ribs[0].material == WallMaterial::carbon_steel);
  CHECK(first.ribs[0].joint == RibJoint::screwed);
  CHECK(first.ribs[1].at_mm == Approx(80));
  CHECK(first.ribs[1].joint == RibJoint::welded);
  CHECK_FALSE(first.second_plate);
  const auto& last = std::get<PlateWall>(build.box.last_end_wall.value());
  CHECK(last.ribs.empty());
  CHECK(last.second_plate->thickness_mm == 2);
  CHECK(last.second_plate->material == WallMaterial::carbon_steel);
}

TEST_CASE("ribs: pick takes them, and prints their stress beside the wall's") {
  const Answer answer = answer_pick(ribbed());
  REQUIRE(answer.has_plan);
  REQUIRE(answer.plan.walls.size() == 2);
  const WallResult& first = answer.plan.walls[0];
  const WallResult& last = answer.plan.walls[1];
  REQUIRE(first.rib_stress_mpa);
  CHECK_FALSE(last.rib_stress_mpa);
  CHECK(last.second_plate_mm == 2);
  const std::string text = cli::wall_words(answer.plan, cli::Figures{});
  INFO(text);
  CHECK_THAT(text, Catch::Matchers::ContainsSubstring(" at a rib's outer edge (yields at "));
  CHECK_THAT(text, Catch::Matchers::ContainsSubstring(
                       last.stress_in_second_plate ? "second plate's surface" : "at the surface"));
  const auto walls = cli::json_of(answer.plan)["walls"];
  CHECK(walls[0]["rib_stress_mpa"] == *first.rib_stress_mpa);
  CHECK(walls[0]["rib_yield_mpa"] == first.rib_yield_mpa);
  CHECK(walls[0]["second_plate_mm"].is_null());
  CHECK(walls[1]["second_plate_mm"] == 2);
  CHECK(walls[1]["rib_stress_mpa"].is_null());
}

TEST_CASE("ribs: a bare wall bows more, and a rib is warned of only beyond its yield") {
  const Answer answer = answer_pick(ribbed());
  Build bare = ribbed();
  std::get<PlateWall>(bare.box.end_walls.value()).ribs.clear();
  std::get<PlateWall>(bare.box.last_end_wall.value()).second_plate.reset();
  const Answer plain = answer_pick(bare);
  REQUIRE(plain.has_plan);
  CHECK(plain.plan.walls[0].bow_mm > 1.2 * answer.plan.walls[0].bow_mm);
  Build thin = ribbed();
  auto& ribs = std::get<PlateWall>(thin.box.end_walls.value()).ribs;
  ribs.resize(1);
  ribs[0].at_mm.reset();
  ribs[0].height_mm = 25;
  ribs[0].thickness_mm = 1;
  const Answer overdone = answer_pick(thin);
  REQUIRE(overdone.has_plan);
  const WallResult& wall = overdone.plan.walls[0];
  const bool beyond = *wall.rib_stress_mpa > wall.rib_yield_mpa / 1.5;
  const auto warned =
      std::count_if(overdone.warnings.begin(), overdone.warnings.end(), [](const Warning& warning) {
        return warning.code == WarningCode::rib_stress && warning.next_step > 1;
      });
  INFO(*wall.rib_stress_mpa);
  CHECK(warned == (beyond ? 1 : 0));
}
