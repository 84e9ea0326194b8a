// SPDX-License-Identifier: GPL-3.0-or-later
//
// Masses by hand, and parts to lift against carrying them one by one.
#include "solver/lifting.hpp"

#include <rapidcheck.h>

#include <algorithm>

#include "solver/materials.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;
using Catch::Approx;

namespace {

Lifting lifted(const LiftedMasses& masses) {
  Findings findings;
  return lifting(masses, {}, findings);
}

/// Carries one cell after another, going whenever the next would be too much.
int parts_by_carrying(const LiftedMasses& masses, double limit_kg) {
  int parts = 1;  // the box
  double in_hand = 0;
  int cells_in_hand = 0;
  for (int cell = 0; cell < masses.cells; ++cell) {
    if (cells_in_hand > 0 && in_hand + masses.cell_kg > limit_kg) {
      ++parts;
      in_hand = 0;
      cells_in_hand = 0;
    }
    in_hand += masses.cell_kg;
    ++cells_in_hand;
  }
  return parts + (cells_in_hand > 0 ? 1 : 0);
}

}  // namespace

TEST_CASE("lifting: plates by their size and density, worked by hand") {
  // 200 x 300 x 3 mm = 180 000 mm3 of aluminium at 2.71 g/cm3: 0.4878 kg; two of them, and
  // 100 x 100 x 1 mm of polycarbonate at 1.20 g/cm3: 0.012 kg.
  CHECK(plates_kg({{"end wall", 200, 300, 3, WallMaterial::aluminium, 2},
                   {"sheet", 100, 100, 1, SheetMaterial::polycarbonate, 1}}) == Approx(0.9876));
  CHECK(plates_kg({}) == 0);
  CHECK_THROWS_AS(plates_kg({{"wall", -1, 1, 1}}), std::invalid_argument);
}

TEST_CASE("lifting: every material has a density and says where from") {
  for (const auto which :
       {SheetMaterial::glass_epoxy, SheetMaterial::polycarbonate, SheetMaterial::polypropylene,
        SheetMaterial::pet_film, SheetMaterial::phenolic_paper, SheetMaterial::aluminium,
        SheetMaterial::carbon_steel, SheetMaterial::stainless_steel}) {
    CHECK(material(which).density_kg_m3 > 800);
    CHECK(material(which).density_kg_m3 < 8100);
    CHECK_FALSE(material(which).density_source.empty());
  }
  for (const auto which :
       {WallMaterial::aluminium, WallMaterial::carbon_steel, WallMaterial::stainless_steel,
        WallMaterial::plywood, WallMaterial::glass_epoxy, WallMaterial::polycarbonate}) {
    CHECK(material(which).density_kg_m3 > 500);
    CHECK_FALSE(material(which).density_source.empty());
  }
  CHECK(material(WallMaterial::plywood).density_kg_m3 < 1000);  // it floats
}

TEST_CASE("lifting: a row's mass, cells by their mass and sheets by name") {
  Build b = sample::placed_evenly(sample::known(4), "thick");
  b.cell.mass_kg = 1.5;
  PadInput pad;
  pad.name = "pad";
  pad.thickness_mm = 2;
  pad.law = FoamTable{{0, 0.2, 0.4}, {0, 0.02, 0.05}};
  pad.where = {PlaceWord::named_gaps, {"2-3"}};
  b.pads.push_back(pad);
  b.fixed_sheets.push_back(sample::sheet("film", 0.2, {PlaceWord::ends, {}}));
  b.fixed_sheets.back().material = SheetMaterial::polypropylene;
  Findings findings;
  const Study study(b, {});
  const RowMass mass = row_mass(study, study.as_placed(), findings);
  CHECK(mass.cells_kg == Approx(6.0));
  CHECK_FALSE(mass.cell_assumed);
  CHECK(findings.assumed.empty());
  const double face_m2 = study.row().face_area_mm2 * 1e-6;
  REQUIRE(mass.gap_kg.size() == 5);
  CHECK(mass.gap_kg[1] == Approx(face_m2 * 0.8e-3 * 1850));
  CHECK(mass.gap_kg[0] - mass.gap_kg[1] == Approx(face_m2 * 0.2e-3 * 905));
  CHECK(mass.gap_kg[2] - mass.gap_kg[1] == Approx(face_m2 * 2e-3 * 350));
  CHECK(mass.total_kg() == Approx(mass.cells_kg + mass.sheets_kg));
}

TEST_CASE("lifting: sixteen cells of 5.4 kg in a box of 9 kg, worked by hand") {
  // 86.4 + 9 + 0.6 = 96 kg: too heavy for two. One carries four cells (21.6 of 23 kg): four lots
  // and the box, five parts. Two carry seven (37.8 of 40 kg): three lots and the box.
  Findings findings;
  const Lifting lift = lifting({5.4, 16, 0.6, 9}, {}, findings);
  CHECK(lift.total_kg == Approx(96));
  CHECK(lift.whole == Lifters::in_parts);
  REQUIRE(lift.parts_by_one);
  CHECK(lift.parts_by_one->cells_a_lot == 4);
  CHECK(lift.parts_by_one->parts == 5);
  REQUIRE(lift.parts_by_two);
  CHECK(lift.parts_by_two->cells_a_lot == 7);
  CHECK(lift.parts_by_two->parts == 4);
  CHECK(findings.assumed == std::vector<Assumed>{Assumed::lift_one, Assumed::lift_two});
}

TEST_CASE("lifting: who lifts the whole, at the limits themselves") {
  CHECK(lifted({2, 10, 0, 3}).whole == Lifters::one_person);  // 23 kg
  CHECK_FALSE(lifted({2, 10, 0, 3}).parts_by_one);
  CHECK(lifted({2, 10, 0, 3.1}).whole == Lifters::two_persons);
  CHECK(lifted({2, 10, 0, 3.1}).parts_by_one);
  CHECK(lifted({2, 10, 0, 20}).whole == Lifters::two_persons);  // 40 kg
  CHECK(lifted({2, 10, 0, 20.1}).whole == Lifters::in_parts);
  CHECK_FALSE(lifted({2, 10, 0, 20.1}).parts_by_two == std::nullopt);
  // A box that one cannot lift empty, and a cell that neither one nor two can.
  CHECK_FALSE(lifted({2, 10, 1, 25}).parts_by_one);
  CHECK(lifted({2, 10, 1, 22}).parts_by_one);  // box and sheets 23 kg
  CHECK_FALSE(lifted({2, 10, 1, 22.5}).parts_by_one);
  CHECK(lifted({2, 10, 1, 25}).parts_by_two);
  CHECK_FALSE(lifted({41, 2, 1, 5}).parts_by_two);
  CHECK_THROWS_AS(lifted({-1, 1, 0, 0}), std::invalid_argument);
}

TEST_CASE("lifting: parts are those of carrying cell by cell, and never more for two") {
  CHECK(rc::check([] {
    const LiftedMasses masses{0.25 * *rc::gen::inRange(1, 90), *rc::gen::inRange(1, 40),
                              0.25 * *rc::gen::inRange(0, 8), 0.25 * *rc::gen::inRange(0, 80)};
    const Lifting lift = lifted(masses);
    if (lift.parts_by_one) {
      RC_ASSERT(lift.parts_by_one->parts == parts_by_carrying(masses, 23));
    }
    if (lift.parts_by_two) {
      RC_ASSERT(lift.parts_by_two->parts == parts_by_carrying(masses, 40));
    }
    if (lift.parts_by_one && lift.parts_by_two) {
      RC_ASSERT(lift.parts_by_two->parts <= lift.parts_by_one->parts);
    }
  }));
}
