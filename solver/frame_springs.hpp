// SPDX-License-Identifier: GPL-3.0-or-later
//
// The smallest disc springs that hold a clamp frame's band. Internal to the solver.
#pragma once

#include <optional>
#include <vector>

#include "solver/frame_order.hpp"
#include "solver/frame_windows.hpp"

namespace stackfit {

/// One way to stack one size of disc on every rod.
struct DiscStack {
  DiscSize disc;
  int parallel = 1;
  int series = 1;

  [[nodiscard]] int discs() const { return parallel * series; }
};
/// So many nested at most: each further one adds its friction. So many stacks one on another: more
/// lean on the rod (common practice).
inline constexpr int most_parallel = 3;
inline constexpr int most_series = 12;

/// All stacks of discs that suit the thread, whose force rises all the way, and which stand whole
/// on the plate and clear of each other: fewest discs first, of these the lightest.
[[nodiscard]] std::vector<DiscStack> disc_stacks(const Frame& frame, double thread_mm,
                                                 const std::vector<DiscSize>& stock);

/// What a stack does in this frame; judged where it was said.
[[nodiscard]] SpringOrder describe_springs(const FrameWindows& frame, const RodSprings& springs);

/// The first of the stacks that holds the band at forces that can be set; none: empty.
[[nodiscard]] std::optional<SpringOrder> smallest_springs(const FrameWindows& frame,
                                                          const std::vector<DiscStack>& stacks);

}  // namespace stackfit
