// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a row and its box weigh, and how many persons or parts it takes to lift them.
//
// For: masses in kg from sizes and densities, held against what one and two persons may lift.
// Not for: bus bars, cables, electronics and screws, which are not known here: they come on top.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "solver/study.hpp"

namespace stackfit {

struct RowMass {
  double cell_kg = 0;
  bool cell_assumed = false;  ///< by its size and an assumed density
  int cells = 0;
  double cells_kg = 0;
  std::vector<double> gap_kg;  ///< sheets and pads in each gap
  double sheets_kg = 0;        ///< all gaps together

  [[nodiscard]] double total_kg() const { return cells_kg + sheets_kg; }
};

/// Of a row with a plan's sheets. An assumed density is noted in `findings`. Throws
/// std::invalid_argument for a plan that does not have the row's gaps and kit.
[[nodiscard]] RowMass row_mass(const Study& study, const ShimPlan& plan, Findings& findings);

/// Plates or sheets of one size: of the box, or of a clamp frame.
struct PlatePiece {
  std::string name;
  double width_mm = 0;
  double height_mm = 0;
  double thickness_mm = 0;
  std::variant<WallMaterial, SheetMaterial> material = WallMaterial::aluminium;
  int count = 1;
};
/// Throws std::invalid_argument for a size or count below zero.
[[nodiscard]] double plates_kg(const std::vector<PlatePiece>& pieces);

enum class Lifters : std::uint8_t { one_person, two_persons, in_parts };

/// All cells out first, as many at a time as may be lifted; then the box with its sheets. A row
/// that was opened no longer stands pressed, so none is left in.
struct InParts {
  int cells_a_lot = 0;
  int lots = 0;
  int parts = 0;  ///< lots and the box
};

struct LiftedMasses {
  double cell_kg = 0;
  int cells = 0;
  double sheets_kg = 0;
  double box_kg = 0;
};

struct Lifting {
  LiftedMasses masses;
  double total_kg = 0;
  double one_kg = 0;  ///< what one person may lift
  double two_kg = 0;
  Lifters whole = Lifters::in_parts;  ///< who may lift all of it at once
  /// Only where the whole is too heavy for so many persons; empty also where the box alone or one
  /// cell is too heavy for them.
  std::optional<InParts> parts_by_one;
  std::optional<InParts> parts_by_two;
};

/// Notes both limits in `findings`. Throws std::invalid_argument for a mass or number below zero.
[[nodiscard]] Lifting lifting(const LiftedMasses& masses, const Assumptions& assumptions,
                              Findings& findings);

}  // namespace stackfit
