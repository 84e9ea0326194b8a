// SPDX-License-Identifier: GPL-3.0-or-later
//
// Ribs and second plates: sections by hand, plates that only get stiffer, halves that are the
// whole, walls that stretch, and builds that are refused.
#include "solver/rib.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <utility>
#include <vector>

#include "solver/row.hpp"
#include "solver/wall_modes.hpp"
#include "solver/wall_store.hpp"
#include "tests/catch.hpp"
#include "tests/column_rows.hpp"
#include "tests/solver/sample_build.hpp"

namespace {

using namespace stackfit;
using namespace stackfit::testing;
using Catch::Approx;
using Along = WallRib::Along;

constexpr Rectangle whole{0, 0, 180, 212};
constexpr Rectangle face{4, 2, 172, 200};
const PlateSection aluminium{2.5, 69000, 0.33};

WallPair pair_of(WallPlate wall) {
  WallPair pair;
  pair.width_mm = whole.width_mm;
  pair.height_mm = whole.height_mm;
  pair.first = std::move(wall);
  pair.last = pair.first;
  pair.faces = {face.outline()};
  pair.edge_scale = 2;
  return pair;
}

WallPlate wall_with(std::vector<WallRib> ribs) {
  WallPlate wall = hand_wall(aluminium, whole, open_top);
  wall.ribs = std::move(ribs);
  return wall;
}

WallRib rib(Along along, double at_mm, double height_mm = 15) {
  return {along, at_mm, {3, height_mm, 69000, 30}, 110};
}

/// Bow of the first wall at its middle under an even pressure.
double bow_mm(const WallPair& pair, bool lid = false) {
  const WallModes walls(mesh_walls(pair), pair, lid);
  const auto points = static_cast<Eigen::Index>(walls.mesh().points.size());
  const Eigen::VectorXd even = Eigen::VectorXd::Constant(points, 0.05);
  return walls.first().nodes_mm(walls.mesh(), even)[walls.mesh().middle_node];
}

Build with_wall(const PlateWall& wall) {
  Build build = sample::build();
  build.box.inner_width_mm = 130;
  build.box.inner_height_mm = 110;
  build.box.end_walls = wall;
  return build;
}

Row resolved(const Build& build) {
  Findings findings;
  return resolve_row(build, Assumptions(), findings);
}

PlateWall plate_wall(std::vector<RibInput> ribs) {
  PlateWall wall;
  wall.thickness_mm = 3;
  wall.material = WallMaterial::aluminium;
  wall.joint = WallJoint::screwed;
  wall.ribs = std::move(ribs);
  return wall;
}

}  // namespace

TEST_CASE("rib: a bar by itself, and one piece with a strip of wall by the transformed section") {
  RibSection bar{3, 20, 210000, 0};
  const RibBending own = rib_bending(bar, aluminium);
  CHECK(own.stiffness_n_mm2 == Approx(210000 * 3 * 8000.0 / 12));
  CHECK(own.outer_mm == Approx(10));
  CHECK(own.wall_mm == 0);
  // All in steel: the strip as wide as its modulus makes it; second moments about the common
  // middle.
  bar.flange_mm = 40;
  const double strip = 40 * 69000.0 / 210000;
  const double strip_area = strip * 2.5;
  const double bar_area = 60;
  const double middle =
      (bar_area * 11.25) / (bar_area + strip_area);  // off the wall's middle plane
  const double second_moment =
      3 * 8000.0 / 12 + bar_area * std::pow(11.25 - middle, 2) + strip_area * middle * middle;
  const RibBending both = rib_bending(bar, aluminium);
  CHECK(both.stiffness_n_mm2 == Approx(210000 * second_moment));
  CHECK(both.wall_mm == Approx(middle));
  CHECK(both.outer_mm == Approx(21.25 - middle));
}

TEST_CASE("rib: a second plate bends as one of the third root of the cubes") {
  WallPlate two = wall_with({});
  two.second = PlateSection{1.8, 69000, 0.33};
  WallPlate one = wall_with({});
  one.section.thickness_mm = std::cbrt(std::pow(2.5, 3) + std::pow(1.8, 3));
  CHECK(bow_mm(pair_of(two)) == Approx(bow_mm(pair_of(one))).epsilon(1e-9));
  // Of another metal: between those whose Poisson's ratio is either's.
  two.second = PlateSection{1.8, 210000, 0.25};
  const double d1 = aluminium.stiffness_n_mm();
  const double d2 = two.second->stiffness_n_mm();
  const auto as_one = [&](double poisson) {
    WallPlate wall = wall_with({});
    wall.section = {1, 12 * (1 - poisson * poisson) * (d1 + d2), poisson};
    return bow_mm(pair_of(wall));
  };
  const double mixed = bow_mm(pair_of(two));
  CHECK(mixed > std::min(as_one(0.25), as_one(0.33)));
  CHECK(mixed < std::max(as_one(0.25), as_one(0.33)));
}

TEST_CASE("rib: no rib makes a wall softer, wherever it runs") {
  REQUIRE(rc::check("the work of an even pressure falls", [] {
    const auto tenths = [](int low, int high) { return 0.1 * *rc::gen::inRange(low, high); };
    std::vector<WallRib> ribs;
    const int count = *rc::gen::inRange(1, 4);
    for (int i = 0; i < count; ++i) {
      const bool flat = *rc::gen::arbitrary<bool>();
      ribs.push_back(rib(flat ? Along::width : Along::height,
                         flat ? tenths(20, 2100) : tenths(20, 1780), tenths(10, 300)));
    }
    WallPair pair = pair_of(wall_with(ribs));
    pair.edge_scale = 4;
    const auto mesh = mesh_walls(pair);
    const auto work = [&](const WallPair& walls) {
      const WallModes modes(mesh, walls, false);
      const auto points = static_cast<Eigen::Index>(mesh->points.size());
      const Eigen::VectorXd even = Eigen::VectorXd::Constant(points, 0.05);
      Eigen::VectorXd force(points);
      for (Eigen::Index q = 0; q < points; ++q) {
        force[q] = 0.05 * mesh->points[static_cast<std::size_t>(q)].area_mm2;
      }
      return force.dot(mesh->rows * modes.first().bent(*mesh, even));
    };
    WallPair plain = pair;
    plain.first->ribs.clear();
    plain.last->ribs.clear();
    RC_ASSERT(work(pair) < work(plain));  // on one mesh
  }));
}

TEST_CASE("rib: half a wall is the whole one, with a rib on the line of symmetry too") {
  for (const auto& ribs : std::vector<std::vector<WallRib>>{
           {rib(Along::width, 106)},
           {rib(Along::height, 90)},
           {rib(Along::height, 50), rib(Along::height, 130), rib(Along::width, 70)}}) {
    WallPair pair = pair_of(wall_with(ribs));
    pair.edge_scale = 1;
    const double all = bow_mm(pair);
    pair.mirrored = true;
    CHECK(bow_mm(pair) == Approx(all).epsilon(0.002));
    CHECK(all < 0.9 * bow_mm(pair_of(wall_with({}))));
  }
}

TEST_CASE("rib: where walls stretch the bar counts by itself, and two sheets stretch as two") {
  WallPlate wall = wall_with({rib(Along::width, 106)});
  WallPair pair = pair_of(wall);
  pair.large_bow = true;
  RibSection own = wall.ribs[0].section;
  own.flange_mm = 0;
  CHECK(bar_of(pair, wall, wall.ribs[0])->bending_n_mm2 ==
        rib_bending(own, aluminium).stiffness_n_mm2);
  // Two sheets alike, free to draw in, are twice one: at the same shape twice the energy.
  WallPair one = pair_of(wall_with({}));
  one.large_bow = true;
  WallPair two = one;
  two.first->second = two.first->section;
  two.last = two.first;
  const WallModes single(mesh_walls(one), one, false);
  const WallModes twin(mesh_walls(two), two, false);
  REQUIRE(single.count() == twin.count());
  Eigen::VectorXd c = Eigen::VectorXd::Zero(single.count());
  c[c.size() - 1] = 10;
  // Shapes are scaled to their bending energy: the twin's is smaller by the root of two.
  CHECK(twin.stretching(std::sqrt(2.0) * c).energy_n_mm ==
        Approx(2 * single.stretching(c).energy_n_mm).epsilon(1e-6));
}

TEST_CASE("rib: walls that differ in a rib or a second plate are not taken for each other") {
  WallStore store;
  const WallPlate plain = wall_with({});
  std::vector<WallPlate> all{
      plain, wall_with({rib(Along::width, 106)}), wall_with({rib(Along::width, 90)}),
      wall_with({rib(Along::height, 90)}), wall_with({rib(Along::width, 106, 16)})};
  all.push_back(plain);
  all.back().second = PlateSection{2, 69000, 0.33};
  all.push_back(plain);
  all.back().second = PlateSection{2, 210000, 0.33};
  std::vector<std::shared_ptr<const WallStore::Walls>> made;
  for (const WallPlate& wall : all) {
    WallPair pair = pair_of(wall);
    pair.edge_scale = 4;
    made.push_back(store.walls(pair, false));
    CHECK(store.walls(pair, false) == made.back());
    CHECK(std::count(made.begin(), made.end(), made.back()) == 1);
    CHECK(std::count(all.begin(), all.end(), wall) == 1);
  }
}

TEST_CASE(
    "rib: the width of wall that counts is a quarter of the span, less where ends are fixed") {
  const auto flange = [](PlateWall wall, std::size_t which = 0) {
    return resolved(with_wall(wall)).box.walls.first->ribs.at(which).section.flange_mm;
  };
  const RibInput middle{RibAlong::width, {}, 3, 15, {}, RibJoint::welded};
  CHECK(flange(plate_wall({middle})) == Approx(130.0 / 4));
  PlateWall fixed = plate_wall({middle});
  fixed.joint = WallJoint::welded;
  CHECK(flange(fixed) == Approx(130.0 / 8));
  RibInput low = middle;
  low.at_mm = 10;
  CHECK(flange(plate_wall({low, middle}), 0) == Approx(0.5 * 55));
  RibInput screwed = middle;
  screwed.joint = RibJoint::screwed;
  CHECK(flange(plate_wall({screwed})) == 0);
}

TEST_CASE("rib: a wall with ribs uneven left and right is not halved") {
  const auto mirrored = [](const std::vector<RibInput>& ribs) {
    return resolved(with_wall(plate_wall(ribs))).box.walls.mirrored;
  };
  CHECK(mirrored({{RibAlong::width, 30, 3, 15, {}, {}}}));
  CHECK(mirrored({{RibAlong::height, {}, 3, 15, {}, {}}}));
  CHECK(mirrored({{RibAlong::height, 40, 3, 15, {}, {}}, {RibAlong::height, 90, 3, 15, {}, {}}}));
  CHECK_FALSE(mirrored({{RibAlong::height, 40, 3, 15, {}, {}}}));
  CHECK_FALSE(
      mirrored({{RibAlong::height, 40, 3, 15, {}, {}}, {RibAlong::height, 90, 3, 16, {}, {}}}));
}

TEST_CASE("rib: what cannot be built is refused") {
  const auto refused = [](const PlateWall& wall) {
    CHECK_THROWS_AS(resolved(with_wall(wall)), UnusableBuild);
  };
  refused(plate_wall({{RibAlong::width, 120, 3, 15, {}, {}}}));
  refused(plate_wall({{RibAlong::height, 129.5, 3, 15, {}, {}}}));
  refused(plate_wall({{RibAlong::width, 50, 3, 0, {}, {}}}));
  refused(plate_wall({{RibAlong::width, 50, 3, 15, {}, {}}, {RibAlong::width, 52, 3, 15, {}, {}}}));
  PlateWall both = plate_wall({{RibAlong::width, 50, 3, 15, {}, {}}});
  both.second_plate = SecondPlate{2, {}};
  refused(both);
}

TEST_CASE("rib: stress along it is that of its own bend, and the answer holds it to its yield") {
  // Thick enough not to stretch. Steel on aluminium, at its outer edge.
  PlateWall wall = plate_wall({{RibAlong::width, {}, 4, 12, WallMaterial::carbon_steel, {}}});
  wall.thickness_mm = 6;
  const Answer ribbed = answer_pick(with_wall(wall));
  REQUIRE(ribbed.has_plan);
  const WallResult& result = ribbed.plan.walls.front();
  REQUIRE(result.rib_stress_mpa);
  CHECK_FALSE(result.large_bow);
  CHECK(result.rib_yield_mpa > 150);
  // A sine of that bow over the span, bent about the line between bar and strip: within a third.
  const RibBending bending = rib_bending({4, 12, 210000, 130.0 / 4}, {6, 69000, 0.33});
  const double sine =
      210000 * result.bow_middle_mm * std::pow(std::acos(-1.0) / 130, 2) * bending.outer_mm;
  CHECK(*result.rib_stress_mpa == Approx(sine).epsilon(0.35));
  wall.ribs.clear();
  const Answer bare = answer_pick(with_wall(wall));
  CHECK_FALSE(bare.plan.walls.front().rib_stress_mpa);
  wall.second_plate = SecondPlate{6, WallMaterial::aluminium};
  const WallResult two = answer_pick(with_wall(wall)).plan.walls.front();
  CHECK(two.second_plate_mm == 6);
  CHECK(two.bow_mm < bare.plan.walls.front().bow_mm);
  // Thicker than the wall and bent alike: the stress is greater in it.
  wall.second_plate = SecondPlate{8, WallMaterial::aluminium};
  const WallResult outer = answer_pick(with_wall(wall)).plan.walls.front();
  CHECK(outer.stress_in_second_plate);
}
