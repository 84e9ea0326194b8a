// SPDX-License-Identifier: GPL-3.0-or-later
//
// Springs and rods drawn at random, for property tests (inside rc::check only).
#pragma once

#include <rapidcheck.h>

#include "solver/springs.hpp"
#include "solver/tie.hpp"

namespace stackfit::testing {

/// A number between two ends, in steps of a millionth.
inline double draw_between(double low, double high) {
  constexpr int steps = 1000000;
  return low + (high - low) * *rc::gen::inRange(0, steps + 1) / steps;
}

/// h0/t from almost flat to well beyond the root of two; half of them with contact flats.
inline DiscSpring draw_disc(double highest_cone = 2) {
  DiscSpring disc;
  disc.outer_diameter_mm = draw_between(8, 60);
  disc.inner_diameter_mm = disc.outer_diameter_mm / draw_between(1.5, 3);
  disc.thickness_mm = disc.outer_diameter_mm / draw_between(15, 40);
  disc.cone_height_mm = disc.thickness_mm * draw_between(0.1, highest_cone);
  if (*rc::gen::arbitrary<bool>()) {
    disc.reduced_thickness_mm = disc.thickness_mm * draw_between(0.9, 1);
  }
  disc.modulus_mpa = draw_between(180000, 210000);
  disc.poisson = draw_between(0.25, 0.35);
  return disc;
}

inline Stacking draw_stacking() {
  Stacking stacking;
  stacking.parallel = *rc::gen::inRange(1, 4);
  stacking.series = *rc::gen::inRange(1, 9);
  return stacking;
}

inline SpringSet draw_helical_set() {
  HelicalSpring spring;
  spring.rate_n_per_mm = draw_between(1, 200);
  spring.free_length_mm = draw_between(15, 80);
  spring.solid_length_mm = spring.free_length_mm * draw_between(0.3, 0.9);
  return SpringSet::helical(spring, draw_stacking());
}

/// Any set, also one whose force falls.
inline SpringSet draw_spring_set() {
  return *rc::gen::arbitrary<bool>() ? draw_helical_set()
                                     : SpringSet::discs(draw_disc(), draw_stacking());
}

/// A set that rises all the way, by a stop where it must.
inline SpringSet draw_rising_set() {
  const SpringSet set = draw_spring_set();
  return set.rises_all_the_way() ? set : set.with_stop_at(0.98 * set.rises_up_to_mm());
}

inline Rod draw_rod() {
  Rod rod;
  rod.thread = coarse_threads()[*rc::gen::inRange<std::size_t>(0, coarse_threads().size())];
  rod.length_mm = draw_between(100, 1000);
  rod.modulus_mpa = draw_between(190000, 210000);
  rod.proof_stress_mpa = draw_between(200, 1000);
  if (*rc::gen::arbitrary<bool>()) {
    rod.plain_length_mm = rod.length_mm * draw_between(0.1, 1);
    rod.plain_diameter_mm = rod.thread.diameter_mm;
  }
  return rod;
}

/// Rods with springs at one end or both, or with none, at a force they can have.
inline RodSet draw_rods() {
  RodSet set;
  set.count = *rc::gen::inRange(1, 9);
  set.rod = draw_rod();
  double most_n = 20000;  // of one rod
  if (*rc::gen::inRange(0, 4) > 0) {
    set.springs = draw_rising_set();
    set.ends = *rc::gen::arbitrary<bool>() ? SpringEnds::both : SpringEnds::one;
    most_n = set.springs->force_at(set.springs->travel_mm()).n;
  }
  set.force_n = set.count * most_n * draw_between(0, 1) * (1 - 1e-12);
  return set;
}

}  // namespace stackfit::testing
