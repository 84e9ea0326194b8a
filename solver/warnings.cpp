// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/warnings.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "solver/plan_result.hpp"

namespace stackfit {
namespace {

/// A dome measured at least this high counts for the can's share of the load [mm].
constexpr double dome_that_counts_mm = 0.1;
/// The part of the force that the cans' rims may carry before it is worth a word.
constexpr double rim_that_counts = 0.05;
/// Surface stress is held to yield over this.
constexpr double yield_safety = 1.5;
/// Above this share of its span a plate is no longer thin: shear adds to the bow.
constexpr double thick_share = 0.03;
/// Highest local pressure over the mean from which the mean says little.
constexpr double uneven_peak = 2;
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
      about_frame();
      about_terminals();
      about_pressures();
      about_build();
      about_swing();
      about_laws();
      about_sheets();
      about_evenness();
    }
    if (answer_.floor == Floor::bare) {
      warn({WarningCode::metal_left_bare, "floor"});
    }
    const bool several_rows = study_.build().rows.value_or(1) > 1;  // never proven: answer_rows.hpp
    if (!several_rows && !answer_.plan.proven_best && answer_.question == Question::pick &&
        answer_.has_plan) {
      const MarginProof proof = answer_.plan.margin_proof.value_or(MarginProof{});
      warn({WarningCode::search_not_exhaustive, "kit", -1, proof.best_found, proof.bound});
    }
    if (answer_.floor == Floor::not_said && !answer_.clamp_frame) {
      warn({WarningCode::floor_not_said, "box.floor"});
    }
    std::stable_sort(found_.begin(), found_.end(),
                     [](const Warning& a, const Warning& b) { return a.code < b.code; });
    return std::move(found_);
  }

 private:
  /// Sign of a next step in shims.
  static constexpr double add = 1;
  static constexpr double take_out = -1;

  void warn(Warning warning) { found_.push_back(std::move(warning)); }

  void about_cells() {
    int silent = 0;
    for (const CellResult& cell : answer_.cells) {
      if (cell.shows_sign) {
        warn({WarningCode::signs_seen, cell.id});
      }
      if (cell.refused && cell.beyond_watch) {
        const bool known = cell.swelling_mm > row_.set_aside_mm;
        warn({WarningCode::swollen_cell, cell.id, -1, cell.swelling_mm,
              known ? row_.set_aside_mm : row_.watch_mm, known ? 0.0 : 1.0});
      } else if (cell.beyond_watch) {
        about_watched(cell);
      } else if (cell.swelling_mm > near_watch * row_.watch_mm) {
        warn({WarningCode::swelling_near_watch, cell.id, -1, cell.swelling_mm, row_.watch_mm, 0});
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

  /// A swollen cell that may be used: how much of it touches at most, and how hard.
  void about_watched(const CellResult& cell) {
    if (!answer_.has_plan) {
      return;
    }
    const PlanResult& plan = answer_.plan;
    const WarningCode code =
        plan.spares_swollen ? WarningCode::swollen_watched : WarningCode::swollen_pressed_flat;
    warn({code, cell.id, plan.highest.charge, plan.swollen_contact, row_.swollen_contact,
          plan.highest.highest_local_mpa});
  }

  /// Millimetres of shim from a state to a face pressure; positive: add. No more is taken out than
  /// the plan holds.
  [[nodiscard]] double shim_to_reach(const StateResult& state, double pressure_mpa) const {
    const ShimLoad load = plan_load();
    const RowState at{state.charge, state.temperature_c, state.capacity_loss, state.settled,
                      state.stiff_pads};
    double low = -load.thickness_mm;
    double high = row_.box.tie_length_mm;
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

  /// The frame's force [N] at which a state sees a pressure; 0 where none in the band gives it.
  [[nodiscard]] double frame_force_to_reach(const StateResult& state, double pressure_mpa) const {
    const RowState at{state.charge, state.temperature_c, state.capacity_loss, state.settled,
                      state.stiff_pads};
    const ShimLoad load = plan_load();
    const auto reached = [&](double force_n) {
      Build changed = study_.build();
      changed.frame->force_n = force_n;
      try {
        const Study other(changed, study_.assumptions(), study_.store(), study_.place());
        return other.model().solve(at, load).face_pressure_mpa >= pressure_mpa;
      } catch (const UnusableBuild&) {
        return true;  // beyond what the springs reach: from there on no force is offered
      }
    };
    double low = 0;
    double high =
        row_.band.high_mpa * row_.face_area_mm2 * std::max(1, study_.build().rows.value_or(1));
    if (!reached(high)) {
      return 0;
    }
    constexpr int halvings = 12;
    for (int i = 0; i < halvings; ++i) {
      const double middle = 0.5 * (low + high);
      (reached(middle) ? high : low) = middle;
    }
    return high;
  }

  /// What mends a state's pressure: shims, in a clamp frame its force.
  void warn_to_reach(Warning warning, const StateResult& state, double pressure_mpa) {
    if (answer_.plan.frame) {
      warning.where = "frame";
      warning.next_step = frame_force_to_reach(state, pressure_mpa);
    } else {
      warning.next_step = warning.next_step * shim_to_reach(state, pressure_mpa);
    }
    warn(std::move(warning));
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
      warn_to_reach({WarningCode::loose, "", low.charge, low.loose_by_mm, band.low_mpa, add}, low,
                    band.low_mpa);
    } else if (low.face_pressure_mpa < band.low_mpa && in_reach) {
      warn_to_reach({WarningCode::below_band, "", low.charge, band.low_mpa - low.face_pressure_mpa,
                     band.low_mpa, add},
                    low, band.low_mpa);
    }
    // The limit binds where a sheet presses least of the face.
    const double share = high.force_n > 0 ? high.face_pressure_mpa / high.highest_local_mpa : 1;
    if (band.limit_mpa && band.judged(high.highest_local_mpa) > *band.limit_mpa) {
      warn_to_reach(
          {WarningCode::above_limit, "", high.charge,
           band.judged(high.highest_local_mpa) - *band.limit_mpa, *band.limit_mpa, take_out},
          high, band.most_for(*band.limit_mpa) * share);
    } else if (band.judged(high.face_pressure_mpa) > band.high_mpa && in_reach) {
      warn_to_reach({WarningCode::above_band, "", high.charge,
                     band.judged(high.face_pressure_mpa) - band.high_mpa, band.high_mpa, take_out},
                    high, band.most_for(band.high_mpa));
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
      warn_to_reach({WarningCode::build_outside_assembly_range, "", built.charge, p,
                     low ? *band.build_low_mpa : *band.build_high_mpa, add},
                    built, edge);
    } else if (band.build_target_mpa && !band.target_assumed &&
               std::abs(p - *band.build_target_mpa) > near_target * *band.build_target_mpa) {
      warn_to_reach(
          {WarningCode::far_from_build_target, "", built.charge, p, *band.build_target_mpa, add},
          built, *band.build_target_mpa);
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
    for (const WallResult& wall : answer_.plan.walls) {
      if (wall.by_measured_bow) {
        continue;
      }
      const std::string where = wall.both ? "end walls" : wall.last ? "last wall" : "first wall";
      const double times = std::max(about_wall_bow(wall, where), about_wall_stress(wall, where));
      if (times > 1 && (wall.rib_stress_mpa || wall.second_plate_mm)) {
        warn({WarningCode::stiffening_grows_too, where, -1, 0, 0, times});
      }
      if (wall.large_bow && wall.rib_stress_mpa) {
        warn({WarningCode::ribs_by_themselves, where, -1, wall.bow_mm, wall.thickness_mm, 0});
      }
      if (wall.rib_stress_mpa && wall.rib_yield_mpa > 0 &&
          *wall.rib_stress_mpa > wall.rib_yield_mpa / yield_safety) {
        // As for the wall, where all of it grows alike.
        warn({WarningCode::rib_stress, where, -1, *wall.rib_stress_mpa,
              wall.rib_yield_mpa / yield_safety,
              std::sqrt(*wall.rib_stress_mpa * yield_safety / wall.rib_yield_mpa)});
      }
      if (wall.thickness_mm > thick_share * wall.span_mm) {
        warn({WarningCode::wall_is_thick, where, -1, wall.thickness_mm, wall.span_mm, 0});
      }
    }
  }

  /// Both return how many times as thick the wall would have to be; 1 where it is enough.
  double about_wall_bow(const WallResult& wall, const std::string& where) {
    if (wall.bow_mm <= linear_bow_share * wall.thickness_mm) {
      return 1;
    }
    // What bows half of itself. The bow of a plate goes with the cube of its thickness; of one
    // that stretches by less: then twice the power, on the safe side.
    const double power = wall.large_bow ? 0.5 : 0.25;
    const double times = std::pow(wall.bow_mm / (linear_bow_share * wall.thickness_mm), power);
    const double enough = times * wall.thickness_mm;
    warn({WarningCode::walls_bow_far, where, -1, wall.bow_mm, wall.thickness_mm, enough});
    if (wall.large_bow && study_.row().box.lid_holds) {
      warn({WarningCode::lid_left_out, where, -1, wall.bow_mm, wall.thickness_mm, enough});
    }
    return times;
  }

  double about_wall_stress(const WallResult& wall, const std::string& where) {
    if (wall.yield_mpa <= 0 || wall.stress_mpa <= wall.yield_mpa / yield_safety) {
      return 1;
    }
    // Stress goes with the square of the thickness.
    const double times = std::sqrt(wall.stress_mpa * yield_safety / wall.yield_mpa);
    const double thickness =
        wall.stress_in_second_plate ? *wall.second_plate_mm : wall.thickness_mm;
    warn({WarningCode::wall_stress, where, -1, wall.stress_mpa, wall.yield_mpa / yield_safety,
          times * thickness});
    return times;
  }

  void about_frame() {
    if (!answer_.plan.frame) {
      return;
    }
    const FrameResult& frame = *answer_.plan.frame;
    for (const RodsInState& state : {frame.as_built, frame.lowest, frame.highest}) {
      if (state.beyond_travel) {
        warn({WarningCode::springs_solid, "", state.charge, state.spring_length_mm, 0, 0});
        break;
      }
    }
    const RodsInState& most =
        frame.highest.rod_force_n > frame.as_built.rod_force_n ? frame.highest : frame.as_built;
    if (most.proof_share > 1) {
      warn({WarningCode::rod_overloaded, "", most.charge, most.rod_force_n, frame.proof_load_n, 0});
    }
    if (frame.lowest.loose_by_mm > 0) {
      warn({WarningCode::rods_slack, "", frame.lowest.charge, frame.lowest.loose_by_mm, 0, 0});
    }
  }

  /// Where the pressure on the face varies so much that its mean says little.
  void about_evenness() {
    for (const StateResult* state : {&answer_.plan.highest, &answer_.plan.lowest}) {
      if (!(state->force_n > 0)) {
        continue;
      }
      const double peak = state->highest_local_mpa / state->face_pressure_mpa;
      if (peak > uneven_peak || state->contact_share < row_.even_share) {
        warn({WarningCode::uneven_pressure, "", state->charge, peak, state->contact_share,
              state->highest_local_mpa});
        return;
      }
    }
  }

  void about_terminals() {
    const auto& terminals = study_.build().cell.terminals;
    if (answer_.order && answer_.order->groups_change) {
      warn({WarningCode::cells_change_groups, "cells", -1,
            static_cast<double>(answer_.order->moved), 0, 0});
    }
    about_bars();
    const bool play_known = answer_.plan.terminals && answer_.plan.terminals->go_on;
    if (!play_known && terminals && terminals->spacing_mm &&
        answer_.plan.terminal_deviation_mm > bus_bar_slack_mm) {
      warn({WarningCode::terminals_do_not_meet, "cell.terminals", -1,
            answer_.plan.terminal_deviation_mm, *terminals->spacing_mm, 0});
    }
  }

  /// Bars that do not go on, and bars that the swing would pull at.
  void about_bars() {
    if (!answer_.plan.terminals) {
      return;
    }
    const TerminalUse& use = *answer_.plan.terminals;
    if (use.go_on && !*use.go_on) {
      warn({WarningCode::bar_does_not_go_on, pair_name(use.worst_pair), -1,
            answer_.plan.terminal_deviation_mm, *use.play_mm, use.slot_mm.value_or(0)});
    }
    if (!use.flexible_due.empty() && !use.flexible_said) {
      warn({WarningCode::bar_must_flex, pair_name(use.moving_pair), -1, use.movement_mm,
            study_.assumptions()[Assumed::rigid_bar_movement],
            static_cast<double>(use.flexible_due.size())});
    }
  }

  [[nodiscard]] std::string pair_name(int first) const {
    return row_.gaps[static_cast<std::size_t>(first)].name;
  }

  void about_laws() {
    const double highest = answer_.plan.highest.force_n;
    const double pressure = highest / row_.face_area_mm2;
    if (pressure > row_.cell_law->known_up_to_mpa()) {
      warn({WarningCode::outside_squeeze_law, "", answer_.plan.highest.charge, pressure,
            row_.cell_law->known_up_to_mpa(), 0});
    }
    about_pads();
    about_rims();
  }

  /// Load that the cans carry past the electrode stacks.
  void about_rims() {
    const double highest = answer_.plan.highest.force_n;
    if (answer_.plan.rim_share) {
      if (*answer_.plan.rim_share > rim_that_counts) {
        const StateResult& most =
            highest < answer_.plan.as_built.force_n ? answer_.plan.as_built : answer_.plan.highest;
        warn({WarningCode::can_carries_load, "rims", most.charge, *answer_.plan.rim_share,
              rim_that_counts, 0});
      }
      return;
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
    const double share = answer_.plan.sheets_cover_share;
    if (share < row_.even_share) {
      warn({WarningCode::uneven_coverage, "", -1, share, row_.even_share, 0});
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
