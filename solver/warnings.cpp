// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/warnings.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "solver/pad_laws.hpp"

namespace stackfit {
namespace {

/// A dome measured at least this high counts for the can's share of the load [mm].
constexpr double dome_that_counts_mm = 0.1;
/// Smallest share of the face that sheets may press before it is called uneven.
constexpr double even_share = 0.7;
/// As built may differ from the maker's figure by this share before it is worth a word.
constexpr double near_target = 0.15;

class Gatherer {
 public:
  Gatherer(const Study& study, const Answer& answer)
      : study_(study), row_(study.row()), answer_(answer), found_(study.findings().warnings) {}

  [[nodiscard]] std::vector<Warning> gather() {
    about_cells();
    if (answer_.has_plan) {
      about_walls();
      about_pressures();
      about_build();
      about_swing();
      about_laws();
      about_sheets();
    }
    if (answer_.floor == Floor::not_said) {
      warn({WarningCode::floor_not_said, "box.floor"});
    }
    std::stable_sort(found_.begin(), found_.end(),
                     [](const Warning& a, const Warning& b) { return a.code < b.code; });
    return std::move(found_);
  }

 private:
  void warn(Warning warning) { found_.push_back(std::move(warning)); }

  void about_cells() {
    int silent = 0;
    const double watch = study_.assumptions()[Assumed::dome_watch] / 100 * row_.nominal_mm;
    for (const CellResult& cell : answer_.cells) {
      if (cell.shows_sign) {
        warn({WarningCode::signs_seen, cell.id});
      }
      if (cell.beyond_watch) {
        warn({WarningCode::swollen_cell, cell.id, -1, cell.swelling_mm, watch, 0});
      }
      silent += cell.signs.empty() ? 1 : 0;
    }
    if (silent > 0) {
      warn({WarningCode::signs_not_said, "cells", -1, static_cast<double>(silent),
            static_cast<double>(answer_.cells.size()), 0});
    }
    const auto& assumed = study_.findings().assumed;
    if (std::find(assumed.begin(), assumed.end(), Assumed::shipped_charge) != assumed.end()) {
      warn({WarningCode::charge_guessed, "measured_charge",
            study_.assumptions()[Assumed::shipped_charge],
            study_.assumptions()[Assumed::charge_doubt], 0, 0});
    }
  }

  /// Millimetres of shim from a state to a face pressure; positive: add.
  [[nodiscard]] double shim_to_reach(const StateResult& state, double pressure_mpa) const {
    // A secant in the total: three steps of it are as good as the shims are thick.
    ShimLoad load = plan_load();
    const RowState at{state.charge, state.temperature_c, state.capacity_loss, state.settled,
                      state.stiff_pads};
    double low = -10;
    double high = 10;
    for (int i = 0; i < 40; ++i) {
      const double middle = 0.5 * (low + high);
      ShimLoad changed = load;
      changed.thickness_mm += middle;
      const double p = study_.model().solve(at, changed).face_pressure_mpa;
      (p >= pressure_mpa ? high : low) = middle;
    }
    return 0.5 * (low + high);
  }

  [[nodiscard]] ShimLoad plan_load() const {
    std::vector<int> used;
    for (const KitUse& use : answer_.plan.kit) {
      used.push_back(use.used);
    }
    return study_.load_of(used);
  }

  void about_pressures() {
    const BandResult& band = answer_.band;
    const StateResult& low = answer_.plan.lowest;
    const StateResult& high = answer_.plan.highest;
    const double judged = 1 + band.model_margin;
    // Where no total serves both ends, more or less of shims is no advice.
    const bool in_reach = answer_.failure.rule != FailedRule::pressure_out_of_reach;
    if (low.standing == Standing::loose) {
      warn({WarningCode::loose, "", low.charge, low.loose_by_mm, band.low_mpa,
            shim_to_reach(low, band.low_mpa)});
    } else if (low.face_pressure_mpa < band.low_mpa && in_reach) {
      warn({WarningCode::below_band, "", low.charge, band.low_mpa - low.face_pressure_mpa,
            band.low_mpa, shim_to_reach(low, band.low_mpa)});
    }
    if (band.limit_mpa && judged * high.highest_local_mpa > *band.limit_mpa) {
      warn({WarningCode::above_limit, "", high.charge,
            judged * high.highest_local_mpa - *band.limit_mpa, *band.limit_mpa,
            -shim_to_reach(high, *band.limit_mpa / judged)});
    } else if (judged * high.face_pressure_mpa > band.high_mpa && in_reach) {
      warn({WarningCode::above_band, "", high.charge,
            judged * high.face_pressure_mpa - band.high_mpa, band.high_mpa,
            -shim_to_reach(high, band.high_mpa / judged)});
    }
  }

  /// Assumed walls are never shown without the rigid figures beside them.
  void about_walls() {
    for (Warning& warning : found_) {
      if (warning.code == WarningCode::walls_assumed && answer_.rigid) {
        warning.limit = answer_.rigid->lowest.face_pressure_mpa;
        warning.next_step = answer_.rigid->highest.face_pressure_mpa;
      }
    }
  }

  void about_build() {
    const BandResult& band = answer_.band;
    const StateResult& built = answer_.plan.as_built;
    const double p = built.face_pressure_mpa;
    if (band.build_low_mpa &&
        (p < *band.build_low_mpa || p * (1 + band.model_margin) > *band.build_high_mpa)) {
      const bool low = p < *band.build_low_mpa;
      const double edge =
          low ? *band.build_low_mpa : *band.build_high_mpa / (1 + band.model_margin);
      warn({WarningCode::build_outside_assembly_range, "", built.charge, p,
            low ? *band.build_low_mpa : *band.build_high_mpa, shim_to_reach(built, edge)});
    } else if (band.build_target_mpa &&
               std::abs(p - *band.build_target_mpa) > near_target * *band.build_target_mpa) {
      warn({WarningCode::far_from_build_target, "", built.charge, p, *band.build_target_mpa,
            shim_to_reach(built, *band.build_target_mpa)});
    }
  }

  void about_swing() {
    const double breathing = study_.model().breathing_mm();
    const double takes = study_.model().band_takes_mm(plan_load());
    if (breathing <= takes) {
      return;
    }
    const bool from_tolerance =
        answer_.band.from_force == ForceWhen::always && !answer_.band.assumed;
    warn({from_tolerance ? WarningCode::tolerance_narrower_than_swing
                         : WarningCode::swing_exceeds_band,
          "", -1, breathing, takes, 0});
  }

  void about_laws() {
    const double highest = answer_.plan.highest.force_n;
    const double pressure = highest / row_.face_area_mm2;
    if (pressure > row_.cell_law->known_up_to_mpa()) {
      warn({WarningCode::outside_squeeze_law, "", answer_.plan.highest.charge, pressure,
            row_.cell_law->known_up_to_mpa(), 0});
    }
    for (const RowGap& gap : row_.gaps) {
      for (const RowPad& pad : gap.pads) {
        const double p = highest / pad.area_mm2;
        if (p <= pad.stiff_edge->known_up_to_mpa()) {
          continue;
        }
        warn({pad.relaxes ? WarningCode::pad_solid : WarningCode::rubber_outside_law, gap.name,
              answer_.plan.highest.charge, p, pad.stiff_edge->known_up_to_mpa(), 0});
      }
    }
    const double squeeze =
        study_.model().cell_squeeze_mm(highest) / static_cast<double>(row_.cells.size());
    const auto carried = std::count_if(row_.cells.begin(), row_.cells.end(), [&](const RowCell& c) {
      return c.dome_measured && c.dome_mm >= dome_that_counts_mm && c.free_mm - squeeze < c.edge_mm;
    });
    if (carried > 0) {
      warn({WarningCode::can_carries_load, "cells", answer_.plan.highest.charge,
            static_cast<double>(carried), squeeze, 0});
    }
  }

  void about_sheets() {
    for (const std::string& gap : answer_.plan.bare_metal) {
      warn({WarningCode::metal_left_bare, gap});
    }
    const StateResult& high = answer_.plan.highest;
    if (high.force_n > 0) {
      const double share = high.face_pressure_mpa / high.highest_local_mpa;
      if (share < even_share) {
        warn({WarningCode::uneven_coverage, "", -1, share, even_share, 0});
      }
    }
    if (!answer_.plan.proven_best) {
      warn({WarningCode::search_not_exhaustive, "kit"});
    }
  }

  const Study& study_;
  const Row& row_;
  const Answer& answer_;
  std::vector<Warning> found_;
};

}  // namespace

std::vector<Warning> gather_warnings(const Study& study, const Answer& answer) {
  return Gatherer(study, answer).gather();
}

}  // namespace stackfit
