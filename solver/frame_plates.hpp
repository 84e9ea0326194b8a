// SPDX-License-Identifier: GPL-3.0-or-later
//
// Thickness of a clamp frame's plates, each try a full solution. Internal to the solver.
#pragma once

#include <memory>

#include "solver/frame_order.hpp"
#include "solver/wall_store.hpp"

namespace stackfit {

struct PlateTask {
  const Build& build;  ///< with its thread; springs do not matter
  const Assumptions& assumptions;
  std::shared_ptr<WallStore> store;
  double force_n = 0;  ///< all rods together, to which the plates are drawn
};

/// Stress and bow of the plates at one thickness, and what they are held against.
[[nodiscard]] PlateTrial try_plate(const PlateTask& task, double thickness_mm);

/// The thickness that the build names where it holds; else the thinnest of the stock that does,
/// with the next thinner one beside it. Where none holds, `chosen` is the thickest and does not.
[[nodiscard]] PlateOrder size_plates(const PlateTask& task);

}  // namespace stackfit
