// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/force_curve.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>
#include <utility>

namespace stackfit {
namespace {

/// A cubic with slopes up to three times the secant does not turn back: F. N. Fritsch,
/// R. E. Carlson, "Monotone piecewise cubic interpolation", SIAM J. Numer. Anal. 17 (1980) 238.
constexpr double steepest = 3;

struct End {
  double value = 0;
  double slope = 0;
};

/// Cubic by its ends' values and slopes; t runs from 0 to 1 over `width`.
double cubic(const End& a, const End& b, double width, double t) {
  const double s = 1 - t;
  return s * s * (1 + 2 * t) * a.value + t * t * (3 - 2 * t) * b.value +
         t * s * width * (s * a.slope - t * b.slope);
}

/// The figures that are interpolated as they come; the slopes of the first two are known.
constexpr std::array plain_figures{
    &ColumnFigures::highest_local_mpa, &ColumnFigures::lowest_local_mpa,
    &ColumnFigures::contact_share,     &ColumnFigures::centre_x_mm,
    &ColumnFigures::centre_y_mm,       &ColumnFigures::wall_bow_mm,
    &ColumnFigures::walls_mm};

/// Slope of a plain smooth figure at a rung: of the parabola through its neighbours.
double parabola_slope(const std::vector<ForceCurve::Rung>& rungs, std::size_t i,
                      double ColumnFigures::*figure) {
  const auto x = [&](std::size_t k) { return rungs[k].interference_mm; };
  const auto y = [&](std::size_t k) { return rungs[k].figures.*figure; };
  const auto secant = [&](std::size_t k) { return (y(k + 1) - y(k)) / (x(k + 1) - x(k)); };
  if (i == 0) {
    return secant(0);
  }
  if (i + 1 == rungs.size()) {
    return secant(i - 1);
  }
  const double before = x(i) - x(i - 1);
  const double after = x(i + 1) - x(i);
  return (after * secant(i - 1) + before * secant(i)) / (before + after);
}

}  // namespace

ForceCurve::ForceCurve(std::vector<Rung> rungs) : rungs_(std::move(rungs)) {
  if (rungs_.size() < 2) {
    throw std::invalid_argument("a force curve needs two rungs or more");
  }
  for (std::size_t i = 0; i < rungs_.size(); ++i) {
    double most = std::numeric_limits<double>::infinity();
    const auto secant = [&](std::size_t k) {
      return (rungs_[k + 1].figures.force_n - rungs_[k].figures.force_n) /
             (rungs_[k + 1].interference_mm - rungs_[k].interference_mm);
    };
    if (i > 0) {
      most = std::min(most, steepest * secant(i - 1));
    }
    if (i + 1 < rungs_.size()) {
      most = std::min(most, steepest * secant(i));
    }
    rungs_[i].force_per_mm = std::clamp(rungs_[i].force_per_mm, 0.0, most);
  }
  slopes_.resize(rungs_.size());
  for (std::size_t i = 0; i < rungs_.size(); ++i) {
    for (double ColumnFigures::*figure : plain_figures) {
      slopes_[i].*figure = parabola_slope(rungs_, i, figure);
    }
    slopes_[i].highest_local_mpa = rungs_[i].highest_per_mm;
    slopes_[i].lowest_local_mpa = rungs_[i].lowest_per_mm;
  }
}

std::size_t ForceCurve::piece(double interference_mm) const {
  const auto above =
      std::upper_bound(rungs_.begin() + 1, rungs_.end() - 1, interference_mm,
                       [](double at, const Rung& rung) { return at < rung.interference_mm; });
  return static_cast<std::size_t>(above - rungs_.begin()) - 1;
}

double ForceCurve::force(double interference_mm) const {
  const Rung& last = rungs_.back();
  if (interference_mm <= rungs_.front().interference_mm) {
    return 0;
  }
  if (interference_mm >= last.interference_mm) {
    return last.figures.force_n + last.force_per_mm * (interference_mm - last.interference_mm);
  }
  const std::size_t i = piece(interference_mm);
  const Rung& a = rungs_[i];
  const Rung& b = rungs_[i + 1];
  const double width = b.interference_mm - a.interference_mm;
  return std::max(
      0.0, cubic({a.figures.force_n, a.force_per_mm}, {b.figures.force_n, b.force_per_mm}, width,
                 (interference_mm - a.interference_mm) / width));
}

ColumnFigures ForceCurve::at(double interference_mm, double more_give_mm_per_n) const {
  double x = interference_mm;
  if (more_give_mm_per_n > 0) {
    // x + give * force(x) rises with x: halving finds it, the secant of the last rung bounds it.
    double low = interference_mm - more_give_mm_per_n * force(interference_mm);
    double high = interference_mm;
    constexpr int cap = 60;
    for (int i = 0; i < cap && high - low > 1e-12 * (1 + std::abs(high)); ++i) {
      // Regula falsi would stall on the convex side; the middle never does.
      const double middle = 0.5 * (low + high);
      (middle + more_give_mm_per_n * force(middle) > interference_mm ? high : low) = middle;
    }
    x = 0.5 * (low + high);
  }
  ColumnFigures out;
  out.force_n = force(x);
  if (!(out.force_n > 0)) {
    return out;
  }
  const Rung& last = rungs_.back();
  const double area = last.figures.force_n / last.figures.mean_mpa;
  out.mean_mpa = out.force_n / area;
  if (x >= last.interference_mm) {
    const double grown = out.force_n / last.figures.force_n;
    out.highest_local_mpa = grown * last.figures.highest_local_mpa;
    out.lowest_local_mpa = grown * last.figures.lowest_local_mpa;
    out.contact_share = last.figures.contact_share;
    out.centre_x_mm = last.figures.centre_x_mm;
    out.centre_y_mm = last.figures.centre_y_mm;
    out.walls_mm = grown * last.figures.walls_mm;
    out.wall_bow_mm = grown * last.figures.wall_bow_mm;
    return out;
  }
  const std::size_t i = piece(x);
  const double width = rungs_[i + 1].interference_mm - rungs_[i].interference_mm;
  const double t = (x - rungs_[i].interference_mm) / width;
  for (double ColumnFigures::*figure : plain_figures) {
    const auto end = [&](std::size_t k) {
      return End{rungs_[k].figures.*figure, slopes_[k].*figure};
    };
    out.*figure = cubic(end(i), end(i + 1), width, t);
  }
  out.highest_local_mpa = std::max(out.mean_mpa, out.highest_local_mpa);
  out.lowest_local_mpa = std::clamp(out.lowest_local_mpa, 0.0, out.mean_mpa);
  out.contact_share = std::clamp(out.contact_share, 0.0, 1.0);
  out.walls_mm = std::max(0.0, out.walls_mm);
  out.wall_bow_mm = std::max(0.0, out.wall_bow_mm);
  return out;
}

double ForceCurve::interference_mm(double force_n, double more_give_mm_per_n) const {
  const Rung& last = rungs_.back();
  double x = 0;
  if (force_n >= last.figures.force_n) {
    x = last.interference_mm + (force_n - last.figures.force_n) / last.force_per_mm;
  } else {
    double low = rungs_.front().interference_mm;
    double high = last.interference_mm;
    constexpr int halvings = 60;
    for (int i = 0; i < halvings; ++i) {
      const double middle = 0.5 * (low + high);
      (force(middle) >= force_n ? high : low) = middle;
    }
    x = high;
  }
  return x + more_give_mm_per_n * force_n;
}

// --- climbing -----------------------------------------------------------------------------------

namespace {

/// A step may take the force up to about e times: by the slope, force over slope.
constexpr double reach = 1;
/// No step is longer than so many times the one before.
constexpr double longest_growth = 4;
/// Share of the curve's error that a miss in the middle of two steps may have before both halves
/// are looked at as well. Taken in, the middle leaves less than that.
constexpr double taken_in = 0.4;
/// A miss in slope, times the length between the steps, may be so many times the miss in value: a
/// kink makes its curve miss by a fifth of that or less.
constexpr double bend_factor = 4;
/// Share of the highest local pressure that may be missed in the middle.
constexpr double highest_miss_share = 0.02;
constexpr int halvings_cap = 6;
constexpr int step_cap = 200;
/// A row that another one keeps from touching over such a length never does.
constexpr double out_of_reach_mm = 100;

class Climb {
 public:
  explicit Climb(const LadderRequest& request) : request_(request) {}

  [[nodiscard]] std::vector<LadderStep> run() {
    std::vector<LadderStep> coarse = march();
    std::vector<LadderStep> steps;
    for (LadderStep& step : coarse) {
      if (!steps.empty()) {
        fill(LadderStep(steps.back()), step, 0, steps);
      }
      steps.push_back(std::move(step));
    }
    return steps;
  }

 private:
  [[nodiscard]] LadderStep solved(double at_mm, const ColumnsState* start) const {
    ColumnsLoad load = request_.load;
    for (double& interference : load.interference_mm) {
      interference += at_mm;
    }
    LadderStep step;
    step.state = request_.columns->solve(load, start);
    if (!step.state.usable()) {
      throw std::runtime_error("the row was not solved at an interference of " +
                               std::to_string(at_mm) +
                               " mm: " + std::string(sentence(step.state.stop)));
    }
    step.rung = rung_of(at_mm, step.state);
    return step;
  }

  [[nodiscard]] ForceCurve::Rung rung_of(double at_mm, const ColumnsState& state) const {
    const ColumnsSetup& setup = request_.columns->setup();
    const std::vector<ColumnPoint>& points = setup.walls->mesh().points;
    ForceCurve::Rung rung;
    rung.interference_mm = at_mm;
    rung.force_per_mm = state.force_per_mm[static_cast<std::size_t>(request_.face)];
    rung.figures = column_figures(setup, state, request_.face, request_.face_area_mm2);
    for (std::size_t q = 0; q < points.size(); ++q) {
      const auto i = static_cast<Eigen::Index>(q);
      if (points[q].face != request_.face) {
        continue;
      }
      // The points at which the figures were read.
      if (state.pressure_mpa[i] == rung.figures.highest_local_mpa) {
        rung.highest_per_mm = state.pressure_per_mm[i];
      }
      if (state.pressure_mpa[i] == rung.figures.lowest_local_mpa) {
        rung.lowest_per_mm = state.pressure_per_mm[i];
      }
    }
    return rung;
  }

  [[nodiscard]] std::vector<LadderStep> march() const {
    std::vector<LadderStep> steps;
    steps.push_back(solved(request_.first_touch_mm, nullptr));
    steps.back().rung.figures = {};
    const LadderStep* before = nullptr;
    double length = first_length_mm();
    LadderStep older;
    for (int i = 0; i < step_cap; ++i) {
      const LadderStep& last = steps.back();
      const ColumnsState start = onward(before, last, length);
      LadderStep next = solved(last.rung.interference_mm + length, &start);
      const double force = next.rung.figures.force_n;
      if (!(force > 0) && length < out_of_reach_mm) {
        length *= 2;  // another row touches first
        steps.back() = std::move(next);
        before = nullptr;
        continue;
      }
      older = last;
      before = &older;
      steps.push_back(std::move(next));
      if (!(force > 0) || steps.back().rung.figures.mean_mpa >= request_.top_mpa) {
        break;
      }
      length = std::min(reach * force / steps.back().rung.force_per_mm, longest_growth * length);
    }
    return steps;
  }

  /// From the first touch to about the lowest pressure of interest.
  [[nodiscard]] double first_length_mm() const {
    double squeeze = 0;
    for (const ColumnLaw& law : request_.columns->setup().laws) {
      squeeze = std::max(squeeze, law.squeeze_mm(request_.lowest_mpa));
    }
    return squeeze;
  }

  /// A start for Newton: along the slopes of the last step and how they changed before it.
  [[nodiscard]] static ColumnsState onward(const LadderStep* before, const LadderStep& last,
                                           double length_mm) {
    ColumnsState start = last.state;
    start.amplitudes += length_mm * last.state.amplitudes_per_mm;
    start.pressure_mpa += length_mm * last.state.pressure_per_mm;
    start.extension_mm += length_mm * last.state.extension_per_mm;
    if (before != nullptr) {
      const double bend =
          0.5 * length_mm * length_mm / (last.rung.interference_mm - before->rung.interference_mm);
      start.amplitudes += bend * (last.state.amplitudes_per_mm - before->state.amplitudes_per_mm);
      start.extension_mm += bend * (last.state.extension_per_mm - before->state.extension_per_mm);
    }
    return start;
  }

  /// A start half way: the middle of the cubic through both ends.
  [[nodiscard]] static ColumnsState halfway(const LadderStep& a, const LadderStep& b) {
    constexpr double eighth = 0.125;
    const double width = b.rung.interference_mm - a.rung.interference_mm;
    ColumnsState start = b.state;
    start.amplitudes = 0.5 * (a.state.amplitudes + b.state.amplitudes) +
                       eighth * width * (a.state.amplitudes_per_mm - b.state.amplitudes_per_mm);
    start.extension_mm = 0.5 * (a.state.extension_mm + b.state.extension_mm) +
                         eighth * width * (a.state.extension_per_mm - b.state.extension_per_mm);
    start.pressure_mpa = 0.5 * (a.state.pressure_mpa + b.state.pressure_mpa);
    return start;
  }

  /// Slope in the middle between two rungs of the cubic with these ends.
  [[nodiscard]] static double slope_halfway(const End& a, const End& b, double width_mm) {
    return 1.5 * (b.value - a.value) / width_mm - 0.25 * (a.slope + b.slope);
  }

  /// Whether the curve through two rungs misses what was solved in their middle. A bend elsewhere
  /// between them may leave the value there as it is, but not the slope.
  [[nodiscard]] bool misses(const ForceCurve::Rung& a, const ForceCurve::Rung& middle,
                            const ForceCurve::Rung& b) const {
    const double width = b.interference_mm - a.interference_mm;
    const ColumnFigures curve = ForceCurve({a, b}).at(middle.interference_mm);
    const ColumnFigures& is = middle.figures;
    const double force_allowed =
        taken_in * (curve_error_share * is.force_n + curve_error_mpa * request_.face_area_mm2);
    const double force_slope = slope_halfway({a.figures.force_n, a.force_per_mm},
                                             {b.figures.force_n, b.force_per_mm}, width);
    const double highest_allowed = highest_miss_share * is.highest_local_mpa + curve_error_mpa;
    const double highest_slope =
        slope_halfway({a.figures.highest_local_mpa, a.highest_per_mm},
                      {b.figures.highest_local_mpa, b.highest_per_mm}, width);
    return std::abs(curve.force_n - is.force_n) > force_allowed ||
           std::abs(force_slope - middle.force_per_mm) * width > bend_factor * force_allowed ||
           std::abs(curve.highest_local_mpa - is.highest_local_mpa) > highest_allowed ||
           std::abs(highest_slope - middle.highest_per_mm) * width > bend_factor * highest_allowed;
  }

  /// Adds what is needed between two steps.
  void fill(const LadderStep& a, const LadderStep& b, int halvings,
            std::vector<LadderStep>& steps) const {
    const ColumnsState start = halfway(a, b);
    const LadderStep middle =
        solved(0.5 * (a.rung.interference_mm + b.rung.interference_mm), &start);
    const bool go_on = halvings < halvings_cap && misses(a.rung, middle.rung, b.rung);
    if (go_on) {
      fill(a, middle, halvings + 1, steps);
    }
    steps.push_back(middle);
    if (go_on) {
      fill(middle, b, halvings + 1, steps);
    }
  }

  const LadderRequest& request_;
};

}  // namespace

std::vector<LadderStep> climb(const LadderRequest& request) {
  return Climb(request).run();
}

ForceCurve curve_through(const std::vector<LadderStep>& steps) {
  std::vector<ForceCurve::Rung> rungs;
  for (const LadderStep& step : steps) {
    rungs.push_back(step.rung);
  }
  return ForceCurve(std::move(rungs));
}

}  // namespace stackfit
