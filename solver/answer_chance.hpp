// SPDX-License-Identifier: GPL-3.0-or-later
//
// The chance in an answer: which plan is taken by it, and what is said of it.
//
// For: answer.cpp. Not for: drawing (chance.hpp) or words.
#pragma once

#include <future>
#include <memory>
#include <optional>

#include "solver/chance.hpp"

namespace stackfit {

class AnswerChance {
 public:
  /// Nothing is drawn where no options are given, there is no plan, or none can be told.
  AnswerChance(const Study& study, const ShimPlan& by_margin,
               const std::optional<ChanceOptions>& options);

  /// The plan to take of one chosen by its margin, by what the options say.
  [[nodiscard]] ShimPlan choose(const ShimPlan& by_margin);
  /// How plans are compared; empty where it is by margin.
  [[nodiscard]] Study::ChanceScore score() const;
  /// Begins to draw for a plan that is sure to be described, beside whatever is done until then:
  /// drawing reads the model only.
  void begin(const ShimPlan& plan);
  /// Fills the answer's chance.
  void describe(const ShimPlan& plan, const std::optional<ShimPlan>& looser, Answer& answer);

  /// Whether the chance is below the one that was asked for.
  [[nodiscard]] bool poor(const Answer& answer) const;
  /// The smallest single changes that bring it there.
  [[nodiscard]] std::vector<Remedy> remedies() const;

 private:
  [[nodiscard]] ChanceRival rival(const ShimPlan& plan) const;
  [[nodiscard]] std::vector<ChanceRival> rivals(const ShimPlan& plan) const;

  const Study& study_;
  std::optional<ChanceOptions> options_;
  std::unique_ptr<ChanceStudy> chance_;
  std::optional<ShimPlan> by_margin_;  ///< where the two choices differ
  std::optional<ShimPlan> by_chance_;
  std::future<Chance> begun_;  ///< ends before what it reads
};

}  // namespace stackfit
