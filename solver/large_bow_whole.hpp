// SPDX-License-Identifier: GPL-3.0-or-later
//
// A plate with a large bow, unreduced: every deflection, slope and displacement in the plane.
//
// For: checks of BowStiffening (large_bow.hpp), and walls on their own under a known load.
// Not for: walls in a row; each load step factors the whole tangent several times.
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <vector>

#include "solver/membrane.hpp"
#include "solver/plate.hpp"

namespace stackfit {

/// Why the solution went no further.
enum class LargeBowStop : std::uint8_t {
  not_started,
  reached,        ///< the last share of the load
  unstable,       ///< a resting place is not a least of energy: the plate would snap through
  not_converged,  ///< Newton came to no rest, however small the step
};

struct LargeBowRequest {
  Eigen::VectorXd load_n;           ///< generalised, as Plate::solve takes it
  std::vector<MembraneEdge> sides;  ///< membrane_sides() in large_bow.hpp
  /// Shares of the load in turn, each solved from the one before. Steps of a tenth for loads
  /// under which a plate may snap; one step will do where it only stiffens.
  std::vector<double> load_shares{0.25, 0.5, 0.75, 1};
  int greatest_iterations = 40;  ///< of Newton in one step
  int greatest_halvings = 6;     ///< of a step that does not come to rest
};

/// A plate at rest.
struct LargeBowStep {
  double load_share = 0;
  Eigen::VectorXd deflections;     ///< as from Plate::solve
  double bending_energy_n_mm = 0;  ///< springs under it included
  double stretching_energy_n_mm = 0;
};

struct LargeBow {
  LargeBowStop stop = LargeBowStop::not_started;
  std::vector<LargeBowStep> steps;  ///< one for each share that was reached

  [[nodiscard]] bool usable() const { return stop == LargeBowStop::reached; }
};

/// Follows the load from nothing. At each step the second derivatives are seen to be positive
/// definite; other resting places may exist. Throws std::invalid_argument for a load of another
/// size, sides that do not match, or no share.
[[nodiscard]] LargeBow bow_under_load(const Plate& plate, const LargeBowRequest& request);

}  // namespace stackfit
