// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/warnings.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "solver/plan_result.hpp"

namespace stackfit {
namespace {

/// A dome measured at least this high counts for the can's share of the load [mm].
constexpr double dome_that_counts_mm = 0.1;
/// Thin-plate theory is linear while a wall bows less than this share of its thickness.
constexpr double linear_share = 0.5;
/// A bus bar's holes take up this much (common practice) [mm].
constexpr double bus_bar_slack_mm = 0.5;
/// Swelling from this share of the watch figure on is worth a word.
constexpr double near_watch = 0.5;
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
      about_walls_bow();
      about_terminals();
      about_pressures();
      about_build();
      about_swing();
      about_laws();
      about_sheets();
    }
    if (answer_.floor == Floor::bare) {
      warn({WarningCode::metal_left_bare, "floor"});
    }
    if (!answer_.plan.proven_best && answer_.question == Question::pick && answer_.has_plan) {
      warn({WarningCode::search_not_exhaustive, "kit"});
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
    for (const CellResult& cell : answer_.cells) {
      if (cell.shows_sign) {
        warn({WarningCode::signs_seen, cell.id});
      }
      if (cell.beyond_watch) {
        warn({WarningCode::swollen_cell, cell.id, -1, cell.swelling_mm, watch_mm(study_), 0});
      }
      if (!cell.beyond_watch && cell.swelling_mm > near_watch * watch_mm(study_)) {
        warn(
            {WarningCode::swelling_near_watch, cell.id, -1, cell.swelling_mm, watch_mm(study_), 0});
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

  /// Millimetres of shim from a state to a face pressure; positive: add. No more is taken out than
  /// the plan holds.
  [[nodiscard]] double shim_to_reach(const StateResult& state, double pressure_mpa) const {
    const ShimLoad load = plan_load();
    const RowState at{state.charge, state.temperature_c, state.capacity_loss, state.settled,
                      state.stiff_pads};
    double low = -load.thickness_mm;
    double high = row_.box.inner_length_mm;
    constexpr int halvings = 50;
    for (int i = 0; i < halvings; ++i) {
      const double middle = 0.5 * (low + high);
      ShimLoad changed = load;
      changed.thickness_mm += middle;
      const double p = study_.model().solve(at, changed).face_pressure_mpa;
      (p >= pressure_mpa ? high : low) = middle;
    }
    return high;
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
    const StateResult& built = answer_.plan.as_built;
    const StateResult& high = built.face_pressure_mpa > answer_.plan.highest.face_pressure_mpa
                                  ? built
                                  : answer_.plan.highest;
    // Where no total serves both ends, more or less of shims is no advice.
    const bool in_reach = answer_.failure.rule != FailedRule::pressure_out_of_reach;
    if (low.standing == Standing::loose) {
      warn({WarningCode::loose, "", low.charge, low.loose_by_mm, band.low_mpa,
            shim_to_reach(low, band.low_mpa)});
    } else if (low.face_pressure_mpa < band.low_mpa && in_reach) {
      warn({WarningCode::below_band, "", low.charge, band.low_mpa - low.face_pressure_mpa,
            band.low_mpa, shim_to_reach(low, band.low_mpa)});
    }
    // The limit binds where a sheet presses least of the face.
    const double share = high.force_n > 0 ? high.face_pressure_mpa / high.highest_local_mpa : 1;
    if (band.limit_mpa && band.judged(high.highest_local_mpa) > *band.limit_mpa) {
      warn({WarningCode::above_limit, "", high.charge,
            band.judged(high.highest_local_mpa) - *band.limit_mpa, *band.limit_mpa,
            -shim_to_reach(high, band.most_for(*band.limit_mpa) * share)});
    } else if (band.judged(high.face_pressure_mpa) > band.high_mpa && in_reach) {
      warn({WarningCode::above_band, "", high.charge,
            band.judged(high.face_pressure_mpa) - band.high_mpa, band.high_mpa,
            -shim_to_reach(high, band.most_for(band.high_mpa))});
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
    if (band.build_low_mpa && (p < *band.build_low_mpa || band.judged(p) > *band.build_high_mpa)) {
      const bool low = p < *band.build_low_mpa;
      const double edge = low ? *band.build_low_mpa : band.most_for(*band.build_high_mpa);
      warn({WarningCode::build_outside_assembly_range, "", built.charge, p,
            low ? *band.build_low_mpa : *band.build_high_mpa, shim_to_reach(built, edge)});
    } else if (band.build_target_mpa && !band.target_assumed &&
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

  void about_walls_bow() {
    const double bow = study_.model().greatest_bow_mm(plan_load());
    if (row_.box.wall_mm > 0 && bow > linear_share * row_.box.wall_mm) {
      warn({WarningCode::walls_bow_far, "box.end_walls", -1, bow, row_.box.wall_mm, 0});
    }
  }

  void about_terminals() {
    const auto& terminals = study_.build().cell.terminals;
    if (terminals && terminals->spacing_mm &&
        answer_.plan.terminal_deviation_mm > bus_bar_slack_mm) {
      warn({WarningCode::terminals_do_not_meet, "cell.terminals", -1,
            answer_.plan.terminal_deviation_mm, *terminals->spacing_mm, 0});
    }
  }

  void about_laws() {
    const double highest = answer_.plan.highest.force_n;
    const double pressure = highest / row_.face_area_mm2;
    if (pressure > row_.cell_law->known_up_to_mpa()) {
      warn({WarningCode::outside_squeeze_law, "", answer_.plan.highest.charge, pressure,
            row_.cell_law->known_up_to_mpa(), 0});
    }
    about_pads();
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

  /// Each pad by its own law in its own state: a soft edge or a settled pad is solid first.
  void about_pads() {
    std::vector<StateResult> states = answer_.plan.states;
    states.push_back(answer_.plan.as_built);
    for (const RowGap& gap : row_.gaps) {
      for (const RowPad& pad : gap.pads) {
        const auto beyond = std::find_if(states.begin(), states.end(), [&](const StateResult& s) {
          return s.force_n / pad.area_mm2 > known_up_to(pad, s);
        });
        if (beyond != states.end()) {
          warn({pad.relaxes ? WarningCode::pad_solid : WarningCode::rubber_outside_law, gap.name,
                beyond->charge, beyond->force_n / pad.area_mm2, known_up_to(pad, *beyond), 0});
        }
      }
    }
  }

  [[nodiscard]] double known_up_to(const RowPad& pad, const StateResult& state) const {
    const LawPtr& law = state.stiff_pads ? pad.stiff_edge : pad.soft_edge;
    const double share = state.settled && pad.relaxes ? row_.foam_share : 1;
    return share * law->known_up_to_mpa();
  }

  void about_sheets() {
    for (const std::string& gap : answer_.plan.bare_metal) {
      warn({WarningCode::metal_left_bare, gap});
    }
    const StateResult& high = answer_.plan.highest;
    if (high.force_n > 0) {
      const double share = high.face_pressure_mpa / high.highest_local_mpa;
      if (share < row_.even_share) {
        warn({WarningCode::uneven_coverage, "", -1, share, row_.even_share, 0});
      }
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
