// SPDX-License-Identifier: GPL-3.0-or-later
//
// The steps of size_section, one file each: what stands beside and under the cells, and what
// fills the box's corners. Internal to the solver.
#pragma once

#include <optional>
#include <vector>

#include "solver/box_section.hpp"
#include "solver/row_parts.hpp"

namespace stackfit {

/// Figures of the section that both steps use, resolved.
struct SectionFigures {
  bool sides_metal = true;  ///< floor and lid are taken to be of the side walls' metal
  bool ends_metal = true;
  double side_sheet_mm = 0;
  double floor_sheet_mm = 0;
  double lid_sheet_mm = 0;
  double slide_mm = 0;
  double face_radius_mm = 0;
  double keep_clear_mm = 0;
};

/// Lengths nearer than this are the same.
inline constexpr double section_same_mm = 1e-9;

/// Where the cells stand in the box.
struct CellPlace {
  double under_mm = 0;                    ///< over the floor
  double middle_beside_mm = 0;            ///< off each side wall, with as much room on both sides
  std::optional<double> end_standoff_mm;  ///< off the end walls, where known
};

/// The corners at the side walls' foot, the cells on the floor's sheet alone.
[[nodiscard]] std::vector<SectionCorner> side_foot_corners(const Resolution& r,
                                                           const SectionFigures& figures,
                                                           const CellPlace& place);
/// The corners at the end walls, the cells raised as they will be.
[[nodiscard]] std::vector<SectionCorner> end_corners(const Resolution& r,
                                                     const SectionFigures& figures,
                                                     const CellPlace& place);

/// What stands in the way in corners and on walls, each with what helps.
void add_corner_conflicts(const SectionFigures& figures, const CellPlace& place,
                          BoxSection& section);
void add_head_conflicts(const Resolution& r, const SectionFigures& figures, const CellPlace& place,
                        BoxSection& section);

}  // namespace stackfit
