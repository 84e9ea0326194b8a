// SPDX-License-Identifier: GPL-3.0-or-later
//
// Why no plan passes.
#include "solver/insulation.hpp"
#include "solver/remedy.hpp"

namespace stackfit {
namespace {

double total_mm(const Study& study, const ShimPlan& plan) {
  double total = 0;
  for (std::size_t kind = 0; kind < plan.used.size(); ++kind) {
    total += plan.used[kind] * study.row().kit[kind].sheet.thickness_mm;
  }
  return total;
}

/// By hand only: whether the same kit would do with an end wall put on last.
bool only_the_hand_is_too_weak(const Study& study) {
  if (study.insertion().method != BuildMethod::hand) {
    return false;
  }
  Build other = study.build();
  other.build.method = BuildMethod::end_wall_last;
  other.box.opens = Opens::one_end_wall;
  return Study(other, study.assumptions()).can_pass();
}

/// Whether the band could be kept if a swollen cell might be pressed flat.
bool only_swelling_forbids(const Study& study) {
  if (!study.row().watched()) {
    return false;
  }
  constexpr double all_of_the_face = 1;
  const Study other(study.build(),
                    study.assumptions().with(Assumed::swollen_contact, all_of_the_face),
                    study.store(), study.place());
  return other.can_pass();
}

FailedRule failed_rule(const Study& study, const ShimPlan& plan, const Failure& failure) {
  if (failure.sheets_on_hand < failure.sheets_due) {
    return FailedRule::too_few_insulating_sheets;
  }
  if (!plan.found) {
    return FailedRule::total_not_in_kit;  // places or counts leave no way to insulate every gap
  }
  const ShimLoad load = study.load_of(plan.used);
  const RowModel::Judgement judged = study.model().judge(load);
  if (judged.passes) {
    const InsertionRules rules = with_plan(study.insertion(), study.row(), plan.counts);
    return method_holds(rules, study.model(), load) ? FailedRule::metal_left_bare
                                                    : FailedRule::build_method;
  }
  if (!judged.spares_swollen && only_swelling_forbids(study)) {
    return FailedRule::swollen_pressed_flat;
  }
  if (judged.not_below && judged.not_above && !judged.walls_hold) {
    return FailedRule::walls_bow_too_far;
  }
  if (judged.not_below && judged.not_above) {
    return judged.even ? FailedRule::swollen_pressed_flat : FailedRule::uneven_coverage;
  }
  if (study.build().frame) {
    return FailedRule::frame_force;
  }
  if (only_the_hand_is_too_weak(study)) {
    return FailedRule::build_method;
  }
  return failure.wanted_total_mm ? FailedRule::total_not_in_kit : FailedRule::pressure_out_of_reach;
}

}  // namespace

Failure explain_failure(const Study& study, const ShimPlan& plan) {
  Failure failure;
  failure.sheets_due = sheets_due(study.row());
  failure.sheets_on_hand = insulators_on_hand(study.row());
  failure.swing_mm = study.model().breathing_mm();
  failure.band_takes_mm = study.model().band_takes_mm(study.load_of(plan.used));
  const Span passing = study.passing_total_mm();
  if (plan.found) {
    failure.nearest_total_mm = total_mm(study, plan);
  }
  if (passing.low <= passing.high) {
    failure.wanted_total_mm = passing;
  }
  failure.rule = failed_rule(study, plan, failure);
  return failure;
}

}  // namespace stackfit
