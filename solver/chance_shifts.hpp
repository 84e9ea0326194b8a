// SPDX-License-Identifier: GPL-3.0-or-later
//
// How far drawn figures shift a row along its curve: readings, charge, swing, heat, growth.
//
// For: the chance model only. Everything is mm of even interference less that of the build as it
// stands, as built, with the nominal figures.
#pragma once

#include <span>
#include <vector>

#include "solver/chance_inputs.hpp"

namespace stackfit {

/// What the charge's error when measured does: four functions of it on the same even steps, with
/// lines between; constant beyond their ends.
class ChargeTable {
 public:
  struct Row {
    double measured_layer = 0;   ///< mean over the cells of the swing's layer law
    double measured_charge = 0;  ///< and of the charge
    double built_layer = 0;      ///< the same as built
    double built_charge = 0;
  };
  ChargeTable() = default;
  template <typename Function>
  ChargeTable(Span over, std::size_t steps, const Function& function)
      : first_(over.low), per_step_(static_cast<double>(steps) / (over.high - over.low)) {
    for (std::size_t i = 0; i <= steps; ++i) {
      rows_.push_back(function(over.low + static_cast<double>(i) / per_step_));
    }
  }
  [[nodiscard]] Row at(double x) const {
    const double place = (x - first_) * per_step_;
    const auto last = static_cast<double>(rows_.size() - 1);
    const double held = place < 0 ? 0 : place > last ? last : place;
    auto i = static_cast<std::size_t>(held);
    i = i + 1 < rows_.size() ? i : rows_.size() - 2;
    const double share = held - static_cast<double>(i);
    const Row& a = rows_[i];
    const Row& b = rows_[i + 1];
    return {a.measured_layer + share * (b.measured_layer - a.measured_layer),
            a.measured_charge + share * (b.measured_charge - a.measured_charge),
            a.built_layer + share * (b.built_layer - a.built_layer),
            a.built_charge + share * (b.built_charge - a.built_charge)};
  }

 private:
  double first_ = 0;
  double per_step_ = 1;
  std::vector<Row> rows_;
};

/// One draw's figures, each at its nominal value where it is not drawn.
struct ShiftDraw {
  double lengths_mm = 0;  ///< calipers, lot, fixed sheets, less the box
  double charge_off = 0;  ///< true charge when measured less what was taken
  double swing_net = 0;   ///< fraction; of a table: a factor
  double swing_hump = 0;
  double expansion_per_k = 0;  ///< of the cells
  double reference_c = 20;     ///< where nothing else was said of the measuring
  double growth_per_loss = 0;
};
struct Shifted {
  double built_mm = 0;
  double thinnest_mm = 0;  ///< of the required states
  double thickest_mm = 0;
};

/// The same of many draws, figure by figure, all of one length.
struct ShiftDraws {
  std::span<const double> lengths_mm;
  std::span<const double> charge_off;
  std::span<const double> swing_net;
  std::span<const double> swing_hump;
  std::span<const double> expansion_per_k;
  std::span<const double> reference_c;
  std::span<const double> growth_per_loss;
};
struct ShiftedRows {
  std::span<double> built_mm;
  std::span<double> thinnest_mm;
  std::span<double> thickest_mm;
};

class ChanceShifts {
 public:
  ChanceShifts(const Study& study, const ShimLoad& load, bool reference_drawn,
               double most_charge_off);
  [[nodiscard]] ShiftDraw nominal() const { return nominal_; }
  [[nodiscard]] Shifted at(const ShiftDraw& draw) const;
  void at_all(const ShiftDraws& draws, const ShiftedRows& out) const;

 private:
  struct Knot {
    double layer = 0;
    double charge = 0;
  };

  double cells_mm_ = 0;  ///< nominal thickness of all cells
  bool table_ = false;   ///< the swing is the user's table: scaled, not stretched
  SwingStretch per_net_;
  SwingStretch per_hump_;
  std::vector<Knot> window_;  ///< knots over the window of charge
  ChargeTable by_charge_;     ///< by how far the charge was off
  Span temperature_c_;
  Span capacity_loss_;
  bool build_temperature_said_ = false;
  double build_temperature_c_ = 20;
  double said_temperatures_c_ = 0;  ///< sum of those said, over the number of cells
  double reference_share_ = 0;      ///< share of cells without one
  bool reference_drawn_ = false;
  double reference_c_ = 20;
  double rest_mm_per_k_ = 0;  ///< sheets less box
  ShiftDraw nominal_;
  double nominal_built_mm_ = 0;
};

}  // namespace stackfit
