// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/what_if.hpp"

#include <algorithm>
#include <cmath>

#include "solver/band.hpp"
#include "solver/plan_result.hpp"
#include "solver/share_jobs.hpp"

namespace stackfit {
namespace {

/// Sizes of the changes that are shown.
constexpr double shorter_mm = 0.5;
constexpr double hotter_k = 10;
constexpr double capacity_lost = 0.02;

/// The plan's sheets in a changed build.
PlanPressures pressures_in(const Study& study, const Build& build, const Assumptions& assumptions,
                           const ShimPlan& plan) {
  const Study changed(build, assumptions, study.store(), study.place());
  return changed.model().evaluate(changed.load_of(plan.used));
}

class WhatIf {
 public:
  WhatIf(const Study& study, const ShimPlan& plan, Answer& answer)
      : study_(study), plan_(plan), answer_(answer) {}

  void add_all() {
    if (study_.row().law_assumed) {
      add_softness();
    }
    add_edges_thinner();
    if (study_.row().box.assumed) {
      add_rigid();
    }
    add_full_charge();
    if (!study_.build().frame) {
      add_shorter_box();
    }
    if (study_.row().law_assumed) {
      add_stiffer();
    }
    add_misread_charge();
    add_hotter();
    add_aged();
  }

 private:
  [[nodiscard]] static Bracket bracket(const PlanPressures& p, double a_mpa) {
    return {a_mpa, p.lowest.face_pressure_mpa, p.highest.face_pressure_mpa,
            std::all_of(p.states.begin(), p.states.end(),
                        [](const StateResult& s) { return s.standing == Standing::inside; })};
  }

  void add_softness() {
    const Assumption& a = assumption(Assumed::squeeze_a);
    const auto at = [&](double value) {
      return bracket(pressures_in(study_, study_.build(),
                                  study_.assumptions().with(Assumed::squeeze_a, value), plan_),
                     value);
    };
    answer_.soft = at(a.low);
    answer_.stiff = at(a.high);
  }

  /// Cells known by boards or middle only may be domed: the same with thinner edges, the dome
  /// within its slack.
  void add_edges_thinner() {
    Build changed = study_.build();
    const double thinner =
        study_.assumptions().fraction(Assumed::dome_when_not_measured) * study_.row().nominal_mm;
    bool any = false;
    for (std::size_t i = 0; i < changed.cells.size(); ++i) {
      CellReading& cell = changed.cells[i];
      const bool edge_known = study_.row().cells[i].edge_measured;
      if (edge_known || cell.pressed || !(cell.boards_mm || cell.middle_mm)) {
        continue;
      }
      cell.edge_mm = (cell.boards_mm ? *cell.boards_mm : *cell.middle_mm) - thinner;
      any = true;
    }
    if (!any) {
      return;
    }
    answer_.edges_thinner = bracket(pressures_in(study_, changed, study_.assumptions(), plan_),
                                    study_.row().squeeze_a_mpa);
  }

  void add_rigid() {
    Build changed = study_.build();
    changed.box.end_walls = RigidWall{};
    const Study rigid(changed, study_.assumptions(), study_.store(), study_.place());
    answer_.rigid = describe_plan(rigid, plan_);
    add_move(MoveCode::rigid_walls, 0, answer_.rigid->highest);
  }

  void add_move(MoveCode code, double by, const StateResult& after) {
    Move move;
    move.code = code;
    move.by = by;
    move.face_pressure_mpa = after.face_pressure_mpa;
    move.change_mpa = after.face_pressure_mpa - answer_.plan.highest.face_pressure_mpa;
    move.standing = after.standing;
    answer_.moves.push_back(move);
  }

  /// The same sheets in a changed build.
  void add_changed(MoveCode code, double by, const Build& changed) {
    add_move(code, by, pressures_in(study_, changed, study_.assumptions(), plan_).highest);
  }

  void add_full_charge() {
    if (study_.row().use_charge.high >= 1) {
      return;
    }
    Build changed = study_.build();
    changed.use.charge = Span{study_.row().use_charge.low, 1};
    add_changed(MoveCode::full_charge, 1, changed);
  }

  void add_shorter_box() {
    Build changed = study_.build();
    for (double& length : changed.box.inner_length_mm) {
      length -= shorter_mm;
    }
    add_changed(MoveCode::box_shorter, shorter_mm, changed);
  }

  void add_stiffer() {
    const Assumption& a = assumption(Assumed::squeeze_a);
    const Assumptions changed = study_.assumptions().with(Assumed::squeeze_a, a.high);
    add_move(MoveCode::cells_stiffer, a.high / a.value,
             pressures_in(study_, study_.build(), changed, plan_).highest);
  }

  void add_hotter() {
    Build changed = study_.build();
    const Span now = study_.row().use_temperature_c;
    changed.use.temperature_c = Span{now.low, now.high + hotter_k};
    add_changed(MoveCode::hotter, hotter_k, changed);
  }

  void add_aged() {
    Build changed = study_.build();
    const Span now = study_.row().use_capacity_loss;
    changed.use.capacity_loss = Span{now.low, now.high + capacity_lost};
    add_changed(MoveCode::capacity_loss, capacity_lost, changed);
  }

  /// The charge when measured was off by its doubt, the way that presses more.
  void add_misread_charge() {
    const double doubt = study_.assumptions()[Assumed::charge_doubt];
    StateResult worst;
    double by = 0;
    for (const double off : {-doubt, doubt}) {
      Build changed = study_.build();
      changed.measured_charge.reset();
      changed.build.charge = study_.row().build_charge;  // what the meter shows when building stays
      for (std::size_t i = 0; i < changed.cells.size(); ++i) {
        const double charge = study_.row().cells[i].measured_charge + off;
        changed.cells[i].charge = std::clamp(charge, 0.0, 1.0);
      }
      const StateResult highest =
          pressures_in(study_, changed, study_.assumptions(), plan_).highest;
      if (by == 0 || highest.face_pressure_mpa > worst.face_pressure_mpa) {
        worst = highest;
        by = off;
      }
    }
    add_move(MoveCode::charge_misread, by, worst);
  }

  const Study& study_;
  const ShimPlan& plan_;
  Answer& answer_;
};

}  // namespace

void add_what_ifs(const Study& study, const ShimPlan& plan, Answer& answer) {
  WhatIf(study, plan, answer).add_all();
}

std::vector<AssumedUse> worth_of_assumptions(const Study& study, const ShimPlan& plan,
                                             int threads) {
  const double now = study.model().evaluate(study.load_of(plan.used)).highest.face_pressure_mpa;
  std::vector<AssumedUse> uses;
  for (const Assumed id : study.findings().assumed) {
    uses.push_back({id, study.assumptions()[id], 0, 0});
  }
  share_jobs(2 * uses.size(), threads, [&](std::size_t job) {
    AssumedUse& use = uses[job / 2];
    const Assumption& entry = assumption(use.id);
    const bool low = job % 2 == 0;
    const double value = low ? entry.low : entry.high;
    if (value == use.value) {
      return;
    }
    const Assumptions changed = study.assumptions().with(use.id, value);
    (low ? use.worth_low_mpa : use.worth_high_mpa) =
        pressures_in(study, study.build(), changed, plan).highest.face_pressure_mpa - now;
  });
  return uses;
}

}  // namespace stackfit
