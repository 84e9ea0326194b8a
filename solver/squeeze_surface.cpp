// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/squeeze_surface.hpp"

#include <algorithm>
#include <cmath>

namespace stackfit {

ShapeStudies::ShapeStudies(const Study& study, const ChanceInputs& inputs)
    : nominal_(study), inputs_(inputs) {
  const auto add = [&](const ShapeInput& input, bool logarithm) {
    std::vector<Variant> made;
    for (const ShapeVariant& variant : input.variants) {
      const double x = logarithm ? std::log(variant.x)
                                 : input.coordinate(variant.x) - input.coordinate(input.nominal);
      made.push_back({x, std::make_unique<Study>(variant.build, variant.assumptions, study.store(),
                                                 study.place())});
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
    std::vector<Parabola> changes;
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
      changes.push_back(through(x, y));
    }
    change_.push_back(std::move(changes));
  }
}

void SqueezeSurface::residual(std::size_t level, std::span<const double> x, std::size_t samples,
                              std::span<double> out) const {
  std::fill_n(out.begin(), samples, nominal_[level]);
  for (std::size_t input = 0; input < change_[level].size(); ++input) {
    const auto [slope, bend] = change_[level][input];
    if (slope == 0 && bend == 0) {
      continue;
    }
    const double* value = x.data() + input * samples;
    for (std::size_t i = 0; i < samples; ++i) {
      out[i] += value[i] * (slope + bend * value[i]);
    }
  }
}

}  // namespace stackfit
