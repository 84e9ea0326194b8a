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
[[nodiscard]] std::vector<RowGap> resolve_gaps(const Resolution& resolution, const Row& row);
[[nodiscard]] std::vector<RowKind> resolve_kit(const Resolution& resolution, const Row& row);
/// Length, metal and expansion; the walls' give comes after the row that presses them is known.
[[nodiscard]] RowBox resolve_box(const Resolution& resolution);
/// Fills in the give of both end walls and the sides' stretch, and the walls' bow, under this row
/// at mid-band.
void resolve_walls(const Resolution& resolution, const Row& row, RowBox& box);

}  // namespace stackfit
