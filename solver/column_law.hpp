// SPDX-License-Identifier: GPL-3.0-or-later
//
// One column of a row: cells, sheets and pads in series over one spot of the face.
//
// For: the local pressure at a local interference, with its slope and stored energy, for the
// columns of a row between bending walls (columns.hpp).
// Not for: a whole row as one column (series.hpp), which works with forces.
//
// What can be relied on, each with its test: the pressure is zero without interference, rises
// with it, and is the derivative of the energy.
#pragma once

#include <memory>
#include <vector>

#include "solver/law.hpp"

namespace stackfit {

class ColumnLaw {
 public:
  /// Adds a part; parts of one law are taken together.
  void add(const LawPtr& law, double thickness_mm);
  /// Adds linear give [mm/MPa]: t/E of hard sheets.
  void add_give(double mm_per_mpa) { give_mm_per_mpa_ += mm_per_mpa; }

  struct Pressure {
    double mpa = 0;
    double per_mm = 0;       ///< slope [MPa/mm]; zero without interference
    double energy_n_mm = 0;  ///< stored, per mm^2 of face
  };
  /// Local pressure at a local interference [mm], with further linear give [mm/MPa]; a pressure
  /// near the answer as `guess_mpa` saves time (zero: none).
  [[nodiscard]] Pressure at(double interference_mm, double more_give_mm_per_mpa,
                            double guess_mpa) const;
  /// Squeeze of the whole column [mm] at a pressure.
  [[nodiscard]] double squeeze_mm(double pressure_mpa, double more_give_mm_per_mpa = 0) const;

  /// The same law by a table of cubics, within quick_error_share of its pressure up to a pressure:
  /// for the many solutions of a curve. Beyond, and with further give, it is the law itself.
  [[nodiscard]] ColumnLaw quick(double up_to_mpa) const;
  static constexpr double quick_error_share = 1e-5;

  struct Part {
    LawPtr law;
    double thickness_mm = 0;
  };
  [[nodiscard]] const std::vector<Part>& parts() const { return parts_; }
  [[nodiscard]] double give_mm_per_mpa() const { return give_mm_per_mpa_; }

 private:
  struct Squeeze {
    double mm = 0;
    double mm_per_mpa = 0;
  };
  [[nodiscard]] Squeeze squeeze(double pressure_mpa, double give_mm_per_mpa) const;

  /// Between two knots the pressure is a cubic of the interference, the energy its integral.
  struct Knot {
    double interference_mm = 0;
    double mpa = 0;
    double per_mm = 0;
    double energy_n_mm = 0;
  };
  [[nodiscard]] static Pressure between(const Knot& a, const Knot& b, double interference_mm);

  std::vector<Part> parts_;
  double give_mm_per_mpa_ = 0;
  std::shared_ptr<const std::vector<Knot>> table_;
};

}  // namespace stackfit
