// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/chance_model.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "solver/chance_model_parts.hpp"
#include "solver/monte_carlo.hpp"
#include "solver/vector_loops.hpp"
#include "solver/vector_math.hpp"

namespace stackfit {

bool ChanceModel::can_draw(const Study& study) {
  return !study.row().rim.has_value();
}

ChanceModel::~ChanceModel() = default;

ChanceModel::ChanceModel(const Study& study, const ShimLoad& load,
                         const std::function<bool(ChanceInput)>& drawn, int threads)
    : study_(study), load_(load), inputs_(chance_inputs(study)), cells_(study.row()) {
  if (drawn) {
    inputs_.keep(drawn);
  }
  all_ = inputs_.all();
  studies_ = std::make_unique<ShapeStudies>(study_, inputs_, load_, threads);
  frame_ = study_.row().box.rods.has_value();
  if (frame_) {
    const RowModel& model = study_.model();
    built_in_frame_mpa_ = model.solve(model.build_state(), load_).face_pressure_mpa;
  }
  const ShiftInputs& s = inputs_.shift;
  double most_off = 0;
  if (s.measured_charge) {
    const Drawn& charge = *s.measured_charge;
    constexpr double deviations = 5;
    most_off = charge.spread == Spread::uniform ? charge.bounds.high : deviations * charge.width;
  }
  shifts_ = std::make_unique<Shifts>(
      Shifts{ChanceShifts(study_, load_, s.measured_temperature.has_value(), most_off)});
  int next = 0;
  const auto number = [&next](const std::optional<Drawn>& input) { return input ? next++ : -1; };
  // In the order of ChanceInputs::all().
  shifts_->calipers_common = number(s.calipers_common);
  shifts_->calipers_each = number(s.calipers_each);
  shifts_->lot_thickness = number(s.lot_thickness);
  shifts_->measured_charge = number(s.measured_charge);
  shifts_->measured_temperature = number(s.measured_temperature);
  shifts_->box_length = number(s.box_length);
  shifts_->shim_thickness = number(s.shim_thickness);
  shifts_->fixed_sheets = number(s.fixed_sheets);
  shifts_->swing_net = number(s.swing_net);
  shifts_->swing_hump = number(s.swing_hump);
  shifts_->growth = number(s.growth);
  shifts_->growth_under_load = number(s.growth_under_load);
  shifts_->expansion = number(s.expansion);
  shifts_->friction = number(s.friction);
  shifts_->friction_slip_film = number(s.friction_slip_film);
  shifts_->model_margin = number(s.model_margin);
  shifts_->softness = inputs_.softness ? next++ : -1;
  shifts_->first_shape = next;
  for (std::size_t i = 0; i < inputs_.shape.size(); ++i) {
    if (inputs_.shape[i].drawn.id == ChanceInput::frame_force) {
      shifts_->frame_force = static_cast<int>(i);
    }
  }
  make_bounds();
  make_curves();
}

STACKFIT_VECTOR_LOOPS void ChanceModel::take_inputs(std::span<const double> u, std::size_t samples,
                                                    Work& work) const {
  for (std::size_t input = 0; input < all_.size(); ++input) {
    const Drawn& drawn = *all_[input];
    const double* from = u.data() + input * samples;
    double* to = work.value.data() + input * samples;
    if (drawn.spread == Spread::uniform) {
      const double wide = drawn.bounds.high - drawn.bounds.low;
      for (std::size_t i = 0; i < samples; ++i) {
        to[i] = drawn.bounds.low + wide * from[i];
      }
      continue;
    }
    normal_quantiles({from, samples}, {to, samples});
    for (std::size_t i = 0; i < samples; ++i) {
      to[i] *= to[i] < 0 ? drawn.width : drawn.width_above;
    }
    if (drawn.spread == Spread::normal) {
      for (std::size_t i = 0; i < samples; ++i) {
        to[i] += drawn.centre;
      }
    } else if (static_cast<int>(input) != shifts_->softness) {  // its logarithm is what is wanted
      exp_all({to, samples}, {to, samples});
      for (std::size_t i = 0; i < samples; ++i) {
        to[i] *= drawn.centre;
      }
    }
  }
}

STACKFIT_VECTOR_LOOPS void ChanceModel::prepare(std::span<const double> u, std::size_t samples,
                                                Work& work) const {
  take_inputs(u, samples, work);
  const Shifts& s = *shifts_;
  const ShiftDraw nominal = s.at.nominal();
  std::size_t rooms = 0;
  const auto room = [&] { return work.shift.subspan(samples * rooms++, samples); };
  const auto drawn = [&](int input) {
    return std::span<const double>(work.value)
        .subspan(static_cast<std::size_t>(input) * samples, samples);
  };
  // A figure's draws, or the one value that it keeps.
  const auto draws = [&](int input, double kept) {
    if (input >= 0) {
      return drawn(input);
    }
    const std::span<double> same = room();
    std::ranges::fill(same, kept);
    return std::span<const double>(same);
  };
  const std::span<double> lengths = room();
  std::ranges::fill(lengths, 0.0);
  for (const int input : {s.calipers_common, s.calipers_each, s.lot_thickness, s.fixed_sheets}) {
    for (std::size_t i = 0; input >= 0 && i < samples; ++i) {
      lengths[i] += drawn(input)[i];
    }
  }
  for (std::size_t i = 0; s.box_length >= 0 && i < samples; ++i) {
    lengths[i] -= drawn(s.box_length)[i];
  }
  const std::span<double> growth = room();
  std::ranges::fill(growth, nominal.growth_per_loss);
  for (const int input : {s.growth, s.growth_under_load}) {
    for (std::size_t i = 0; input >= 0 && i < samples; ++i) {
      growth[i] *= drawn(input)[i];
    }
  }
  s.at.at_all({lengths, draws(s.measured_charge, 0), draws(s.swing_net, nominal.swing_net),
               draws(s.swing_hump, nominal.swing_hump), draws(s.expansion, nominal.expansion_per_k),
               draws(s.measured_temperature, nominal.reference_c), growth},
              {work.built, work.thinnest, work.thickest});
  take_shapes(samples, work);
}

/// What bends the curves, the margin and a hand's push.
STACKFIT_VECTOR_LOOPS void ChanceModel::take_shapes(std::size_t samples, Work& work) const {
  const Shifts& s = *shifts_;
  const auto figure = [&](int input, std::size_t i) {
    return work.value[static_cast<std::size_t>(input) * samples + i];
  };
  const double nominal_margin = study_.row().band.model_margin;
  for (std::size_t i = 0; i < samples; ++i) {
    const double more = 1 + (s.model_margin >= 0 ? figure(s.model_margin, i) : nominal_margin);
    work.over_more[i] = 1 / more;
    work.ln_more[i] = more;
    work.x[i] = s.softness >= 0 ? figure(s.softness, i) : 0;
  }
  ln_all(work.ln_more, work.ln_more);
  for (std::size_t shape = 0; shape < inputs_.shape.size(); ++shape) {
    const double* from =
        work.value.data() + (static_cast<std::size_t>(s.first_shape) + shape) * samples;
    double* to = work.x.data() + (1 + shape) * samples;
    const ShapeInput& input = inputs_.shape[shape];
    const double as_said = input.coordinate(input.nominal);
    for (std::size_t i = 0; i < samples; ++i) {
      to[i] = input.coordinate(from[i]) - as_said;
    }
  }
  const InsertionRules& rules = study_.insertion();
  if (by_hand()) {
    const double area = study_.row().face_area_mm2;
    const auto factor = [&](double friction, std::size_t i) {
      const int input = friction == rules.friction_film ? s.friction_slip_film : s.friction;
      return friction * (input >= 0 ? figure(input, i) : 1);
    };
    for (std::size_t i = 0; i < samples; ++i) {
      work.push[i] = (rules.push_limit_n + rules.weight_n) /
                     (factor(rules.friction, i) + factor(rules.friction_other, i)) / area;
    }
    ln_all(work.push, work.ln_push);
  }
}

/// As built a frame is brought to its force.
void ChanceModel::judge_frame(std::size_t samples, const Work& work, std::span<double> out) const {
  const Row& build = study_.row();
  const double pulled = built_in_frame_mpa_;
  const double top = build.band.build_high_mpa.value_or(build.band.high_mpa);
  const double bottom = build.band.build_low_mpa.value_or(0);
  for (std::size_t i = 0; i < samples; ++i) {
    const double now = pulled * frame_factor(work, samples, i);
    if (now * std::exp(work.ln_more[i]) > top) {
      out[static_cast<std::size_t>(WindowRow::tightest) * samples + i] = -never_met;
    }
    if (now < bottom) {
      out[static_cast<std::size_t>(WindowRow::loosest) * samples + i] = never_met;
    }
  }
}

void ChanceModel::windows(std::span<const double> u, std::size_t samples,
                          std::span<double> out) const {
  Work work(samples, all_.size(), inputs_.shape.size(), leaders_);
  prepare(u, samples, work);
  find_spans(samples, work);
  const auto row = [&](WindowRow which) {
    return out.subspan(static_cast<std::size_t>(which) * samples, samples);
  };
  std::ranges::fill(row(WindowRow::loosest), -never_met);
  std::ranges::fill(row(WindowRow::tightest), never_met);
  std::ranges::fill(row(WindowRow::at_limit), never_met);
  std::ranges::fill(row(WindowRow::got_in), never_met);
  for (const Bound& bound : bounds_) {
    apply(bound, samples, work, out);
  }
  if (frame_) {
    judge_frame(samples, work, out);
  }
  const int share = shifts_->shim_thickness;
  for (std::size_t i = 0; i < samples; ++i) {
    row(WindowRow::shim_share)[i] =
        share >= 0 ? work.value[static_cast<std::size_t>(share) * samples + i] : 0;
  }
}

}  // namespace stackfit
