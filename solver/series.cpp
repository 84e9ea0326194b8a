// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/series.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace stackfit {
namespace {

constexpr int step_cap = 100;
/// A step below this share of the force is rounding.
constexpr double relative_step = 32 * std::numeric_limits<double>::epsilon();

}  // namespace

void Series::add(const SeriesPart& part) {
  const auto same = std::find_if(parts_.begin(), parts_.end(), [&](const SeriesPart& other) {
    return other.law == part.law && other.area_mm2 == part.area_mm2;
  });
  if (same != parts_.end()) {
    same->thickness_mm += part.thickness_mm;
  } else {
    parts_.push_back(part);
  }
}

Series::Squeeze Series::at(double force_n, double give_mm_per_n) const {
  Squeeze sum{give_mm_per_n * force_n, give_mm_per_n};
  for (const SeriesPart& part : parts_) {
    const SqueezeLaw::Strain strain = part.law->strain_at(force_n / part.area_mm2);
    sum.mm += part.thickness_mm * strain.value;
    sum.mm_per_n += part.thickness_mm * strain.per_mpa / part.area_mm2;
  }
  return sum;
}

double Series::squeeze_mm(double force_n, double more_give_mm_per_n) const {
  return at(force_n, give_mm_per_n_ + more_give_mm_per_n).mm;
}

SeriesResult Series::solve(double interference_mm, double more_give_mm_per_n) const {
  if (!(interference_mm > 0)) {
    return {0, -interference_mm, SeriesStop::loose};
  }
  const double give = give_mm_per_n_ + more_give_mm_per_n;
  double low = 0;
  double high = std::numeric_limits<double>::infinity();
  double force = interference_mm / at(0, give).mm_per_n;
  for (int step = 0; step < step_cap; ++step) {
    const Squeeze squeeze = at(force, give);
    const double miss = squeeze.mm - interference_mm;
    (miss > 0 ? high : low) = force;
    const double newton = force - miss / squeeze.mm_per_n;
    if (std::abs(newton - force) <= relative_step * force) {
      return {force, 0, SeriesStop::converged};
    }
    // Newton kept inside the bracket; before there is an upper end, doubling finds one.
    const double halfway = std::isinf(high) ? 2 * force : 0.5 * (low + high);
    force = newton > low && newton < high ? newton : halfway;
  }
  return {force, 0, SeriesStop::cap_reached};
}

double Series::energy_n_mm(double force_n, double more_give_mm_per_n) const {
  double sum = 0.5 * (give_mm_per_n_ + more_give_mm_per_n) * force_n * force_n;
  for (const SeriesPart& part : parts_) {
    const double strain = part.law->strain_at(force_n / part.area_mm2).value;
    sum += part.thickness_mm * part.area_mm2 * part.law->energy_at(strain);
  }
  return sum;
}

}  // namespace stackfit
