// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/press_test.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/fisher_f.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <numeric>
#include <stdexcept>
#include <utility>

namespace stackfit {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

constexpr double coverage = 0.95;
// From here on residuals tell the reading error better than a guess at it.
constexpr int degrees_that_tell_the_error = 6;
constexpr double residuals_too_large = 0.999;  // chi-square probability
// Standard errors by which two loads may be the wrong way round.
constexpr double rise_allowance = 4;
// Standard errors by which the thickness must fall over the test.
constexpr double give_needed = 2;
// Loads closer than this share of the highest are one load.
constexpr double same_load = 0.01;

// A beyond these shares of the highest pressure is a straight line, or a pure logarithm, to the
// readings: nothing further out fits any better.
constexpr double smallest_a_share = 1e-4;
constexpr double largest_a_share = 1e2;
constexpr double smallest_b = 1e-3;
constexpr double largest_b = 1e6;
constexpr int starts = 25;

// Of Levenberg and Marquardt's method.
constexpr int cap = 200;
constexpr double first_damping = 1e-3;
constexpr double damping_step = 10;
constexpr double least_damping = 1e-14;
constexpr double most_damping = 1e14;
// Promised gain over the variance of a reading at which a step is no longer worth taking.
constexpr double small_gain = 1e-16;

constexpr int free_at = 0;
constexpr int ln_a_at = 1;
constexpr int ln_b_at = 2;

int index_of(PressFigure figure) {
  return figure == PressFigure::free_mm ? free_at
         : figure == PressFigure::a_mpa ? ln_a_at
                                        : ln_b_at;
}

double highest_mpa(const PressTest& test) {
  double highest = 0;
  for (const PressReading& reading : test.loading) {
    highest = std::max(highest, reading.pressure_mpa);
  }
  return highest;
}

double variance(double deviation) {
  return deviation * deviation;
}

// Standard error of the difference of two loads' means.
double difference_error(const PressLoad& one, const PressLoad& other, double error_mm) {
  const auto count = [](const PressLoad& load) {
    return static_cast<double>(load.readings.size());
  };
  return error_mm * std::sqrt(1 / count(one) + 1 / count(other));
}

// The worst pair of loads that stand the wrong way round, if any does beyond the error.
std::optional<PressFault> worst_rise(const std::vector<PressLoad>& loads, double error_mm) {
  std::optional<PressFault> worst;
  double worst_share = rise_allowance;
  for (std::size_t low = 0; low < loads.size(); ++low) {
    for (std::size_t high = low + 1; high < loads.size(); ++high) {
      const double rise = loads[high].thickness_mm - loads[low].thickness_mm;
      const double share = rise / difference_error(loads[low], loads[high], error_mm);
      if (share > worst_share) {
        worst_share = share;
        worst = PressFault{PressFaultCode::rises, loads[low].readings.front(),
                           loads[high].readings.front(), rise, loads.size()};
      }
    }
  }
  return worst;
}

// Whether the best straight line through the readings falls, beyond its error.
bool gives_way(const PressTest& test, double error_mm) {
  const auto n = static_cast<double>(test.loading.size());
  double pressure = 0;
  double thickness = 0;
  for (const PressReading& reading : test.loading) {
    pressure += reading.pressure_mpa / n;
    thickness += reading.thickness_mm / n;
  }
  double across = 0;
  double along = 0;
  for (const PressReading& reading : test.loading) {
    const double apart = reading.pressure_mpa - pressure;
    across += apart * (reading.thickness_mm - thickness);
    along += apart * apart;
  }
  return across / along < -give_needed * error_mm / std::sqrt(along);
}

double stated_error(const PressTest& test, const Assumptions& assumptions) {
  return test.reading_error_mm.value_or(assumptions[Assumed::press_reading]);
}

}  // namespace

std::vector<PressLoad> press_loads(const PressTest& test) {
  std::vector<std::size_t> order(test.loading.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, {}, [&](std::size_t i) { return test.loading[i].pressure_mpa; });
  const double apart = same_load * highest_mpa(test);
  std::vector<PressLoad> loads;
  double first_mpa = 0;
  for (const std::size_t i : order) {
    const double pressure = test.loading[i].pressure_mpa;
    if (loads.empty() || pressure - first_mpa > apart) {
      loads.emplace_back();
      first_mpa = pressure;
    }
    loads.back().readings.push_back(i);
  }
  for (PressLoad& load : loads) {
    for (const std::size_t i : load.readings) {
      const auto count = static_cast<double>(load.readings.size());
      load.pressure_mpa += test.loading[i].pressure_mpa / count;
      load.thickness_mm += test.loading[i].thickness_mm / count;
    }
  }
  return loads;
}

std::vector<PressFault> press_faults(const PressTest& test, const Assumptions& assumptions) {
  const std::vector<PressLoad> loads = press_loads(test);
  if (loads.size() < 2) {
    return {{PressFaultCode::too_few_loads, 0, 0, 0, loads.size()}};
  }
  const double error_mm = stated_error(test, assumptions);
  if (const auto rise = worst_rise(loads, error_mm)) {
    return {*rise};
  }
  if (!gives_way(test, error_mm)) {
    return {{PressFaultCode::no_give, 0, 0, 0, loads.size()}};
  }
  return {};
}

struct PressFit::Squares {
  double sum_mm2 = 0;
  Matrix3d normal = Matrix3d::Zero();    ///< J'J
  Vector3d downhill = Vector3d::Zero();  ///< J'r
};

struct PressFit::Minimum {
  Vector3d at = Vector3d::Zero();
  double sum_mm2 = 0;
  bool converged = false;
};

PressFit::PressFit(PressTest test, const Assumptions& assumptions)
    : test_(std::move(test)),
      loads_(press_loads(test_)),
      stated_error_mm_(stated_error(test_, assumptions)),
      error_source_(test_.reading_error_mm ? ErrorSource::said : ErrorSource::assumed) {
  if (!press_faults(test_, assumptions).empty()) {
    throw std::invalid_argument("readings of a press test that cannot be fitted");
  }
  take_prior(assumptions);
  const Minimum minimum = minimise(start(), {true, true, true});
  best_ = minimum.at;
  least_mm2_ = minimum.sum_mm2;
  law_ = {best_[free_at], std::exp(best_[ln_a_at]), std::exp(best_[ln_b_at])};
  end_ = at_end(best_, true)    ? PressFitEnd::straight
         : at_end(best_, false) ? PressFitEnd::steep
         : minimum.converged    ? PressFitEnd::converged
                                : PressFitEnd::cap_reached;
  take_error();
  covariance_ = variance(error_mm_) * squares_at(best_).normal.inverse();
}

void PressFit::take_prior(const Assumptions& assumptions) {
  if (loads_.size() >= loads_that_stand_alone) {
    return;
  }
  const auto deviation = [](Assumed id) {
    const Assumption& line = assumption(id);
    const double factor = boost::math::quantile(boost::math::normal(), (1 + coverage) / 2);
    return std::log(line.high / line.low) / (2 * factor);
  };
  prior_ =
      Prior{{std::log(assumptions[Assumed::squeeze_a]), std::log(assumptions[Assumed::press_b])},
            {deviation(Assumed::squeeze_a), deviation(Assumed::press_b)}};
}

// Residuals tell the error where there are enough of them, or where they contradict what was
// said; an error that was said stands as long as they do not.
void PressFit::take_error() {
  error_mm_ = stated_error_mm_;
  const int degrees = degrees_of_freedom();
  if (prior_ || degrees < 1) {
    return;
  }
  const boost::math::chi_squared spread(degrees);
  scatters_ =
      least_mm2_ / variance(stated_error_mm_) > boost::math::quantile(spread, residuals_too_large);
  const bool enough =
      error_source_ == ErrorSource::assumed && degrees >= degrees_that_tell_the_error;
  if (scatters_ || enough) {
    error_mm_ = std::sqrt(least_mm2_ / degrees);
    error_source_ = ErrorSource::residuals;
  }
}

int PressFit::degrees_of_freedom() const {
  return static_cast<int>(test_.loading.size()) - 3;
}

Vector3d PressFit::slopes_at(double pressure_mpa) const {
  const double give_mm = test_.nominal_mm / law_.b;
  const double over = pressure_mpa / law_.a_mpa;
  return {1, give_mm * over / (1 + over), give_mm * std::log1p(over)};
}

double PressFit::thickness_at(double pressure_mpa) const {
  return law_.free_mm - test_.nominal_mm / law_.b * std::log1p(pressure_mpa / law_.a_mpa);
}

std::vector<double> PressFit::residuals_mm() const {
  std::vector<double> residuals;
  residuals.reserve(test_.loading.size());
  for (const PressReading& reading : test_.loading) {
    residuals.push_back(reading.thickness_mm - thickness_at(reading.pressure_mpa));
  }
  return residuals;
}

PressFit::Squares PressFit::squares_at(const Vector3d& at) const {
  const double a_mpa = std::exp(at[ln_a_at]);
  const double give_mm = test_.nominal_mm / std::exp(at[ln_b_at]);
  Squares out;
  const auto add = [&](double residual, const Vector3d& slopes) {
    out.sum_mm2 += residual * residual;
    out.normal += slopes * slopes.transpose();
    out.downhill += slopes * residual;
  };
  for (const PressReading& reading : test_.loading) {
    const double over = reading.pressure_mpa / a_mpa;
    const double squeeze_mm = give_mm * std::log1p(over);
    add(reading.thickness_mm - (at[free_at] - squeeze_mm),
        {1, give_mm * over / (1 + over), squeeze_mm});
  }
  // Pseudo readings, in the unit of the others: a deviation of the prior weighs like an error.
  if (prior_) {
    for (const int i : {0, 1}) {
      const double weight_mm = stated_error_mm_ / prior_->deviation[i];
      add(weight_mm * (prior_->mean[i] - at[ln_a_at + i]), weight_mm * Vector3d::Unit(ln_a_at + i));
    }
  }
  return out;
}

Vector3d PressFit::within(Vector3d at) const {
  const double highest = std::log(highest_mpa(test_));
  at[ln_a_at] = std::clamp(at[ln_a_at], highest + std::log(smallest_a_share),
                           highest + std::log(largest_a_share));
  at[ln_b_at] = std::clamp(at[ln_b_at], std::log(smallest_b), std::log(largest_b));
  return at;
}

// For a given A the law is linear in the free thickness and in 1/B (separable least squares,
// Golub & Pereyra 1973): the best of a ladder of A is a start near the lowest valley.
Vector3d PressFit::start() const {
  const double highest = highest_mpa(test_);
  const double step = std::log(largest_a_share / smallest_a_share) / (starts - 1);
  std::optional<Vector3d> best;
  double least = 0;
  for (int i = 0; i < starts; ++i) {
    const double ln_a = std::log(highest * smallest_a_share) + step * i;
    Eigen::Matrix2d normal = Eigen::Matrix2d::Zero();
    Eigen::Vector2d right = Eigen::Vector2d::Zero();
    for (const PressReading& reading : test_.loading) {
      const Eigen::Vector2d row{1, -std::log1p(reading.pressure_mpa / std::exp(ln_a))};
      normal += row * row.transpose();
      right += row * reading.thickness_mm;
    }
    const Eigen::Vector2d line = normal.ldlt().solve(right);
    if (!(line[1] > 0)) {
      continue;
    }
    const Vector3d at = within({line[0], ln_a, std::log(test_.nominal_mm / line[1])});
    const double sum = squares_at(at).sum_mm2;
    if (!best || sum < least) {
      best = at;
      least = sum;
    }
  }
  // Readings whose straight line falls have a falling curve too; this is for none at all.
  return best.value_or(within({loads_.front().thickness_mm, std::log(highest), 0}));
}

bool PressFit::at_end(const Vector3d& at, bool high) const {
  constexpr double beyond = 1;
  Vector3d further = at;
  further[ln_a_at] += high ? beyond : -beyond;
  return std::abs(within(further)[ln_a_at] - at[ln_a_at]) < beyond / 2;
}

// A figure at its end, drawn further out, stays where it is.
PressFit::Free PressFit::not_held(const Squares& squares, const Vector3d& at, Free free) const {
  for (const int i : {ln_a_at, ln_b_at}) {
    Vector3d moved = at;
    moved[i] += squares.downhill[i] > 0 ? 1 : -1;
    if (within(moved)[i] == at[i]) {
      free[static_cast<std::size_t>(i)] = false;
    }
  }
  return free;
}

// Levenberg 1944, Marquardt 1963, with Marquardt's scaling by the diagonal.
PressFit::Minimum PressFit::minimise(Vector3d at, Free free) const {
  Squares here = squares_at(at);
  double damping = first_damping;
  for (int turn = 0; turn < cap; ++turn) {
    const Free moves = not_held(here, at, free);
    Matrix3d normal = here.normal;
    Vector3d downhill = here.downhill;
    normal.diagonal() *= 1 + damping;
    for (int i = 0; i < 3; ++i) {
      if (!moves[static_cast<std::size_t>(i)]) {
        normal.row(i).setZero();
        normal.col(i).setZero();
        normal(i, i) = 1;
        downhill[i] = 0;
      }
    }
    const Vector3d step = normal.ldlt().solve(downhill);
    const Vector3d next_at = within(at + step);
    const Squares next = squares_at(next_at);
    const bool small = downhill.dot(step) <= small_gain * variance(stated_error_mm_);
    if (next.sum_mm2 <= here.sum_mm2) {
      at = next_at;
      here = next;
      damping = std::max(damping / damping_step, least_damping);
    } else {
      damping *= damping_step;
    }
    if (small || damping > most_damping) {
      return {at, here.sum_mm2, true};
    }
  }
  return {at, here.sum_mm2, false};
}

double PressFit::excess_mm2(const PressLaw& law) const {
  return squares_at({law.free_mm, std::log(law.a_mpa), std::log(law.b)}).sum_mm2 - least_mm2_;
}

double PressFit::quantile_mm2(int figures) const {
  if (error_source_ != ErrorSource::residuals) {
    return variance(error_mm_) * boost::math::quantile(boost::math::chi_squared(figures), coverage);
  }
  const boost::math::fisher_f ratio(figures, degrees_of_freedom());
  return figures * variance(error_mm_) * boost::math::quantile(ratio, coverage);
}

double PressFit::coverage_factor() const {
  return std::sqrt(quantile_mm2(1)) / error_mm_;
}

PressSpan PressFit::span_of(PressFigure figure) const {
  const int i = index_of(figure);
  Free others{true, true, true};
  others[static_cast<std::size_t>(i)] = false;
  const double allowed = quantile_mm2(1);
  const double deviation = std::sqrt(covariance_(i, i));
  // Walks outwards from the best value, then halves the last step.
  const auto end = [&](double sign) {
    constexpr int walk = 60;
    constexpr int halvings = 30;
    Vector3d inside = best_;
    Vector3d outside = best_;
    bool open = true;
    for (int step = 0; step < walk; ++step) {
      Vector3d at = inside;
      at[i] += sign * deviation;
      at = within(at);
      if (at[i] == inside[i]) {
        break;
      }
      const Minimum there = minimise(at, others);
      if (there.sum_mm2 - least_mm2_ > allowed) {
        outside = there.at;
        open = false;
        break;
      }
      inside = there.at;
    }
    for (int halving = 0; halving < halvings && !open; ++halving) {
      Vector3d middle = (inside + outside) / 2;
      const Minimum there = minimise(middle, others);
      (there.sum_mm2 - least_mm2_ > allowed ? outside : inside) = there.at;
    }
    return std::pair(inside, open);
  };
  const auto [low_at, low_open] = end(-1);
  const auto [high_at, high_open] = end(1);
  PressSpan out{{low_at[i], high_at[i]}, low_open, high_open};
  if (figure != PressFigure::free_mm) {
    out.span = {std::exp(out.span.low), std::exp(out.span.high)};
  }
  // What stops B or the free thickness may be A at its own end.
  if (figure != PressFigure::a_mpa) {
    const auto a_ends = [&](const Vector3d& at) { return at_end(at, true) || at_end(at, false); };
    out.open_low = out.open_low || a_ends(low_at);
    out.open_high = out.open_high || a_ends(high_at);
  }
  return out;
}

}  // namespace stackfit
