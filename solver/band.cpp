// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/band.hpp"

#include <algorithm>
#include <optional>

namespace stackfit {
namespace {

/// Builds the band from a single force; each rule is one row of the table in the manual.
class ForceBand {
 public:
  ForceBand(const MakersForce& force, double face_area_mm2, const Assumptions& assumptions,
            Findings& findings)
      : force_(force), area_(face_area_mm2), assumptions_(assumptions), findings_(findings) {}

  [[nodiscard]] BandResult make() {
    BandResult band;
    band.from_force = force_.when;
    switch (force_.when) {
      case ForceWhen::assembly:
        around_assembly(band);
        band.build_target_mpa = pressure();
        break;
      case ForceWhen::not_said:
        around_assembly(band);
        break;
      case ForceWhen::always:
        always(band);
        break;
      case ForceWhen::never_above:
        never_above(band);
        break;
    }
    return band;
  }

 private:
  [[nodiscard]] double pressure() const { return force_.force_n / area_; }
  [[nodiscard]] double factor(Assumed id) {
    findings_.note(id);
    return assumptions_[id];
  }
  void around_assembly(BandResult& band) {
    band.low_mpa = factor(Assumed::band_low_factor) * pressure();
    band.high_mpa = factor(Assumed::band_high_factor) * pressure();
    band.assumed = true;
  }
  void always(BandResult& band) {
    if (!force_.tolerance_n) {
      around_assembly(band);
    } else {
      band.low_mpa = (force_.force_n - *force_.tolerance_n) / area_;
      band.high_mpa = (force_.force_n + *force_.tolerance_n) / area_;
    }
    band.build_target_mpa = 0.5 * (band.low_mpa + band.high_mpa);
    band.target_assumed = band.assumed;
  }
  void never_above(BandResult& band) {
    band.low_mpa = factor(Assumed::band_low_factor) * pressure();
    band.high_mpa = factor(Assumed::band_high_factor_never_above) * pressure();
    band.assumed = true;
    band.limit_mpa = pressure();
    band.build_target_mpa = factor(Assumed::build_target_never_above) * pressure();
    band.target_assumed = true;
  }

  const MakersForce& force_;
  double area_;
  const Assumptions& assumptions_;
  Findings& findings_;
};

void apply_range(const PressureRange& range, const Assumptions& assumptions, Findings& findings,
                 BandResult& band) {
  if (range.applies_to == RangeAppliesTo::use) {
    band.low_mpa = range.low_mpa;
    band.high_mpa = range.high_mpa;
    band.assumed = false;
    return;
  }
  band.build_low_mpa = range.low_mpa;
  band.build_high_mpa = range.high_mpa;
  findings.note(Assumed::band_low_factor);
  findings.note(Assumed::band_high_factor);
  band.low_mpa = assumptions[Assumed::band_low_factor] * range.low_mpa;
  band.high_mpa = assumptions[Assumed::band_high_factor] * range.high_mpa;
  band.assumed = true;
  if (!band.build_target_mpa) {
    band.build_target_mpa = 0.5 * (range.low_mpa + range.high_mpa);
  }
}

}  // namespace

BandResult make_band(const CellType& cell, double face_area_mm2, const Assumptions& assumptions,
                     Findings& findings) {
  BandResult band;
  std::optional<MakersForce> force = cell.makers_force;
  if (!force && !cell.range) {
    findings.note(Assumed::makers_pressure);
    findings.warn({WarningCode::no_force_given, "cell.makers_force", -1,
                   assumptions[Assumed::makers_pressure], 0, 0});
    force =
        MakersForce{assumptions[Assumed::makers_pressure] * face_area_mm2, {}, ForceWhen::not_said};
  }
  if (cell.makers_force && cell.makers_force->when == ForceWhen::not_said) {
    findings.warn({WarningCode::ask_when_force_applies, "cell.makers_force.when", -1,
                   cell.makers_force->force_n, 0, 0});
  }
  if (force) {
    // Under a range for use the force's factors are not used, so they are not noted as assumed.
    Findings scratch;
    const bool force_decides = !cell.range;
    band = ForceBand(*force, face_area_mm2, assumptions, force_decides ? findings : scratch).make();
  }
  if (cell.range) {
    apply_range(*cell.range, assumptions, findings, band);
  }
  if (cell.range && cell.makers_force) {
    band.from_force.reset();
  }
  if (cell.limit_mpa) {
    band.limit_mpa = std::min(*cell.limit_mpa, band.limit_mpa.value_or(*cell.limit_mpa));
  }
  if (band.high_mpa > assumptions[Assumed::plausible_pressure]) {
    findings.warn({WarningCode::force_implausible, "cell", -1, band.high_mpa,
                   assumptions[Assumed::plausible_pressure], 0});
  }
  findings.note(Assumed::model_margin);
  band.model_margin = assumptions[Assumed::model_margin];
  band.face_area_mm2 = face_area_mm2;
  return band;
}

Standing standing_of(const BandResult& band, double face_pressure_mpa, double highest_local_mpa) {
  if (band.limit_mpa && band.judged(highest_local_mpa) > *band.limit_mpa) {
    return Standing::above_limit;
  }
  if (band.judged(face_pressure_mpa) > band.high_mpa) {
    return Standing::above;
  }
  if (!(face_pressure_mpa > 0)) {
    return Standing::loose;  // a row that rattles is never inside, whatever the band
  }
  return face_pressure_mpa >= band.low_mpa ? Standing::inside : Standing::below;
}

double band_margin(const BandResult& band, const PressureSpan& span) {
  const double below = span.lowest_mpa - band.low_mpa;
  const double above = band.high_mpa - band.judged(span.highest_mpa);
  return std::min(below, above) / (band.high_mpa - band.low_mpa);
}

}  // namespace stackfit
