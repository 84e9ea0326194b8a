// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/tie.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>

namespace stackfit {
namespace {

constexpr double pi = 3.14159265358979323846;

void require(bool usable, const char* what) {
  if (!usable) {
    throw std::invalid_argument(what);
  }
}

bool positive(double value) {
  return value > 0 && std::isfinite(value);
}

/// The springs on one rod as one set: those at its two ends bear the same force.
std::optional<SpringSet> springs_of_rod(const RodSet& set) {
  if (!set.springs || set.ends == SpringEnds::one) return set.springs;
  return set.springs->in_series(2);
}

void require_usable(const RodSet& set) {
  require(set.count >= 1, "a frame needs one rod or more");
  require(set.force_n >= 0 && std::isfinite(set.force_n),
          "a frame is brought to a force of zero or more");
  require(!set.springs || set.springs->rises_all_the_way(),
          "the springs' force falls within their travel; they need a stop before that");
}

}  // namespace

double bar_give_mm_per_n(const Bar& bar) {
  require(positive(bar.length_mm) && positive(bar.area_mm2) && positive(bar.modulus_mpa),
          "a bar needs a length, an area and a modulus above zero");
  return bar.length_mm / (bar.modulus_mpa * bar.area_mm2);
}

double rod_give_mm_per_n(const Rod& rod) {
  require(positive(rod.length_mm) && positive(rod.modulus_mpa) && positive(rod.proof_stress_mpa),
          "a rod needs a length, a modulus and a proof stress above zero");
  require(rod.plain_length_mm >= 0 && rod.plain_length_mm <= rod.length_mm,
          "the plain part of a rod is no longer than the rod");
  const double plain = rod.plain_length_mm;
  const double threaded = rod.length_mm - plain;
  const double thread_area = stress_area_mm2(rod.thread);
  double give = 0;
  if (threaded > 0) {
    give += bar_give_mm_per_n({threaded, thread_area, rod.modulus_mpa});
  }
  if (plain > 0) {
    const double d = rod.plain_diameter_mm;
    require(positive(d), "the plain part of a rod needs a diameter above zero");
    give += bar_give_mm_per_n({plain, pi / 4 * d * d, rod.modulus_mpa});
  }
  return give;
}

// --- making a law -----------------------------------------------------------------------------

TieLaw TieLaw::linear(double give_mm_per_n) {
  require(give_mm_per_n >= 0 && std::isfinite(give_mm_per_n), "a box's give is zero or more");
  TieLaw law;
  law.give_mm_per_n_ = give_mm_per_n;
  return law;
}

TieLaw TieLaw::rods(const RodSet& set) {
  require_usable(set);
  TieLaw law;
  law.rods_ = set;
  law.give_mm_per_n_ = rod_give_mm_per_n(set.rod);
  law.springs_ = springs_of_rod(set);
  const double force = set.force_n / set.count;
  Stand at_zero{0, {force, 0}};
  law.solid_mm_ = std::numeric_limits<double>::infinity();
  if (law.springs_) {
    const double travel = law.springs_->travel_mm();
    law.solid_mm_ = travel + law.give_mm_per_n_ * law.springs_->force_at(travel).n;
    at_zero.springs_mm = law.springs_->deflection_at(force);
  }
  law.drawn_mm_ = at_zero.springs_mm + law.give_mm_per_n_ * force;
  law.stored_at_zero_n_mm_ = law.stored_n_mm(at_zero);
  return law;
}

// --- what a law does --------------------------------------------------------------------------

TieLaw::Stand TieLaw::stand_at(double extension_mm) const {
  const double give = give_mm_per_n_;
  if (extension_mm < 0) return {};
  if (!springs_) return {0, {extension_mm / give, 1 / give}};
  if (extension_mm >= solid_mm_) {
    const double travel = springs_->travel_mm();
    return {travel, {springs_->force_at(travel).n + (extension_mm - solid_mm_) / give, 1 / give}};
  }
  const double s = springs_->share_of(extension_mm, give);
  const SpringSet::Force f = springs_->force_at(s);
  return {s, {f.n, f.per_mm / (1 + give * f.per_mm)}};
}

double TieLaw::stored_n_mm(const Stand& stand) const {
  const double in_rod = 0.5 * give_mm_per_n_ * stand.force.n * stand.force.n;
  return springs_ ? springs_->energy_at(stand.springs_mm) + in_rod : in_rod;
}

TieLaw::Force TieLaw::force_at(double u_mm) const {
  if (rigid()) {
    throw std::logic_error("a rigid box has no force at an extension");
  }
  if (!rods_) return {u_mm / give_mm_per_n_, 1 / give_mm_per_n_};
  const Force one = stand_at(drawn_mm_ + u_mm).force;
  return {rods_->count * one.n, rods_->count * one.per_mm};
}

double TieLaw::energy_at(double u_mm) const {
  if (rigid()) {
    throw std::logic_error("a rigid box has no energy at an extension");
  }
  if (!rods_) return 0.5 * u_mm * u_mm / give_mm_per_n_;
  return rods_->count * (stored_n_mm(stand_at(drawn_mm_ + u_mm)) - stored_at_zero_n_mm_);
}

double TieLaw::slack_at_mm() const {
  return rods_ ? -drawn_mm_ : -std::numeric_limits<double>::infinity();
}

double TieLaw::solid_at_mm() const {
  return rods_ ? solid_mm_ - drawn_mm_ : std::numeric_limits<double>::infinity();
}

std::optional<RodState> TieLaw::rod_state_at(double u_mm) const {
  if (!rods_) return std::nullopt;
  const double extension = drawn_mm_ + u_mm;
  const Stand stand = stand_at(extension);
  RodState state;
  state.rod_force_n = stand.force.n;
  state.rod_stretch_mm = give_mm_per_n_ * stand.force.n;
  state.proof_share = stand.force.n / proof_load_n(rods_->rod.thread, rods_->rod.proof_stress_mpa);
  state.loose_by_mm = extension < 0 ? -extension : 0;
  if (springs_) {
    const int ends = rods_->ends == SpringEnds::both ? 2 : 1;
    state.spring_deflection_mm = stand.springs_mm / ends;
    state.spring_length_mm = rods_->springs->free_length_mm() - state.spring_deflection_mm;
    state.beyond_travel = beyond_travel(u_mm);
    state.beyond_recommended = stand.springs_mm > springs_->recommended_travel_mm();
  }
  return state;
}

NutTravel nut_travel(const RodSet& set, double closure_mm) {
  require(closure_mm >= 0 && std::isfinite(closure_mm), "a row gives way by zero or more");
  const RodState state = *TieLaw::rods(set).rod_state_at(0);
  NutTravel travel;
  travel.springs_mm = (set.ends == SpringEnds::both ? 2 : 1) * state.spring_deflection_mm;
  travel.rod_mm = state.rod_stretch_mm;
  travel.closure_mm = closure_mm;
  travel.total_mm = travel.springs_mm + travel.rod_mm + travel.closure_mm;
  travel.turns = travel.total_mm / set.rod.thread.pitch_mm;
  return travel;
}

}  // namespace stackfit
