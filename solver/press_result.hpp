// SPDX-License-Identifier: GPL-3.0-or-later
//
// What people read of a press test: spans, the pressures it means, loads that are off, the way
// back.
//
// For: the one structure that every view of `softness` prints. Not for: the fit (press_test.hpp).
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "solver/assumptions.hpp"
#include "solver/build.hpp"
#include "solver/press_test.hpp"

namespace stackfit {

/// Face pressures [MPa] that the law is wanted for.
struct WantedBand {
  Span mpa;
  bool assumed = false;  ///< rests on assumed factors
};

/// The law at one wanted pressure.
struct PressPoint {
  double pressure_mpa = 0;
  double squeeze_mm = 0;    ///< of one cell, at which the fitted law has that pressure
  Span span_mpa;            ///< 95 % span of the pressure at that squeeze
  double assumed_mpa = 0;   ///< what the assumed law has there
  Span assumed_span_mpa;    ///< its 95 % span
  bool above_test = false;  ///< beyond the highest load, within reach
};

/// One load as seen from the fitted law.
struct PressLoadResult {
  double pressure_mpa = 0;
  double thickness_mm = 0;  ///< mean reading
  double residual_mm = 0;   ///< mean reading less law
  double error_mm = 0;      ///< standard error of that mean
  int readings = 0;
};

/// A load that does not go with the others.
struct PressOutlier {
  std::size_t load = 0;  ///< from 0, of PressResult::loads
  double off_mm = 0;     ///< its farthest reading less the law of the other loads
};

/// Readings on the way back beside the law of the way up.
struct PressReturn {
  int readings = 0;
  double thinner_mm = 0;  ///< mean; positive where the cell has not come back yet
  bool shows = false;     ///< beyond the reading error
};

enum class PressWarning : std::uint8_t {
  beyond_reach,  ///< the band's top (or all of it) lies too far above the highest load
  few_loads,     ///< the assumed law fills in
  outlier,       ///< a load is off
  scatters,      ///< readings scatter more than their error
  straight,      ///< they do not bend enough to tell A from B
  steep,         ///< they bend too sharply at the first loads
  not_converged
};

struct PressResult {
  PressLaw law;
  PressSpan free_mm;
  PressSpan a_mpa;
  PressSpan b;
  double ln_a_ln_b_correlation = 0;
  double nominal_mm = 0;
  double reading_error_mm = 0;
  ErrorSource error_source = ErrorSource::assumed;
  bool prior_used = false;
  PressFitEnd fit_end = PressFitEnd::cap_reached;
  std::vector<PressLoadResult> loads;
  int readings = 0;
  double reach_mpa = 0;  ///< the law is not given above

  WantedBand band;
  bool band_from_loads = false;    ///< nobody said a band: the loads' own span stands for it
  std::optional<PressPoint> low;   ///< empty beyond reach
  std::optional<PressPoint> high;  ///< empty beyond reach
  PressPoint middle;               ///< of the band, or the highest load where that is lower
  double tangent_mpa = 0;          ///< there: pressure per unit of strain
  Span tangent_span_mpa;
  double give_mm_per_mpa = 0;  ///< there, of one cell
  double stiffer = 1;          ///< pressure there over the assumed law's at that squeeze
  Span stiffer_span;

  std::optional<PressOutlier> outlier;
  std::optional<PressReturn> way_back;
  std::vector<PressWarning> warnings;  ///< worst first
  std::vector<Assumed> assumed;        ///< assumed numbers it rests on, or is compared with

  /// The law stands on readings alone, holds over the band, and no load speaks against it.
  [[nodiscard]] bool clean() const { return warnings.empty(); }
};

/// `band`: empty where nobody said one.
[[nodiscard]] PressResult press_result(const PressFit& fit, const std::optional<WantedBand>& band,
                                       const Assumptions& assumptions);

/// Area of a cell's face; its corner radius counts as assumed where it was not said.
[[nodiscard]] double press_face_area_mm2(const FaceSize& face, const Assumptions& assumptions);

}  // namespace stackfit
