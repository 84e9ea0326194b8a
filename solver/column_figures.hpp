// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a solved set of columns comes to: the figures that people read.
//
// For: one face of a solved row (columns.hpp) in a handful of numbers.
// Not for: solving, or the walls' own stress (wall_figures.hpp).
#pragma once

#include "solver/columns.hpp"

namespace stackfit {

struct ColumnFigures {
  double force_n = 0;
  double mean_mpa = 0;  ///< face pressure: force over the whole face
  double highest_local_mpa = 0;
  double lowest_local_mpa = 0;  ///< 0 where a part of the face does not touch
  double contact_share = 0;     ///< part of the face that is pressed at all
  double centre_x_mm = 0;       ///< of pressure, from the middle of the face, right and up
  double centre_y_mm = 0;
  double wall_bow_mm = 0;  ///< greatest deflection of either wall
  double walls_mm = 0;     ///< mean of both walls' deflection, as the pressures weigh it
};

/// Figures of one face, counted from 0. `face_area_mm2` is the whole face by its exact outline;
/// all zero where nothing touches.
[[nodiscard]] ColumnFigures column_figures(const ColumnsSetup& setup, const ColumnsState& state,
                                           int face, double face_area_mm2);

}  // namespace stackfit
