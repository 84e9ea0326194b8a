// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a caller asks of chances.
//
// For: answer_pick and answer_pressure (answer.hpp), and the command line that fills it. Not for:
// what comes out (chance_result.hpp) or how well figures are known (Uncertainty in build.hpp).
#pragma once

#include <cstdint>
#include <optional>

namespace stackfit {

/// By what the best of the passing plans is chosen.
enum class PickBy : std::uint8_t { chance, margin };

/// Handed over, a chance is computed; where there is none nothing is drawn, which is the quickest.
struct ChanceOptions {
  PickBy by = PickBy::chance;  ///< what is placed already is not chosen by either
  /// Draws at least; 0: as many as settle the chance (monte_carlo.hpp).
  std::int64_t samples = 0;
  int threads = 0;             ///< 0: as many as the machine has; the answer is the same on any
  std::optional<double> need;  ///< below it, changes that bring the chance there are sought
};

}  // namespace stackfit
