// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/gauge.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "solver/gauge_parts.hpp"
#include "solver/tie.hpp"
#include "solver/wall_result.hpp"

namespace stackfit {
namespace {

/// Walls are followed to this multiple of the band's top.
constexpr double top_over_band = 3;
constexpr int map_steps = 28;
/// No springs of this trade give more.
constexpr double longest_travel_mm = 200;

double linear(const std::vector<double>& x, const std::vector<double>& y, double at) {
  if (at <= x.front()) {
    return y.front();
  }
  if (at >= x.back()) {
    return y.back();
  }
  const auto above = std::upper_bound(x.begin(), x.end(), at);
  const auto i = static_cast<std::size_t>(above - x.begin());
  return y[i - 1] + (y[i] - y[i - 1]) * (at - x[i - 1]) / (x[i] - x[i - 1]);
}

/// Of a frame: the springs' or nuts' force, all rods together.
Gauged gauge_rods(const Study& study, const GaugeReading& reading) {
  const RodSet& rods = *study.row().box.rods;
  Gauged out;
  out.reading = reading;
  out.net = reading.now;
  if (reading.kind == GaugeKind::torque) {
    const double factor = study.assumptions()[Assumed::nut_factor];
    const double scatter = study.assumptions().fraction(Assumed::nut_factor_scatter);
    const double each = reading.now / (factor * rods.rod.thread.diameter_mm);
    out.force_n = rods.count * each;
    out.force_span_n = {out.force_n / (1 + scatter), out.force_n / (1 - scatter)};
    return out;
  }
  const TieLaw tie = TieLaw::rods(rods);
  // Springs get shorter as the rods are pulled on, until they are solid: halving finds the
  // extension at which something comes true.
  const auto turns_at = [&](double high, const auto& holds) {
    double low = -longest_travel_mm;
    constexpr int halvings = 60;
    for (int i = 0; i < halvings; ++i) {
      const double middle = 0.5 * (low + high);
      (holds(*tie.rod_state_at(middle)) ? high : low) = middle;
    }
    return low;
  };
  const double solid =
      turns_at(longest_travel_mm, [](const RodState& state) { return state.beyond_travel; });
  const auto force_at = [&](double length_mm) {
    const double extension =
        turns_at(solid, [&](const RodState& state) { return state.spring_length_mm <= length_mm; });
    return rods.count * tie.rod_state_at(extension)->rod_force_n;
  };
  // The lengths of all rods' springs were averaged; each reading has its own error.
  const double error = two_sided_95 * reading.error / std::sqrt(static_cast<double>(rods.count));
  out.force_n = force_at(reading.now);
  out.force_span_n = {force_at(reading.now + error), force_at(reading.now - error)};
  out.loose = out.force_n <= 0;
  out.beyond = reading.now <= tie.rod_state_at(solid)->spring_length_mm;
  return out;
}

Standing standing_of(const BandResult& band, double bare_mpa, double judged_mpa) {
  if (band.limit_mpa && judged_mpa > *band.limit_mpa) {
    return Standing::above_limit;
  }
  if (judged_mpa > band.high_mpa) {
    return Standing::above;
  }
  return bare_mpa <= 0             ? Standing::loose
         : bare_mpa < band.low_mpa ? Standing::below
                                   : Standing::inside;
}

/// Both figures, and what is said by them.
void judge(const Study& study, GaugeAnswer& answer) {
  const double area = study.row().face_area_mm2;
  const Combined bare = combined(answer.gauges);
  answer.force_n = bare.force_n;
  answer.force_span_n = bare.span_n;
  answer.readings_agree = bare.agree;
  answer.face_pressure_mpa = answer.force_n / area;
  answer.pressure_span_mpa = {answer.force_span_n.low / area, answer.force_span_n.high / area};
  const bool bows = std::any_of(answer.gauges.begin(), answer.gauges.end(),
                                [](const Gauged& g) { return g.reading.kind == GaugeKind::bow; });
  if (bows) {
    answer.shear_factor = study.assumptions()[Assumed::gauge_shear];
  }
  answer.force_with_shear_n = combined(answer.gauges, answer.shear_factor.value_or(1)).force_n;
  answer.face_pressure_with_shear_mpa = answer.force_with_shear_n / area;
  // The model margin stands for the same shear, so that the greater of the two is enough.
  const double margin_mpa = answer.band.judged(answer.face_pressure_mpa);
  answer.as_computed = standing_of(answer.band, answer.face_pressure_mpa, margin_mpa);
  answer.standing = standing_of(answer.band, answer.face_pressure_mpa,
                                std::max(margin_mpa, answer.face_pressure_with_shear_mpa));
}

}  // namespace

double measured_mm(const Row& row, const RowColumns::Full& full, const GaugeReading& reading) {
  if (reading.kind == GaugeKind::bow) {
    return wall_deflection_mm(row, full, {reading.x_mm, reading.y_mm, reading.last_wall});
  }
  return wall_deflection_mm(row, full, {reading.x_mm, reading.y_mm, false}) +
         wall_deflection_mm(row, full, {reading.x_mm, reading.y_mm, true}) + full.now.extension_mm;
}

ShimLoad placed_load(const Study& study) {
  return study.load_of(study.as_placed().used);
}

Combined combined(const std::vector<Gauged>& gauges, double on_bows) {
  const auto times = [&](const Gauged& g) {
    return g.reading.kind == GaugeKind::bow ? on_bows : 1;
  };
  if (gauges.size() == 1) {
    const Gauged& g = gauges.front();
    return {times(g) * g.force_n, {times(g) * g.force_span_n.low, times(g) * g.force_span_n.high}};
  }
  const auto error_of = [](const Gauged& g) {
    return std::max((g.force_span_n.high - g.force_span_n.low) / (2 * two_sided_95), 1e-9);
  };
  double weights = 0;
  double sum = 0;
  for (const Gauged& g : gauges) {
    const double weight = 1 / (error_of(g) * error_of(g));
    weights += weight;
    sum += weight * times(g) * g.force_n;
  }
  Combined out;
  out.force_n = sum / weights;
  const double half = two_sided_95 / std::sqrt(weights);
  out.span_n = {std::max(0.0, out.force_n - half), out.force_n + half};
  out.agree = std::all_of(gauges.begin(), gauges.end(), [&](const Gauged& g) {
    return std::abs(times(g) * g.force_n - out.force_n) <= two_sided_95 * error_of(g);
  });
  return out;
}

BowMap::BowMap(const Study& study, const RowState& state, const GaugeReading& reading) {
  const Row& row = study.row();
  const RowModel& model = study.model();
  ShimLoad load = placed_load(study);
  const double as_is = load.thickness_mm;
  const double even_as_is = model.interference_mm(state, load) - model.greatest_bulge_mm();
  const double top = top_over_band * row.band.high_mpa * row.face_area_mm2;
  // The interference at which the row presses with so much: it rises with the force.
  const auto thickness_at = [&](double force_n) {
    double low = as_is - even_as_is - model.greatest_bulge_mm() - 1;
    double high = low + 2 + model.greatest_bulge_mm();
    const auto force = [&](double thickness) {
      load.thickness_mm = thickness;
      return model.solve(state, load).force_n;
    };
    while (force(high) < force_n) {
      high += high - low;
    }
    constexpr int halvings = 40;
    for (int i = 0; i < halvings; ++i) {
      const double middle = 0.5 * (low + high);
      (force(middle) < force_n ? low : high) = middle;
    }
    return 0.5 * (low + high);
  };
  even_.push_back(thickness_at(1e-6 * top) - as_is + even_as_is);
  bow_.push_back(0);
  force_.push_back(0);
  local_.push_back(0);
  for (int i = 1; i <= map_steps; ++i) {
    const double share = static_cast<double>(i) / map_steps;
    load.thickness_mm = thickness_at(top * share * share);  // finer where the row begins to press
    const auto full = model.columns_at(state, load);
    const double bow = measured_mm(row, *full, reading);
    if (bow <= bow_.back() || full->figures.force_n <= force_.back()) {
      continue;
    }
    even_.push_back(load.thickness_mm - as_is + even_as_is);
    bow_.push_back(bow);
    force_.push_back(full->figures.force_n);
    local_.push_back(full->figures.highest_local_mpa);
  }
}

double BowMap::force_n(double net_mm) const {
  return linear(bow_, force_, net_mm);
}
double BowMap::bow_mm(double force_n) const {
  return linear(force_, bow_, force_n);
}
double BowMap::even_mm(double force_n) const {
  return linear(force_, even_, force_n);
}
double BowMap::highest_local_mpa(double force_n) const {
  return linear(force_, local_, force_n);
}

Gauged gauge_bow(const BowMap& map, const GaugeReading& reading) {
  Gauged out;
  out.reading = reading;
  out.net = reading.now - reading.empty;
  // Both the reading now and the empty one are off by `error`.
  const double half = two_sided_95 * std::sqrt(2.0) * reading.error;
  out.force_n = map.force_n(out.net);
  out.force_span_n = {map.force_n(out.net - half), map.force_n(out.net + half)};
  out.loose = out.net <= 0;
  out.beyond = out.net > map.top_bow_mm();
  return out;
}

std::string_view why_not_gauged(const Study& study, const GaugeReading& reading) {
  const Row& row = study.row();
  const bool frame = row.box.rods.has_value();
  if (by_wall(reading.kind)) {
    if (frame) {
      return "a clamp frame is gauged by its springs (--spring-length) or nuts (--torque)";
    }
    const auto& wall = reading.last_wall ? row.box.walls.last : row.box.walls.first;
    if (row.box.rigid() || (reading.kind == GaugeKind::bow && !wall)) {
      return "a rigid wall does not bow: say in box.end_walls what it is made of";
    }
    if (std::abs(reading.x_mm) > 0.5 * row.box.walls.width_mm ||
        std::abs(reading.y_mm) > 0.5 * row.box.walls.height_mm) {
      return "the point of the reading lies outside the wall (from its middle, right and up)";
    }
    return {};
  }
  if (!frame) {
    return "springs and nuts belong to a clamp frame: in a box measure a wall's bow (--bow)";
  }
  if (reading.kind == GaugeKind::spring_length && !row.box.rods->springs) {
    return "this frame has no springs: give the nuts' torque, or the bow of nothing";
  }
  return {};
}

GaugeAnswer gauge(const Study& study, const RowState& state,
                  const std::vector<GaugeReading>& readings, bool learn) {
  GaugeAnswer answer;
  answer.state = state;
  answer.band = study.row().band;
  std::optional<BowMap> map;
  for (const GaugeReading& reading : readings) {
    const std::string_view reason = why_not_gauged(study, reading);
    if (!reason.empty()) {
      throw UnusableBuild(std::string(reason));
    }
    if (by_wall(reading.kind)) {
      map.emplace(study, state, reading);
      answer.gauges.push_back(gauge_bow(*map, reading));
    } else {
      answer.gauges.push_back(gauge_rods(study, reading));
    }
  }
  judge(study, answer);
  if (map) {
    answer.highest_local_mpa = map->highest_local_mpa(answer.force_n);
    answer.top_mpa = map->top_force_n() / study.row().face_area_mm2;
  }
  hold_against_build(study, state, map ? &*map : nullptr, answer);
  if (learn) {
    learn_softness(study, state, answer);
  }
  return answer;
}

}  // namespace stackfit
