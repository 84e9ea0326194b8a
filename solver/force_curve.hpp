// SPDX-License-Identifier: GPL-3.0-or-later
//
// A row's reduced curve: force and local pressures over an interference that grows alike in every
// column.
//
// For: the thousands of interferences that a search for shims asks for. Full-face shims, swing,
// growth and temperature shift every column alike, so one ladder of solved interferences serves.
// Between its rungs the force is a cubic with the solved slopes, kept rising.
// Not for: the answer that is printed: that is solved in full (columns.hpp).
//
// What can be relied on, each with its test:
//  1. The force rises with the interference, and never falls below zero.
//  2. Against a full solution it is off by no more than curve_error_share of the force and
//     curve_error_mpa over the face.
#pragma once

#include <vector>

#include "solver/column_figures.hpp"

namespace stackfit {

inline constexpr double curve_error_share = 0.005;
inline constexpr double curve_error_mpa = 0.0001;

class ForceCurve {
 public:
  struct Rung {
    double interference_mm = 0;
    double force_per_mm = 0;
    double highest_per_mm = 0;  ///< of the highest and the lowest local pressure [MPa/mm]
    double lowest_per_mm = 0;
    ColumnFigures figures;
  };
  /// Rungs in rising order, the first one loose.
  explicit ForceCurve(std::vector<Rung> rungs);

  /// Force and pressures at an interference, with linear give [mm/N] in series (chosen shims).
  /// Beyond the last rung they go on along the slope there.
  [[nodiscard]] ColumnFigures at(double interference_mm, double more_give_mm_per_n = 0) const;
  /// The interference [mm] that gives a force [N].
  [[nodiscard]] double interference_mm(double force_n, double more_give_mm_per_n = 0) const;
  /// As solved; slopes are held to what keeps the force rising.
  [[nodiscard]] const std::vector<Rung>& rungs() const { return rungs_; }

 private:
  [[nodiscard]] std::size_t piece(double interference_mm) const;
  [[nodiscard]] double force(double interference_mm) const;

  std::vector<Rung> rungs_;
  std::vector<ColumnFigures> slopes_;  ///< of the figures other than force, at each rung
};

/// What a curve is wanted for.
struct LadderRequest {
  const Columns* columns = nullptr;
  ColumnsLoad load;  ///< to whose interferences, of every face, each rung adds its own
  int face = 0;
  double face_area_mm2 = 0;
  double first_touch_mm = 0;  ///< the first rung, without force
  double lowest_mpa = 0;      ///< face pressures between which the curve must hold
  double top_mpa = 0;
};
struct LadderStep {
  ColumnsState state;
  ForceCurve::Rung rung;  ///< what the curve keeps of it
};
/// Climbs from the first touch to the top, by the walls' shapes, in steps that suit the row; where
/// the curve between two steps misses a solution in their middle, that becomes a step as well.
/// Loose steps are left out but for the last. Throws std::runtime_error, with the reason, where a
/// step cannot be solved.
[[nodiscard]] std::vector<LadderStep> climb(const LadderRequest& request);
[[nodiscard]] ForceCurve curve_through(const std::vector<LadderStep>& steps);

}  // namespace stackfit
