// SPDX-License-Identifier: GPL-3.0-or-later
//
// Springs of a clamp frame: helical springs and disc springs, alone or in sets.
//
// For: force, slope and stored energy [N, N/mm, N mm] at a deflection [mm], compression positive,
// and how far a set may travel.
// Not for: friction (2 to 3 % of the force for each disc of a nested stack, more on the way in
// and less on the way out), stress and fatigue, rods (tie.hpp), foam (pad_laws.hpp).
//
// What a set promises (numbers are those of springs_test.cpp):
//   1. Force and energy are zero at no deflection and below.
//   2. per_mm is the derivative of the force, the force is the derivative of the energy.
//   3. The force rises strictly up to rises_up_to_mm().
//   4. n discs nested: n times the force at the same deflection. m stacks in series: the same
//      force at m times the deflection.
//   5. Contact flats leave the force at 0.75 h0 as it was.
//   6. Nothing is promised beyond travel_mm(): asking there throws.
#pragma once

#include <optional>

namespace stackfit {

/// A wound spring of round wire.
struct HelicalWire {
  double wire_mm = 0;
  double mean_diameter_mm = 0;  ///< of the coil, to the middle of the wire
  double active_coils = 0;
  double shear_modulus_mpa = 0;
};
/// Rate k = G d^4 / (8 D^3 n) [N/mm]. Shigley's Mechanical Engineering Design, eq. 10-9 (number
/// from memory). Throws std::invalid_argument for sizes that are not positive.
[[nodiscard]] double helical_rate_n_per_mm(const HelicalWire& wire);
/// Solid length (n + 2) d [mm] with both ends closed and ground. Shigley, Table 10-1 (number from
/// memory). Throws as above.
[[nodiscard]] double ground_solid_length_mm(const HelicalWire& wire);

struct HelicalSpring {
  double rate_n_per_mm = 0;
  double free_length_mm = 0;
  double solid_length_mm = 0;  ///< coil on coil
};

/// A disc spring (coned washer), dimensions of DIN EN 16983.
struct DiscSpring {
  double outer_diameter_mm = 0;
  double inner_diameter_mm = 0;
  double thickness_mm = 0;    ///< t, before contact flats
  double cone_height_mm = 0;  ///< h0 = l0 - t as the tables print it, with or without flats
  /// t' with contact flats (group 3, above 6 mm). The overall height l0 stays, so the cone is
  /// then h0' = l0 - t' high, which is also the deflection at which the disc lies flat.
  std::optional<double> reduced_thickness_mm;
  double modulus_mpa = 0;
  double poisson = 0;

  /// Overall height l0 = t + h0 [mm].
  [[nodiscard]] double height_mm() const { return thickness_mm + cone_height_mm; }
};

/// Share of h0 up to which a disc follows its formula: beyond, it rolls on its seat and the lever
/// shortens (DIN EN 16983 gives its forces there).
inline constexpr double disc_recommended_share = 0.75;
/// The force of a helical spring when solid is this many times the greatest working force:
/// Shigley's Mechanical Engineering Design, eq. 10-17 to 10-18 (from memory).
inline constexpr double helical_solid_over_working = 1.15;

/// How equal springs stand together.
struct Stacking {
  int parallel = 1;  ///< discs nested the same way up, or helical springs side by side
  int series = 1;    ///< such stacks one on another, turned about
};

class SpringSet {
 public:
  /// Throw std::invalid_argument for sizes and counts that are not positive, a solid length that
  /// is not below the free one, a hole not smaller than the disc, a Poisson ratio outside
  /// (-1, 0.5), a reduced thickness above the thickness.
  [[nodiscard]] static SpringSet helical(const HelicalSpring& spring, const Stacking& stacking);
  [[nodiscard]] static SpringSet discs(const DiscSpring& disc, const Stacking& stacking);

  /// The same set with a stop (a sleeve) that carries from a deflection of the set on. Throws
  /// std::invalid_argument unless the stop is above zero and within the travel.
  [[nodiscard]] SpringSet with_stop_at(double deflection_mm) const;
  /// `times` such sets one on another. Throws std::invalid_argument unless times >= 1.
  [[nodiscard]] SpringSet in_series(int times) const;

  struct Force {
    double n = 0;
    double per_mm = 0;
  };
  /// Throw std::invalid_argument beyond travel_mm().
  [[nodiscard]] Force force_at(double deflection_mm) const;
  [[nodiscard]] double energy_at(double deflection_mm) const;

  /// The deflection at a force; the least one. Throws std::invalid_argument for a force below
  /// zero or above the one at rises_up_to_mm().
  [[nodiscard]] double deflection_at(double force_n) const;
  /// The deflection s of the set where it stands in series with a linear give [mm/N] and both
  /// together are drawn out by an extension: s + give F(s) = extension. Throws
  /// std::invalid_argument where that lies beyond rises_up_to_mm().
  [[nodiscard]] double share_of(double extension_mm, double give_mm_per_n) const;

  [[nodiscard]] double free_length_mm() const { return free_length_mm_; }
  /// Hard limit: coils or discs lie on each other, or the stop carries.
  [[nodiscard]] double travel_mm() const { return travel_mm_; }
  /// Working limit: 0.75 h0 of discs, short of solid for helical springs.
  [[nodiscard]] double recommended_travel_mm() const { return recommended_mm_; }
  /// The deflection up to which the force rises strictly: the travel, or where the force of a
  /// high cone (h0/t above 1.4) begins to fall.
  [[nodiscard]] double rises_up_to_mm() const { return rises_up_to_mm_; }
  [[nodiscard]] bool rises_all_the_way() const { return rises_up_to_mm_ >= travel_mm_; }

 private:
  /// F = ((c3 s + c2) s + c1) s: both laws are cubics without a constant.
  struct Cubic {
    double c1 = 0;
    double c2 = 0;
    double c3 = 0;
  };
  struct Lengths {
    double free_mm = 0;
    double travel_mm = 0;
    double recommended_mm = 0;
  };
  SpringSet(const Cubic& force, const Lengths& lengths);
  [[nodiscard]] static Cubic disc_force(const DiscSpring& disc);
  [[nodiscard]] static Cubic stacked(const Cubic& one, const Stacking& stacking);
  void require_within_travel(double deflection_mm) const;

  Cubic force_;
  double free_length_mm_;
  double travel_mm_;
  double recommended_mm_;
  double rises_up_to_mm_;
};

}  // namespace stackfit
