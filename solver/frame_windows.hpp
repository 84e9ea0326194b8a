// SPDX-License-Identifier: GPL-3.0-or-later
//
// Forces to which a clamp frame may be brought so that every required state stays in the band.
// Internal to the solver.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "solver/frame_closing.hpp"
#include "solver/frame_order.hpp"
#include "solver/wall_store.hpp"

namespace stackfit {

class FrameWindows {
 public:
  /// The build says plates and thread; its springs and force do not matter.
  FrameWindows(Build build, const Assumptions& assumptions, std::shared_ptr<WallStore> store);

  /// Every try by a study of its own, the plan's full solution included.
  [[nodiscard]] std::vector<ForceWindow> windows(const std::optional<RodSprings>& springs) const;
  /// The same by the closing curve: quick, and good to about half a per cent of the force.
  [[nodiscard]] std::vector<Span> estimated_n(const std::optional<SpringSet>& springs) const;

  [[nodiscard]] Build build_with(const std::optional<RodSprings>& springs, double force_n) const;
  /// What is on one rod. Throws UnusableBuild where it cannot be a spring.
  [[nodiscard]] std::optional<SpringSet> spring_set(const std::optional<RodSprings>& springs) const;
  [[nodiscard]] const RodSet& rods() const { return rods_; }
  [[nodiscard]] double model_margin() const { return band_.model_margin; }
  [[nodiscard]] double breathing_mm() const { return breathing_mm_; }

 private:
  /// How well a force holds: the lesser of both, below zero where it does not.
  struct Value {
    double band = 0;     ///< margin to the band
    double springs = 0;  ///< share of the springs' working force that is left; without them 1
    [[nodiscard]] double least() const { return band < springs ? band : springs; }
  };
  [[nodiscard]] Value estimate(const std::optional<SpringSet>& springs, double force_n) const;
  [[nodiscard]] Value solved(const std::optional<RodSprings>& springs, double force_n) const;
  [[nodiscard]] double springs_left(const std::optional<SpringSet>& springs,
                                    double greatest_n) const;
  /// Forces that are worth trying: within the band, and what springs may work at.
  [[nodiscard]] Span worth_trying_n(const std::optional<SpringSet>& springs) const;

  Build build_;
  Assumptions assumptions_;
  std::shared_ptr<WallStore> store_;
  BandResult band_;
  RodSet rods_;  ///< without springs
  double breathing_mm_ = 0;
  std::optional<FrameClosing> closing_;
};

}  // namespace stackfit
