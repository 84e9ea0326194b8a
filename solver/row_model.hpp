// SPDX-License-Identifier: GPL-3.0-or-later
//
// The pressures of one row with a given load of shims, in any state of charge, heat and age.
//
// For: every equilibrium that `pick` and `pressure` need. Flat full-face rows between rigid walls
// are one column (series.hpp); all others are columns between bending walls (row_columns.hpp),
// searched on reduced curves and, for the plan that is printed, solved in full.
// Not for: where the shims lie: for the pressure only their sum matters (shim_plan.hpp).
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <limits>
#include <memory>
#include <optional>
#include <vector>

#include "solver/row.hpp"
#include "solver/row_columns.hpp"
#include "solver/series.hpp"
#include "solver/shim_load.hpp"

namespace stackfit {

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
  /// As built with pads at their soft edge, where there is a range for assembly to judge by.
  std::optional<StateResult> built_soft;

  void find_extremes();
};

class RowModel {
 public:
  /// `store` holds walls and curves for all models that are asked in turn.
  explicit RowModel(const Row& row,
                    std::shared_ptr<WallStore> store = std::make_shared<WallStore>());

  /// Free length minus inner length [mm] at the column where it is greatest; settled pads' loss
  /// not included. In a clamp frame: the change since it was built.
  [[nodiscard]] double interference_mm(const RowState& state, const ShimLoad& load) const;
  /// Length of the row, its sheets and these shims where the cells are flat, as built but not
  /// squeezed [mm].
  [[nodiscard]] double free_row_mm(const ShimLoad& load) const;
  /// As built, where the cells are flat: free length less inner length [mm].
  [[nodiscard]] double built_interference_mm(const ShimLoad& load) const;
  /// Part of the face that the smallest sheet or pad covers.
  [[nodiscard]] double cover_share(const ShimLoad& load) const;
  /// What the domes add to it at that column, and at the middle of the face [mm].
  [[nodiscard]] double greatest_bulge_mm() const { return greatest_bulge_mm_; }
  /// The same where a can's rim may stand out further than the domes.
  [[nodiscard]] double greatest_longer_mm(const RowState& state, const ShimLoad& load) const;
  [[nodiscard]] double middle_bulge_mm() const { return middle_bulge_mm_; }
  /// Equilibrium in one state, from the reduced curve where there are columns.
  [[nodiscard]] StateResult solve(const RowState& asked, const ShimLoad& load) const;
  /// The same by a full solution.
  [[nodiscard]] StateResult solve_fully(const RowState& asked, const ShimLoad& load) const;
  /// All corners of temperature, age and freshness, each at its charges of least and most.
  enum class By : std::uint8_t { curve, full_solution };
  [[nodiscard]] PlanPressures evaluate(const ShimLoad& load, By by = By::curve) const;

  struct Judgement {
    double margin = -std::numeric_limits<double>::infinity();
    double lowest_mpa = 0;  ///< face pressure over the required states
    double highest_mpa = 0;
    /// The margin is the lesser of these: how far the band's low end is exceeded, and how far its
    /// top is kept.
    double margin_below = -std::numeric_limits<double>::infinity();
    double margin_above = -std::numeric_limits<double>::infinity();
    /// Inside in every required state, as built not above, sheets pressing enough of the face;
    /// the build method is not looked at.
    bool passes = false;
    bool not_below = false;   ///< pressed enough, in use and by an assembly range
    bool not_above = false;   ///< band and limit kept, in use and as built
    bool even = false;        ///< sheets press enough of the face
    bool walls_hold = false;  ///< end walls bow no further than the model knows
    /// Greatest part of the face that touches in any state, where a cell is watched; else 0.
    double swollen_contact = 0;
    bool spares_swollen = false;  ///< no watched cell is pressed flat
    double loose_by_mm = 0;       ///< room in the loosest state
    double build_force_n = 0;
  };
  /// Margin and standing over the required states, the build's own range included.
  [[nodiscard]] Judgement judge(const ShimLoad& load, By by = By::curve) const;
  /// Of loads that differ in expansion alone, every expansion between the two included: each state
  /// at the one that presses it most, or least. Whichever expansion a load has, no state is
  /// pressed more, or less.
  enum class Pressed : std::uint8_t { most, least };
  [[nodiscard]] Judgement judge_states(const std::array<ShimLoad, 2>& loads, Pressed pressed) const;

  struct Life {
    double mean = 0;
    Span span;
  };
  /// Capacity loss at which the band is left upwards, from new; 0 where it is left already.
  [[nodiscard]] Life life(const ShimLoad& load) const;

  /// Where the give of an interference comes from, as built [mm].
  using Give = RowGive;
  [[nodiscard]] Give give(const ShimLoad& load) const;

  /// A full solution with all its columns; empty where the row is one column.
  [[nodiscard]] std::optional<RowColumns::Full> columns_at(const RowState& state,
                                                           const ShimLoad& load) const;
  /// How a row stands: as it is built (lid off, rods at their force) or later, with which pads.
  struct Kind {
    bool building = false;
    bool settled = false;
    bool stiff_pads = false;
  };
  /// Those of the required states, the build aside.
  [[nodiscard]] std::vector<Kind> kinds() const;
  /// A row of that kind that has become longer by so much since it was built, all columns alike; by
  /// the reduced curve. Its charge, heat and age are those of the build: only their effect counts.
  /// Not for a row with a can's rim.
  [[nodiscard]] StateResult solve_moved(const Kind& kind, const ShimLoad& load,
                                        double longer_mm) const;
  /// The even interference [mm], where cells are flat, at which a row of that kind presses with a
  /// force [N]; in a clamp frame now, its build taken as it is. A row with a can's rim also asks
  /// for the charge: not here.
  [[nodiscard]] double interference_for(const Kind& kind, const ShimLoad& load,
                                        double force_n) const;
  /// The same for a highest local pressure [MPa], and for a part of the face that touches;
  /// infinite where neither is reached below the greatest force [N].
  [[nodiscard]] double interference_for_local(const Kind& kind, const ShimLoad& load,
                                              double highest_local_mpa, double most_force_n) const;
  [[nodiscard]] double interference_for_contact(const Kind& kind, const ShimLoad& load,
                                                double contact_share, double most_force_n) const;
  /// Give of the walls under an even pressure and of what ties them [mm/N].
  [[nodiscard]] double box_give_mm_per_n() const;
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
  [[nodiscard]] double even_interference_mm(const RowState& state, const ShimLoad& load) const;
  [[nodiscard]] RowState known(const RowState& asked) const;
  [[nodiscard]] RowColumns::Asked asked_of(const RowState& state, const ShimLoad& load) const;
  [[nodiscard]] RowColumns::Asked asked_of(const Kind& kind, const ShimLoad& load) const;
  [[nodiscard]] double first_interference_where(
      const Kind& kind, const ShimLoad& load, double most_force_n,
      const std::function<bool(const ColumnFigures&)>& reached) const;
  [[nodiscard]] StateResult one_column(const RowState& state, const ShimLoad& load,
                                       double interference_mm) const;
  [[nodiscard]] StateResult result(const RowState& state, const ColumnFigures& figures,
                                   double loose_by_mm) const;
  [[nodiscard]] double most_force_n(const RowState& state, const ShimLoad& load) const;
  [[nodiscard]] double room_to_grow_mm(const RowColumns::Asked& asked, const ShimLoad& load,
                                       double force_n) const;
  [[nodiscard]] std::vector<RowState> corners() const;
  [[nodiscard]] PlanPressures pressures_to_judge(const ShimLoad& load, By by) const;
  [[nodiscard]] Judgement judgement(const PlanPressures& p, const ShimLoad& load) const;

  const Row& row_;
  std::optional<RowColumns> columns_;
  std::vector<Variant> variants_;  ///< of one column: soft edge of pads, stiff edge
  bool pads_differ_ = false;
  bool pads_settle_ = false;
  double base_mm_ = 0;         ///< free edge lengths at measurement less the box
  double expansion_mm_k_ = 0;  ///< cells and fixed sheets less the box [mm/K]
  double greatest_bulge_mm_ = 0;
  double middle_bulge_mm_ = 0;
  double least_fixed_area_mm2_ = 0;
  double sheet_give_mm_per_n_ = 0;  ///< fixed sheets
  SwingCurve::Extremes extreme_charge_;
};

}  // namespace stackfit
