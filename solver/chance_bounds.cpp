// SPDX-License-Identifier: GPL-3.0-or-later
//
// The conditions that a draw must keep, and the total of shims at which each is met.
#include <algorithm>
#include <array>
#include <cmath>

#include "solver/chance_model_parts.hpp"
#include "solver/vector_loops.hpp"

namespace stackfit {

namespace {

/// d interference / d interference as built, at a face pressure.
double slope_by_build(const Study& study, const RowModel::Kind& kind, const ShimLoad& load,
                      double pressure_mpa) {
  constexpr double step_mm = 0.2;
  const double force = pressure_mpa * study.row().face_area_mm2;
  ShimLoad more = load;
  more.thickness_mm += step_mm;
  ShimLoad less = load;
  less.thickness_mm -= step_mm;
  return (study.model().interference_for(kind, more, force) -
          study.model().interference_for(kind, less, force)) /
         (2 * step_mm);
}

}  // namespace

RowModel::Kind ChanceModel::built_kind() const {
  return {true, false, study_.model().build_state().stiff_pads};
}

SqueezeSurface::Interference ChanceModel::at_force(const RowModel::Kind& kind) const {
  const double area = study_.row().face_area_mm2;
  return [this, area, kind](const Study& study, double pressure_mpa) {
    return study.model().interference_for(kind, load_, pressure_mpa * area);
  };
}

double ChanceModel::slope(const RowModel::Kind& kind, double pressure_mpa) const {
  return kind.building ? 0 : slope_by_build(study_, kind, load_, pressure_mpa);
}

bool ChanceModel::by_hand() const {
  return study_.insertion().method == BuildMethod::hand && !frame_;
}

void ChanceModel::make_bounds() {
  const Row& row = study_.row();
  const BandResult& band = row.band;
  const double area = row.face_area_mm2;
  const RowModel& model = study_.model();
  const double low = std::max(band.low_mpa, least_pressure_mpa);
  const auto& margin = inputs_.shift.model_margin;
  const Span more = margin ? margin->bounds : Span{band.model_margin, band.model_margin};
  // What walls add is nearly straight over so small a span of pressures, what pads add is not.
  const bool pads = std::any_of(row.gaps.begin(), row.gaps.end(),
                                [](const RowGap& gap) { return !gap.pads.empty(); });
  const auto over_margin = [&](double top) {
    std::vector<double> levels{top / (1 + more.high), top / (1 + more.low)};
    if (pads) {
      levels.push_back(top / (1 + 0.5 * (more.low + more.high)));
    }
    return levels;
  };
  const double most_force = 3 * band.high_mpa * area;
  const RowModel::Kind built = built_kind();
  const RowModel::Kind built_soft{true, false, false};
  std::vector<RowModel::Kind> all = model.kinds();
  const auto of = [](const RowModel::Kind& kind) {
    return kind.building ? Bound::Of::built : Bound::Of::thickest;
  };
  const auto fixed = [&](const RowModel::Kind& kind, double level, Bound::Of which, WindowRow to) {
    return Bound{kind, {level}, Bound::Level::fixed, which, to, level, {}, slope(kind, level)};
  };
  const auto below = [&](const RowModel::Kind& kind, double top, WindowRow to) {
    return Bound{kind,
                 over_margin(top),
                 Bound::Level::over_margin,
                 of(kind),
                 to,
                 top,
                 {},
                 slope(kind, std::min(top, band.high_mpa))};
  };
  for (const RowModel::Kind& kind : all) {
    add_bound(fixed(kind, low, Bound::Of::thinnest, WindowRow::loosest), at_force(kind));
  }
  if (!frame_) {
    all.push_back(built);
  }
  for (const RowModel::Kind& kind : all) {
    const double top = kind.building ? band.build_high_mpa.value_or(band.high_mpa) : band.high_mpa;
    add_bound(below(kind, top, WindowRow::tightest), at_force(kind));
    if (band.limit_mpa) {
      add_bound(below(kind, *band.limit_mpa, WindowRow::at_limit),
                [this, kind, most_force](const Study& s, double level) {
                  return s.model().interference_for_local(kind, load_, level, most_force);
                });
    }
    if (row.watched()) {
      add_bound(fixed(kind, band.high_mpa, of(kind), WindowRow::at_limit),
                [this, kind, most_force, share = row.swollen_contact](const Study& s, double) {
                  return s.model().interference_for_contact(kind, load_, share, most_force);
                });
    }
  }
  if (band.build_low_mpa && !frame_) {
    add_bound(fixed(built_soft, std::max(*band.build_low_mpa, least_pressure_mpa), Bound::Of::built,
                    WindowRow::loosest),
              at_force(built_soft));
  }
  add_push();
  order_bounds();
}

void ChanceModel::make_curves() {
  const BandResult& band = study_.row().band;
  const RowModel& model = study_.model();
  // Whole curves: from next to nothing to beyond what any draw inside the band sees.
  std::vector<double> levels{least_pressure_mpa};
  constexpr int per_decade = 12;
  for (int i = -2 * per_decade; i <= per_decade / 2; ++i) {
    levels.push_back(band.high_mpa * std::pow(10.0, static_cast<double>(i) / per_decade));
  }
  std::vector<RowModel::Kind> kinds = model.kinds();
  kinds.insert(kinds.begin(), built_kind());
  for (const RowModel::Kind& kind : kinds) {
    curves_.push_back({kind, SqueezeSurface(*studies_, cells_, load_, levels, at_force(kind)),
                       slope(kind, band.high_mpa)});
  }
}

/// What a hand can do.
void ChanceModel::add_push() {
  if (!by_hand()) {
    return;
  }
  const double area = study_.row().face_area_mm2;
  // Levels over the span in which nearly all draws of the friction fall.
  constexpr std::array spans{0.25, 0.4, 0.55, 0.7, 0.85, 1.0, 1.2, 1.45, 1.8, 2.3, 3.0, 4.5};
  Bound push{built_kind(), {}, Bound::Level::push, Bound::Of::built, WindowRow::got_in, 0, {}, 0};
  for (const double span : spans) {
    push.levels_mpa.push_back(span * study_.insertion().build_force_cap_n() / area);
  }
  add_bound(std::move(push), at_force(built_kind()));
}

/// How the interference at a force moves with that as built: rows that follow another path once
/// they are built.
void ChanceModel::add_bound(Bound bound, const SqueezeSurface::Interference& interference) {
  bound.surface.emplace_back(*studies_, cells_, load_, bound.levels_mpa, interference);
  if (!bound.surface.back().reached()) {
    return;  // never met
  }
  bounds_.push_back(std::move(bound));
}

/// In the build as it stands: the bounds that leave the least window first. Of those that are met
/// at the same pressures the first one leads: what it does not beat for certain is looked up.
void ChanceModel::order_bounds() {
  const Shifted now = shifts_->at.at(shifts_->at.nominal());
  const auto met_at = [&](const Bound& bound) {
    const double pressure = bound.surface.front().levels_mpa().front();
    const double interference = cells_.at(std::log(pressure)) + bound.surface.front().nominal(0);
    const double stands = bound.of == Bound::Of::built      ? now.built_mm
                          : bound.of == Bound::Of::thinnest ? now.thinnest_mm
                                                            : now.thickest_mm;
    const double total =
        (interference + bound.per_built * now.built_mm - stands) / (1 - bound.per_built);
    return bound.row == WindowRow::loosest ? -total : total;
  };
  std::stable_sort(bounds_.begin(), bounds_.end(),
                   [&](const Bound& a, const Bound& b) { return met_at(a) < met_at(b); });
  if (frame_) {
    return;  // no totals to compare
  }
  for (std::size_t i = 0; i < bounds_.size(); ++i) {
    for (std::size_t first = 0; first < i && bounds_[i].led_by < 0; ++first) {
      Bound& leader = bounds_[first];
      if (leader.led_by < 0 && leader.alike(bounds_[i])) {
        leader.leads = leader.leads < 0 ? static_cast<int>(leaders_++) : leader.leads;
        bounds_[i].led_by = leader.leads;
        bounds_[i].leader = first;
      }
    }
  }
}

/// Between which ends the figures that bend the curves lie in this block.
void ChanceModel::find_spans(std::size_t samples, Work& work) const {
  work.spans.clear();
  for (std::size_t input = 0; leaders_ > 0 && input <= inputs_.shape.size(); ++input) {
    // Two ends of each kind: one alone would wait for itself.
    const double* x = work.x.data() + input * samples;
    Span even{x[0], x[0]};
    Span odd = even;
    for (std::size_t i = 0; i + 1 < samples; i += 2) {
      even = {std::min(even.low, x[i]), std::max(even.high, x[i])};
      odd = {std::min(odd.low, x[i + 1]), std::max(odd.high, x[i + 1])};
    }
    const double last = x[samples - 1];
    work.spans.push_back(
        {std::min({even.low, odd.low, last}), std::max({even.high, odd.high, last})});
  }
}

/// Whether its leader beats a bound in every draw of the block; `work.close` has the draws in which
/// it may not.
///
/// With y = (D - now + beta built) / (1 - beta) the thickness beyond the load at which each is met,
/// and the same squeeze of the cells in both, the difference of the two is that of
///     (R - R of the leader) - (now - now of the leader) + (beta - beta of the leader) (built + y)
/// over 1 - beta, y the leader's: all but the first term is known draw by draw, the first over the
/// block.
bool ChanceModel::beaten(const Bound& bound, std::size_t samples, Work& work) const {
  constexpr double clear_mm = 1e-9;  // far above rounding
  const Bound& leader = bounds_[bound.leader];
  const Span more = bound.surface.front().more_than(leader.surface.front(), work.spans);
  const bool least = bound.row == WindowRow::loosest;
  // Turned so that what is beaten lies above.
  const double sign = least ? -1 : 1;
  const double by = (least ? -more.high : more.low) - clear_mm;
  const double beta = sign * (bound.per_built - leader.per_built);
  const double* now = bound.now(work).data();
  const double* its = leader.now(work).data();
  const double* built = work.built.data();
  const double* met = work.leader.data() + static_cast<std::size_t>(bound.led_by) * samples;
  work.close.resize(samples);
  std::size_t close = 0;
  for (std::size_t i = 0; i < samples; ++i) {
    const double y = met[i] - load_.thickness_mm;
    work.close[close] = static_cast<std::uint32_t>(i);
    close += by + sign * (its[i] - now[i]) + beta * (built[i] + y) > 0 ? 0 : 1;
  }
  work.close.resize(close);
  return close == 0;
}

/// The total of shims at which a bound is met: now + t = interference + beta (built + t).
double ChanceModel::total(const Bound& bound, double interference, const Work& work,
                          std::size_t i) const {
  return total_of(interference, bound.per_built, work.built[i], bound.now(work)[i]);
}

/// The pressure at which it is met in every draw, where that differs; in `work.interference` its
/// logarithm.
STACKFIT_VECTOR_LOOPS void ChanceModel::find_pressure(const Bound& bound, std::size_t samples,
                                                      Work& work) const {
  if (bound.level == Bound::Level::push) {
    std::ranges::copy(work.push, work.pressure.begin());
    std::ranges::copy(work.ln_push, work.interference.begin());
    return;
  }
  const double top = bound.top_mpa;
  const double ln_top = std::log(top);
  const double* over_more = work.over_more.data();
  const double* ln_more = work.ln_more.data();
  double* pressure = work.pressure.data();
  double* ln_pressure = work.interference.data();
  for (std::size_t i = 0; i < samples; ++i) {
    pressure[i] = top * over_more[i];
    ln_pressure[i] = ln_top - ln_more[i];
  }
}

/// Of a bound that its leader beats in most draws: the others one by one.
void ChanceModel::apply_to_close(const Bound& bound, std::size_t samples, Work& work,
                                 std::span<double> out) const {
  const SqueezeSurface& surface = bound.surface.front();
  const bool one_level = surface.levels_mpa().size() == 1;
  const bool least = bound.row == WindowRow::loosest;
  const double ln_level = std::log(one_level ? surface.levels_mpa().front() : bound.top_mpa);
  double* to = out.data() + static_cast<std::size_t>(bound.row) * samples;
  for (const std::uint32_t i : work.close) {
    const double residual =
        one_level ? surface.residual_of(0, work.x, samples, i)
                  : surface.between_of(bound.top_mpa * work.over_more[i], work.x, samples, i);
    const double ln_pressure = one_level ? ln_level : ln_level - work.ln_more[i];
    const double at = total(bound, cells_.at(ln_pressure - work.x[i]) + residual, work, i);
    to[i] = least ? std::max(to[i], at) : std::min(to[i], at);
  }
}

/// The interference of a bound in every draw, turned into the total of shims at which it is met.
void ChanceModel::apply(const Bound& bound, std::size_t samples, Work& work,
                        std::span<double> out) const {
  if (bound.led_by >= 0) {
    constexpr std::size_t few = 4;  // of so many draws one
    if (beaten(bound, samples, work)) {
      return;
    }
    if (work.close.size() < samples / few) {
      apply_to_close(bound, samples, work, out);
      return;
    }
  }
  const SqueezeSurface& surface = bound.surface.front();
  const std::vector<double>& levels = surface.levels_mpa();
  const std::span<double> residual = work.three.first(samples);
  if (levels.size() == 1) {
    surface.residual(0, work.x, samples, residual);
    std::ranges::fill(work.interference, std::log(levels.front()));
  } else {
    find_pressure(bound, samples, work);
    surface.between(work.pressure, work.x, work.three.subspan(samples), residual);
  }
  cells_.at_all(work.interference, work.x.first(samples), residual, work.interference);
  take_totals(bound, samples, work, out);
}

/// The total of shims at which a bound is met, in every draw, where it leaves less than others.
STACKFIT_VECTOR_LOOPS void ChanceModel::take_totals(const Bound& bound, std::size_t samples,
                                                    Work& work, std::span<double> out) const {
  const double beta = bound.per_built;
  const double* now = bound.now(work).data();
  const double* built = work.built.data();
  double* met = bound.leads < 0
                    ? work.interference.data()
                    : work.leader.data() + static_cast<std::size_t>(bound.leads) * samples;
  const double* interference = work.interference.data();
  for (std::size_t i = 0; i < samples; ++i) {
    met[i] = total_of(interference[i], beta, built[i], now[i]);
  }
  if (frame_) {  // of a least one: never met; else always kept
    std::for_each_n(met, samples,
                    [this](double& at) { at = at > load_.thickness_mm ? never_met : -never_met; });
  }
  double* to = out.data() + static_cast<std::size_t>(bound.row) * samples;
  if (bound.row == WindowRow::loosest) {
    for (std::size_t i = 0; i < samples; ++i) {
      to[i] = to[i] < met[i] ? met[i] : to[i];
    }
  } else {
    for (std::size_t i = 0; i < samples; ++i) {
      to[i] = met[i] < to[i] ? met[i] : to[i];
    }
  }
}

}  // namespace stackfit
