// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/squeeze_surface.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "solver/share_jobs.hpp"
#include "solver/vector_loops.hpp"

namespace stackfit {

namespace {

/// Draws that are worked on together, on the stack.
constexpr std::size_t tile = 128;

/// Climbs the curves of a study's kinds of states, so that they are at hand.
void climb_curves(const Study& study, const ShimLoad& load) {
  const double force = study.row().band.high_mpa * study.row().face_area_mm2;
  std::vector<RowModel::Kind> kinds = study.model().kinds();
  kinds.push_back({true, false, study.model().build_state().stiff_pads});
  for (const RowModel::Kind& kind : kinds) {
    static_cast<void>(study.model().interference_for(kind, load, force));
  }
}

}  // namespace

ShapeStudies::ShapeStudies(const Study& study, const ChanceInputs& inputs, const ShimLoad& load,
                           int threads)
    : nominal_(study), inputs_(inputs) {
  std::vector<const ShapeVariant*> wanted;
  const auto add = [&](const ShapeInput& input, bool logarithm) {
    std::vector<Variant> made;
    for (const ShapeVariant& variant : input.variants) {
      const double x = logarithm ? std::log(variant.x)
                                 : input.coordinate(variant.x) - input.coordinate(input.nominal);
      made.push_back({x, nullptr});
      wanted.push_back(&variant);
    }
    variants_.push_back(std::move(made));
  };
  if (inputs.softness) {
    add(*inputs.softness, true);
  } else {
    variants_.emplace_back();
  }
  for (const ShapeInput& input : inputs.shape) {
    add(input, false);
  }
  std::vector<Variant*> places;
  for (std::vector<Variant>& input : variants_) {
    for (Variant& variant : input) {
      places.push_back(&variant);
    }
  }
  share_jobs(places.size(), threads, [&](std::size_t i) {
    places[i]->study = std::make_unique<Study>(wanted[i]->build, wanted[i]->assumptions,
                                               study.store(), study.place());
    climb_curves(*places[i]->study, load);
  });
}

CellSqueeze::CellSqueeze(const Row& row) {
  // From far below any band to far above any cell's law; in logarithms the law is nearly straight
  // from step to step, so that a line between them is off by less than a nanometre.
  constexpr double least_mpa = 1e-7;
  constexpr double most_mpa = 100;
  constexpr std::size_t steps = 4096;
  first_ = std::log(least_mpa);
  const double step = (std::log(most_mpa) - first_) / static_cast<double>(steps);
  per_step_ = 1 / step;
  const double cells_mm = row.nominal_mm * static_cast<double>(row.cells.size());
  for (std::size_t i = 0; i <= steps; ++i) {
    const double pressure = std::exp(first_ + static_cast<double>(i) * step);
    mm_.push_back(cells_mm * row.cell_law->strain_at(pressure).value);
  }
}

STACKFIT_VECTOR_LOOPS void CellSqueeze::at_all(std::span<const double> ln_pressure,
                                               std::span<const double> ln_softness,
                                               std::span<const double> on_top_mm,
                                               std::span<double> out) const {
  std::array<double, tile> part{};  // never a part of the table
  for (std::size_t first = 0; first < out.size(); first += tile) {
    const std::size_t here = std::min(tile, out.size() - first);
    const double* pressure = ln_pressure.data() + first;
    const double* softness = ln_softness.data() + first;
    const double* on_top = on_top_mm.data() + first;
    for (std::size_t i = 0; i < here; ++i) {
      part[i] = at(pressure[i] - softness[i]) + on_top[i];
    }
    std::copy_n(part.begin(), here, out.data() + first);
  }
}

SqueezeSurface::Parabola SqueezeSurface::through(const std::vector<double>& x,
                                                 const std::vector<double>& y) {
  if (x.empty()) {
    return {};
  }
  if (x.size() == 1) {
    return {y[0] / x[0], 0};
  }
  const double bend = (y[1] / x[1] - y[0] / x[0]) / (x[1] - x[0]);
  return {y[0] / x[0] - bend * x[0], bend};
}

SqueezeSurface::SqueezeSurface(const ShapeStudies& studies, const CellSqueeze& cells,
                               const ShimLoad& load, std::vector<double> levels_mpa,
                               const Interference& interference)
    : levels_(std::move(levels_mpa)) {
  std::sort(levels_.begin(), levels_.end());
  levels_.erase(std::unique(levels_.begin(), levels_.end()), levels_.end());
  const auto beyond_build = [&](const Study& study, double level) {
    return interference(study, level) - study.model().built_interference_mm(load);
  };
  for (const double level : levels_) {
    const double ln_level = std::log(level);
    nominal_.push_back(beyond_build(studies.nominal(), level) - cells.at(ln_level));
    reached_ = reached_ && std::isfinite(nominal_.back());
    for (std::size_t input = 0; input < studies.variants().size(); ++input) {
      std::vector<double> x;
      std::vector<double> y;
      for (const ShapeStudies::Variant& variant : studies.variants()[input]) {
        const double softness = input == 0 ? variant.x : 0;
        const double there =
            beyond_build(*variant.study, level) - cells.at(ln_level - softness) - nominal_.back();
        if (std::isfinite(there)) {
          x.push_back(variant.x);
          y.push_back(there);
        }
      }
      const Parabola change = through(x, y);
      if (change.slope != 0 || change.bend != 0) {
        terms_.push_back({input, change.slope, change.bend});
      }
    }
    first_term_.push_back(terms_.size());
  }
  constexpr double inf = std::numeric_limits<double>::infinity();
  for (std::size_t level = 0; level + 1 < levels_.size(); ++level) {
    ways_.push_back({levels_[level], 1 / (levels_[level + 1] - levels_[level]),
                     level == 0 ? -inf : 0, level + 2 == levels_.size() ? inf : 1});
  }
}

STACKFIT_VECTOR_LOOPS void SqueezeSurface::residual(std::size_t level, std::span<const double> x,
                                                    std::size_t samples,
                                                    std::span<double> out) const {
  double* to = out.data();
  std::fill_n(to, samples, nominal_[level]);
  for (const auto [input, slope, bend] : terms(level)) {
    const double* value = x.data() + input * samples;
    for (std::size_t i = 0; i < samples; ++i) {
      to[i] += value[i] * (slope + bend * value[i]);
    }
  }
}

double SqueezeSurface::between_of(double pressure_mpa, std::span<const double> x,
                                  std::size_t samples, std::size_t i) const {
  std::size_t level = 0;
  while (level + 2 < levels_.size() && levels_[level + 1] <= pressure_mpa) {
    ++level;
  }
  return between_levels(level, pressure_mpa, x, samples, i);
}

/// The same of many: how many levels but the first and the last each has reached.
STACKFIT_VECTOR_LOOPS void SqueezeSurface::find_levels(std::span<const double> pressure_mpa,
                                                       std::span<std::int32_t> under) const {
  const double* pressure = pressure_mpa.data();
  std::int32_t* reached = under.data();
  const std::size_t count = pressure_mpa.size();
  std::fill_n(reached, count, 0);
  for (std::size_t level = 1; level + 1 < levels_.size(); ++level) {
    const double here = levels_[level];
    for (std::size_t i = 0; i < count; ++i) {
      reached[i] += here <= pressure[i] ? 1 : 0;
    }
  }
}

void SqueezeSurface::between(std::span<const double> pressure_mpa, std::span<const double> x,
                             std::span<double> room, std::span<double> out) const {
  const std::size_t samples = out.size();
  // Of few levels all are cheaper than to look for two.
  constexpr std::size_t few = 3;
  if (levels_.size() > few) {
    std::array<std::int32_t, tile> under{};
    for (std::size_t first = 0; first < samples; first += tile) {
      const std::size_t here = std::min(tile, samples - first);
      find_levels(pressure_mpa.subspan(first, here), under);
      for (std::size_t i = 0; i < here; ++i) {
        const auto level = static_cast<std::size_t>(under[i]);
        out[first + i] = between_levels(level, pressure_mpa[first + i], x, samples, first + i);
      }
    }
    return;
  }
  std::span<double> from = room.first(samples);
  std::span<double> to = room.subspan(samples, samples);
  residual(0, x, samples, from);
  std::ranges::copy(from, out.begin());
  for (std::size_t level = 0; level + 1 < levels_.size(); ++level) {
    residual(level + 1, x, samples, to);
    const Way way = ways_[level];
    const double* pressure = pressure_mpa.data();
    const double* under = from.data();
    const double* above = to.data();
    double* sum = out.data();
    for (std::size_t i = 0; i < samples; ++i) {
      sum[i] += way.share(pressure[i]) * (above[i] - under[i]);
    }
    std::swap(from, to);
  }
}

SqueezeSurface::Parabola SqueezeSurface::change(std::size_t level, std::size_t input) const {
  for (const Term& term : terms(level)) {
    if (term.input == input) {
      return {term.slope, term.bend};
    }
  }
  return {};
}

Span SqueezeSurface::more_than(const SqueezeSurface& other, std::span<const Span> x) const {
  Span all{std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
  for (std::size_t level = 0; level < levels_.size(); ++level) {
    Span here{nominal_[level] - other.nominal_[level], nominal_[level] - other.nominal_[level]};
    for (std::size_t input = 0; input < x.size(); ++input) {
      const Parabola mine = change(level, input);
      const Parabola its = other.change(level, input);
      const Parabola more{mine.slope - its.slope, mine.bend - its.bend};
      const auto at = [&](double value) { return value * (more.slope + more.bend * value); };
      Span one{std::min(at(x[input].low), at(x[input].high)),
               std::max(at(x[input].low), at(x[input].high))};
      const double top = more.bend == 0 ? 0 : -more.slope / (2 * more.bend);
      if (top > x[input].low && top < x[input].high) {
        one = {std::min(one.low, at(top)), std::max(one.high, at(top))};
      }
      here = {here.low + one.low, here.high + one.high};
    }
    all = {std::min(all.low, here.low), std::max(all.high, here.high)};
  }
  return all;
}

}  // namespace stackfit
