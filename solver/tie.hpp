// SPDX-License-Identifier: GPL-3.0-or-later
//
// What ties two end plates together: a box's side walls, or a frame's rods and springs.
//
// For: the total force [N] in the ties against the extension u [mm], by which the distance
// between the end walls' seats is longer than in the reference state; its slope and energy, for a
// solver that has u among its unknowns. Tension positive.
// Not for: how the end plates bend (plate.hpp), rods that pull unequally (all are taken alike,
// each bears the same share), friction in the springs, heat (it moves the reference).
//
// What a law of rods promises (numbers are those of tie_test.cpp):
//   1. The force never falls with u, and is never below zero: rods do not push.
//   2. The derivative of energy_at is force_at; energy_at(0) is 0.
//   3. The energy is convex.
//   4. Below slack_at_mm() force and slope are zero and the energy stays what it is there.
//   5. force_at(0) is the force the frame was brought to, within relative_force_error.
//   6. per_mm is the derivative of the force; at its two corners (slack, springs solid) it is the
//      slope towards greater u.
//   7. Springs and rods in series carry one force and together take up the extension.
// A linear law holds 2, 3 and 6, and pushes as it pulls.
#pragma once

#include <cstdint>
#include <optional>

#include "solver/springs.hpp"
#include "solver/threads.hpp"

namespace stackfit {

/// One tie rod from nut to nut, springs not counted.
struct Rod {
  Thread thread;
  double length_mm = 0;  ///< of the stretched part
  double modulus_mpa = 0;
  double proof_stress_mpa = 0;  ///< by its property class, threads.hpp
  /// The part of the length that is plain; the rest stretches with the thread's stress area.
  double plain_length_mm = 0;
  double plain_diameter_mm = 0;  ///< only with a plain part
};

/// A prismatic bar.
struct Bar {
  double length_mm = 0;
  double area_mm2 = 0;
  double modulus_mpa = 0;
};
/// Stretch per newton L/(E A) [mm/N]. Throws std::invalid_argument for sizes not positive.
[[nodiscard]] double bar_give_mm_per_n(const Bar& bar);
/// The same of a rod, its plain and its threaded part together. Throws std::invalid_argument for
/// sizes that are not positive, or a plain part longer than the rod.
[[nodiscard]] double rod_give_mm_per_n(const Rod& rod);

enum class SpringEnds : std::uint8_t { one, both };

struct RodSet {
  int count = 0;
  Rod rod;
  std::optional<SpringSet> springs;  ///< at one end of each rod; empty: rods alone
  SpringEnds ends = SpringEnds::one;
  double force_n = 0;  ///< in all rods together, to which the frame is brought; nuts then fixed
};

/// What one rod and the springs on it do in a state.
struct RodState {
  double rod_force_n = 0;
  double rod_stretch_mm = 0;
  double spring_deflection_mm = 0;  ///< of the set at one end
  double spring_length_mm = 0;      ///< of the set at one end; 0 without springs
  double proof_share = 0;           ///< rod force over proof load; may pass 1
  double loose_by_mm = 0;           ///< play where slack; 0 where the rod pulls
  bool beyond_travel = false;       ///< springs solid: the rods stretch alone
  bool beyond_recommended = false;  ///< springs past their working travel
};

/// How far the nuts of one rod go from snug (no force) until the frame has its force.
struct NutTravel {
  double springs_mm = 0;
  double rod_mm = 0;
  double closure_mm = 0;  ///< by which the row and the plates give way
  double total_mm = 0;
  double turns = 0;  ///< of the nut, or of the rod's two nuts together
};

class TieLaw {
 public:
  struct Force {
    double n = 0;
    double per_mm = 0;
  };
  /// force_at is the asked one within this share of it (springs.cpp solves to a few roundings).
  static constexpr double relative_force_error = 1e-12;

  /// A box's side walls: force u/c, nothing at u = 0. Give zero: a box that does not stretch,
  /// which has no force law; see rigid(). Throws std::invalid_argument for a give below zero.
  [[nodiscard]] static TieLaw linear(double give_mm_per_n);
  /// A frame's rods. Throws std::invalid_argument for sizes or a count that are not positive, a
  /// force below zero or beyond what the springs reach, and springs whose force falls within
  /// their travel: those need a stop before that (SpringSet::with_stop_at).
  [[nodiscard]] static TieLaw rods(const RodSet& set);

  /// u is no unknown: it is 0. force_at and energy_at throw std::logic_error.
  [[nodiscard]] bool rigid() const { return !rods_ && give_mm_per_n_ == 0; }

  [[nodiscard]] Force force_at(double u_mm) const;
  [[nodiscard]] double energy_at(double u_mm) const;  ///< [N mm], 0 at u = 0

  /// The extension at which the rods go slack, <= 0; minus infinity for a linear law.
  [[nodiscard]] double slack_at_mm() const;
  /// The extension at which the springs are solid, >= 0; infinity where there are none.
  [[nodiscard]] double solid_at_mm() const;
  [[nodiscard]] bool beyond_travel(double u_mm) const { return u_mm > solid_at_mm(); }

  /// Empty for a linear law.
  [[nodiscard]] std::optional<RodState> rod_state_at(double u_mm) const;

 private:
  /// One rod and the springs at all its ends, at an extension counted from snug.
  struct Stand {
    double springs_mm = 0;
    Force force;
  };
  TieLaw() = default;
  [[nodiscard]] Stand stand_at(double extension_mm) const;
  [[nodiscard]] double stored_n_mm(const Stand& stand) const;

  double give_mm_per_n_ = 0;          ///< of the box, or of one rod
  std::optional<RodSet> rods_;        ///< empty: a box
  std::optional<SpringSet> springs_;  ///< of one rod, all ends in series
  double drawn_mm_ = 0;               ///< extension from snug of one rod and its springs at u = 0
  double stored_at_zero_n_mm_ = 0;    ///< in one rod and its springs at u = 0
  double solid_mm_ = 0;               ///< extension from snug at which the springs are solid
};

/// Take-up of the nuts from snug to the set's force. Throws as TieLaw::rods, and for a closure
/// below zero.
[[nodiscard]] NutTravel nut_travel(const RodSet& set, double closure_mm);

}  // namespace stackfit
