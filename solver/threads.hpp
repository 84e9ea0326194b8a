// SPDX-License-Identifier: GPL-3.0-or-later
//
// Metric threads of a frame's rods: pitch, stress area, proof load, torque.
//
// For: how much a rod may carry, how far a turn of the nut goes, and whether a torque says
// anything about the force.
// Not for: how far a rod stretches in its frame (tie.hpp), nuts stripping, shear.
// Torque is in N mm: 1000 of them are one N m.
#pragma once

#include <cstdint>
#include <optional>
#include <span>

#include "solver/build.hpp"

namespace stackfit {

struct Thread {
  double diameter_mm = 0;  ///< nominal, over the crests
  double pitch_mm = 0;     ///< what one turn of the nut goes
};

/// The coarse threads M3 to M16 of ISO 261 / ISO 724 (pitches also read in public tables of
/// ISO 898-1), thinnest first.
[[nodiscard]] std::span<const Thread> coarse_threads();
/// The coarse thread of a nominal diameter; empty where ISO 261 has none from M3 to M16.
[[nodiscard]] std::optional<Thread> coarse_thread(double diameter_mm);

/// Stress area [mm2]: a circle of the mean of flank and core diameter, (pi/4) ((d2 + d3)/2)^2,
/// which ISO 898-1 also writes (pi/4) (d - 0.9382 P)^2. Throws std::invalid_argument unless
/// diameter and pitch are positive and leave an area.
[[nodiscard]] double stress_area_mm2(const Thread& thread);

/// Steel by ISO 898-1, austenitic stainless by ISO 3506-1.
enum class PropertyClass : std::uint8_t {
  steel_4_6,
  steel_4_8,
  steel_5_8,
  steel_8_8,
  steel_10_9,
  steel_12_9,
  stainless_a2_70,
  stainless_a4_70
};
/// Stress under proof load [MPa]; for stainless the 0.2 % proof stress. Up to M16.
[[nodiscard]] double proof_stress_mpa(PropertyClass property_class);

/// The force [N] at which a rod begins to stay longer: proof stress times stress area.
[[nodiscard]] double proof_load_n(const Thread& thread, double proof_stress_mpa);

/// T = K d F, with K between (1 - scatter) and (1 + scatter) times `k`.
struct NutFactor {
  double k = 0;
  double scatter = 0;  ///< a share: 0.3 is 30 %
};
/// Torque T = K d F [N mm] for a force [N]; Shigley's Mechanical Engineering Design, eq. 8-27
/// (number from memory). The nut's own drag comes on top.
[[nodiscard]] double torque_n_mm(const Thread& thread, const NutFactor& factor, double force_n);
/// The force [N] that a torque [N mm] beyond the nut's own drag stands for: the inverse.
[[nodiscard]] double force_of_torque_n(const Thread& thread, const NutFactor& factor,
                                       double torque_n_mm);
/// The torques [N mm] that may belong to a force, and the forces [N] that may belong to a torque.
/// They and the two above throw std::invalid_argument for a thread, force or torque below zero,
/// a factor that is not positive, or a scatter outside [0, 1).
[[nodiscard]] Span torque_span_n_mm(const Thread& thread, const NutFactor& factor, double force_n);
[[nodiscard]] Span force_span_n(const Thread& thread, const NutFactor& factor, double torque_n_mm);

/// The most that a new lock nut may drag [N mm] when first put on; empty where the table has no
/// such thread. ISO 2320 for steel nuts (read in a public copy of the table for class 04; that
/// classes 5 to 8 have the same figures is from memory).
[[nodiscard]] std::optional<double> lock_nut_drag_n_mm(const Thread& thread);

/// Share of the proof load from which a torque says something about the force (common practice).
inline constexpr double torque_tells_from_proof_share = 0.3;
/// Or this many times the nut's own drag (common practice).
inline constexpr double torque_tells_from_times_drag = 3;

struct Tightening {
  Thread thread;
  double proof_stress_mpa = 0;
  double force_n = 0;  ///< wanted in this one rod
  NutFactor factor;
  std::optional<double> drag_n_mm;  ///< of a lock nut; empty: a plain nut
};
/// Whether the torque for this force is worth printing: it is not for the small forces of most
/// frames, where the scatter and the nut's drag hide it.
[[nodiscard]] bool torque_tells(const Tightening& tightening);

}  // namespace stackfit
