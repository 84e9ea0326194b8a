// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/data_lines.hpp"

#include "tests/catch.hpp"

namespace stackfit::cli {

TEST_CASE("data lines: thickness as data sheets print it") {
  for (const char* text :
       {"63.4±0.6 mm 30-40% 240kgf", "63.4±0.6 30-40% 240kgf", "63.4 ± 0.6 mm, 30 - 40 %, 240 kgf",
        "63.4±0.6mm (at 30%-40% SOC, under 240 kgf)", "63.4+-0.6 mm 240kgf 30-40%"}) {
    INFO(text);
    const auto line = read_thickness_line(text);
    REQUIRE(line.ok());
    CHECK(line.value->nominal_mm == Catch::Approx(63.4));
    CHECK(line.value->tolerance_mm.value_or(0) == Catch::Approx(0.6));
    REQUIRE(line.value->at_charge);
    CHECK(line.value->at_charge->low == Catch::Approx(0.3));
    CHECK(line.value->at_charge->high == Catch::Approx(0.4));
    CHECK(line.value->under_force_n.value_or(0) == Catch::Approx(240 * 9.80665));
  }
  const auto bare = read_thickness_line("2 1/2 in");
  REQUIRE(bare.ok());
  CHECK(bare.value->nominal_mm == Catch::Approx(63.5));
  CHECK_FALSE(bare.value->tolerance_mm);
  CHECK_FALSE(read_thickness_line("").ok());
  CHECK_FALSE(read_thickness_line("63.4 mm 240").ok());
  CHECK_FALSE(read_thickness_line("63.4 mm 30-40% 240kgf 12 mm").ok());
  CHECK_FALSE(read_thickness_line("thick").ok());
  CHECK_FALSE(read_thickness_line("63.4 mm 240 kg").note.empty());
}

TEST_CASE("data lines: a pile of shims") {
  for (const char* text : {"0.8x14", "0.8 mm x 14", "0.8mm X14", "0.8 \xC3\x97 14"}) {
    INFO(text);
    const auto pile = read_shim_pile(text);
    REQUIRE(pile.ok());
    CHECK(pile.value->thickness_mm == Catch::Approx(0.8));
    CHECK(pile.value->count == 14);
    CHECK_FALSE(pile.value->material);
  }
  CHECK(read_shim_pile("1/32 in x 3 glass-epoxy").value->material == SheetMaterial::glass_epoxy);
  CHECK(read_shim_pile("0.8x14 PP").value->material == SheetMaterial::polypropylene);
  CHECK_FALSE(read_shim_pile("0.8").ok());
  CHECK_FALSE(read_shim_pile("0.8x").ok());
  CHECK_FALSE(read_shim_pile("0.8x1.5").ok());
  CHECK_FALSE(read_shim_pile("0.8x3 butter").ok());
}

TEST_CASE("data lines: walls and faces") {
  const auto wall = read_wall("3mm aluminium folded");
  REQUIRE(wall.ok());
  CHECK(wall.value->thickness_mm == 3.0);
  CHECK(wall.value->material == WallMaterial::aluminium);
  CHECK(wall.value->joint == WallJoint::folded);
  CHECK(read_wall("welded stainless steel 2 mm").value->material == WallMaterial::stainless_steel);
  CHECK_FALSE(read_wall("3 mm aluminium").value->joint);
  CHECK_FALSE(read_wall("3 mm cheese").ok());
  CHECK_FALSE(read_wall("").ok());
  CHECK(read_face("152x188").value->height_mm == 188);
  CHECK(read_face("152 mm x 188 mm").value->width_mm == 152);
  CHECK(read_face("6x7 in").value->width_mm == Catch::Approx(152.4));
  CHECK_FALSE(read_face("152").ok());
  CHECK_FALSE(read_face("152 x kg").ok());
}

}  // namespace stackfit::cli
