// SPDX-License-Identifier: GPL-3.0-or-later
//
// The pressures of one row with a given load of shims, in any state of charge, heat and age.
//
// For: every equilibrium that `pick` and `pressure` need, with the series assembled once.
// Not for: where the shims lie: in a one-column row only their sum matters (shim_plan.hpp).
#pragma once

#include <limits>
#include <optional>
#include <vector>

#include "solver/row.hpp"
#include "solver/series.hpp"

namespace stackfit {

/// What chosen shims add to the row, wherever they lie.
struct ShimLoad {
  double thickness_mm = 0;
  double give_mm_per_n = 0;       ///< sum of t/(E A)
  double expansion_mm_per_k = 0;  ///< sum of alpha t
  double least_area_mm2 = std::numeric_limits<double>::infinity();

  void add(const RowSheet& sheet, int count);
};

struct RowState {
  double charge = 0;
  double temperature_c = 20;
  double capacity_loss = 0;
  bool settled = false;
  bool stiff_pads = false;
};

struct PlanPressures {
  StateResult as_built;
  StateResult lowest;
  StateResult highest;
  std::vector<StateResult> states;  ///< each corner's lowest and highest
};

class RowModel {
 public:
  explicit RowModel(const Row& row);

  /// Free length minus inner length [mm], mean over the face; settled pads' loss not included.
  [[nodiscard]] double interference_mm(const RowState& state, const ShimLoad& load) const;
  /// Equilibrium in one state. A settled state needs the row as built first; that is done here.
  [[nodiscard]] StateResult solve(const RowState& asked, const ShimLoad& load) const;
  /// All corners of temperature, age and freshness, each at its charges of least and most.
  [[nodiscard]] PlanPressures evaluate(const ShimLoad& load) const;

  struct Judgement {
    double margin = -std::numeric_limits<double>::infinity();
    /// Inside in every required state, as built not above, sheets pressing enough of the face;
    /// the build method is not looked at.
    bool passes = false;
    bool not_below = false;   ///< pressed enough, in use and by an assembly range
    bool not_above = false;   ///< band and limit kept, in use and as built
    bool even = false;        ///< sheets press enough of the face
    bool walls_hold = false;  ///< end walls bow less than their own thickness
    double loose_by_mm = 0;   ///< room in the loosest state
    double build_force_n = 0;
  };
  /// Margin and standing over the required states, the build's own range included.
  [[nodiscard]] Judgement judge(const ShimLoad& load) const;

  struct Life {
    double mean = 0;
    Span span;
  };
  /// Capacity loss at which the band is left upwards, from new; 0 where it is left already.
  [[nodiscard]] Life life(const ShimLoad& load) const;

  /// Where the give of an interference comes from, as built [mm].
  struct Give {
    double cells_mm = 0;
    double sheets_mm = 0;
    double pads_mm = 0;
    double walls_mm = 0;
  };
  [[nodiscard]] Give give(const ShimLoad& load) const;

  /// Bow of one end wall at its middle [mm], in the state of most force.
  [[nodiscard]] double greatest_bow_mm(const ShimLoad& load) const;
  /// What the cells breathe over the charge window [mm], and what interference the band spans
  /// with this load [mm].
  [[nodiscard]] double breathing_mm() const;
  [[nodiscard]] double band_takes_mm(const ShimLoad& load) const;

  /// New, at the build's charge and temperature; a grade's pads at their stiff edge, so that
  /// push and wall force are not understated.
  [[nodiscard]] RowState build_state() const;
  [[nodiscard]] const Row& row() const { return row_; }
  /// Squeeze of all cells together [mm] at a force.
  [[nodiscard]] double cell_squeeze_mm(double force_n) const;

 private:
  struct Variant {
    Series series;
    Series settled;
  };
  [[nodiscard]] const Variant& variant(bool stiff) const { return variants_[stiff ? 1 : 0]; }
  [[nodiscard]] double settled_loss_mm(bool stiff, const ShimLoad& load) const;
  [[nodiscard]] double least_area_mm2(const ShimLoad& load) const;
  [[nodiscard]] StateResult result(const RowState& state, const SeriesResult& solved,
                                   const ShimLoad& load) const;
  [[nodiscard]] std::vector<RowState> corners() const;

  const Row& row_;
  std::vector<Variant> variants_;  ///< soft edge of pads, stiff edge where they differ
  bool pads_differ_ = false;
  bool pads_settle_ = false;
  double base_mm_ = 0;         ///< free lengths at measurement minus box, at the reference
  double expansion_mm_k_ = 0;  ///< cells and fixed sheets less the box [mm/K]
  double least_fixed_area_mm2_ = 0;
  double sheet_give_mm_per_n_ = 0;  ///< fixed sheets
  SwingCurve::Extremes extreme_charge_;
};

}  // namespace stackfit
