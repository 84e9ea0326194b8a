// SPDX-License-Identifier: GPL-3.0-or-later
//
// A clamp frame in place of the box, and where faces press on either. Internal to the solver.
#pragma once

#include "solver/materials.hpp"
#include "solver/row_parts.hpp"

namespace stackfit {

/// Two plates on rods, brought to their force.
[[nodiscard]] RowBox resolve_frame(const Resolution& resolution, const Row& row);

/// Notes what the walls' surface stress is held against.
void note_yield(const Resolution& resolution, const Material& metal);

/// Lays the rows' faces side by side across the walls, their middles at a height.
void place_faces(const Resolution& resolution, const Row& row, double middle_y_mm, WallPair& walls);

[[nodiscard]] geometry::Outline shifted(geometry::Outline outline, geometry::Point by);

}  // namespace stackfit
