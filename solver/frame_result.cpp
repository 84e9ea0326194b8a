// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/frame_result.hpp"

#include <algorithm>

#include "solver/tie.hpp"

namespace stackfit {
namespace {

RodsInState rods_in(const RowModel& model, const TieLaw& tie, const StateResult& state,
                    const ShimLoad& load) {
  RodsInState out;
  out.charge = state.charge;
  const auto full = model.columns_at(
      {state.charge, state.temperature_c, state.capacity_loss, state.settled, state.stiff_pads},
      load);
  const double extension = full ? full->now.extension_mm - full->built.extension_mm : 0;
  const std::optional<RodState> rod = tie.rod_state_at(extension);
  if (!rod) {
    return out;
  }
  out.rod_force_n = rod->rod_force_n;
  out.proof_share = rod->proof_share;
  out.spring_length_mm = rod->spring_length_mm;
  out.beyond_travel = rod->beyond_travel;
  out.beyond_recommended = rod->beyond_recommended;
  out.loose_by_mm = rod->loose_by_mm;
  return out;
}

}  // namespace

std::optional<FrameResult> frame_result(const Study& study, const ShimLoad& load,
                                        const PlanResult& plan) {
  const Row& row = study.row();
  if (!row.box.rods) {
    return std::nullopt;
  }
  const RodSet& rods = *row.box.rods;
  const TieLaw tie = TieLaw::rods(rods);
  const RowModel& model = study.model();
  FrameResult out;
  out.rods = rods.count;
  out.force_n = rods.force_n;
  out.thread_mm = rods.rod.thread.diameter_mm;
  out.proof_load_n = proof_load_n(rods.rod.thread, rods.rod.proof_stress_mpa);
  // From snug to the force the plates close by what the row and the plates give.
  const auto built = model.columns_at(model.build_state(), load);
  const double extension = built ? built->now.extension_mm : 0;
  out.closure_mm = std::max(0.0, model.greatest_longer_mm(model.build_state(), load) - extension);
  out.turns_past_snug = nut_travel(rods, out.closure_mm).turns;
  double plates = 0;
  for (const auto& wall : {row.box.walls.first, row.box.walls.last}) {
    plates += wall ? wall->section.thickness_mm : 0;
  }
  // At the rods' seats: the plates bow between them, and the seats come nearer than the faces.
  out.overall_length_mm = model.free_row_mm(load) + extension + plates;
  out.has_springs = rods.springs.has_value();
  if (rods.springs) {
    out.spring_free_length_mm = rods.springs->free_length_mm();
  }
  out.as_built = rods_in(model, tie, plan.as_built, load);
  out.lowest = rods_in(model, tie, plan.lowest, load);
  out.highest = rods_in(model, tie, plan.highest, load);
  const double each = rods.force_n / rods.count;
  const NutFactor factor{study.assumptions()[Assumed::nut_factor],
                         study.assumptions().fraction(Assumed::nut_factor_scatter)};
  const auto& drag = study.build().frame->rods.prevailing_torque_nmm;
  const bool bears = each <= out.proof_load_n;
  if (bears && torque_tells({rods.rod.thread, rods.rod.proof_stress_mpa, each, factor, drag})) {
    out.torque_nmm = torque_span_n_mm(rods.rod.thread, factor, each);
  }
  return out;
}

}  // namespace stackfit
