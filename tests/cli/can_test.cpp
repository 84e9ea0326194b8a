// SPDX-License-Identifier: GPL-3.0-or-later
//
// The can's wall and rim: read, refused where half said, kept in the saved copy, told in words.
#include <string>

#include "cli/figures.hpp"
#include "cli/save_build.hpp"
#include "cli/words_warning.hpp"
#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"

namespace stackfit::cli {
namespace {

using Catch::Approx;
using testing::all_of;
using testing::holds;
using testing::problem_at;
using testing::read_text;

ReadBuild with_can(const std::string& can) {
  return read_text(testing::plain_build, {{"cell.can", can}});
}

}  // namespace

TEST_CASE("can: wall and rim are read, in any unit of length, below the edge too") {
  const ReadBuild above = with_can(R"({"wall": "0.7 mm", "rim_height": "+0.1 mm"})");
  INFO(all_of(above));
  REQUIRE(above.build);
  REQUIRE(above.build->cell.can);
  CHECK(above.build->cell.can->wall_mm == Approx(0.7));
  CHECK(above.build->cell.can->rim_height_mm == Approx(0.1));
  const ReadBuild below = with_can(R"({"wall": "1/32 in", "rim_height": -0.25})");
  REQUIRE(below.build);
  CHECK(below.build->cell.can->wall_mm == Approx(25.4 / 32));
  CHECK(below.build->cell.can->rim_height_mm == Approx(-0.25));
  CHECK_FALSE(read_text(testing::plain_build).build->cell.can);
}

TEST_CASE("can: what is half said or cannot be is a problem at its place") {
  CHECK(
      holds(problem_at(with_can(R"({"wall": 0.7})"), "/cell/can/rim_height").found, "rim_height"));
  CHECK_FALSE(with_can(R"({"wall": 0.7})").build);
  CHECK_FALSE(with_can(R"({"rim_height": 0})").build);
  CHECK(holds(problem_at(with_can(R"({"wall": 0, "rim_height": 0})"), "/cell/can/wall").allowed,
              "above zero"));
  CHECK(holds(problem_at(with_can(R"({"wall": 70, "rim_height": 0})"), "/cell/can/wall").allowed,
              "5 mm"));
  CHECK(holds(
      problem_at(with_can(R"({"wall": 0.7, "rim_height": 58})"), "/cell/can/rim_height").allowed,
      "-5 to 5 mm"));
  CHECK_FALSE(with_can(R"({"wall": "0.7 kg", "rim_height": 0})").build);
}

TEST_CASE("can: the saved copy keeps it and gives the same figures") {
  const ReadBuild read = testing::read_fixture(
      "shed_bank.json", {{"cell.can", R"({"wall": 0.7, "rim_height": -0.05})"}});
  REQUIRE(read.build);
  const Answer picked = answer_pick(*read.build);
  REQUIRE(picked.plan.rim_share);
  const testing::Folder folder;
  save_build(folder.path("built.json"), read, picked);
  const ReadBuild again = read_build({folder.path("built.json"), {}, {}});
  REQUIRE(again.build);
  REQUIRE(again.build->cell.can);
  CHECK(again.build->cell.can->rim_height_mm == Approx(-0.05));
  const Answer seen = answer_pressure(*again.build);
  CHECK(seen.plan.highest.force_n == Approx(picked.plan.highest.force_n).epsilon(1e-9));
  CHECK(*seen.plan.rim_share == Approx(*picked.plan.rim_share).epsilon(1e-9));
}

TEST_CASE("can: a warning by the rims' share says the share") {
  const Warning warning{WarningCode::can_carries_load, "rims", 0.9, 0.37, 0.05, 0};
  const std::string text = sentence(warning, Figures{});
  CHECK(holds(text, "rims carry 37 %"));
  CHECK(holds(text, "5.0 mm"));
}

}  // namespace stackfit::cli
