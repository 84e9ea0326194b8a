// SPDX-License-Identifier: GPL-3.0-or-later
//
// The can's rim as stiff columns along the face's edge (row_columns.hpp, rim_law.hpp):
//   1. force E t perimeter / t_n per mm of a cell's squeeze, up to the buckling load
//   2. stiffer than the stack: it raises the force and the highest pressure, at the edge
//   3. buckling caps its force        4. below what touches it changes nothing
//   5. a sheet smaller all round leaves it free
//   6. heat moves it, charge and age do not        7. curves stay near full solutions
#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>
#include <optional>

#include "solver/rim_law.hpp"
#include "solver/study.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;
using Catch::Approx;

namespace {

// The sample's face: 120 x 100 mm with corners of 3 mm, nominal 40 mm, four cells.
constexpr double nominal_mm = 40;
constexpr double perimeter_mm = 2 * (120 + 100) - (8 - 2 * std::numbers::pi) * 3;
constexpr double aluminium_mpa = 69000;
constexpr double wall_mm = 0.7;
constexpr double stiffness_n = aluminium_mpa * wall_mm * perimeter_mm;  ///< per unit of strain
constexpr double buckling_n = 3000;  ///< as assumed, solver/assumptions.cpp
constexpr double band_mm = 2;        ///< as assumed, solver/assumptions.cpp

/// Four flat cells in a rigid box, too long by so much, with a can or without.
Build rimmed(double too_long_mm, std::optional<double> rim_height_mm) {
  Build b = sample::known(4, -too_long_mm);
  b.kit.clear();
  if (rim_height_mm) {
    b.cell.can = Can{wall_mm, *rim_height_mm};
  }
  return b;
}

Build bending(double too_long_mm, std::optional<double> rim_height_mm) {
  Build b = rimmed(too_long_mm, rim_height_mm);
  PlateWall wall;
  wall.thickness_mm = 5;
  wall.material = WallMaterial::aluminium;
  wall.joint = WallJoint::screwed;
  b.box.end_walls = wall;
  b.box.inner_width_mm = 130;
  b.box.inner_height_mm = 110;
  return b;
}

SheetInput sheet_of(double width_mm, double height_mm, double radius_mm) {
  SheetInput s = sample::sheet("smaller", 0.5, {PlaceWord::ends, {}});
  SheetOutline outline;
  outline.width_mm = width_mm;
  outline.height_mm = height_mm;
  outline.corner_radius_mm = radius_mm;
  s.outline = outline;
  return s;
}

RowState at(double charge, double temperature_c = 20, double capacity_loss = 0) {
  return {charge, temperature_c, capacity_loss, false, false};
}

RowColumns::Full solved(const Build& build, const RowState& state) {
  const Study study(build, {});
  const auto full = study.model().columns_at(state, {});
  REQUIRE(full);
  return *full;
}

RowColumns::Full as_built(const Build& build) {
  return solved(build, at(0.4));
}

}  // namespace

TEST_CASE("a rim pushes back with E t perimeter over the thickness for each mm of squeeze") {
  for (const double squeeze_mm : {0.001, 0.003, 0.005}) {
    const RowColumns::Full full = as_built(rimmed(4 * squeeze_mm, 0));
    // The mesh draws the corners' arcs with chords: a thousandth of the band's area.
    CHECK(full.rim_force_n == Approx(stiffness_n * squeeze_mm / nominal_mm).epsilon(2e-3));
    // What is left is the stack under the rest of the face: p = A (exp(B eps) - 1).
    const double rest = (120 - 2 * band_mm) * (100 - 2 * band_mm) - (4 - std::numbers::pi);
    const double stack_n = rest * 0.06 * std::expm1(180 * squeeze_mm / nominal_mm);
    CHECK(full.figures.force_n - full.rim_force_n == Approx(stack_n).epsilon(1e-3));
  }
  // A rim that stands out is squeezed by that much more.
  const RowColumns::Full out = as_built(rimmed(0.004, 0.003));
  CHECK(out.rim_force_n == Approx(stiffness_n * (0.001 + 0.003) / nominal_mm).epsilon(2e-3));
}

TEST_CASE("a rim raises the force and the highest pressure, and that at the edge") {
  const RowColumns::Full bare = as_built(bending(0.6, {}));
  const RowColumns::Full rim = as_built(bending(0.6, 0));
  CHECK(rim.figures.force_n > 1.1 * bare.figures.force_n);
  CHECK(rim.figures.highest_local_mpa > 2 * bare.figures.highest_local_mpa);
  const WallMesh& mesh = rim.walls->mesh();
  Eigen::Index highest = 0;
  rim.now.pressure_mpa.maxCoeff(&highest);
  const geometry::Point there = mesh.points[static_cast<std::size_t>(highest)].at;
  // The cells stand on the floor in the middle of a wall of 130 mm.
  const double from_edge =
      std::min({there.x_mm - 5, 125 - there.x_mm, there.y_mm, 100 - there.y_mm});
  CHECK(from_edge <= band_mm);
}

TEST_CASE("buckling caps what a rim carries") {
  double before = 0;
  for (const double height_mm : {0.0, 0.02, 0.1, 0.5, 1.0}) {
    const double force = as_built(rimmed(0.2, height_mm)).rim_force_n;
    CHECK(force > before);  // it still rises, by next to nothing
    CHECK(force <= 1.1 * buckling_n);
    CHECK(force >= 0.95 * buckling_n);
    before = force;
  }
  CHECK(stiffness_n * 0.05 / nominal_mm > 5 * buckling_n);  // what the first would carry else
}

TEST_CASE("a rim below what touches it changes nothing: as where a sheet leaves the band free") {
  // The same outline twice: the sheet ends where the band begins.
  for (const bool bends : {false, true}) {
    const auto build = [&](std::optional<double> height) {
      Build b = bends ? bending(-0.6, height) : rimmed(-0.6, height);
      b.fixed_sheets.push_back(sheet_of(120 - 2 * band_mm, 100 - 2 * band_mm, 3 - band_mm));
      return b;
    };
    const RowColumns::Full free = as_built(build({}));
    Build low = build({});
    low.cell.can = Can{wall_mm, -1};
    const RowColumns::Full below = as_built(low);
    CHECK(below.rim_force_n == 0);
    CHECK(below.figures.force_n > 200);
    CHECK(below.figures.force_n == Approx(free.figures.force_n).epsilon(1e-9));
    CHECK(below.figures.highest_local_mpa == Approx(free.figures.highest_local_mpa).epsilon(1e-9));
    // Under sheets over the whole face it is as low as it was.
    Build whole = low;
    whole.fixed_sheets.front().outline.reset();
    CHECK(as_built(whole).figures.force_n == Approx(free.figures.force_n).epsilon(1e-9));
  }
}

TEST_CASE("a sheet smaller all round leaves the rim free") {
  Build small = rimmed(-0.6, 0.05);
  small.fixed_sheets.push_back(sheet_of(110, 90, 0));
  Build low = small;
  low.cell.can->rim_height_mm = -1;
  const RowColumns::Full free = as_built(small);
  CHECK(free.rim_force_n == 0);
  CHECK(free.figures.force_n == Approx(as_built(low).figures.force_n).epsilon(1e-12));
  Build whole = small;
  whole.fixed_sheets.front().outline.reset();
  CHECK(as_built(whole).rim_force_n > 0.95 * buckling_n);
}

TEST_CASE("charge and age squeeze the middle of a face, not its rim, heat both") {
  const Build build = rimmed(0.012, 0);
  const double squeeze_mm = 0.003;
  const RowColumns::Full measured = solved(build, at(0.4));
  const RowColumns::Full full = solved(build, at(1.0));
  const RowColumns::Full aged = solved(build, at(0.4, 20, 0.1));
  const RowColumns::Full warm = solved(build, at(0.4, 21));
  CHECK(full.figures.force_n > 1.2 * measured.figures.force_n);
  CHECK(full.rim_force_n == Approx(measured.rim_force_n).epsilon(1e-8));
  CHECK(aged.figures.force_n > 1.2 * measured.figures.force_n);
  CHECK(aged.rim_force_n == Approx(measured.rim_force_n).epsilon(1e-8));
  // 40 mm x 40e-6/K, and a rigid box that is of aluminium when nothing is said: 23e-6/K.
  const Study study(build, {});
  const double warmer =
      nominal_mm * 40e-6 - study.row().box.inner_length_mm / 4 * study.row().box.expansion_per_k;
  CHECK(warmer > 0);
  CHECK(warm.rim_force_n - measured.rim_force_n ==
        Approx(measured.rim_force_n * warmer / squeeze_mm).epsilon(1e-6));
  // Measured fuller, a rim is lower beside the cells as they are now.
  Build fuller = build;
  fuller.measured_charge = MeasuredCharge{0.9, {}, false};
  const Study other(fuller, {});
  CHECK(other.model().columns_at(at(0.9), {})->rim_force_n ==
        Approx(measured.rim_force_n).epsilon(1e-8));
}

TEST_CASE("curves of a row with rims stay near its full solutions, each state by its own") {
  for (const bool lid : {false, true}) {
    for (const double height_mm : {-0.02, 0.0, 0.03}) {
      Build build = bending(0.4, height_mm);
      build.box.lid = lid ? Lid::screwed : Lid::none;
      const Study study(build, {});
      const double area = study.row().face_area_mm2;
      for (const RowState& state : {at(0.1), at(0.4), at(0.9), at(0.9, 40), at(0.9, 20, 0.05)}) {
        for (const double shims_mm : {-0.2, 0.0, 0.15}) {
          INFO("lid " << lid << " rim " << height_mm << " charge " << state.charge << " at "
                      << state.temperature_c << " lost " << state.capacity_loss << " shims "
                      << shims_mm);
          ShimLoad load;
          load.thickness_mm = shims_mm;
          const double quick = study.model().solve(state, load).force_n;
          const double full = study.model().solve_fully(state, load).force_n;
          CHECK(std::abs(quick - full) <= 0.01 * full + 2 * curve_error_mpa * area);
        }
      }
    }
  }
}

TEST_CASE("a row whose rims do not grow along has room until the band is left") {
  Build build = bending(0.4, 0.01);
  build.cell.range = PressureRange{0.03, 0.6, RangeAppliesTo::use};
  const Study study(build, {});
  const RowModel& model = study.model();
  const PlanPressures p = model.evaluate({});
  const RowModel::Life life = model.life({});
  REQUIRE(life.mean > 0);
  REQUIRE(life.mean < 1);
  RowState aged = at(p.highest.charge, p.highest.temperature_c, life.mean);
  const double top = study.row().band.most_for(study.row().band.high_mpa);
  CHECK(model.solve_fully(aged, {}).face_pressure_mpa == Approx(top).epsilon(1e-3));
}

TEST_CASE("where a rim stands out, the row is too long by it, and the gives add up to that") {
  for (const double height_mm : {-0.05, 0.0, 0.05}) {
    const Study study(bending(0.4, height_mm), {});
    const RowModel& model = study.model();
    const double interference = model.interference_mm(model.build_state(), {});
    CHECK(interference == Approx(0.4 + std::max(0.0, 4 * height_mm)).epsilon(1e-9));
    const RowModel::Give give = model.give({});
    CHECK(give.cells_mm + give.sheets_mm + give.pads_mm + give.walls_mm ==
          Approx(interference).epsilon(1e-6));
  }
  // Its own gap counts where nothing touches.
  const Study loose(rimmed(-1, 0.1), {});
  const StateResult state = loose.model().solve_fully(at(0.4), {});
  CHECK(state.force_n == 0);
  CHECK(state.loose_by_mm == Approx(1 - 0.4).epsilon(1e-9));
}

TEST_CASE("the answer tells the rims' share of the force, and warns by it") {
  Build build = bending(0.4, 0);
  const Answer rims = answer_pressure(build);
  REQUIRE(rims.plan.rim_share);
  CHECK(*rims.plan.rim_share > 0.3);
  CHECK(*rims.plan.rim_share < 1);
  const Warning* warning = sample::find_warning(rims.warnings, WarningCode::can_carries_load);
  REQUIRE(warning != nullptr);
  CHECK(warning->size == *rims.plan.rim_share);
  build.cell.can->rim_height_mm = -0.5;
  const Answer low = answer_pressure(build);
  CHECK(low.plan.rim_share == 0.0);
  CHECK(sample::find_warning(low.warnings, WarningCode::can_carries_load) == nullptr);
  build.cell.can.reset();
  CHECK_FALSE(answer_pressure(build).plan.rim_share);
}

TEST_CASE("two equal rows with rims press alike") {
  Build build = bending(0.4, 0);
  build.box.inner_width_mm = 250;
  build.rows = 2;
  const auto store = std::make_shared<WallStore>();
  const Study second(build, {}, store, {1, {}});
  const RowCompanion other{second.row().cells, second.row().gaps, 1, 0};
  const Study both(build, {}, store, {0, {other}});
  for (const double charge : {0.4, 0.9}) {
    const auto full = both.model().columns_at(at(charge), {});
    REQUIRE(full);
    CHECK(full->rim_force_n > 1000);
    CHECK(full->now.force_n[0] == Approx(full->now.force_n[1]).epsilon(0.01));
  }
}

TEST_CASE("a rim's law is straight, then as good as constant") {
  const RimLaw law({24000, 2});
  CHECK(law.pressure_at(1.9 / 24000) == Approx(1.9).epsilon(1e-12));
  CHECK(law.pressure_at(0.01) > 2);
  CHECK(law.pressure_at(0.01) < 2.03);
  CHECK(1 / law.strain_at(3).per_mpa == Approx(2.4).epsilon(1e-12));
  CHECK_THROWS_AS(RimLaw({0, 1}), std::invalid_argument);
  CHECK_THROWS_AS(RimLaw({1, 0}), std::invalid_argument);
}
