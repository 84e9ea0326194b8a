// SPDX-License-Identifier: GPL-3.0-or-later
//
// Nuts, washers and holes that belong to a rod's metric thread, M3 to M16.
//
// For: how long a rod must be and how wide its hole. Not for: strength (threads.hpp).
#pragma once

#include <optional>

namespace stackfit {

struct Fastener {
  double diameter_mm = 0;     ///< of the thread
  double medium_hole_mm = 0;  ///< clearance hole, ISO 273 medium series (read in a public copy)
  double nut_mm = 0;          ///< height of a hexagon nut at most, ISO 4032
  double washer_mm = 0;       ///< thickness of a plain washer, ISO 7089
  double washer_outer_mm = 0;
};

/// Empty where the table has no such thread.
[[nodiscard]] std::optional<Fastener> fastener(double thread_mm);

}  // namespace stackfit
