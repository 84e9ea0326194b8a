// SPDX-License-Identifier: GPL-3.0-or-later
//
// What tie.hpp promises, by its numbers.
#include "solver/tie.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "tests/catch.hpp"
#include "tests/solver/draw_springs.hpp"

using namespace stackfit;
using namespace stackfit::testing;

namespace {

/// Four M6 rods, 400 mm, threaded all along, with or without a helical spring at one end.
RodSet four_rods(bool with_springs) {
  RodSet set;
  set.count = 4;
  set.rod = {{6, 1}, 400, 205000, 225, 0, 0};
  if (with_springs) {
    set.springs = SpringSet::helical({100, 50, 30}, {1, 1});
  }
  set.force_n = 3000;
  return set;
}

/// Lengths and forces to judge a law by: about as far as it goes before the springs are solid.
struct Scale {
  double mm = 0;
  double n = 0;
};
Scale scale_of(const TieLaw& law) {
  const double solid = law.solid_at_mm();
  const double top = std::isinf(solid) ? 0.5 : solid;
  Scale scale;
  scale.mm = std::max(top - law.slack_at_mm(), 1e-3);
  scale.n = law.force_at(top).n + law.force_at(law.slack_at_mm() + scale.mm).n;
  return scale;
}

/// An extension from well slack to well beyond solid; one in five is a corner.
double draw_extension(const TieLaw& law) {
  const Scale scale = scale_of(law);
  const int which = *rc::gen::inRange(0, 10);
  if (which == 0) return law.slack_at_mm();
  if (which == 1 && !std::isinf(law.solid_at_mm())) return law.solid_at_mm();
  return law.slack_at_mm() + draw_between(-0.2, 1.1) * scale.mm;
}

TieLaw draw_rod_law() {
  return TieLaw::rods(draw_rods());
}

bool near(double value, double expected, double relative) {
  return std::abs(value - expected) <= relative * std::abs(expected);
}

}  // namespace

TEST_CASE("tie 1: the force never falls and rods never push") {
  REQUIRE(rc::check([] {
    const TieLaw law = draw_rod_law();
    std::vector<double> u(20);
    std::generate(u.begin(), u.end(), [&] { return draw_extension(law); });
    std::sort(u.begin(), u.end());
    double last = 0;
    for (const double at : u) {
      const TieLaw::Force force = law.force_at(at);
      RC_ASSERT(force.n >= last * (1 - 1e-14));
      RC_ASSERT(force.per_mm >= 0);
      last = force.n;
    }
  }));
}

TEST_CASE("tie 2 and 3: the energy's derivative is the force, and the energy is convex") {
  // Where F is the rising derivative of E, (E(b) - E(a))/(b - a) lies between F(a) and F(b), for
  // steps long and short; for a short one the two are the same force.
  REQUIRE(rc::check([] {
    const TieLaw law = draw_rod_law();
    RC_ASSERT(law.energy_at(0) <= 1e-12 * scale_of(law).n * scale_of(law).mm);
    const Scale scale = scale_of(law);
    for (const double step : {0.3, 1e-2, 1e-5}) {
      const double a = draw_extension(law);
      const double b = a + step * scale.mm;
      const double chord = (law.energy_at(b) - law.energy_at(a)) / (b - a);
      const double rounding = 1e-14 * scale.n / step;
      RC_ASSERT(chord >= law.force_at(a).n - rounding);
      RC_ASSERT(chord <= law.force_at(b).n + rounding);
    }
  }));
}

TEST_CASE(
    "tie 4: slack rods have no force, no slope and the energy they had when they went slack") {
  REQUIRE(rc::check([] {
    const RodSet set = draw_rods();
    const TieLaw law = TieLaw::rods(set);
    const double slack = law.slack_at_mm();
    RC_ASSERT(slack <= 0);
    RC_ASSERT(law.force_at(slack).n == 0);
    const double beyond = slack - draw_between(1e-6, 10);
    RC_ASSERT(law.force_at(beyond).n == 0);
    RC_ASSERT(law.force_at(beyond).per_mm == 0);
    RC_ASSERT(law.energy_at(beyond) == law.energy_at(slack));
    const RodState state = *law.rod_state_at(beyond);
    RC_ASSERT(near(state.loose_by_mm, slack - beyond, 1e-6));
    RC_ASSERT(state.rod_force_n == 0);
    RC_ASSERT(state.spring_deflection_mm == 0);
    // It pulls again at once.
    RC_ASSERT(law.force_at(slack + 1e-6).n > 0);
    RC_ASSERT(law.rod_state_at(slack + 1e-6)->loose_by_mm == 0);
  }));
}

TEST_CASE("tie 5: at no extension the rods have the force they were brought to") {
  REQUIRE(rc::check([] {
    const RodSet set = draw_rods();
    const TieLaw law = TieLaw::rods(set);
    RC_ASSERT(near(law.force_at(0).n, set.force_n, TieLaw::relative_force_error));
    RC_ASSERT(law.energy_at(0) <= 1e-11 * -law.energy_at(law.slack_at_mm()));
  }));
}

TEST_CASE("tie 6: the slope is the derivative of the force") {
  REQUIRE(rc::check([] {
    const TieLaw law = draw_rod_law();
    const Scale scale = scale_of(law);
    // A hair on, since a corner's own place is rounded.
    const double u = draw_extension(law) + 1e-12 * scale.mm;
    const double h = 1e-4 * scale.mm;
    const auto corner_within = [&](double low, double high) {
      return (low < law.slack_at_mm() && law.slack_at_mm() < high) ||
             (low < law.solid_at_mm() && law.solid_at_mm() < high);
    };
    RC_PRE(!corner_within(u, u + 2 * h));
    // Three points ahead, exact for a quadratic, so that a corner shows the slope beyond it.
    const double slope =
        (-3 * law.force_at(u).n + 4 * law.force_at(u + h).n - law.force_at(u + 2 * h).n) / (2 * h);
    const double stiffest = law.force_at(u + 2 * h).per_mm + law.force_at(u).per_mm;
    RC_ASSERT(std::abs(law.force_at(u).per_mm - slope) <=
              1e-5 * stiffest + 1e-9 * scale.n / scale.mm);
  }));
}

TEST_CASE("tie 7: springs and rod carry one force and take up the extension together") {
  REQUIRE(rc::check([] {
    const RodSet set = draw_rods();
    const TieLaw law = TieLaw::rods(set);
    const double u = draw_extension(law);
    const RodState state = *law.rod_state_at(u);
    const int ends = set.ends == SpringEnds::both ? 2 : 1;
    RC_ASSERT(near(set.count * state.rod_force_n, law.force_at(u).n, 1e-14));
    RC_ASSERT(near(state.rod_stretch_mm, state.rod_force_n * rod_give_mm_per_n(set.rod), 1e-14));
    const double drawn = u - law.slack_at_mm();
    const double taken_up = ends * state.spring_deflection_mm + state.rod_stretch_mm;
    RC_ASSERT(std::abs(taken_up - std::max(drawn, 0.0)) <= 1e-13 * scale_of(law).mm);
    RC_ASSERT(near(state.proof_share * set.rod.proof_stress_mpa * stress_area_mm2(set.rod.thread),
                   state.rod_force_n, 1e-13));
    if (!set.springs) return;
    const double s = std::min(state.spring_deflection_mm, set.springs->travel_mm());
    RC_ASSERT(state.spring_length_mm == set.springs->free_length_mm() - state.spring_deflection_mm);
    if (state.beyond_travel) {
      RC_ASSERT(near(s, set.springs->travel_mm(), 1e-14));
      RC_ASSERT(state.rod_force_n >= set.springs->force_at(s).n * (1 - 1e-14));
    } else {
      // 1e-12 of the force, but for what an extension near slack has lost in the difference.
      RC_ASSERT(std::abs(set.springs->force_at(s).n - state.rod_force_n) <=
                1e-12 * state.rod_force_n);
    }
  }));
}

TEST_CASE("rods with helical springs, by hand") {
  const TieLaw law = TieLaw::rods(four_rods(true));
  // Give of a rod: 400/(205000 * 20.1234) mm/N; of its spring 1/100. 750 N in each.
  const double c = 400 / (205000 * 20.123376);
  const double rate = 4 / (c + 0.01);
  CHECK(law.slack_at_mm() == Catch::Approx(-(7.5 + 750 * c)).epsilon(1e-7));
  CHECK(law.solid_at_mm() == Catch::Approx(12.5 + 1250 * c).epsilon(1e-7));
  CHECK(law.force_at(1).n == Catch::Approx(3000 + rate).epsilon(1e-8));
  CHECK(law.force_at(1).per_mm == Catch::Approx(rate).epsilon(1e-8));
  CHECK(law.energy_at(1) == Catch::Approx(3000 + rate / 2).epsilon(1e-8));
  CHECK(law.energy_at(-1) == Catch::Approx(-3000 + rate / 2).epsilon(1e-8));
  CHECK_FALSE(law.beyond_travel(12.6));
  CHECK(law.beyond_travel(12.8));
  // A tenth of a millimetre beyond solid, where the rods stretch alone.
  const double beyond = law.solid_at_mm() + 0.1;
  CHECK(law.force_at(beyond).n == Catch::Approx(8000 + 0.4 / c).epsilon(1e-7));
  CHECK(law.force_at(beyond).per_mm == Catch::Approx(4 / c).epsilon(1e-7));
  const RodState state = *law.rod_state_at(beyond);
  CHECK(state.beyond_travel);
  CHECK(state.beyond_recommended);
  CHECK(state.spring_length_mm == 30);
  // The working travel of 20/1.15 mm has not been used up at the start.
  CHECK_FALSE(law.rod_state_at(0)->beyond_recommended);
  CHECK(law.rod_state_at(0)->spring_length_mm == Catch::Approx(42.5).epsilon(1e-12));
  CHECK(law.rod_state_at(0)->proof_share == Catch::Approx(750 / (225 * 20.123376)).epsilon(1e-7));
}

TEST_CASE("springs at both ends deflect alike and are half as stiff together") {
  RodSet set = four_rods(true);
  set.ends = SpringEnds::both;
  const TieLaw law = TieLaw::rods(set);
  const double c = 400 / (205000 * 20.123376);
  CHECK(law.force_at(0).per_mm == Catch::Approx(4 / (c + 0.02)).epsilon(1e-8));
  const RodState state = *law.rod_state_at(0);
  CHECK(state.spring_deflection_mm == Catch::Approx(7.5).epsilon(1e-12));
  CHECK(state.spring_length_mm == Catch::Approx(42.5).epsilon(1e-12));
}

TEST_CASE("rods alone are a straight line from where they pull") {
  const TieLaw law = TieLaw::rods(four_rods(false));
  const double c = 400 / (205000 * 20.123376);
  CHECK(std::isinf(law.solid_at_mm()));
  CHECK(law.slack_at_mm() == Catch::Approx(-750 * c).epsilon(1e-7));
  CHECK(law.force_at(0.1).n == Catch::Approx(3000 + 0.4 / c).epsilon(1e-7));
  const RodState state = *law.rod_state_at(5);
  CHECK_FALSE(state.beyond_travel);
  CHECK(state.spring_length_mm == 0);
  CHECK(state.proof_share > 1);  // said, not hidden
}

TEST_CASE("a plain shank stretches with its own area") {
  Rod rod{{6, 1}, 400, 205000, 225, 300, 6};
  const double pi = std::acos(-1.0);
  CHECK(rod_give_mm_per_n(rod) ==
        Catch::Approx(100 / (205000 * 20.123376) + 300 / (205000 * pi * 9)).epsilon(1e-7));
  CHECK(bar_give_mm_per_n({300, 9 * pi, 205000}) == Catch::Approx(300 / (205000 * pi * 9)));
}

TEST_CASE("a frame that is only snug pulls as soon as it is drawn out") {
  RodSet set = four_rods(true);
  set.force_n = 0;
  const TieLaw law = TieLaw::rods(set);
  CHECK(law.slack_at_mm() == 0);
  CHECK(law.force_at(0).n == 0);
  CHECK(law.force_at(0).per_mm > 0);  // the slope towards greater u
  CHECK(law.force_at(-0.1).per_mm == 0);
  CHECK(law.energy_at(-0.1) == 0);
}

TEST_CASE("a box's side walls are a straight line both ways") {
  REQUIRE(rc::check([] {
    const double give = draw_between(1e-6, 1e-3);
    const TieLaw law = TieLaw::linear(give);
    const double u = draw_between(-2, 2);
    RC_ASSERT(near(law.force_at(u).n, u / give, 1e-15));
    RC_ASSERT(law.force_at(u).per_mm == 1 / give);
    RC_ASSERT(near(law.energy_at(u), u * u / (2 * give), 1e-14));
    RC_ASSERT(!law.rigid());
    RC_ASSERT(!law.beyond_travel(u));
    RC_ASSERT(!law.rod_state_at(u));
  }));
  CHECK(TieLaw::linear(1e-4).slack_at_mm() == -std::numeric_limits<double>::infinity());
}

TEST_CASE("a box that does not stretch has no force law") {
  const TieLaw law = TieLaw::linear(0);
  CHECK(law.rigid());
  CHECK_THROWS_AS(law.force_at(0), std::logic_error);
  CHECK_THROWS_AS(law.energy_at(0), std::logic_error);
  CHECK_FALSE(TieLaw::rods(four_rods(false)).rigid());
}

TEST_CASE("the nut's travel is what springs, rod and row take up, in turns of its pitch") {
  const NutTravel travel = nut_travel(four_rods(true), 1.2);
  const double stretch = 750 * 400 / (205000 * 20.123376);
  CHECK(travel.springs_mm == Catch::Approx(7.5).epsilon(1e-12));
  CHECK(travel.rod_mm == Catch::Approx(stretch).epsilon(1e-7));
  CHECK(travel.closure_mm == 1.2);
  CHECK(travel.total_mm == Catch::Approx(7.5 + stretch + 1.2).epsilon(1e-7));
  CHECK(travel.turns == Catch::Approx(travel.total_mm).epsilon(1e-14));  // M6: 1 mm a turn
  REQUIRE(rc::check([] {
    const RodSet set = draw_rods();
    const double closure = draw_between(0, 5);
    const NutTravel t = nut_travel(set, closure);
    const double drawn = -TieLaw::rods(set).slack_at_mm();
    RC_ASSERT(near(t.total_mm, drawn + closure, 1e-12));
    RC_ASSERT(near(t.turns * set.rod.thread.pitch_mm, t.total_mm, 1e-14));
  }));
}

TEST_CASE("disc springs whose force falls are refused without a stop, and taken with one") {
  RodSet set = four_rods(false);
  set.force_n = 1000;
  const SpringSet high = SpringSet::discs({40, 20, 1, 1.8, {}, 206000, 0.3}, {1, 6});
  set.springs = high;
  CHECK_THROWS_AS(TieLaw::rods(set), std::invalid_argument);
  CHECK_THROWS_AS(nut_travel(set, 0), std::invalid_argument);
  set.springs = high.with_stop_at(high.rises_up_to_mm());
  CHECK_NOTHROW(TieLaw::rods(set));
  set.springs = high.with_stop_at(1.01 * high.rises_up_to_mm());
  CHECK_THROWS_AS(TieLaw::rods(set), std::invalid_argument);
}

TEST_CASE("ties that cannot be are refused") {
  CHECK_THROWS_AS(TieLaw::linear(-1e-6), std::invalid_argument);
  CHECK_THROWS_AS(TieLaw::linear(NAN), std::invalid_argument);
  CHECK_NOTHROW(TieLaw::rods(four_rods(true)));
  const auto refused = [](auto spoil) {
    RodSet set = four_rods(true);
    spoil(set);
    CHECK_THROWS_AS(TieLaw::rods(set), std::invalid_argument);
  };
  refused([](RodSet& s) { s.count = 0; });
  refused([](RodSet& s) { s.force_n = -1; });
  refused([](RodSet& s) { s.force_n = INFINITY; });
  refused([](RodSet& s) { s.force_n = 8001; });  // solid at 2000 N each
  refused([](RodSet& s) { s.rod.length_mm = 0; });
  refused([](RodSet& s) { s.rod.modulus_mpa = -1; });
  refused([](RodSet& s) { s.rod.proof_stress_mpa = 0; });
  refused([](RodSet& s) { s.rod.thread.pitch_mm = 0; });
  refused([](RodSet& s) { s.rod.plain_length_mm = 401; });
  refused([](RodSet& s) { s.rod.plain_length_mm = 100; });  // and no diameter
  CHECK_THROWS_AS(nut_travel(four_rods(true), -1), std::invalid_argument);
  CHECK_THROWS_AS(bar_give_mm_per_n({0, 1, 1}), std::invalid_argument);
}
