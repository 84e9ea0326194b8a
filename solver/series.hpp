// SPDX-License-Identifier: GPL-3.0-or-later
//
// A row as one column: parts in series under one force, between walls that give linearly.
//
// For: the force at a given interference, a million times a second. With rising laws the
// squeeze rises with the force, so there is one answer; the energy behind it is convex.
// Not for: what the interference is in a state of charge, heat and age (row_model.hpp).
#pragma once

#include <cstdint>
#include <vector>

#include "solver/law.hpp"

namespace stackfit {

/// Parts of one law and one pressed area, taken together.
struct SeriesPart {
  LawPtr law;
  double thickness_mm = 0;  ///< reference thickness: strain times this is squeeze
  double area_mm2 = 0;
};

enum class SeriesStop : std::uint8_t {
  loose,       ///< no interference: nothing is pressed
  converged,   ///< the squeeze meets the interference to the last digits
  cap_reached  ///< the cap on steps was met first; the force is the best found
};

struct SeriesResult {
  double force_n = 0;
  double loose_by_mm = 0;  ///< room left; 0 where pressed
  SeriesStop stop = SeriesStop::loose;
};

class Series {
 public:
  /// Adds a part; parts of the same law and area are merged.
  void add(const SeriesPart& part);
  /// Adds linear give [mm/N]: hard sheets t/(E A), walls, the sides' stretch.
  void add_give(double mm_per_n) { give_mm_per_n_ += mm_per_n; }

  /// Squeeze of all parts and give of the walls [mm] at a force [N], with further linear give.
  [[nodiscard]] double squeeze_mm(double force_n, double more_give_mm_per_n = 0) const;
  /// The force at an interference [mm], with further linear give [mm/N] (chosen shims).
  [[nodiscard]] SeriesResult solve(double interference_mm, double more_give_mm_per_n = 0) const;
  /// Energy [N mm] stored at a force: parts and walls.
  [[nodiscard]] double energy_n_mm(double force_n, double more_give_mm_per_n = 0) const;

  [[nodiscard]] const std::vector<SeriesPart>& parts() const { return parts_; }
  [[nodiscard]] double give_mm_per_n() const { return give_mm_per_n_; }

 private:
  struct Squeeze {
    double mm = 0;
    double mm_per_n = 0;
  };
  [[nodiscard]] Squeeze at(double force_n, double give_mm_per_n) const;

  std::vector<SeriesPart> parts_;
  double give_mm_per_n_ = 0;
};

}  // namespace stackfit
