// SPDX-License-Identifier: GPL-3.0-or-later
//
// What springs.hpp promises, by its numbers, and threads.hpp beside it. Figures of the world are
// in tests/published/springs_test.cpp.
#include "solver/springs.hpp"

#include <rapidcheck.h>

#include <cmath>
#include <stdexcept>

#include "solver/threads.hpp"
#include "tests/catch.hpp"
#include "tests/solver/draw_springs.hpp"

using namespace stackfit;
using namespace stackfit::testing;

namespace {

/// h0/t = 1.8, over the square root of two: its force falls before it is flat.
DiscSpring high_cone() {
  return {40, 20, 1, 1.8, {}, 206000, 0.3};
}

bool near(double value, double expected, double relative) {
  return std::abs(value - expected) <= relative * std::abs(expected);
}

}  // namespace

TEST_CASE("springs 1: nothing at no deflection and below") {
  REQUIRE(rc::check([] {
    const SpringSet set = draw_spring_set();
    for (const double s : {0.0, -1e-9, -set.travel_mm()}) {
      RC_ASSERT(set.force_at(s).n == 0);
      RC_ASSERT(set.energy_at(s) == 0);
    }
  }));
}

TEST_CASE("springs 2: slope and energy belong to the force") {
  REQUIRE(rc::check([] {
    const SpringSet set = draw_spring_set();
    const double most = set.force_at(set.rises_up_to_mm()).n;
    const double s = draw_between(0.05, 0.95) * set.travel_mm();
    const double h = 1e-4 * set.travel_mm();
    // Central differences are exact for a quadratic; what a cubic and a quartic leave is h^2.
    const double slope = (set.force_at(s + h).n - set.force_at(s - h).n) / (2 * h);
    const double work = (set.energy_at(s + h) - set.energy_at(s - h)) / (2 * h);
    RC_ASSERT(std::abs(slope - set.force_at(s).per_mm) <= 1e-6 * most / set.travel_mm());
    RC_ASSERT(std::abs(work - set.force_at(s).n) <= 1e-6 * most);
  }));
}

TEST_CASE("springs 3: the force rises up to where it is said to rise") {
  REQUIRE(rc::check([] {
    const SpringSet set = draw_spring_set();
    const double end = set.rises_up_to_mm();
    RC_ASSERT(end > 0);
    RC_ASSERT(end <= set.travel_mm());
    const double a = draw_between(0, 1) * end;
    const double b = draw_between(0, 1) * end;
    RC_PRE(std::abs(a - b) > 1e-6 * end);
    RC_ASSERT((set.force_at(a).n < set.force_at(b).n) == (a < b));
    if (end < set.travel_mm()) {
      RC_ASSERT(set.force_at(0.5 * (end + set.travel_mm())).n < set.force_at(end).n);
    }
  }));
}

TEST_CASE("springs 3: a high cone falls where the formula's slope is zero") {
  // Slope of (H - x)(H - x/2) x + x: zero at x = H - sqrt(H^2/3 - 2/3), x = s/t.
  const SpringSet one = SpringSet::discs(high_cone(), {1, 1});
  const double expected = 1.8 - std::sqrt(1.8 * 1.8 / 3 - 2.0 / 3);
  CHECK(one.rises_up_to_mm() == Catch::Approx(expected).epsilon(1e-13));
  CHECK_FALSE(one.rises_all_the_way());
  CHECK(SpringSet::discs(high_cone(), {2, 5}).rises_up_to_mm() ==
        Catch::Approx(5 * expected).epsilon(1e-13));
  // The root of two is where falling begins.
  DiscSpring disc = high_cone();
  disc.cone_height_mm = 1.41;
  CHECK(SpringSet::discs(disc, {1, 1}).rises_all_the_way());
  disc.cone_height_mm = 1.42;
  CHECK_FALSE(SpringSet::discs(disc, {1, 1}).rises_all_the_way());
}

TEST_CASE("springs 3: a stop before that makes a high cone usable") {
  const SpringSet stopped = SpringSet::discs(high_cone(), {1, 4}).with_stop_at(3.5);
  CHECK(stopped.travel_mm() == 3.5);
  CHECK(stopped.recommended_travel_mm() == 3.5);  // 0.75 h0 of four would be 5.4
  CHECK(stopped.rises_all_the_way());
  CHECK_THROWS_AS(stopped.force_at(3.6), std::invalid_argument);
  CHECK_THROWS_AS(stopped.with_stop_at(3.6), std::invalid_argument);
  CHECK_THROWS_AS(stopped.with_stop_at(0), std::invalid_argument);
}

TEST_CASE("springs 4: nested discs add force, stacks in series add travel") {
  REQUIRE(rc::check([] {
    const DiscSpring disc = draw_disc();
    const Stacking stacking = draw_stacking();
    const SpringSet one = SpringSet::discs(disc, {1, 1});
    const SpringSet set = SpringSet::discs(disc, stacking);
    const double s = draw_between(0.01, 0.99) * one.travel_mm();
    const double m = stacking.series;
    RC_ASSERT(near(set.force_at(m * s).n, stacking.parallel * one.force_at(s).n, 1e-12));
    RC_ASSERT(near(set.energy_at(m * s), m * stacking.parallel * one.energy_at(s), 1e-12));
    RC_ASSERT(near(set.travel_mm(), m * one.travel_mm(), 1e-12));
    RC_ASSERT(near(set.recommended_travel_mm(), m * one.recommended_travel_mm(), 1e-12));
    // A stack of n is l0 and n - 1 more thicknesses high; pressed flat, n thicknesses remain.
    const double thickness = disc.reduced_thickness_mm.value_or(disc.thickness_mm);
    RC_ASSERT(
        near(set.free_length_mm() - set.travel_mm(), m * stacking.parallel * thickness, 1e-12));
  }));
}

TEST_CASE("springs 4: a set twice in series is the set with twice the stacks") {
  REQUIRE(rc::check([] {
    const DiscSpring disc = draw_disc();
    const SpringSet four = SpringSet::discs(disc, {2, 4});
    const SpringSet twice = SpringSet::discs(disc, {2, 2}).in_series(2);
    const double s = draw_between(0.01, 0.99) * four.travel_mm();
    RC_ASSERT(near(twice.force_at(s).n, four.force_at(s).n, 1e-12));
    RC_ASSERT(near(twice.free_length_mm(), four.free_length_mm(), 1e-12));
    RC_ASSERT(near(twice.travel_mm(), four.travel_mm(), 1e-12));
    RC_ASSERT(near(twice.recommended_travel_mm(), four.recommended_travel_mm(), 1e-12));
  }));
}

TEST_CASE("springs 5: contact flats leave the force at 0.75 h0") {
  // What K4 is made for (DIN EN 16984): a thinner disc of the same height, with flats that
  // shorten the lever. It holds for any reduced thickness, so a slip in h0', t' or K4 shows.
  REQUIRE(rc::check([] {
    DiscSpring disc = draw_disc();
    disc.reduced_thickness_mm.reset();
    const double s = 0.75 * disc.cone_height_mm;
    const double plain = SpringSet::discs(disc, {1, 1}).force_at(s).n;
    disc.reduced_thickness_mm = draw_between(0.8, 1) * disc.thickness_mm;
    const SpringSet flats = SpringSet::discs(disc, {1, 1});
    RC_ASSERT(near(flats.force_at(s).n, plain, 1e-11));
    RC_ASSERT(near(flats.recommended_travel_mm(), s, 1e-12));
    RC_ASSERT(near(flats.travel_mm(), disc.height_mm() - *disc.reduced_thickness_mm, 1e-12));
  }));
}

TEST_CASE("springs 6: solid springs promise nothing") {
  const SpringSet set = SpringSet::helical({10, 40, 25}, {1, 2});
  CHECK(set.travel_mm() == 30);
  CHECK(set.force_at(30).n == 150);
  CHECK(set.recommended_travel_mm() == Catch::Approx(30 / 1.15));
  CHECK_THROWS_AS(set.force_at(30.001), std::invalid_argument);
  CHECK_THROWS_AS(set.energy_at(30.001), std::invalid_argument);
  CHECK_THROWS_AS(set.deflection_at(150.001), std::invalid_argument);
  CHECK_THROWS_AS(set.deflection_at(-1), std::invalid_argument);
}

TEST_CASE("the deflection at a force is the inverse of the force at a deflection") {
  REQUIRE(rc::check([] {
    const SpringSet set = draw_spring_set();
    const double force = draw_between(0, 1) * set.force_at(set.rises_up_to_mm()).n;
    const double s = set.deflection_at(force);
    RC_ASSERT(s >= 0);
    RC_ASSERT(s <= set.rises_up_to_mm());
    RC_ASSERT(near(set.force_at(s).n, force, 1e-12));
  }));
}

TEST_CASE("and reaches both ends") {
  for (const SpringSet& set :
       {SpringSet::helical({10, 40, 25}, {3, 2}), SpringSet::discs(high_cone(), {2, 3})}) {
    CHECK(set.deflection_at(0) == 0);
    const double top = set.force_at(set.rises_up_to_mm()).n;
    CHECK(set.force_at(set.deflection_at(top)).n == Catch::Approx(top).epsilon(1e-12));
  }
}

TEST_CASE("a solid length with closed and ground ends") {
  CHECK(ground_solid_length_mm({2, 16, 6, 79300}) == 16);
}

TEST_CASE("springs that cannot be are refused") {
  const DiscSpring good{40, 20.4, 2.25, 0.9, {}, 206000, 0.3};
  CHECK_NOTHROW(SpringSet::discs(good, {1, 1}));
  const auto refused = [&](auto spoil) {
    DiscSpring disc = good;
    spoil(disc);
    CHECK_THROWS_AS(SpringSet::discs(disc, {1, 1}), std::invalid_argument);
  };
  refused([](DiscSpring& d) { d.inner_diameter_mm = 40; });
  refused([](DiscSpring& d) { d.inner_diameter_mm = 0; });
  refused([](DiscSpring& d) { d.outer_diameter_mm = INFINITY; });
  refused([](DiscSpring& d) { d.thickness_mm = -1; });
  refused([](DiscSpring& d) { d.cone_height_mm = 0; });
  refused([](DiscSpring& d) { d.modulus_mpa = NAN; });
  refused([](DiscSpring& d) { d.poisson = 0.5; });
  refused([](DiscSpring& d) { d.reduced_thickness_mm = 2.3; });
  refused([](DiscSpring& d) { d.reduced_thickness_mm = 0; });
  CHECK_THROWS_AS(SpringSet::discs(good, {0, 1}), std::invalid_argument);
  CHECK_THROWS_AS(SpringSet::discs(good, {1, 0}), std::invalid_argument);
  CHECK_THROWS_AS(SpringSet::discs(good, {1, 1}).in_series(0), std::invalid_argument);
  CHECK_THROWS_AS(SpringSet::helical({10, 25, 25}, {1, 1}), std::invalid_argument);
  CHECK_THROWS_AS(SpringSet::helical({0, 40, 25}, {1, 1}), std::invalid_argument);
  CHECK_THROWS_AS(SpringSet::helical({10, 40, 0}, {1, 1}), std::invalid_argument);
  CHECK_THROWS_AS(helical_rate_n_per_mm({2, 16, 0, 79300}), std::invalid_argument);
  CHECK_THROWS_AS(ground_solid_length_mm({-2, 16, 6, 79300}), std::invalid_argument);
}

// --- threads ------------------------------------------------------------------------------------

TEST_CASE("torque and force are each other's inverse, and so are their spans") {
  REQUIRE(rc::check([] {
    const Thread thread = coarse_threads()[*rc::gen::inRange<std::size_t>(0, 11)];
    const NutFactor factor{draw_between(0.1, 0.3), draw_between(0, 0.5)};
    const double force = draw_between(10, 20000);
    const double torque = torque_n_mm(thread, factor, force);
    RC_ASSERT(near(force_of_torque_n(thread, factor, torque), force, 1e-14));
    // The least force of the greatest torque is the force, and the other way about.
    const Span torques = torque_span_n_mm(thread, factor, force);
    RC_ASSERT(torques.low <= torque);
    RC_ASSERT(torque <= torques.high);
    RC_ASSERT(near(force_span_n(thread, factor, torques.high).low, force, 1e-14));
    RC_ASSERT(near(force_span_n(thread, factor, torques.low).high, force, 1e-14));
  }));
}

TEST_CASE("a nut factor of 0.2 that scatters by 30 %") {
  const Span torques = torque_span_n_mm({6, 1}, {0.2, 0.3}, 1000);
  CHECK(torques.low == Catch::Approx(840));
  CHECK(torques.high == Catch::Approx(1560));
  const Span forces = force_span_n({6, 1}, {0.2, 0.3}, 1200);
  CHECK(forces.low == Catch::Approx(1000 / 1.3));
  CHECK(forces.high == Catch::Approx(1000 / 0.7));
}

TEST_CASE("a frame's torque says nothing: 3 kN on four M6 rods with lock nuts") {
  const Thread m6 = *coarse_thread(6);
  Tightening t{m6, proof_stress_mpa(PropertyClass::steel_8_8), 750, {0.2, 0.3}, {}};
  CHECK(torque_n_mm(m6, t.factor, t.force_n) == Catch::Approx(900));
  CHECK(*lock_nut_drag_n_mm(m6) > 900);  // 3 N m, ISO 2320
  CHECK_FALSE(torque_tells(t));
  t.drag_n_mm = lock_nut_drag_n_mm(m6);
  CHECK_FALSE(torque_tells(t));
  // From three times the drag on: 9 N m are 7500 N, above 30 % of the proof load too.
  t.proof_stress_mpa = 1e6;
  t.force_n = 7499;
  CHECK_FALSE(torque_tells(t));
  t.force_n = 7501;
  CHECK(torque_tells(t));
  // A plain nut: from 30 % of the proof load on.
  t.drag_n_mm.reset();
  CHECK_FALSE(torque_tells(t));
  t.proof_stress_mpa = 225;
  t.force_n = 0.299 * proof_load_n(m6, 225);
  CHECK_FALSE(torque_tells(t));
  t.force_n = 0.301 * proof_load_n(m6, 225);
  CHECK(torque_tells(t));
}

TEST_CASE("stainless rods by their 0.2 % proof stress") {
  CHECK(proof_stress_mpa(PropertyClass::stainless_a2_70) == 450);
  CHECK(proof_stress_mpa(PropertyClass::stainless_a4_70) == 450);
}

TEST_CASE("threads and torques that cannot be are refused") {
  CHECK_FALSE(coarse_thread(9));
  CHECK_FALSE(lock_nut_drag_n_mm({9, 1}));
  CHECK_THROWS_AS(stress_area_mm2({0, 1}), std::invalid_argument);
  CHECK_THROWS_AS(stress_area_mm2({6, 0}), std::invalid_argument);
  CHECK_THROWS_AS(stress_area_mm2({1, 2}), std::invalid_argument);
  CHECK_THROWS_AS(proof_load_n({6, 1}, 0), std::invalid_argument);
  CHECK_THROWS_AS(torque_n_mm({6, 1}, {0, 0.3}, 100), std::invalid_argument);
  CHECK_THROWS_AS(torque_n_mm({6, 1}, {0.2, 1}, 100), std::invalid_argument);
  CHECK_THROWS_AS(torque_n_mm({6, 1}, {0.2, 0.3}, -1), std::invalid_argument);
  CHECK_THROWS_AS(torque_n_mm({0, 1}, {0.2, 0.3}, 1), std::invalid_argument);
  CHECK_THROWS_AS(force_of_torque_n({6, 1}, {0.2, 0.3}, -1), std::invalid_argument);
}
