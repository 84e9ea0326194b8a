// SPDX-License-Identifier: GPL-3.0-or-later
//
// From bow, gap, spring or nut back to the force that `pressure` gives: round trips, the stated
// span's coverage, and which input is named where build and reading disagree.
#include "solver/gauge.hpp"

#include <algorithm>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/normal_distribution.hpp>
#include <cmath>
#include <optional>

#include "solver/wall_result.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

namespace {

using Catch::Approx;
using namespace stackfit;

/// A row in a box of 3 mm aluminium with one 0.5 mm sheet in every gap.
Build boxed(double longer_mm = 0) {
  Build b = sample::placed_evenly(sample::known(4, 1.6), "thin");
  b.box.inner_length_mm.front() += longer_mm;
  b.box.inner_width_mm = 126;
  b.box.inner_height_mm = 110;
  b.box.end_walls = PlateWall{2.0, WallMaterial::aluminium, WallJoint::screwed};
  b.box.side_walls = {3.0, WallMaterial::aluminium};
  b.box.floor = Floor::insulated;
  return b;
}

struct Truth {
  double force_n = 0;
  double bow_mm = 0;
};
Truth truth_at(const Study& study, const RowState& state, const GaugeReading& at) {
  const ShimLoad load = study.load_of(study.as_placed().used);
  const auto full = study.model().columns_at(state, load);
  return {full->figures.force_n,
          wall_deflection_mm(study.row(), *full, {at.x_mm, at.y_mm, at.last_wall})};
}

RowState today(const Study& study, double charge) {
  RowState state = study.model().build_state();
  state.charge = charge;
  return state;
}

TEST_CASE("a wall's bow gives back the force, at the middle and off it") {
  const Study study(boxed(), {});
  for (const double charge : {0.1, 0.6, 0.9}) {
    const RowState state = today(study, charge);
    for (const auto& [x, y] : {std::pair(0.0, 0.0), {30.0, 20.0}, {-30.0, 20.0}, {0.0, 54.0}}) {
      GaugeReading reading{GaugeKind::bow, 0, 0.3, 0.05, false, x, y};
      const Truth truth = truth_at(study, state, reading);
      REQUIRE(truth.bow_mm > 0.05);
      reading.now = truth.bow_mm + 0.3;
      const GaugeAnswer answer = gauge(study, state, {reading}, false);
      CAPTURE(charge, x, y, truth.bow_mm);
      CHECK(answer.force_n == Approx(truth.force_n).epsilon(0.005));
      CHECK(answer.force_span_n.low < truth.force_n);
      CHECK(answer.force_span_n.high > truth.force_n);
      REQUIRE(answer.predicted);
      CHECK(std::abs(answer.predicted->deviation) < 0.1);
      CHECK(answer.predicted->suspects.empty());
    }
  }
}

TEST_CASE("points mirrored about the wall's middle bow alike, and the middle most") {
  const Study study(boxed(), {});
  const RowState state = today(study, 0.6);
  const double left = truth_at(study, state, {GaugeKind::bow, 0, 0, 0, false, -25, 10}).bow_mm;
  const double right = truth_at(study, state, {GaugeKind::bow, 0, 0, 0, false, 25, 10}).bow_mm;
  const double middle = truth_at(study, state, {GaugeKind::bow, 0, 0, 0, false, 0, 10}).bow_mm;
  CHECK(left == Approx(right).epsilon(1e-6));
  CHECK(middle > left);
}

TEST_CASE("the gap between the walls gives back the force") {
  const Study study(boxed(), {});
  const RowState state = today(study, 0.6);
  const ShimLoad load = study.load_of(study.as_placed().used);
  const auto full = study.model().columns_at(state, load);
  GaugeReading reading{GaugeKind::gap, 0, 163.6, 0.05, false, 0, 0};
  reading.now = 163.6 + 2 * wall_deflection_mm(study.row(), *full, {}) + full->now.extension_mm;
  const GaugeAnswer answer = gauge(study, state, {reading}, false);
  CHECK(answer.force_n == Approx(full->figures.force_n).epsilon(0.005));
  // A bow and a gap that say the same are weighted together: the span narrows.
  GaugeReading bow{GaugeKind::bow, 0.3 + wall_deflection_mm(study.row(), *full, {}), 0.3, 0.05};
  const GaugeAnswer both = gauge(study, state, {reading, bow}, false);
  CHECK(both.readings_agree);
  CHECK(both.force_span_n.high - both.force_span_n.low <
        answer.force_span_n.high - answer.force_span_n.low);
  bow.now += 0.6;
  CHECK_FALSE(gauge(study, state, {reading, bow}, false).readings_agree);
}

TEST_CASE("the 95 per cent span holds the true force in 920 to 975 of 1,000 trials") {
  const Study study(boxed(), {});
  const RowState state = today(study, 0.6);
  GaugeReading reading{GaugeKind::bow, 0, 0, 0.05};
  const Truth truth = truth_at(study, state, reading);
  const BowMap map(study, state, reading);
  for (const unsigned seed : {1U, 2U, 3U}) {
    boost::random::mt19937 source(seed);
    boost::random::normal_distribution<double> error(0, 0.05);
    int covered = 0;
    for (int trial = 0; trial < 1000; ++trial) {
      reading.empty = 0.3 + error(source);
      reading.now = truth.bow_mm + 0.3 + error(source);
      const Gauged gauged = gauge_bow(map, reading);
      covered +=
          gauged.force_span_n.low <= truth.force_n && truth.force_n <= gauged.force_span_n.high ? 1
                                                                                                : 0;
    }
    CAPTURE(seed, covered);
    CHECK(covered >= 920);
    CHECK(covered <= 975);
  }
}

TEST_CASE("the force rises with the bow, none is loose, too much is said to be beyond") {
  const Study study(boxed(), {});
  const BowMap map(study, today(study, 0.6), {});
  double before = -1;
  for (double bow = 0; bow <= map.top_bow_mm(); bow += map.top_bow_mm() / 50) {
    CHECK(map.force_n(bow) > before);
    before = map.force_n(bow);
    CHECK(map.bow_mm(map.force_n(bow)) == Approx(bow).margin(1e-9));
  }
  CHECK(gauge_bow(map, {GaugeKind::bow, 0.2, 0.3, 0.05}).loose);
  CHECK(gauge_bow(map, {GaugeKind::bow, 0.2, 0.3, 0.05}).force_n == 0);
  CHECK(gauge_bow(map, {GaugeKind::bow, 99, 0.3, 0.05}).beyond);
}

TEST_CASE("a box shorter than written is among the likeliest, and by how much") {
  const Study real(boxed(-0.9), {});
  const Study written(boxed(), {});
  const RowState state = today(written, 0.6);
  GaugeReading reading{GaugeKind::bow, 0, 0.3, 0.02};
  reading.now = 0.3 + truth_at(real, today(real, 0.6), reading).bow_mm;
  const GaugeAnswer answer = gauge(written, state, {reading}, false);
  REQUIRE(answer.predicted);
  CHECK(answer.predicted->deviation > 2);
  const auto& suspects = answer.predicted->suspects;
  REQUIRE(suspects.size() >= 3);
  for (std::size_t i = 1; i < suspects.size(); ++i) {
    CHECK(suspects[i - 1].in_its_errors <= suspects[i].in_its_errors);
  }
  for (const Suspect& suspect : suspects) {
    if (suspect.input == SuspectInput::box_length) {
      CHECK(suspect.by == Approx(-0.9).epsilon(0.03));
    }
    if (suspect.input == SuspectInput::cells_thickness) {
      CHECK(suspect.by == Approx(0.9 / 4).epsilon(0.03));
    }
  }
}

TEST_CASE("learning finds the softness of the real row") {
  Build real = boxed();
  real.cell.softness = SoftnessLaw{0.09, 180};
  const Study truth(real, {});
  Build b = boxed();
  b.cell.softness.reset();
  const Study written(b, {});
  GaugeReading reading{GaugeKind::bow, 0, 0.3, 0.01};
  reading.now = 0.3 + truth_at(truth, today(truth, 0.6), reading).bow_mm;
  const GaugeAnswer answer = gauge(written, today(written, 0.6), {reading}, true);
  REQUIRE(answer.learned);
  CHECK(answer.learned->a_mpa == Approx(0.09).epsilon(0.03));
  CHECK(answer.learned->a_span_mpa.low < 0.09);
  CHECK(answer.learned->a_span_mpa.high > 0.09);
  CHECK(answer.learned->b == 180);
  // A row eight times as stiff is not believed, nor a reading that tells nothing.
  real.cell.softness = SoftnessLaw{0.5, 180};
  const Study hard(real, {});
  reading.now = 0.3 + truth_at(hard, today(hard, 0.6), reading).bow_mm;
  CHECK_FALSE(gauge(written, today(written, 0.6), {reading}, true).learned);
}

TEST_CASE("what cannot be gauged says why") {
  Build rigid = boxed();
  rigid.box.end_walls = RigidWall{};
  const Study stiff(rigid, {});
  CHECK_FALSE(why_not_gauged(stiff, {GaugeKind::bow, 1, 0, 0.05}).empty());
  CHECK_THROWS_AS(gauge(stiff, stiff.model().build_state(), {{GaugeKind::bow, 1, 0, 0.05}}, false),
                  UnusableBuild);
  const Study box(boxed(), {});
  CHECK(why_not_gauged(box, {GaugeKind::bow, 1, 0, 0.05}).empty());
  CHECK_FALSE(why_not_gauged(box, {GaugeKind::bow, 1, 0, 0.05, false, 64, 0}).empty());
  CHECK_FALSE(why_not_gauged(box, {GaugeKind::spring_length, 10, 0, 0.05}).empty());
  CHECK_FALSE(why_not_gauged(box, {GaugeKind::torque, 1000, 0, 0}).empty());
}

/// A reading of the row's own bow, and what it stands for as computed.
GaugeReading own_bow(const Study& study, const RowState& state) {
  GaugeReading reading{GaugeKind::bow, 0, 0.3, 0.05};
  reading.now = 0.3 + truth_at(study, state, reading).bow_mm;
  return reading;
}

TEST_CASE("a force told by a bow is given as computed and times the shear factor (1)") {
  const Study study(boxed(), {});
  const RowState state = today(study, 0.6);
  const GaugeAnswer bow = gauge(study, state, {own_bow(study, state)}, false);
  REQUIRE(bow.shear_factor);
  CHECK(*bow.shear_factor == assumption(Assumed::gauge_shear).value);
  CHECK(bow.force_with_shear_n == Approx(*bow.shear_factor * bow.force_n));
  CHECK(bow.face_pressure_with_shear_mpa == Approx(*bow.shear_factor * bow.face_pressure_mpa));
  // A gap is taken as it is; beside a bow, that alone is multiplied.
  const ShimLoad load = study.load_of(study.as_placed().used);
  const auto full = study.model().columns_at(state, load);
  GaugeReading gap{GaugeKind::gap, 0, 163.6, 0.05};
  gap.now = 163.6 + 2 * wall_deflection_mm(study.row(), *full, {}) + full->now.extension_mm;
  const GaugeAnswer alone = gauge(study, state, {gap}, false);
  CHECK_FALSE(alone.shear_factor);
  CHECK(alone.force_with_shear_n == alone.force_n);
  CHECK_FALSE(alone.may_be_above());
  const GaugeAnswer both = gauge(study, state, {gap, own_bow(study, state)}, false);
  CHECK(both.readings_agree);
  CHECK(both.force_with_shear_n > 1.02 * both.force_n);
  CHECK(both.force_with_shear_n < *bow.shear_factor * both.force_n);
}

TEST_CASE("above is judged with the shear factor, below without it (1)") {
  const Study plain(boxed(), {});
  const RowState state = today(plain, 0.6);
  const GaugeReading reading = own_bow(plain, state);
  const double p = gauge(plain, state, {reading}, false).face_pressure_mpa;
  REQUIRE(p > 0.01);
  const auto in_band = [&](double low, double high, std::optional<double> limit = {}) {
    Build b = boxed();
    b.cell.range = PressureRange{low * p, high * p, RangeAppliesTo::use};
    if (limit) {
      b.cell.limit_mpa = *limit * p;
    }
    return gauge(Study(b, {}), state, {reading}, false);
  };
  // The model margin alone, a tenth, would still have been inside at 1.3.
  const GaugeAnswer may_be = in_band(0.5, 1.3);
  CHECK(may_be.standing == Standing::above);
  CHECK(may_be.as_computed == Standing::inside);
  CHECK(may_be.may_be_above());
  const GaugeAnswer well = in_band(0.5, 1.5);
  CHECK(well.standing == Standing::inside);
  CHECK_FALSE(well.may_be_above());
  // Surely above: no less by either figure.
  const GaugeAnswer surely = in_band(0.2, 0.8);
  CHECK(surely.as_computed == Standing::above);
  CHECK_FALSE(surely.may_be_above());
  // Below by the bare figure, whatever shear adds.
  CHECK(in_band(1.2, 3).standing == Standing::below);
  CHECK(in_band(1.2, 3).as_computed == Standing::below);
  // A band narrower than the bracket: what may be above comes first.
  CHECK(in_band(1.05, 1.35).standing == Standing::above);
  CHECK(in_band(1.05, 1.35).may_be_above());
  CHECK(in_band(1.05, 1.35).as_computed == Standing::below);
  CHECK(in_band(0.5, 1.2, 1.3).standing == Standing::above_limit);
  CHECK(in_band(0.5, 1.2, 1.3).may_be_above());
}

/// A tight row: much of its give is the walls', so that their joint tells.
Build tight(double by_mm, std::optional<WallJoint> joint) {
  Build b = boxed(-by_mm);
  std::get<PlateWall>(*b.box.end_walls).joint = joint;
  return b;
}

TEST_CASE("walls joined otherwise than written are a suspect, by what the other joint means") {
  struct Case {
    double tight_by_mm;
    std::optional<WallJoint> written;
    WallJoint real;
    double in_its_errors;  // once where nothing was said, twice where it was; nothing is left over
  };
  for (const Case& c : {Case{1.5, WallJoint::folded, WallJoint::screwed, 2},
                        Case{2, WallJoint::screwed, WallJoint::welded, 2},
                        Case{2, std::nullopt, WallJoint::welded, 1}}) {
    const Study real(tight(c.tight_by_mm, c.real), {});
    const RowState state = today(real, 0.9);
    const Truth truth = truth_at(real, state, {});
    const GaugeReading reading{GaugeKind::bow, 0.3 + truth.bow_mm, 0.3, 0.02};
    const Study written(tight(c.tight_by_mm, c.written), {});
    const GaugeAnswer answer = gauge(written, state, {reading}, false);
    REQUIRE(answer.predicted);
    CAPTURE(truth.force_n, answer.force_n, answer.predicted->force_n, answer.predicted->error_n);
    REQUIRE(std::abs(answer.predicted->deviation) > 2);
    REQUIRE(answer.other_joint);
    CHECK(answer.other_joint->said == c.written.has_value());
    CHECK(answer.other_joint->screwed == (c.real == WallJoint::screwed));
    // With the real joint the reading stands for the real force; as written for another.
    CHECK(answer.other_joint->force_n == Approx(truth.force_n).epsilon(0.01));
    CHECK(std::abs(std::log(answer.other_joint->force_n / answer.force_n)) > std::log(1.5));
    const auto& suspects = answer.predicted->suspects;
    const auto joint = std::find_if(suspects.begin(), suspects.end(), [](const Suspect& s) {
      return s.input == SuspectInput::wall_joint;
    });
    REQUIRE(joint != suspects.end());
    CHECK(joint->by == Approx(answer.other_joint->force_n / answer.force_n));
    CHECK(joint->in_its_errors == Approx(c.in_its_errors).margin(0.05));
    for (std::size_t i = 1; i < suspects.size(); ++i) {
      CHECK(suspects[i - 1].in_its_errors <= suspects[i].in_its_errors);
    }
  }
}

TEST_CASE("where build and reading agree the other joint is told only if none was said") {
  const Study said(boxed(), {});
  const RowState state = today(said, 0.6);
  const GaugeReading reading = own_bow(said, state);
  CHECK_FALSE(gauge(said, state, {reading}, false).other_joint);
  Build b = boxed();
  std::get<PlateWall>(*b.box.end_walls).joint.reset();  // taken as screwed
  const GaugeAnswer answer = gauge(Study(b, {}), state, {reading}, false);
  REQUIRE(answer.other_joint);
  CHECK(answer.other_joint->force_n > answer.force_n);
  REQUIRE(answer.predicted);
  CHECK(answer.predicted->suspects.empty());
  // Nor where each edge has its own joint: there is no one other way.
  std::get<PlateWall>(*b.box.end_walls).edges = WallEdges{};
  CHECK_FALSE(gauge(Study(b, {}), state, {reading}, false).other_joint);
}

/// The same cells between two plates on four rods with helical springs.
Build framed() {
  Build b = sample::placed_evenly(sample::known(4), "thin");
  b.box = {};
  Frame frame;
  frame.plates = {10.0, WallMaterial::aluminium, 180, 140};
  frame.rods.size = "M8";
  frame.rods.at = {{-80, 0}, {80, 0}, {-80, 40}, {80, 40}};
  for (RodPosition& at : frame.rods.at) {
    at.y_mm -= 20;
  }
  HelicalSprings springs{4.0, 20.0, 6.0, 45.0, 28.0, 79000.0};
  frame.springs = springs;
  frame.force_n = 900;
  b.frame = frame;
  return b;
}

TEST_CASE("springs and nuts of a frame give back its force") {
  const Study study(framed(), {});
  const RowState state = study.model().build_state();
  // Wahl's rate, each spring: G d^4 / (8 D^3 n).
  const double rate = 79000.0 * 256 / (8 * 8000.0 * 6);
  GaugeReading springs;
  springs.kind = GaugeKind::spring_length;
  springs.now = 45.0 - 225.0 / rate;
  springs.error = 0.05;
  const GaugeAnswer answer = gauge(study, state, {springs}, false);
  CHECK(answer.force_n == Approx(900.0).epsilon(1e-6));
  CHECK_FALSE(answer.shear_factor);  // springs are read themselves (2)
  CHECK(answer.force_with_shear_n == answer.force_n);
  CHECK_FALSE(answer.other_joint);
  // Four springs, each read to 0.05 mm: their mean to half of it.
  CHECK(answer.force_span_n.high - answer.force_n ==
        Approx(1.959964 * 0.05 / 2 * 4 * rate).epsilon(1e-4));
  springs.now = 27;
  const GaugeAnswer solid = gauge(study, state, {springs}, false);
  CHECK(solid.gauges[0].beyond);
  CHECK(solid.force_n == Approx(4 * rate * (45.0 - 28.0)).epsilon(1e-3));
  // T = K d F with K = 0.2, a third either way.
  GaugeReading torque;
  torque.kind = GaugeKind::torque;
  torque.now = 0.2 * 8 * 225;
  const GaugeAnswer nuts = gauge(study, state, {torque}, false);
  CHECK(nuts.force_n == Approx(900.0));
  CHECK(nuts.force_span_n.high > 1.25 * nuts.force_n);
  CHECK_FALSE(why_not_gauged(study, {GaugeKind::bow, 1, 0, 0.05}).empty());
}

}  // namespace
