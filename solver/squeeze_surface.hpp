// SPDX-License-Identifier: GPL-3.0-or-later
//
// How much longer than as built a row must be to press with a pressure, as its figures are drawn.
//
// For: millions of draws of softness, joints, domes and foams without solving a row for each.
// At a pressure p the even interference is
//     D(p) = S(p / softness) + R(p; softness, joints, domes, ...)
// with S the squeeze of the flat cells by their law, exact, and R what all else adds: walls,
// domes, pads. R is smooth: it is solved where each figure stands at the ends of its span, one
// figure at a time, and taken as a parabola between (a line where there is one end only);
// what two figures do together beyond that is left out, and held against full solutions in
// tests/solver/chance_model_test.cpp.
// Not for: how far the row stands along the curve (chance_model.hpp).
// Lengths are mm from the even interference of the build as it stands.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <span>
#include <vector>

#include "solver/chance_inputs.hpp"

namespace stackfit {

/// The studies a surface is made of: the build as it stands, and each of its variants.
class ShapeStudies {
 public:
  /// `inputs` and `study` must outlive it. The variants are solved on so many threads, 0: as many
  /// as the machine has; they come out the same.
  ShapeStudies(const Study& study, const ChanceInputs& inputs, const ShimLoad& load, int threads);
  [[nodiscard]] const Study& nominal() const { return nominal_; }
  [[nodiscard]] const ChanceInputs& inputs() const { return inputs_; }
  struct Variant {
    double x = 0;
    std::unique_ptr<Study> study;
  };
  /// Of the softness, then of each shape input.
  [[nodiscard]] const std::vector<std::vector<Variant>>& variants() const { return variants_; }

 private:
  const Study& nominal_;
  const ChanceInputs& inputs_;
  std::vector<std::vector<Variant>> variants_;
};

/// The squeeze of all cells at a pressure over the softness, tabulated.
class CellSqueeze {
 public:
  explicit CellSqueeze(const Row& row);
  /// [mm], at the logarithm of a pressure [MPa].
  [[nodiscard]] double at(double ln_pressure) const {
    const double place = (ln_pressure - first_) * per_step_;
    const auto last = static_cast<double>(mm_.size() - 2);
    const double inside = place < 0 ? 0 : place;
    const auto i = static_cast<std::int32_t>(inside > last ? last : inside);
    const double* mm = mm_.data();
    return mm[i] + (inside - static_cast<double>(i)) * (mm[i + 1] - mm[i]);
  }
  /// The squeeze at each of many pressures, as softness is drawn, and what comes on top of it.
  void at_all(std::span<const double> ln_pressure, std::span<const double> ln_softness,
              std::span<const double> on_top_mm, std::span<double> out) const;

 private:
  double first_ = 0;
  double per_step_ = 0;
  std::vector<double> mm_;
};

/// R at a few pressures, for one kind of state.
class SqueezeSurface {
 public:
  /// The interference [mm] of a study at a level: what is to be interpolated. May be infinite at
  /// the build as it stands: then the level is never reached.
  using Interference = std::function<double(const Study& study, double level_mpa)>;
  SqueezeSurface(const ShapeStudies& studies, const CellSqueeze& cells, const ShimLoad& load,
                 std::vector<double> levels_mpa, const Interference& interference);

  [[nodiscard]] const std::vector<double>& levels_mpa() const { return levels_; }
  [[nodiscard]] bool reached() const { return reached_; }
  /// R [mm] at one level in the build as it stands.
  [[nodiscard]] double nominal(std::size_t level) const { return nominal_[level]; }
  /// R [mm] at one level for many draws: `ln_softness`, then the values of each shape input less
  /// its nominal one, `samples` each.
  void residual(std::size_t level, std::span<const double> x, std::size_t samples,
                std::span<double> out) const;
  /// The same for one of the draws.
  [[nodiscard]] double residual_of(std::size_t level, std::span<const double> x,
                                   std::size_t samples, std::size_t i) const {
    double sum = nominal_[level];
    for (const Term& term : terms(level)) {
      const double value = x[term.input * samples + i];
      sum += value * (term.slope + term.bend * value);
    }
    return sum;
  }
  /// At a pressure between the levels: a line between the two that it lies between, beyond the ends
  /// as next to them.
  [[nodiscard]] double between_of(double pressure_mpa, std::span<const double> x,
                                  std::size_t samples, std::size_t i) const;
  /// The same for many draws; `room`: for twice as many figures.
  void between(std::span<const double> pressure_mpa, std::span<const double> x,
               std::span<double> room, std::span<double> out) const;
  /// What R is more than another surface's of the same levels, at least and at most: wherever each
  /// of the figures lies within its span, and the pressure within the levels.
  [[nodiscard]] Span more_than(const SqueezeSurface& other, std::span<const Span> x) const;

 private:
  struct Parabola {
    double slope = 0;
    double bend = 0;
  };
  /// What a figure that counts at a level does there.
  struct Term {
    std::size_t input = 0;
    double slope = 0;
    double bend = 0;
  };
  [[nodiscard]] static Parabola through(const std::vector<double>& x, const std::vector<double>& y);
  [[nodiscard]] std::span<const Term> terms(std::size_t level) const {
    return std::span(terms_).subspan(first_term_[level],
                                     first_term_[level + 1] - first_term_[level]);
  }
  [[nodiscard]] Parabola change(std::size_t level, std::size_t input) const;
  void find_levels(std::span<const double> pressure_mpa, std::span<std::int32_t> under) const;
  [[nodiscard]] double between_levels(std::size_t level, double pressure_mpa,
                                      std::span<const double> x, std::size_t samples,
                                      std::size_t i) const {
    const double from = residual_of(level, x, samples, i);
    const double to = residual_of(level + 1, x, samples, i);
    return from + ways_[level].share(pressure_mpa) * (to - from);
  }
  /// How far on its way from a level to the next a pressure is; held to what lies between the two,
  /// but for the ends.
  struct Way {
    double from_mpa = 0;
    double per_mpa = 0;
    double least = 0;
    double most = 1;
    [[nodiscard]] double share(double pressure_mpa) const {
      const double share = (pressure_mpa - from_mpa) * per_mpa;
      const double beyond_least = share < least ? least : share;
      return beyond_least > most ? most : beyond_least;
    }
  };

  std::vector<double> levels_;
  std::vector<Way> ways_;        ///< from each level but the last to the next
  std::vector<double> nominal_;  ///< R of the build as it stands, level by level
  std::vector<Term> terms_;      ///< level after level
  std::vector<std::size_t> first_term_{0};
  bool reached_ = true;
};

}  // namespace stackfit
