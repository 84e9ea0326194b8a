// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/column_law.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace stackfit {
namespace {

constexpr int step_cap = 100;
/// A step below this share of the pressure is rounding.
constexpr double relative_step = 16 * std::numeric_limits<double>::epsilon();
/// Newton's next miss is about the square of this one: a step this small needs no other.
constexpr double last_step = 1e-9;

}  // namespace

void ColumnLaw::add(const LawPtr& law, double thickness_mm) {
  const auto same = std::find_if(parts_.begin(), parts_.end(),
                                 [&](const Part& other) { return other.law == law; });
  if (same != parts_.end()) {
    same->thickness_mm += thickness_mm;
  } else {
    parts_.push_back({law, thickness_mm});
  }
}

ColumnLaw::Squeeze ColumnLaw::squeeze(double pressure_mpa, double give_mm_per_mpa) const {
  Squeeze sum{give_mm_per_mpa * pressure_mpa, give_mm_per_mpa};
  for (const Part& part : parts_) {
    const SqueezeLaw::Strain strain = part.law->strain_at(pressure_mpa);
    sum.mm += part.thickness_mm * strain.value;
    sum.mm_per_mpa += part.thickness_mm * strain.per_mpa;
  }
  return sum;
}

double ColumnLaw::squeeze_mm(double pressure_mpa, double more_give_mm_per_mpa) const {
  return squeeze(pressure_mpa, give_mm_per_mpa_ + more_give_mm_per_mpa).mm;
}

ColumnLaw::Pressure ColumnLaw::between(const Knot& a, const Knot& b, double interference_mm) {
  const double width = b.interference_mm - a.interference_mm;
  const double t = (interference_mm - a.interference_mm) / width;
  // p(t) = c0 + c1 t + c2 t^2 + c3 t^3 by Hermite.
  const double rise = b.mpa - a.mpa;
  const double c1 = width * a.per_mm;
  const double c2 = 3 * rise - width * (2 * a.per_mm + b.per_mm);
  const double c3 = width * (a.per_mm + b.per_mm) - 2 * rise;
  return {a.mpa + t * (c1 + t * (c2 + t * c3)), (c1 + t * (2 * c2 + t * 3 * c3)) / width,
          a.energy_n_mm + width * t * (a.mpa + t * (c1 / 2 + t * (c2 / 3 + t * c3 / 4)))};
}

ColumnLaw ColumnLaw::quick(double up_to_mpa) const {
  // Knots at pressures in geometric progression; the first piece, from nothing, is nearly linear.
  constexpr int knots = 400;
  constexpr double least_share = 1e-5;
  std::vector<double> at_mpa;
  for (int i = 0; i < knots; ++i) {
    at_mpa.push_back(up_to_mpa * std::pow(least_share, 1 - static_cast<double>(i) / (knots - 1)));
  }
  for (const Part& part : parts_) {
    for (const double bend : part.law->bends_mpa()) {
      if (bend > at_mpa.front() && bend < up_to_mpa) {
        at_mpa.push_back(bend);
      }
    }
  }
  std::sort(at_mpa.begin(), at_mpa.end());
  at_mpa.erase(std::unique(at_mpa.begin(), at_mpa.end()), at_mpa.end());
  auto table = std::make_shared<std::vector<Knot>>();
  table->push_back({0, 0, 1 / squeeze(0, give_mm_per_mpa_).mm_per_mpa, 0});
  for (const double mpa : at_mpa) {
    const Squeeze there = squeeze(mpa, give_mm_per_mpa_);
    Knot knot{there.mm, mpa, 1 / there.mm_per_mpa, 0};
    // The energy of the cubics themselves: it stays the integral of their pressure.
    knot.energy_n_mm = between(table->back(), knot, knot.interference_mm).energy_n_mm;
    table->push_back(knot);
  }
  ColumnLaw made = *this;
  made.table_ = std::move(table);
  return made;
}

ColumnLaw::Pressure ColumnLaw::at(double interference_mm, double more_give_mm_per_mpa,
                                  double guess_mpa) const {
  if (!(interference_mm > 0)) {
    return {};
  }
  if (table_ && more_give_mm_per_mpa == 0 && interference_mm < table_->back().interference_mm) {
    const auto above =
        std::upper_bound(table_->begin() + 1, table_->end() - 1, interference_mm,
                         [](double at, const Knot& knot) { return at < knot.interference_mm; });
    return between(*(above - 1), *above, interference_mm);
  }
  const double give = give_mm_per_mpa_ + more_give_mm_per_mpa;
  double low = 0;
  double high = std::numeric_limits<double>::infinity();
  double pressure = guess_mpa > 0 ? guess_mpa : interference_mm / squeeze(0, give).mm_per_mpa;
  double per_mpa = 0;
  for (int step = 0; step < step_cap; ++step) {
    const Squeeze now = squeeze(pressure, give);
    per_mpa = now.mm_per_mpa;
    const double miss = now.mm - interference_mm;
    (miss > 0 ? high : low) = pressure;
    const double newton = pressure - miss / now.mm_per_mpa;
    const double moved = std::abs(newton - pressure);
    const bool inside = newton > low && newton < high;
    if (moved <= relative_step * pressure || (inside && moved <= last_step * pressure)) {
      pressure = inside ? newton : pressure;
      break;
    }
    // Newton kept inside the bracket; before there is an upper end, doubling finds one.
    const double halfway = std::isinf(high) ? 2 * pressure : 0.5 * (low + high);
    pressure = inside ? newton : halfway;
  }
  double energy = 0.5 * give * pressure * pressure;
  for (const Part& part : parts_) {
    energy += part.thickness_mm * part.law->energy_at(part.law->strain_at(pressure).value);
  }
  return {pressure, 1 / per_mpa, energy};
}

}  // namespace stackfit
