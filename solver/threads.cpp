// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/threads.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace stackfit {
namespace {

constexpr double pi = 3.14159265358979323846;

/// (d2 + d3)/2 = d - this P, with d2 = d - 3H/4, d3 = d - 17H/12 and H = sqrt(3)/2 P (ISO 724,
/// ISO 898-1): 13 sqrt(3)/24.
constexpr double mean_depth_in_pitches = 0.9381941874331418;

constexpr Thread coarse[] = {{3, 0.5},  {3.5, 0.6}, {4, 0.7},   {5, 0.8}, {6, 1}, {7, 1},
                             {8, 1.25}, {10, 1.5},  {12, 1.75}, {14, 2},  {16, 2}};

struct Drag {
  double diameter_mm;
  double most_n_mm;
};
constexpr Drag drags[] = {{3, 430},  {4, 900},    {5, 1600},   {6, 3000},   {7, 4500},
                          {8, 6000}, {10, 10500}, {12, 15500}, {14, 24000}, {16, 32000}};

void require_usable(const Thread& thread, const NutFactor& factor) {
  if (!(thread.diameter_mm > 0)) {
    throw std::invalid_argument("a thread needs a diameter above zero");
  }
  if (!(factor.k > 0) || !(factor.scatter >= 0) || !(factor.scatter < 1)) {
    throw std::invalid_argument("a nut factor is above zero and scatters by a share below one");
  }
}

void require_not_negative(double value, const char* what) {
  if (!(value >= 0)) {
    throw std::invalid_argument(what);
  }
}

}  // namespace

std::span<const Thread> coarse_threads() {
  return coarse;
}

std::optional<Thread> coarse_thread(double diameter_mm) {
  const auto* const found =
      std::find_if(std::begin(coarse), std::end(coarse),
                   [&](const Thread& t) { return t.diameter_mm == diameter_mm; });
  return found == std::end(coarse) ? std::nullopt : std::optional(*found);
}

double stress_area_mm2(const Thread& thread) {
  const double diameter = thread.diameter_mm - mean_depth_in_pitches * thread.pitch_mm;
  if (!(thread.pitch_mm > 0) || !(diameter > 0)) {
    throw std::invalid_argument("a thread needs a pitch above zero and a core left inside it");
  }
  return pi / 4 * diameter * diameter;
}

// ISO 898-1, stresses under proof load (read as proof load over stress area in public tables),
// 8.8 up to M16; ISO 3506-1, 0.2 % proof stress of class 70 (read in a public table).
double proof_stress_mpa(PropertyClass property_class) {
  switch (property_class) {
    case PropertyClass::steel_4_6:
      return 225;
    case PropertyClass::steel_4_8:
      return 310;
    case PropertyClass::steel_5_8:
      return 380;
    case PropertyClass::steel_8_8:
      return 580;
    case PropertyClass::steel_10_9:
      return 830;
    case PropertyClass::steel_12_9:
      return 970;
    case PropertyClass::stainless_a2_70:
    case PropertyClass::stainless_a4_70:
      return 450;
  }
  throw std::invalid_argument("not a property class");
}

double proof_load_n(const Thread& thread, double proof_stress_mpa) {
  if (!(proof_stress_mpa > 0)) {
    throw std::invalid_argument("a proof stress is above zero");
  }
  return proof_stress_mpa * stress_area_mm2(thread);
}

double torque_n_mm(const Thread& thread, const NutFactor& factor, double force_n) {
  require_usable(thread, factor);
  require_not_negative(force_n, "a nut draws with a force of zero or more");
  return factor.k * thread.diameter_mm * force_n;
}

double force_of_torque_n(const Thread& thread, const NutFactor& factor, double torque_n_mm) {
  require_usable(thread, factor);
  require_not_negative(torque_n_mm, "a nut is tightened with a torque of zero or more");
  return torque_n_mm / (factor.k * thread.diameter_mm);
}

Span torque_span_n_mm(const Thread& thread, const NutFactor& factor, double force_n) {
  const double middle = torque_n_mm(thread, factor, force_n);
  return {(1 - factor.scatter) * middle, (1 + factor.scatter) * middle};
}

Span force_span_n(const Thread& thread, const NutFactor& factor, double torque_n_mm) {
  const double middle = force_of_torque_n(thread, factor, torque_n_mm);
  return {middle / (1 + factor.scatter), middle / (1 - factor.scatter)};
}

std::optional<double> lock_nut_drag_n_mm(const Thread& thread) {
  const auto* const found = std::find_if(std::begin(drags), std::end(drags), [&](const Drag& d) {
    return d.diameter_mm == thread.diameter_mm;
  });
  return found == std::end(drags) ? std::nullopt : std::optional(found->most_n_mm);
}

bool torque_tells(const Tightening& tightening) {
  const double torque = torque_n_mm(tightening.thread, tightening.factor, tightening.force_n);
  const double proof = proof_load_n(tightening.thread, tightening.proof_stress_mpa);
  if (tightening.force_n >= torque_tells_from_proof_share * proof) return true;
  const double drag = tightening.drag_n_mm.value_or(0);
  require_not_negative(drag, "a nut's drag is zero or more");
  return drag > 0 && torque >= torque_tells_from_times_drag * drag;
}

}  // namespace stackfit
