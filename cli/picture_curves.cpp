// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/picture_curves.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <utility>

#include "cli/figures.hpp"

namespace stackfit::cli {
namespace {

double on_line(double x, double x0, double y0, double x1, double y1) {
  return x1 > x0 ? y0 + (y1 - y0) * (x - x0) / (x1 - x0) : y0;
}

// Straight between rising places, level beyond them.
double looked_up(const std::vector<double>& xs, const double* ys, double x) {
  const auto above = std::upper_bound(xs.begin(), xs.end(), x);
  if (above == xs.begin()) return ys[0];
  const auto i = static_cast<std::size_t>(above - xs.begin());
  if (above == xs.end()) return ys[xs.size() - 1];
  return on_line(x, xs[i - 1], ys[i - 1], xs[i], ys[i]);
}

struct PlayedState {
  double temperature_c = 20;
  double capacity_loss = 0;
  enum class Pads : std::uint8_t { highest, lowest, fresh_and_soft } pads = Pads::highest;
};

// With the shims as planned. The steps of the grid are finer than the pen: straight lines serve.
double played_mpa(const Answer& answer, const PlayedState& state, double charge) {
  const Play& play = answer.picture->play;
  const double longer = looked_up(play.charge, play.longer_mm.data(), charge) +
                        play.longer_mm_per_k * (state.temperature_c - answer.build_temperature_c) +
                        play.longer_mm_per_loss * state.capacity_loss;
  const auto total =
      static_cast<std::size_t>(std::min_element(play.total_mm.begin(), play.total_mm.end(),
                                                [&](double a, double b) {
                                                  return std::abs(a - answer.plan.shim_total_mm) <
                                                         std::abs(b - answer.plan.shim_total_mm);
                                                }) -
                               play.total_mm.begin());
  std::vector<double> found;
  for (const PlayKind& kind : play.kinds) {
    const bool as_new = !kind.settled && !kind.stiff_pads;
    if (state.pads == PlayedState::Pads::fresh_and_soft && !as_new) continue;
    found.push_back(looked_up(
        play.shift_mm, kind.face_pressure_mpa.data() + total * play.shift_mm.size(), longer));
  }
  if (found.empty()) return 0;
  return state.pads == PlayedState::Pads::highest ? *std::max_element(found.begin(), found.end())
                                                  : *std::min_element(found.begin(), found.end());
}

PressureCurve played_curve(const Answer& answer, const PlayedState& state, std::string name) {
  constexpr int steps = 50;
  std::vector<double> charges = answer.picture->play.charge;
  for (int i = 0; i <= steps; ++i) charges.push_back(static_cast<double>(i) / steps);
  std::sort(charges.begin(), charges.end());
  constexpr double same_charge = 1e-6;
  PressureCurve curve{std::move(name), {}};
  for (const double charge : charges) {
    if (!curve.points.empty() && charge - curve.points.back().charge < same_charge) continue;
    curve.points.push_back({charge, played_mpa(answer, state, charge)});
  }
  return curve;
}

// The solved curve ends with the charges in use; beyond, it goes on as interpolated.
void go_on_beyond(PressureCurve& curve, const Answer& answer, double reference_c) {
  const auto& kinds = answer.picture->play.kinds;
  const bool as_new = std::any_of(kinds.begin(), kinds.end(), [](const PlayKind& kind) {
    return !kind.settled && !kind.stiff_pads;
  });
  if (curve.points.empty() || !as_new) return;
  const PressureCurve played =
      played_curve(answer, {reference_c, 0, PlayedState::Pads::fresh_and_soft}, "");
  constexpr double nearly_there = 0.01;
  const double low = curve.points.front().charge - nearly_there;
  const double high = curve.points.back().charge + nearly_there;
  std::vector<CurvePoint> points;
  for (const CurvePoint& point : played.points) {
    if (point.charge < low) points.push_back(point);
  }
  points.insert(points.end(), curve.points.begin(), curve.points.end());
  for (const CurvePoint& point : played.points) {
    if (point.charge > high) points.push_back(point);
  }
  curve.points = std::move(points);
}

bool can_play(const Answer& answer) {
  if (!answer.picture) return false;
  const Play& play = answer.picture->play;
  const std::size_t size = play.total_mm.size() * play.shift_mm.size();
  return size > 0 && !play.charge.empty() && !play.kinds.empty() &&
         play.charge.size() == play.longer_mm.size() &&
         std::all_of(play.kinds.begin(), play.kinds.end(),
                     [&](const PlayKind& kind) { return kind.face_pressure_mpa.size() == size; });
}

std::string heat_name(const char* word, double celsius) {
  return fmt::format("{} {} \u00b0C", word, Figures().temperature_number(celsius));
}

// As far as it is to serve; where nothing was said of age, as far as the what-if looks.
double aged_loss(const Answer& answer) {
  if (answer.use_capacity_loss.high > 0) {
    return answer.use_capacity_loss.high;
  }
  const auto move = std::ranges::find(answer.moves, MoveCode::capacity_loss, &Move::code);
  return move == answer.moves.end() ? 0 : std::min(move->by, answer.picture->play.most_loss);
}

}  // namespace

std::vector<PressureCurve> pressure_curves(const Answer& answer) {
  std::vector<PressureCurve> curves{{"new", {}}};
  const std::size_t count = std::min(answer.curve_charge.size(), answer.curve_pressure_mpa.size());
  for (std::size_t i = 0; i < count; ++i) {
    curves.front().points.push_back({answer.curve_charge[i], answer.curve_pressure_mpa[i]});
  }
  if (!can_play(answer)) return curves;
  const double reference_c = assumption(Assumed::reference_temperature).value;
  go_on_beyond(curves.front(), answer, reference_c);
  if (const double loss = aged_loss(answer); loss > 0) {
    curves.push_back(played_curve(answer, {reference_c, loss}, "aged " + percent(loss)));
  }
  if (answer.use_temperature_c.high > reference_c) {
    curves.push_back(played_curve(answer, {answer.use_temperature_c.high, 0},
                                  heat_name("warm", answer.use_temperature_c.high)));
  }
  if (answer.use_temperature_c.low < reference_c) {
    curves.push_back(played_curve(answer,
                                  {answer.use_temperature_c.low, 0, PlayedState::Pads::lowest},
                                  heat_name("cold", answer.use_temperature_c.low)));
  }
  return curves;
}

double pressure_on(const PressureCurve& curve, double charge) {
  std::vector<double> charges;
  std::vector<double> pressures;
  for (const CurvePoint& point : curve.points) {
    charges.push_back(point.charge);
    pressures.push_back(point.pressure_mpa);
  }
  return charges.empty() ? 0 : looked_up(charges, pressures.data(), charge);
}

std::vector<CurvePoint> curve_between(const PressureCurve& curve, const Span& charge) {
  std::vector<CurvePoint> points;
  if (curve.points.empty()) return points;
  const double low = std::max(charge.low, curve.points.front().charge);
  const double high = std::min(charge.high, curve.points.back().charge);
  if (low > high) return points;
  points.push_back({low, pressure_on(curve, low)});
  for (const CurvePoint& point : curve.points) {
    if (point.charge > low && point.charge < high) points.push_back(point);
  }
  points.push_back({high, pressure_on(curve, high)});
  return points;
}

std::vector<BandCrossing> crossings(const PressureCurve& curve, const BandResult& band) {
  std::vector<BandCrossing> found;
  for (std::size_t i = 1; i < curve.points.size(); ++i) {
    const CurvePoint& a = curve.points[i - 1];
    const CurvePoint& b = curve.points[i];
    for (const bool upper : {true, false}) {
      const double edge = upper ? band.most_for(band.high_mpa) : band.low_mpa;
      const bool a_out = upper ? a.pressure_mpa > edge : a.pressure_mpa < edge;
      const bool b_out = upper ? b.pressure_mpa > edge : b.pressure_mpa < edge;
      if (a_out == b_out) continue;
      const double charge = a.charge + (b.charge - a.charge) * (edge - a.pressure_mpa) /
                                           (b.pressure_mpa - a.pressure_mpa);
      found.push_back({{charge, edge}, upper, b_out});
    }
  }
  std::sort(found.begin(), found.end(),
            [](const BandCrossing& a, const BandCrossing& b) { return a.at.charge < b.at.charge; });
  return found;
}

}  // namespace stackfit::cli
