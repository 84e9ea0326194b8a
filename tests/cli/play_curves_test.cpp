// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a page plays with, against the model itself: states drawn over the whole grid.
#include <math.h>  // Boost 1.74 looks for it

#include <algorithm>
#include <boost/math/interpolators/pchip.hpp>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "solver/answer.hpp"
#include "solver/picture_of.hpp"
#include "solver/study.hpp"
#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"

using namespace stackfit;
using namespace stackfit::cli;
using namespace stackfit::cli::testing;
using Catch::Approx;

namespace {

// As picture.hpp says it may be read.
constexpr double off_share = 0.01;
constexpr double off_mpa = 0.0003;

double along_shift(const Play& play, const PlayKind& kind, std::size_t total, double shift_mm) {
  const std::size_t count = play.shift_mm.size();
  const auto from = kind.face_pressure_mpa.begin() + static_cast<std::ptrdiff_t>(total * count);
  std::vector<double> x = play.shift_mm;
  std::vector<double> y(from, from + static_cast<std::ptrdiff_t>(count));
  return boost::math::interpolators::pchip(std::move(x), std::move(y))(shift_mm);
}

double read_pressure(const Play& play, const PlayKind& kind, double total_mm, double shift_mm) {
  const auto at = [&](std::size_t total) {
    return along_shift(play, kind, total, shift_mm + total_mm - play.total_mm[total]);
  };
  if (play.total_mm.size() == 1) {
    return at(0);
  }
  std::size_t piece = 0;
  while (piece + 2 < play.total_mm.size() && play.total_mm[piece + 1] < total_mm) {
    ++piece;
  }
  const double share =
      (total_mm - play.total_mm[piece]) / (play.total_mm[piece + 1] - play.total_mm[piece]);
  return (1 - share) * at(piece) + share * at(piece + 1);
}

double longer_at(const Play& play, double charge) {
  std::size_t piece = 0;
  while (piece + 2 < play.charge.size() && play.charge[piece + 1] < charge) {
    ++piece;
  }
  const double share =
      (charge - play.charge[piece]) / (play.charge[piece + 1] - play.charge[piece]);
  return (1 - share) * play.longer_mm[piece] + share * play.longer_mm[piece + 1];
}

}  // namespace

TEST_CASE("what a page reads between the grid's knots is what the model says") {
  std::mt19937 random(20261128);
  std::uniform_real_distribution<double> share(0, 1);
  for (const char* name :
       {"shed_bank.json", "bench_frame.json", "sheet_box.json", "lid_screwed.json"}) {
    INFO(name);
    const ReadBuild read = read_fixture(name);
    REQUIRE(read.build);
    const Study study(*read.build, {});
    const ShimPlan plan = study.choose();
    REQUIRE(plan.found);
    const Answer answer = answer_pick(*read.build, {}, {}, Pictures::drawn);
    REQUIRE(answer.picture);
    const Play& play = answer.picture->play;
    for (const PlayKind& kind : play.kinds) {
      for (int i = 0; i < 40; ++i) {
        RowState state;
        state.charge = share(random);
        state.temperature_c = play.least_temperature_c +
                              share(random) * (play.most_temperature_c - play.least_temperature_c);
        state.capacity_loss = share(random) * play.most_loss;
        state.settled = kind.settled;
        state.stiff_pads = kind.stiff_pads;
        const double total =
            play.total_mm.front() + share(random) * (play.total_mm.back() - play.total_mm.front());
        ShimLoad load = study.load_of(plan.used);
        load.thickness_mm += total - answer.plan.shim_total_mm;
        const double shift =
            longer_at(play, state.charge) + play.longer_mm_per_loss * state.capacity_loss +
            play.longer_mm_per_k * (state.temperature_c - answer.build_temperature_c);
        const double model = study.model().solve(state, load).face_pressure_mpa;
        INFO("total " << total << " charge " << state.charge << " loss " << state.capacity_loss);
        CHECK(read_pressure(play, kind, total, shift) ==
              Approx(model).epsilon(off_share).margin(off_mpa));
      }
    }
  }
}

TEST_CASE("the map's mean is the face pressure, and its highest the highest there is") {
  for (const char* name : {"shed_bank.json", "bench_frame.json", "sheet_box.json"}) {
    INFO(name);
    const ReadBuild read = read_fixture(name);
    REQUIRE(read.build);
    const Answer answer = answer_pick(*read.build, {}, {}, Pictures::drawn);
    REQUIRE(answer.picture);
    const PressureMap& map = answer.picture->worst_face;
    REQUIRE(map.pressure_mpa.size() == static_cast<std::size_t>(map.columns * map.rows));
    double sum = 0;
    double highest = 0;
    for (const double mpa : map.pressure_mpa) {
      sum += mpa;
      highest = std::max(highest, mpa);
    }
    const StateResult& state =
        answer.picture->worst_as_built ? answer.plan.as_built : answer.plan.highest;
    // Squares of 6 mm smooth what columns say; corners of the face are rounded.
    CHECK(sum / static_cast<double>(map.pressure_mpa.size()) ==
          Approx(state.face_pressure_mpa).epsilon(0.03));
    CHECK(highest <= state.highest_local_mpa * (1 + 1e-9));
    CHECK(highest >= 0.8 * state.highest_local_mpa);
  }
}

TEST_CASE("the walls' lines stand still where they are held and bow as far as is told") {
  const ReadBuild read = read_fixture("shed_bank.json");
  REQUIRE(read.build);
  const Answer answer = answer_pick(*read.build, {}, {}, Pictures::drawn);
  REQUIRE(answer.picture);
  const WallLines& wall = answer.picture->first_wall;
  REQUIRE(wall.across_mm.size() > 2);
  CHECK(wall.across_mm.front() == Approx(0).margin(0.02 * answer.plan.as_built.wall_bow_mm));
  CHECK(wall.across_mm.back() == Approx(0).margin(0.02 * answer.plan.as_built.wall_bow_mm));
  const double middle = wall.across_mm[wall.across_mm.size() / 2];
  CHECK(middle > 0.5 * answer.plan.as_built.wall_bow_mm);
  CHECK(middle <= answer.plan.as_built.wall_bow_mm * (1 + 1e-9));
  // Left and right are alike in this box.
  CHECK(wall.across_mm[2] == Approx(wall.across_mm[wall.across_mm.size() - 3]).epsilon(0.02));
}
