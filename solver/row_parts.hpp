// SPDX-License-Identifier: GPL-3.0-or-later
//
// The steps of resolve_row, one file each: cells, sheets and pads, box. Internal to the solver.
#pragma once

#include "geometry/outline.hpp"
#include "solver/row.hpp"

namespace stackfit {

/// What every step of the resolution reads and adds to.
struct Resolution {
  const Build& build;
  const Assumptions& assumptions;
  Findings& findings;

  [[nodiscard]] double take(const std::optional<double>& said, Assumed id) const {
    return findings.said_or(said, assumptions, id);
  }
};

[[nodiscard]] geometry::Outline face_outline(const Resolution& resolution);
/// Cells corrected for how they were measured; needs the row's law and swing.
[[nodiscard]] std::vector<RowCell> resolve_cells(const Resolution& resolution, const Row& row);
/// Both add the outlines of partial sheets to the row's.
[[nodiscard]] std::vector<RowGap> resolve_gaps(const Resolution& resolution, Row& row);
[[nodiscard]] std::vector<RowKind> resolve_kit(const Resolution& resolution, Row& row);
/// The box or clamp frame: length, walls, ties; needs the row's band and outlines.
[[nodiscard]] RowBox resolve_box(const Resolution& resolution, const Row& row);
/// Whether a gap at a wall needs insulation: both walls are of metal, or not said.
[[nodiscard]] bool walls_are_metal(const Build& build);

}  // namespace stackfit
