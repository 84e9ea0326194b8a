// SPDX-License-Identifier: GPL-3.0-or-later
//
// The can's narrow walls as columns along the edge of a cell's face, up to their buckling.
//
// For: the columns of the rim band of a face (row_columns.cpp).
// Not for: the pressure of the electrode stack inside the can (law.hpp).
#pragma once

#include <vector>

#include "solver/law.hpp"

namespace stackfit {

/// p = E eps up to a share of the buckling pressure, from there on softer and softer up to that
/// pressure (walls that are not quite flat give way before they buckle), then on along a slope of
/// E times slope_after_buckling: as good as constant, yet rising.
class RimLaw final : public SqueezeLaw {
 public:
  struct Constants {
    double modulus_mpa = 0;
    double buckling_mpa = 0;
  };
  /// Throws std::invalid_argument unless both constants are positive.
  explicit RimLaw(const Constants& constants);
  [[nodiscard]] Strain strain_at(double pressure_mpa) const override;
  [[nodiscard]] double pressure_at(double strain) const override;
  [[nodiscard]] double energy_at(double strain) const override;
  [[nodiscard]] double known_up_to_mpa() const override { return constants_.buckling_mpa; }
  /// Twice between each halving of the slope.
  [[nodiscard]] std::vector<double> bends_mpa() const override;

  static constexpr double slope_after_buckling = 1e-4;
  static constexpr double straight_share = 0.95;  ///< of the buckling pressure

 private:
  Constants constants_;
  double straight_mpa_;     ///< pressure up to which the law is straight
  double straight_;         ///< strain there
  double steepen_per_mpa_;  ///< between there and buckling d strain / d p grows as exp(this p)
  double buckled_;          ///< strain at the buckling pressure
};

}  // namespace stackfit
