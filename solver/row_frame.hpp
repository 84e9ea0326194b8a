// SPDX-License-Identifier: GPL-3.0-or-later
//
// A clamp frame in place of the box, and where faces press on either. Internal to the solver.
#pragma once

#include <string_view>

#include "solver/materials.hpp"
#include "solver/row_parts.hpp"
#include "solver/springs.hpp"

namespace stackfit {

/// Two plates on rods, brought to their force.
[[nodiscard]] RowBox resolve_frame(const Resolution& resolution, const Row& row);

/// The discs on one rod. Throws std::invalid_argument as SpringSet does.
[[nodiscard]] SpringSet disc_set(const DiscSprings& discs);
/// Property class that rods are taken for where none is said.
[[nodiscard]] std::string_view rod_grade_when_not_said();

/// Notes what the walls' surface stress is held against.
void note_yield(const Resolution& resolution, const Material& metal);

/// Lays the rows' faces side by side across the walls, their middles at a height.
void place_faces(const Resolution& resolution, const Row& row, double middle_y_mm, WallPair& walls);

[[nodiscard]] geometry::Outline shifted(geometry::Outline outline, geometry::Point by);

}  // namespace stackfit
