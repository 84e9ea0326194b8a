// SPDX-License-Identifier: GPL-3.0-or-later
//
// The table of what a maker's force means, line by line, and where a pressure stands.
#include "solver/band.hpp"

#include "solver/findings.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;
using Catch::Approx;

namespace {

constexpr double area_mm2 = 12000;
constexpr double force_n = 2400;  // 0.2 MPa on the face

CellType with_force(ForceWhen when, std::optional<double> tolerance_n = {}) {
  CellType cell;
  cell.makers_force = MakersForce{force_n, tolerance_n, when};
  return cell;
}

struct Made {
  BandResult band;
  Findings findings;
  [[nodiscard]] bool warned(WarningCode code) const {
    return sample::find_warning(findings.warnings, code) != nullptr;
  }
  [[nodiscard]] bool noted(Assumed id) const {
    for (const Assumed assumed : findings.assumed) {
      if (assumed == id) {
        return true;
      }
    }
    return false;
  }
};

Made make(const CellType& cell) {
  Made made;
  made.band = make_band(cell, area_mm2, {}, made.findings);
  return made;
}

/// 0.02 to 0.30 MPa, never above 0.40, m = 0.10.
BandResult plain_band() {
  BandResult band;
  band.low_mpa = 0.02;
  band.high_mpa = 0.30;
  band.limit_mpa = 0.40;
  band.model_margin = 0.10;
  band.face_area_mm2 = area_mm2;
  return band;
}

}  // namespace

TEST_CASE("a force at assembly: a quarter to one and a half times, the force as target") {
  const std::optional<double> tolerance =
      GENERATE(std::optional<double>{}, std::optional<double>{150});
  const Made made = make(with_force(ForceWhen::assembly, tolerance));
  CHECK(made.band.low_mpa == Approx(0.05));
  CHECK(made.band.high_mpa == Approx(0.30));
  CHECK(made.band.assumed);
  CHECK(made.noted(Assumed::band_low_factor));
  CHECK(made.noted(Assumed::band_high_factor));
  CHECK_FALSE(made.band.limit_mpa);
  CHECK(made.band.build_target_mpa.value() == Approx(0.20));
  CHECK_FALSE(made.band.target_assumed);
  CHECK_FALSE(made.band.build_low_mpa);
  CHECK(made.band.from_force == ForceWhen::assembly);
  CHECK_FALSE(made.warned(WarningCode::ask_when_force_applies));
  CHECK(made.band.model_margin == 0.10);
  CHECK(made.band.face_area_mm2 == area_mm2);
}

TEST_CASE("a force always, with two figures: they are the band, nothing is assumed") {
  const Made made = make(with_force(ForceWhen::always, 600));
  CHECK(made.band.low_mpa == Approx(0.15));
  CHECK(made.band.high_mpa == Approx(0.25));
  CHECK_FALSE(made.band.assumed);
  CHECK_FALSE(made.noted(Assumed::band_low_factor));
  CHECK_FALSE(made.band.limit_mpa);
  CHECK(made.band.build_target_mpa.value() == Approx(0.20));
  CHECK_FALSE(made.band.target_assumed);
  CHECK(made.band.from_force == ForceWhen::always);
}

TEST_CASE("a force always, with one figure: as at assembly, its middle as target") {
  const Made made = make(with_force(ForceWhen::always));
  CHECK(made.band.low_mpa == Approx(0.05));
  CHECK(made.band.high_mpa == Approx(0.30));
  CHECK(made.band.assumed);
  CHECK_FALSE(made.band.limit_mpa);
  CHECK(made.band.build_target_mpa.value() == Approx(0.175));
  CHECK(made.band.target_assumed);
}

TEST_CASE("a force never above: it is the limit, the band ends at 0.8 of it, 0.4 is the target") {
  const Made made = make(with_force(ForceWhen::never_above, 150));
  CHECK(made.band.low_mpa == Approx(0.05));
  CHECK(made.band.high_mpa == Approx(0.16));
  CHECK(made.band.assumed);
  CHECK(made.noted(Assumed::band_high_factor_never_above));
  CHECK(made.noted(Assumed::build_target_never_above));
  CHECK(made.band.limit_mpa.value() == Approx(0.20));
  CHECK(made.band.build_target_mpa.value() == Approx(0.08));
  CHECK(made.band.target_assumed);
}

TEST_CASE("a force of which nothing more was said: as at assembly, no target, and asked about") {
  const Made made = make(with_force(ForceWhen::not_said, 150));
  CHECK(made.band.low_mpa == Approx(0.05));
  CHECK(made.band.high_mpa == Approx(0.30));
  CHECK(made.band.assumed);
  CHECK_FALSE(made.band.limit_mpa);
  CHECK_FALSE(made.band.build_target_mpa);
  const Warning* asked =
      sample::find_warning(made.findings.warnings, WarningCode::ask_when_force_applies);
  REQUIRE(asked != nullptr);
  CHECK(asked->size == force_n);
}

TEST_CASE("a range for use is the band as it stands") {
  CellType cell;
  cell.range = PressureRange{0.03, 0.25, RangeAppliesTo::use};
  const Made made = make(cell);
  CHECK(made.band.low_mpa == 0.03);
  CHECK(made.band.high_mpa == 0.25);
  CHECK_FALSE(made.band.assumed);
  CHECK_FALSE(made.band.limit_mpa);
  CHECK_FALSE(made.band.build_target_mpa);
  CHECK_FALSE(made.band.from_force);
  CHECK_FALSE(made.warned(WarningCode::no_force_given));
  // Only the margin is the program's own.
  CHECK(made.findings.assumed == std::vector{Assumed::model_margin});
}

TEST_CASE("a range for use beats a force, whose target and limit are kept") {
  CellType cell = with_force(ForceWhen::never_above);
  cell.range = PressureRange{0.03, 0.25, RangeAppliesTo::use};
  const Made never = make(cell);
  CHECK(never.band.low_mpa == 0.03);
  CHECK(never.band.high_mpa == 0.25);
  CHECK_FALSE(never.band.assumed);
  CHECK(never.band.limit_mpa.value() == Approx(0.20));
  CHECK_FALSE(never.band.from_force);
  CHECK_FALSE(never.noted(Assumed::band_high_factor_never_above));

  cell.makers_force->when = ForceWhen::assembly;
  const Made assembly = make(cell);
  CHECK(assembly.band.build_target_mpa.value() == Approx(0.20));
  CHECK_FALSE(assembly.band.limit_mpa);
}

TEST_CASE("a range for assembly: its own band at build, factors on its ends in use") {
  CellType cell;
  cell.range = PressureRange{0.08, 0.12, RangeAppliesTo::assembly};
  const Made made = make(cell);
  CHECK(made.band.build_low_mpa.value() == 0.08);
  CHECK(made.band.build_high_mpa.value() == 0.12);
  CHECK(made.band.low_mpa == Approx(0.02));
  CHECK(made.band.high_mpa == Approx(0.18));
  CHECK(made.band.assumed);
  CHECK(made.noted(Assumed::band_low_factor));
  CHECK(made.noted(Assumed::band_high_factor));
  CHECK(made.band.build_target_mpa.value() == Approx(0.10));
}

TEST_CASE("of a limit and a never-above force the lower binds, a limit stands alone too") {
  CellType cell = with_force(ForceWhen::never_above);
  cell.limit_mpa = 0.15;
  CHECK(make(cell).band.limit_mpa.value() == 0.15);
  cell.limit_mpa = 0.25;
  CHECK(make(cell).band.limit_mpa.value() == Approx(0.20));
  CellType alone;
  alone.range = PressureRange{0.03, 0.25, RangeAppliesTo::use};
  alone.limit_mpa = 0.30;
  CHECK(make(alone).band.limit_mpa.value() == 0.30);
}

TEST_CASE("neither range nor force: an assumed pressure, said so") {
  const Made made = make(CellType{});
  CHECK(made.band.low_mpa == Approx(0.25 * 0.08));
  CHECK(made.band.high_mpa == Approx(1.5 * 0.08));
  CHECK(made.band.assumed);
  CHECK(made.noted(Assumed::makers_pressure));
  CHECK_FALSE(made.band.limit_mpa);
  CHECK_FALSE(made.band.build_target_mpa);
  CHECK(made.band.from_force == ForceWhen::not_said);
  CHECK_FALSE(made.warned(WarningCode::ask_when_force_applies));
  const Warning* none = sample::find_warning(made.findings.warnings, WarningCode::no_force_given);
  REQUIRE(none != nullptr);
  CHECK(none->size == 0.08);
}

TEST_CASE("a band several times what cells are pressed with is doubted") {
  CellType cell;
  cell.range = PressureRange{0.03, 0.5, RangeAppliesTo::use};
  CHECK_FALSE(make(cell).warned(WarningCode::force_implausible));
  cell.range->high_mpa = 0.6;
  const Made made = make(cell);
  const Warning* doubt =
      sample::find_warning(made.findings.warnings, WarningCode::force_implausible);
  REQUIRE(doubt != nullptr);
  CHECK(doubt->size == 0.6);
  CHECK(doubt->limit == 0.5);
}

TEST_CASE("no pressure is loose, whatever the band's low end") {
  BandResult band = plain_band();
  CHECK(standing_of(band, 0, 0) == Standing::loose);
  band.low_mpa = 0;
  CHECK(standing_of(band, 0, 0) == Standing::loose);
  CHECK(standing_of(band, 1e-9, 1e-9) == Standing::inside);
}

TEST_CASE("below is judged bare, above and above the limit with the model margin") {
  const BandResult band = plain_band();
  CHECK(standing_of(band, 0.0199, 0.0199) == Standing::below);
  CHECK(standing_of(band, 0.02, 0.02) == Standing::inside);
  CHECK(standing_of(band, 0.2727, 0.2727) == Standing::inside);  // 1.1 x 0.2727 = 0.29997
  CHECK(standing_of(band, 0.2728, 0.2728) == Standing::above);   // 0.30008
  CHECK(standing_of(band, 0.3636, 0.3636) == Standing::above);   // 0.39996
  CHECK(standing_of(band, 0.3637, 0.3637) == Standing::above_limit);
  CHECK(band.judged(0.2) == Approx(0.22));
  CHECK(band.most_for(0.22) == Approx(0.2));
}

TEST_CASE("the limit is held against the highest local pressure, the band against the face's") {
  const BandResult band = plain_band();
  CHECK(standing_of(band, 0.20, 0.36) == Standing::inside);
  CHECK(standing_of(band, 0.20, 0.37) == Standing::above_limit);
  CHECK(standing_of(band, 0.01, 0.37) == Standing::above_limit);
  BandResult unknown = band;
  unknown.limit_mpa.reset();
  CHECK(standing_of(unknown, 0.20, 5) == Standing::inside);
  CHECK(standing_of(unknown, 0.50, 5) == Standing::above);
}

TEST_CASE("the margin is the nearer end of the band over its width") {
  const BandResult band = plain_band();  // 0.28 wide
  CHECK(band_margin(band, {0.048, 0.10}) == Approx(0.028 / 0.28));
  CHECK(band_margin(band, {0.20, 0.22}) == Approx((0.30 - 0.242) / 0.28));
  CHECK(band_margin(band, {0.006, 0.10}) == Approx(-0.05));
  CHECK(band_margin(band, {0.10, 0.30}) == Approx(-0.03 / 0.28));
  // 0.02 and 0.30 / 1.1 are the ends themselves.
  CHECK(band_margin(band, {0.02, 0.10}) == Approx(0).margin(1e-12));
  CHECK(band_margin(band, {0.10, 0.30 / 1.1}) == Approx(0).margin(1e-12));
}
