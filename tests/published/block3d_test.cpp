// SPDX-License-Identifier: GPL-3.0-or-later
//
// Rows between bending walls against the column energy with a Ritz plate, and against a block of
// solids with hardly any shear stiffness (fixtures/published/block3d.csv).
#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "solver/assumptions.hpp"
#include "solver/columns.hpp"
#include "tests/catch.hpp"
#include "tests/column_rows.hpp"
#include "tests/published/csv.hpp"

namespace {

using namespace stackfit;
using namespace stackfit::published;
using namespace stackfit::testing;

/// A box of the table: half a row, pressed from its mid plane.
struct Half {
  Rectangle wall;
  double thickness_mm = 0;
  bool open = false;
  Rectangle face;
  double block_mm = 0;
  double modulus_mpa = 0;
  double pad_mm = 0;
  double clamp_mm = 0;
};

Half half_of(const std::string& box) {
  const Rectangle wide{0, 0, 180, 212};
  const Rectangle wide_face{10, 6, 160, 190};
  if (box == "open") {
    return {{0, 0, 148, 124}, 2.5, true, {4, 3, 140, 110}, 108, 20, 0, 1.0};
  }
  if (box == "closed") {
    return {wide, 3, false, wide_face, 150, 30, 0, 0.8};
  }
  if (box == "pad") {
    return {wide, 3, true, wide_face, 144, 30, 6, 1.6};
  }
  throw std::runtime_error("no box " + box);
}

ColumnsState solved(const std::string& box, bool mirrored) {
  constexpr double pad_modulus_mpa = 1.5;
  const Half half = half_of(box);
  HandRow row;
  row.face = half.face;
  row.cell_law = std::make_shared<LinearLaw>(half.modulus_mpa, 100);
  row.cells_mm = 2 * half.block_mm;
  row.sheets_give_mm_per_mpa = 2 * half.pad_mm / pad_modulus_mpa;
  WallPair pair;
  pair.width_mm = half.wall.width_mm;
  pair.height_mm = half.wall.height_mm;
  const std::array<PlateEdge, 4> all{PlateEdge::fixed, PlateEdge::fixed, PlateEdge::fixed,
                                     PlateEdge::fixed};
  pair.first = hand_wall({half.thickness_mm, 69000, 0.33}, half.wall, half.open ? open_top : all);
  pair.last = pair.first;
  pair.mirrored = mirrored;
  pair = with_rows(std::move(pair), {row});
  const HandSetup hand =
      hand_setup(std::make_shared<const WallModes>(mesh_walls(pair), pair, false), {row});
  return Columns(hand.setup).solve_fully(hand.load({2 * half.clamp_mm}));
}

void check(const ColumnsState& state, const Row& row, double share) {
  const double force = number(row, "force_n");
  const double bow = number(row, "bow_mm");
  INFO(text(row, "box") << " by " << text(row, "by") << ": force " << state.total_force_n()
                        << " N, bow " << state.first_bow_mm << " mm");
  REQUIRE(state.stop == ColumnsStop::converged);
  CHECK(std::abs(state.total_force_n() - force) < share * force);
  CHECK(std::abs(state.first_bow_mm - bow) < share * bow);
  CHECK(state.last_bow_mm == state.first_bow_mm);
}

}  // namespace

// Reached: 0.03 % against the column energy in force and bow; 0.28 % against the soft solids.
TEST_CASE("rows of linear columns agree with Ritz plates and with soft solids", "[columns]") {
  constexpr double hardly_any_mpa = 0.02;
  int checked = 0;
  for (const Row& row : read_table("block3d.csv")) {
    const double shear = number(row, "shear_modulus_mpa");
    if (shear > hardly_any_mpa) {
      continue;
    }
    for (const bool mirrored : {false, true}) {
      check(solved(text(row, "box"), mirrored), row, shear == 0 ? 0.003 : 0.01);
      ++checked;
    }
  }
  CHECK(checked >= 20);
}

TEST_CASE("shear between columns, which they leave out, carries force", "[columns]") {
  int checked = 0;
  for (const Row& row : read_table("block3d.csv")) {
    const double shear = number(row, "shear_modulus_mpa");
    if (text(row, "box") == "pad" || (shear != 8 && shear != 12)) {
      continue;
    }
    const double more = number(row, "force_n") / solved(text(row, "box"), true).total_force_n();
    INFO(text(row, "box") << ": " << more);
    CHECK(more > 1.05);
    CHECK(more < 1.20);
    ++checked;
  }
  CHECK(checked >= 6);
}

// For the same bow a row that shears presses harder: what a gauge by the bow is judged with.
TEST_CASE("at the same bow solids that shear press within the gauge's factor", "[columns]") {
  const Assumption& factor = assumption(Assumed::gauge_shear);
  double least = 10;
  double most = 0;
  for (const Row& row : read_table("block3d.csv")) {
    const double shear = number(row, "shear_modulus_mpa");
    if (shear != 8 && shear != 12) {  // two fifths of the stiffness in thickness
      continue;
    }
    const ColumnsState columns = solved(text(row, "box"), true);
    // Both rise together: the linear columns at the solids' bow.
    const double at_bow = columns.total_force_n() * number(row, "bow_mm") / columns.first_bow_mm;
    const double more = number(row, "force_n") / at_bow;
    least = std::min(least, more);
    most = std::max(most, more);
  }
  CHECK(least == Catch::Approx(1.13).margin(0.01));
  CHECK(most == Catch::Approx(1.96).margin(0.01));
  CHECK(factor.low <= least);
  CHECK(factor.high >= most);
  CHECK(factor.value > factor.low);
  CHECK(factor.value < factor.high);
}
