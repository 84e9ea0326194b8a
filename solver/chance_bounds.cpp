// SPDX-License-Identifier: GPL-3.0-or-later
//
// The conditions that a draw must keep, and the total of shims at which each is met.
#include <algorithm>
#include <array>
#include <cmath>

#include "solver/chance_model_parts.hpp"

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

/// The interference at a level that differs from draw to draw: by a line between the two levels
/// that it lies between.
void ChanceModel::interpolate(const Bound& bound, std::size_t samples, Work& work) const {
  const SqueezeSurface& surface = bound.surface.front();
  const std::vector<double>& levels = surface.levels_mpa();
  const bool push = bound.level == Bound::Level::push;
  const double ln_top = push ? 0 : std::log(bound.top_mpa);
  for (std::size_t i = 0; i < samples; ++i) {
    const double pressure = push ? work.push[i] : bound.top_mpa * work.over_more[i];
    std::size_t above = 1;
    while (above + 1 < levels.size() && levels[above] <= pressure) {
      ++above;
    }
    const double share = (pressure - levels[above - 1]) / (levels[above] - levels[above - 1]);
    const double from = surface.residual_of(above - 1, work.x, samples, i);
    const double to = surface.residual_of(above, work.x, samples, i);
    const double ln_pressure = push ? std::log(pressure) : ln_top - work.ln_more[i];
    work.interference[i] = from + share * (to - from) + cells_.at(ln_pressure - work.x[i]);
  }
}

/// The interference of a bound in every draw, turned into the total of shims at which it is met.
void ChanceModel::apply(const Bound& bound, std::size_t samples, Work& work,
                        std::span<double> out) const {
  const SqueezeSurface& surface = bound.surface.front();
  const std::vector<double>& levels = surface.levels_mpa();
  const auto ln_softness = std::span(work.x).first(samples);
  if (levels.size() == 1) {
    surface.residual(0, work.x, samples, work.residual);
    const double ln_level = std::log(levels.front());
    for (std::size_t i = 0; i < samples; ++i) {
      work.interference[i] = cells_.at(ln_level - ln_softness[i]) + work.residual[i];
    }
  } else {
    interpolate(bound, samples, work);
  }
  const bool least = bound.row == WindowRow::loosest;
  const std::vector<double>& now = bound.of == Bound::Of::built      ? work.built
                                   : bound.of == Bound::Of::thinnest ? work.thinnest
                                                                     : work.thickest;
  double* to = out.data() + static_cast<std::size_t>(bound.row) * samples;
  const double beta = bound.per_built;
  for (std::size_t i = 0; i < samples; ++i) {
    // now + t = interference + beta (built + t), for the total t that is met
    const double short_by = work.interference[i] + beta * work.built[i] - now[i];
    double total = 0;
    if (frame_) {
      total = short_by > 0 ? never_met : -never_met;  // of a least one: never met; else always kept
    } else {
      total = load_.thickness_mm + short_by / (1 - beta);
    }
    to[i] = least ? std::max(to[i], total) : std::min(to[i], total);
  }
}

}  // namespace stackfit
