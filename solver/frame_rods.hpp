// SPDX-License-Identifier: GPL-3.0-or-later
//
// Rods of a clamp frame by their proof load, and what belongs to them. Internal to the solver.
#pragma once

#include "solver/frame_order.hpp"
#include "solver/row.hpp"

namespace stackfit {

/// What belongs to a thread [mm].
struct RodParts {
  double thread_mm = 0;
  double hole_mm = 0;    ///< clearance hole, medium: ISO 273
  double nut_mm = 0;     ///< greatest height of a plain nut: ISO 4032
  double washer_mm = 0;  ///< thickness: ISO 7089
};
/// Of the threads that are sold everywhere, M5 to M16 (first choice of ISO 262); M14 where it is
/// said. Throws std::invalid_argument for another.
[[nodiscard]] RodParts rod_parts(double thread_mm);

/// The thread that the build names, or the smallest that holds `force_n` (all rods together) and
/// stands clear of cells and plate edges; `thread_mm` 0 where none does.
[[nodiscard]] RodOrder size_rods(const Build& build, const Row& row, double force_n);

/// The same rods one thread thicker, of those that are sold; empty where they do not stand clear.
[[nodiscard]] std::optional<RodOrder> next_thicker(const Build& build, const Row& row,
                                                   const RodOrder& rods);

/// Whether rods of a thread stand beside the cells and whole on the plate.
[[nodiscard]] bool rods_stand_clear(const Build& build, double thread_mm);

/// Rod from end to end [mm], from what lies between the nuts before they are tightened.
[[nodiscard]] double rod_length_mm(const RodParts& parts, double between_nuts_mm);

/// "M8" of 8.
[[nodiscard]] std::string thread_name(double thread_mm);

}  // namespace stackfit
