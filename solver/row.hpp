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

#include "geometry/outline.hpp"
#include "solver/answer.hpp"
#include "solver/build.hpp"
#include "solver/findings.hpp"
#include "solver/law.hpp"
#include "solver/swing.hpp"
#include "solver/tie.hpp"
#include "solver/wall_modes.hpp"

namespace stackfit {

struct RowCell {
  std::string id;
  double edge_mm = 0;    ///< free, at the rim, as measured
  double dome_mm = 0;    ///< both faces together; negative hollow
  CellDome dome;         ///< how it became known, and its shape
  double slack_mm = 0;   ///< of the dome: closes at no force
  double free_mm = 0;    ///< free, mean over the face, at measured charge and temperature
  double excess_mm = 0;  ///< edge unknown: highest point beyond the data sheet and the slack
  double measured_charge = 0;
  double measured_temperature_c = 0;
  bool from_data_sheet = false;  ///< no reading: the data sheet's thickness stands in
  bool edge_measured = false;    ///< read, or found from the highest reading and the dome
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
  int outline = -1;  ///< of Row::outlines; -1: it covers the whole face

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
  int outline = -1;  ///< of Row::outlines; -1: it covers the whole face
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
  double inner_length_mm = 0;  ///< 0 in a clamp frame
  double expansion_per_k = 0;
  double tie_length_mm = 0;  ///< what expands against the row: the box's length, the rods'
  WallPair walls;            ///< their outline, plates, and where the faces press on them
  bool lid_holds = false;    ///< screwed on after the build: it holds the walls' top edges
  bool assumed = false;      ///< the walls were not said
  bool metal = true;
  double sides_give_mm_per_n = 0;  ///< stretch of both side walls; 0 where walls are rigid
  std::optional<RodSet> rods;      ///< a clamp frame, brought to its force

  [[nodiscard]] bool rigid() const { return !walls.first && !walls.last; }
  [[nodiscard]] double thinnest_wall_mm() const;  ///< 0 where both are rigid
};

/// Another row between the same walls, at the same charge, heat and age as the one looked at.
struct RowCompanion {
  std::vector<RowCell> cells;
  std::vector<RowGap> gaps;
  int face = 0;          ///< which of the walls' faces it presses
  double longer_mm = 0;  ///< its interference less that of the row looked at
};

/// An outline of sheets or pads that leave a part of the face free, about the face's middle.
struct RowOutline {
  geometry::Outline outline;
  bool symmetric = false;  ///< left and right alike
};

/// The can's narrow walls as stiff columns along the edge of the face.
struct RowRim {
  LawPtr law;            ///< over the band's area; strain on the cell's nominal thickness
  double height_mm = 0;  ///< of each cell: rim less edge as measured, both faces together
  int outline = 0;       ///< of Row::outlines: the face less the band; outside it is rim
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
  std::vector<RowOutline> outlines;
  std::optional<RowRim> rim;   ///< where the can was described
  double dome_exponent = 2;    ///< of cells whose own is not known
  double watch_mm = 0;         ///< swelling from which a cell is never pressed flat
  double set_aside_mm = 0;     ///< swelling from which a cell is not pressed at all
  double swollen_contact = 1;  ///< of the face, the most that may touch where a cell is watched
  int face = 0;                ///< which of the walls' faces this row presses
  std::vector<RowCompanion> companions;
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

  /// Swing since empty and growth of a cell [mm], which a can's rim does not follow; 0 where no
  /// can is given.
  [[nodiscard]] double rim_less_mm(double charge, double capacity_loss) const;
  /// Whether a cell whose dome was measured is swollen beyond the watch figure.
  [[nodiscard]] bool watched() const;
};

/// Which of several rows side by side is looked at, and what else stands between the walls.
struct RowPlace {
  std::size_t index = 0;                 ///< from 0
  std::vector<RowCompanion> companions;  ///< the other rows
};

/// Corrects, chooses and assumes; what it assumed and noticed goes to `findings`.
/// Throws std::invalid_argument for a Build no reader lets through.
/// Of several rows the build holds the cells of this one only, and still says how many there are.
[[nodiscard]] Row resolve_row(const Build& build, const Assumptions& assumptions,
                              Findings& findings, const RowPlace& place = {});

/// Names of the gaps of a row of n cells: "wall-1", "1-2", ..., "n-wall".
[[nodiscard]] std::vector<std::string> gap_names(std::size_t cells);
/// The same for `cells` cells in `rows` equally long rows, whose numbers run on: of two rows of
/// eight the second is "wall-9", "9-10", ..., "16-wall".
[[nodiscard]] std::vector<std::string> row_gap_names(std::size_t cells, std::size_t rows);

}  // namespace stackfit
