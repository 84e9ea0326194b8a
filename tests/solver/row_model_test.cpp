// SPDX-License-Identifier: GPL-3.0-or-later
//
// Physics of the one-column row, as properties:
//   1. a longer box never raises force        2. a thicker shim never lowers it
//   3. force is continuous where the row comes loose
//   4. the equilibrium minimises a convex energy   5. gives add up to the interference
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>

#include "solver/study.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;

namespace {

double force_as_built(const Build& build, double shims_mm) {
  const Study study(build, {});
  ShimLoad load;
  load.thickness_mm = shims_mm;
  return study.model().solve(study.model().build_state(), load).force_n;
}

/// A number in [low, high] from an integer draw, so that failures shrink to round figures.
double between(double low, double high) {
  return low + (high - low) * *rc::gen::inRange(0, 1001) / 1000.0;
}

Build drawn_build() {
  Build b = *rc::gen::inRange(0, 2) == 0 ? sample::build(*rc::gen::inRange(1, 9))
                                         : sample::with_pads(between(2, 8));
  for (CellReading& cell : b.cells) {
    cell.edge_mm = between(39.5, 40.5);
    if (*rc::gen::inRange(0, 2) == 0) {
      cell.middle_mm = *cell.edge_mm + between(-0.2, 0.5);
    }
  }
  const int wall = *rc::gen::inRange(0, 3);
  if (wall == 0) {
    b.box.end_walls.reset();
  }
  if (wall == 1) {
    b.box.end_walls = WallBow{between(0.1, 2), between(500, 3000)};
  }
  return b;
}

}  // namespace

TEST_CASE("a longer box never raises force, a thicker shim never lowers it") {
  CHECK(rc::check([] {
    Build b = drawn_build();
    const double shims = between(0, 8);
    const double force = force_as_built(b, shims);
    RC_ASSERT(std::isfinite(force));
    RC_ASSERT(force_as_built(b, shims + between(0.001, 1)) >= force);
    b.box.inner_length_mm.front() += between(0.001, 1);
    RC_ASSERT(force_as_built(b, shims) <= force);
  }));
}

TEST_CASE("force is continuous where the row comes loose") {
  CHECK(rc::check([] {
    const Build b = drawn_build();
    const Study study(b, {});
    ShimLoad load;
    const RowState built = study.model().build_state();
    load.thickness_mm = -study.model().interference_mm(built, load);  // just touching
    RC_ASSERT(study.model().solve(built, load).force_n <= 1e-6);
    load.thickness_mm += 1e-6;
    const double soft = study.model().solve(built, load).force_n;
    RC_ASSERT(soft > 0);
    RC_ASSERT(soft < 1);  // a nanometre of squeeze is less than a newton
    load.thickness_mm -= 0.01;
    const StateResult loose = study.model().solve(built, load);
    RC_ASSERT(loose.force_n == 0);
    RC_ASSERT(std::abs(loose.loose_by_mm - (0.01 - 1e-6)) < 1e-9);
  }));
}

TEST_CASE("the equilibrium minimises a convex energy") {
  // E(F): energy stored less the work of the interference; stationary and least at equilibrium.
  const Study study(sample::with_pads(), {});
  Series series;
  series.add({study.row().cell_law, 160, study.row().face_area_mm2});
  series.add({study.row().gaps.front().pads.front().soft_edge, 8, study.row().face_area_mm2});
  series.add_give(1e-4);
  const double interference = 1.7;
  const double force = series.solve(interference).force_n;
  const auto energy = [&](double f) {
    // Complementary form: squeeze is the derivative of the energy's dual.
    return series.energy_n_mm(f) - f * (series.squeeze_mm(f) - interference);
  };
  double last = -1e300;
  for (int i = -20; i <= 20; ++i) {
    const double f = force * (1 + 0.02 * i);
    CHECK(energy(f) <= energy(force) + 1e-9);
    const double slope = interference - series.squeeze_mm(f);
    if (i > -20) {
      CHECK(slope < last);  // strictly falling: one stationary point
    }
    last = slope;
  }
  CHECK(std::abs(series.squeeze_mm(force) - interference) < 1e-12);
}

TEST_CASE("what gives adds up to the interference") {
  CHECK(rc::check([] {
    const Build b = drawn_build();
    const Study study(b, {});
    ShimLoad load;
    load.add(study.row().kit[1].sheet, 5);
    load.thickness_mm += between(0, 6);
    const double interference = study.model().interference_mm(study.model().build_state(), load);
    const RowModel::Give give = study.model().give(load);
    const double sum = give.cells_mm + give.sheets_mm + give.pads_mm + give.walls_mm;
    if (!(give.cells_mm > 0)) {
      return;  // nothing is pressed
    }
    // Where the walls bow away from the highest spot, less than its dome is missing.
    const double dome = std::abs(study.model().middle_bulge_mm());
    RC_ASSERT(sum < interference + 1e-7);
    RC_ASSERT(sum > interference - dome - 1e-7);
    if (study.row().box.rigid()) {
      RC_ASSERT(std::abs(sum - interference) < 1e-7);
    }
  }));
}

TEST_CASE("extremes over the charge window are not missed between the ends") {
  const Study study(sample::build(), {});
  ShimLoad load;
  load.thickness_mm = 6;
  const PlanPressures p = study.model().evaluate(load);
  for (int i = 0; i <= 1000; ++i) {
    const double charge = 0.1 + 0.8 * i / 1000;
    const double at = study.model().solve({charge, 40, 0, false, false}, load).face_pressure_mpa;
    CHECK(at <= p.highest.face_pressure_mpa * (1 + 1e-12));
    CHECK(study.model().solve({charge, 5, 0, false, false}, load).face_pressure_mpa >=
          p.lowest.face_pressure_mpa * (1 - 1e-12));
  }
}

TEST_CASE("settled foam presses less than fresh, and life ends at the band") {
  const Study study(sample::with_pads(), {});
  ShimLoad load;
  load.thickness_mm = 5;
  const RowState built = study.model().build_state();
  RowState settled = built;
  settled.settled = true;
  CHECK(study.model().solve(settled, load).force_n < study.model().solve(built, load).force_n);

  const RowModel::Life life = study.model().life(load);
  const PlanPressures p = study.model().evaluate(load);
  RowState aged{p.highest.charge, p.highest.temperature_c, life.mean, p.highest.settled, false};
  const double at = study.model().solve(aged, load).face_pressure_mpa;
  CHECK(at * (1 + study.row().band.model_margin) ==
        Catch::Approx(study.row().band.high_mpa).epsilon(1e-9));
  CHECK(life.span.low <= life.mean);
  CHECK(life.mean <= life.span.high);
}
