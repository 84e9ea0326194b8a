// SPDX-License-Identifier: GPL-3.0-or-later
//
// Laws that every whole build keeps to, whatever its walls, pads, domes or springs:
//   1. walls, tie and columns balance in every state, and the search only ever went down to it
//   2. what lengthens the row never presses it less, and thicker walls give way less
//   3. no length is its own: all of them times s at the same moduli, and forces are times s^2
#include <rapidcheck.h>

#include <array>
#include <cmath>
#include <memory>
#include <vector>

#include "solver/study.hpp"
#include "tests/catch.hpp"
#include "tests/row_residual.hpp"
#include "tests/solver/draw_rows.hpp"

using namespace stackfit;
using namespace stackfit::testing;

namespace {

std::vector<int> draw_shims() {
  return {*rc::gen::inRange(0, 4), *rc::gen::inRange(0, 3)};
}

/// Walls that two studies have in common are meshed once.
std::unique_ptr<Study> study_of(const Build& build, const Study* like = nullptr) {
  return std::make_unique<Study>(build, Assumptions{},
                                 like != nullptr ? like->store() : std::make_shared<WallStore>());
}

/// New and fresh as built, and two states drawn from those of a long use.
std::vector<RowState> draw_states(const Study& study) {
  std::vector<RowState> states{study.model().build_state()};
  for (int i = 0; i < 2; ++i) {
    states.push_back({drawn_between(0, 1), drawn_between(-10, 50), drawn_between(0, 0.2),
                      *rc::gen::arbitrary<bool>(), *rc::gen::arbitrary<bool>()});
  }
  return states;
}

/// A frame of the sample has no shims.
Build with_kit(Build build) {
  if (build.kit.empty()) {
    build.kit = sample::known().kit;
  }
  return build;
}

}  // namespace

// --- 1 ----------------------------------------------------------------------------------------

TEST_CASE("walls, tie and columns of a whole row balance in every state") {
  CHECK(rc::check([] {
    const auto study = study_of(with_kit(draw_build(draw_walls())));
    const ShimLoad load = study->load_of(draw_shims());
    for (const RowState& state : draw_states(*study)) {
      const Residual left = RowResidual(*study, load).at(state);
      RC_ASSERT(left.gap_mm < 1e-10);
      RC_ASSERT(left.force_share < 1e-9);
      RC_ASSERT(left.walls_share < 1e-9);
      RC_ASSERT(left.energy_rise < 1e-12);
    }
  }));
}

// --- 2 ----------------------------------------------------------------------------------------

namespace {

/// By full solutions, which two interferences hardly apart must not put the other way round.
void require_not_less(const StateResult& more, const StateResult& less) {
  constexpr double rounding = 1e-9;
  RC_ASSERT(more.force_n >= less.force_n * (1 - rounding));
}

}  // namespace

TEST_CASE("what lengthens a whole row never presses it less") {
  CHECK(rc::check([] {
    Build build = with_kit(draw_build(draw_walls()));
    const auto study = study_of(build);
    const RowModel& model = study->model();
    const ShimLoad load = study->load_of(draw_shims());
    ShimLoad thicker = load;
    thicker.thickness_mm += drawn_between(0.001, 0.5);
    const RowState state = draw_states(*study).back();
    const StateResult base = model.solve_fully(state, load);
    require_not_less(model.solve_fully(state, thicker), base);

    RowState aged = state;
    aged.capacity_loss += drawn_between(0.001, 0.1);
    require_not_less(model.solve_fully(aged, load), base);
    // Whether charge and heat lengthen the row is the swing's and the box's to say.
    RowState other = state;
    other.charge = drawn_between(0, 1);
    other.temperature_c = drawn_between(-10, 50);
    const bool longer = model.interference_mm(other, load) > model.interference_mm(state, load);
    const StateResult there = model.solve_fully(other, load);
    require_not_less(longer ? there : base, longer ? base : there);

    if (!build.frame) {
      build.box.inner_length_mm.front() -= drawn_between(0.001, 0.5);
      const auto shorter = study_of(build, study.get());
      require_not_less(shorter->model().solve_fully(state, load), base);
    }
  }));
}

TEST_CASE("thicker walls give way less") {
  CHECK(rc::check([] {
    // Both thicknesses are meshed: one draw in twenty is enough.
    if (*rc::gen::inRange(0, 20) > 0) {
      return;
    }
    Build build = draw_build(DrawnWalls::plate);
    build.box.lid = Lid::none;
    const auto study = study_of(build);
    const RowState state = study->model().build_state();
    const ShimLoad load = study->load_of(draw_shims());
    const StateResult thin = study->model().solve_fully(state, load);
    *std::get<PlateWall>(*build.box.end_walls).thickness_mm *= drawn_between(1.05, 2);
    const StateResult thick = study_of(build)->model().solve_fully(state, load);
    require_not_less(thick, thin);
    RC_ASSERT(thick.wall_bow_mm <= thin.wall_bow_mm * (1 + 1e-9));
  }));
}

// --- 3 ----------------------------------------------------------------------------------------

namespace {

/// The build with every length times s and every force times s^2.
Build scaled(Build b, double s) {
  const auto grow = [s](std::optional<double>& length) {
    if (length) {
      *length *= s;
    }
  };
  b.cell.face.width_mm *= s;
  b.cell.face.height_mm *= s;
  grow(b.cell.face.corner_radius_mm);
  b.cell.thickness.nominal_mm *= s;
  for (CellReading& cell : b.cells) {
    grow(cell.edge_mm);
    grow(cell.middle_mm);
  }
  for (KitShim& shim : b.kit) {
    shim.sheet.thickness_mm *= s;
  }
  for (PadInput& pad : b.pads) {
    pad.thickness_mm *= s;
  }
  for (SheetInput& sheet : b.fixed_sheets) {
    sheet.thickness_mm *= s;
    if (sheet.outline) {
      sheet.outline->width_mm *= s;
      sheet.outline->height_mm *= s;
    }
  }
  for (double& length : b.box.inner_length_mm) {
    length *= s;
  }
  grow(b.box.inner_width_mm);
  grow(b.box.inner_height_mm);
  grow(b.box.side_walls.thickness_mm);
  if (b.box.end_walls) {
    if (auto* plate = std::get_if<PlateWall>(&*b.box.end_walls)) {
      grow(plate->thickness_mm);
    } else if (auto* bow = std::get_if<WallBow>(&*b.box.end_walls)) {
      bow->bow_mm *= s;
      bow->force_n *= s * s;
    }
  }
  return b;
}

}  // namespace

TEST_CASE("a row twice the size at the same moduli stands under the same pressures") {
  CHECK(rc::check([] {
    if (*rc::gen::inRange(0, 3) > 0) {
      return;  // both sizes are meshed: a third of the draws is enough
    }
    const DrawnWalls drawn = draw_walls();
    // Rods come in threads that are not scaled.
    const DrawnWalls walls = drawn == DrawnWalls::frame ? DrawnWalls::rigid : drawn;
    const Build build = draw_build(walls);
    const double s = *rc::gen::element(0.5, 2.0, 4.0);
    const auto study = study_of(build);
    const auto other = study_of(scaled(build, s));
    const std::vector<int> used = draw_shims();
    for (const RowState& state : draw_states(*study)) {
      const StateResult a = study->model().solve_fully(state, study->load_of(used));
      const StateResult b = other->model().solve_fully(state, other->load_of(used));
      constexpr double rounding = 1e-9;
      RC_ASSERT(std::abs(b.force_n - s * s * a.force_n) <= rounding * s * s * a.force_n);
      RC_ASSERT(std::abs(b.highest_local_mpa - a.highest_local_mpa) <=
                rounding * a.highest_local_mpa);
      RC_ASSERT(std::abs(b.wall_bow_mm - s * a.wall_bow_mm) <= rounding * s * a.wall_bow_mm);
      RC_ASSERT(std::abs(b.loose_by_mm - s * a.loose_by_mm) <= rounding);
    }
  }));
}
