// SPDX-License-Identifier: GPL-3.0-or-later
//
// The resolved row: every thickness corrected, every law chosen, every assumption taken.
//
// For: one place where what was said becomes what is computed with. A Row knows no "not said".
// Not for: pressures (row_model.hpp) or the choice of shims (shim_plan.hpp).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/answer.hpp"
#include "solver/build.hpp"
#include "solver/findings.hpp"
#include "solver/law.hpp"
#include "solver/swing.hpp"

namespace stackfit {

struct RowCell {
  std::string id;
  double edge_mm = 0;    ///< free, at the rim, as measured
  double dome_mm = 0;    ///< both faces together; negative hollow
  double slack_mm = 0;   ///< of the dome: closes at no force
  double free_mm = 0;    ///< free, mean over the face, at measured charge and temperature
  double excess_mm = 0;  ///< edge unknown: highest point beyond the data sheet and the slack
  double measured_charge = 0;
  double measured_temperature_c = 0;
  bool from_data_sheet = false;  ///< no reading: the data sheet's thickness stands in
  bool edge_measured = false;
  bool dome_measured = false;
  std::string signs;

  [[nodiscard]] double swelling_mm() const { return dome_mm > 0 ? dome_mm - slack_mm : excess_mm; }
};

/// A hard sheet: a fixed one, or one kind of the kit.
struct RowSheet {
  std::string name;
  double thickness_mm = 0;
  double area_mm2 = 0;  ///< the part of the face it covers
  double modulus_mpa = 0;
  double expansion_per_k = 0;
  bool insulates = false;  ///< not metal, and over the whole face
  bool slippery_face = false;

  /// Linear give of one such sheet [mm/N].
  [[nodiscard]] double give_mm_per_n() const { return thickness_mm / (modulus_mpa * area_mm2); }
};

struct RowPad {
  std::string name;
  double thickness_mm = 0;
  double area_mm2 = 0;
  LawPtr soft_edge;   ///< lower edge of a grade's band, or the law itself
  LawPtr stiff_edge;  ///< upper edge; the same law where there is no band
  bool relaxes = false;
  bool insulates = false;
};

struct RowGap {
  std::string name;  ///< "wall-1", "1-2", ..., "8-wall"
  bool at_end = false;
  bool insulation_due = false;
  std::vector<RowSheet> fixed;
  std::vector<RowPad> pads;

  [[nodiscard]] bool insulated() const;  ///< by fixed sheets or pads alone
  [[nodiscard]] double fixed_sheets_mm() const;
  [[nodiscard]] double pads_mm() const;  ///< unsqueezed
  [[nodiscard]] double fixed_mm() const { return fixed_sheets_mm() + pads_mm(); }
};

struct RowKind {
  RowSheet sheet;
  int count = 0;
  std::vector<bool> allowed;  ///< per gap
};

struct RowBox {
  double inner_length_mm = 0;
  double expansion_per_k = 0;
  double give_mm_per_n = 0;  ///< both end walls and the sides' stretch
  bool assumed = false;      ///< the walls were not said
  double wall_mm = 0;        ///< thickness of an end wall; 0 where it is not known as a plate
  double bow_mm_per_n = 0;   ///< of one end wall, at its middle
  bool metal = true;
};

struct RowGrowth {
  double per_loss = 0;  ///< thickness fraction per unit of capacity lost, under load
  Span span;            ///< its 95 % span
};

struct Row {
  double face_area_mm2 = 0;
  double nominal_mm = 0;
  std::vector<RowCell> cells;
  LawPtr cell_law;
  bool law_assumed = false;
  double squeeze_a_mpa = 0;  ///< of an assumed law
  SwingCurve swing{{0, 1}, {0, 0}};
  RowGrowth growth;
  double expansion_per_k = 0;
  double reference_temperature_c = 20;
  std::vector<RowGap> gaps;  ///< one more than cells
  std::vector<RowKind> kit;
  RowBox box;
  BandResult band;
  Span use_charge;
  Span use_temperature_c;
  Span use_capacity_loss;
  double build_charge = 0;
  double build_temperature_c = 20;
  double even_share = 0;  ///< smallest share of the face that sheets may press
  double foam_share = 1;  ///< stress a settled foam keeps
  double foam_set = 0;    ///< share of its squeeze at build it does not regain
};

/// Corrects, chooses and assumes; what it assumed and noticed goes to `findings`.
/// Throws std::invalid_argument for a Build no reader lets through.
[[nodiscard]] Row resolve_row(const Build& build, const Assumptions& assumptions,
                              Findings& findings);

/// Names of the gaps of a row of n cells: "wall-1", "1-2", ..., "n-wall".
[[nodiscard]] std::vector<std::string> gap_names(std::size_t cells);
/// The same for `cells` cells in `rows` equally long rows, whose numbers run on: of two rows of
/// eight the second is "wall-9", "9-10", ..., "16-wall".
[[nodiscard]] std::vector<std::string> row_gap_names(std::size_t cells, std::size_t rows);

}  // namespace stackfit
