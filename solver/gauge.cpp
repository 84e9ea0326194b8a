// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/gauge.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "solver/tie.hpp"
#include "solver/wall_result.hpp"

namespace stackfit {
namespace {

constexpr double two_sided_95 = 1.959963984540054;
/// Walls are followed to this multiple of the band's top.
constexpr double top_over_band = 3;
constexpr int map_steps = 28;
/// No springs of this trade give more.
constexpr double longest_travel_mm = 200;
/// Between what factors on the softness a build is believed at all.
constexpr double farthest_factor = 4;

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

bool by_wall(GaugeKind kind) {
  return kind == GaugeKind::bow || kind == GaugeKind::gap;
}

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

/// Inverse-variance mean of what several readings say, and whether they agree.
void combine(GaugeAnswer& answer) {
  double weights = 0;
  double sum = 0;
  const auto error_of = [](const Gauged& g) {
    return std::max((g.force_span_n.high - g.force_span_n.low) / (2 * two_sided_95), 1e-9);
  };
  if (answer.gauges.size() == 1) {
    answer.force_n = answer.gauges.front().force_n;
    answer.force_span_n = answer.gauges.front().force_span_n;
    return;
  }
  for (const Gauged& g : answer.gauges) {
    const double weight = 1 / (error_of(g) * error_of(g));
    weights += weight;
    sum += weight * g.force_n;
  }
  answer.force_n = sum / weights;
  const double half = two_sided_95 / std::sqrt(weights);
  answer.force_span_n = {std::max(0.0, answer.force_n - half), answer.force_n + half};
  for (const Gauged& g : answer.gauges) {
    answer.readings_agree =
        answer.readings_agree && std::abs(g.force_n - answer.force_n) <= two_sided_95 * error_of(g);
  }
}

/// The same build with another softness.
Build with_softness(const Study& study, double a_mpa) {
  Build changed = study.build();
  const double b = study.assumptions()[Assumed::squeeze_b];
  const auto* said =
      changed.cell.softness ? std::get_if<SoftnessLaw>(&*changed.cell.softness) : nullptr;
  changed.cell.softness = SoftnessLaw{a_mpa, said != nullptr ? said->b : b};
  return changed;
}

double force_with(const Study& study, const RowState& state, double a_mpa) {
  const Study other(with_softness(study, a_mpa), study.assumptions(), study.store(), study.place());
  return other.model().solve(state, placed_load(other)).force_n;
}

/// What a bow or gap would read: softer cells also press elsewhere on the wall, so that the bow
/// itself is compared, not the force it stands for.
double reading_with(const Study& study, const RowState& state, double a_mpa,
                    const GaugeReading& reading) {
  const Study other(with_softness(study, a_mpa), study.assumptions(), study.store(), study.place());
  const auto full = other.model().columns_at(state, placed_load(other));
  return measured_mm(other.row(), *full, reading);
}

struct Softness {
  double a_mpa = 0;
  double b = 0;
};
/// Empty where the build gives a table.
std::optional<Softness> softness_of(const Study& study) {
  const auto& said = study.build().cell.softness;
  if (!said) {
    return Softness{study.assumptions()[Assumed::squeeze_a],
                    study.assumptions()[Assumed::squeeze_b]};
  }
  const auto* law = std::get_if<SoftnessLaw>(&*said);
  return law != nullptr ? std::optional(Softness{law->a_mpa, law->b}) : std::nullopt;
}

/// Factor on A at which something that rises with it comes to `wanted`. Empty beyond the farthest.
template <typename Rising>
std::optional<double> factor_for(double wanted, const Rising& of_factor) {
  double low = 1 / farthest_factor;
  double high = farthest_factor;
  if (of_factor(low) > wanted || of_factor(high) < wanted) {
    return {};
  }
  constexpr int halvings = 12;  // to a thousandth
  for (int i = 0; i < halvings; ++i) {
    const double middle = std::sqrt(low * high);
    (of_factor(middle) < wanted ? low : high) = middle;
  }
  return std::sqrt(low * high);
}

/// Standard uncertainties of what the row's length rests on [mm], and of the charge.
struct LengthErrors {
  double box_mm = 0.3;
  double cells_mm = 0;
  double charge_mm = 0;
};

LengthErrors length_errors(const Study& study) {
  const Row& row = study.row();
  const auto cells = static_cast<double>(row.cells.size());
  // Calipers: 0.03 mm alike for all cells, 0.02 mm of each reading (common practice).
  constexpr double alike_mm = 0.03;
  constexpr double each_mm = 0.02;
  LengthErrors out;
  out.cells_mm = std::hypot(cells * alike_mm, std::sqrt(cells) * each_mm);
  const double doubt = study.assumptions()[Assumed::charge_doubt] / two_sided_95;
  const double measured = row.cells.front().measured_charge;
  const auto swing_at = [&](double charge) { return row.swing.at(std::clamp(charge, 0.0, 1.0)); };
  out.charge_mm = cells * row.nominal_mm *
                  std::max(std::abs(swing_at(measured + doubt) - swing_at(measured)),
                           std::abs(swing_at(measured - doubt) - swing_at(measured)));
  return out;
}

/// The charge at measurement that would lengthen the row by so much; NaN where none does.
double charge_for(const Row& row, double longer_mm) {
  const double measured = row.cells.front().measured_charge;
  const double scale = static_cast<double>(row.cells.size()) * row.nominal_mm;
  double best = std::numeric_limits<double>::quiet_NaN();
  double least = std::numeric_limits<double>::infinity();
  constexpr int steps = 200;
  double before = 0;
  for (int i = 0; i <= steps; ++i) {
    const double charge = static_cast<double>(i) / steps;
    const double miss = scale * (row.swing.at(measured) - row.swing.at(charge)) - longer_mm;
    if (i > 0 && (miss <= 0) != (before <= 0) && std::abs(charge - measured) < least) {
      least = std::abs(charge - measured);
      best = charge;
    }
    before = miss;
  }
  return best;
}

void find_suspects(const Study& study, const RowState& state, double longer_mm,
                   const LengthErrors& errors, GaugeAnswer& answer) {
  const Row& row = study.row();
  auto& suspects = answer.predicted->suspects;
  if (const auto softness = softness_of(study)) {
    const auto factor = factor_for(answer.force_n, [&](double times) {
      return force_with(study, state, softness->a_mpa * times);
    });
    const Assumption& doubt = assumption(Assumed::squeeze_a);
    const double error = std::log(doubt.high / doubt.low) / (2 * two_sided_95);
    if (factor) {
      suspects.push_back({SuspectInput::softness, *factor, std::abs(std::log(*factor)) / error});
    }
  }
  suspects.push_back({SuspectInput::box_length, -longer_mm, std::abs(longer_mm) / errors.box_mm});
  suspects.push_back({SuspectInput::cells_thickness,
                      longer_mm / static_cast<double>(row.cells.size()),
                      std::abs(longer_mm) / errors.cells_mm});
  const double charge = charge_for(row, longer_mm);
  if (std::isfinite(charge)) {
    const double points = charge - row.cells.front().measured_charge;
    suspects.push_back(
        {SuspectInput::charge, points,
         std::abs(points) / (study.assumptions()[Assumed::charge_doubt] / two_sided_95)});
  }
  if (longer_mm > 0) {
    const double loss =
        longer_mm / (static_cast<double>(row.cells.size()) * row.nominal_mm * row.growth.per_loss);
    constexpr double usual_loss = 0.05;  // of a bank some years old (common practice)
    if (loss < 1) {
      suspects.push_back({SuspectInput::growth, loss, loss / usual_loss});
    }
  }
  std::stable_sort(suspects.begin(), suspects.end(), [](const Suspect& a, const Suspect& b) {
    return a.in_its_errors < b.in_its_errors;
  });
}

void predict(const Study& study, const RowState& state, const BowMap* map, GaugeAnswer& answer) {
  if (study.build().placed.empty() && !study.build().kit.empty()) {
    return;  // which sheets are in is not known
  }
  GaugeAnswer::Prediction prediction;
  const ShimLoad load = placed_load(study);
  prediction.force_n = study.model().solve_fully(state, load).force_n;
  double soft = prediction.force_n;
  double stiff = prediction.force_n;
  const auto softness = softness_of(study);
  if (softness && study.row().law_assumed) {
    const Assumption& doubt = assumption(Assumed::squeeze_a);
    soft = force_with(study, state, softness->a_mpa * doubt.low / doubt.value);
    stiff = force_with(study, state, softness->a_mpa * doubt.high / doubt.value);
  }
  const LengthErrors errors = length_errors(study);
  // A frame is brought to its force by length or by turns (common practice: to a tenth).
  constexpr double frame_error_share = 0.1;
  const double frame_error = map == nullptr ? frame_error_share * prediction.force_n : 0;
  double per_mm = 0;
  double longer = 0;
  if (map != nullptr) {
    constexpr double step_share = 0.02;
    const double f = std::max(prediction.force_n, 0.02 * map->top_force_n());
    per_mm = 2 * step_share * f /
             (map->even_mm((1 + step_share) * f) - map->even_mm((1 - step_share) * f));
    longer = map->even_mm(answer.force_n) - map->even_mm(prediction.force_n);
  }
  const double length = std::hypot(errors.box_mm, errors.cells_mm, errors.charge_mm);
  prediction.error_n =
      std::hypot((stiff - soft) / (2 * two_sided_95), per_mm * length, frame_error);
  const double read = (answer.force_span_n.high - answer.force_span_n.low) / (2 * two_sided_95);
  prediction.deviation =
      (answer.force_n - prediction.force_n) / std::max(1e-9, std::hypot(prediction.error_n, read));
  answer.predicted = prediction;
  if (map != nullptr && std::abs(prediction.deviation) > two_sided_95) {
    find_suspects(study, state, longer, errors, answer);
  }
}

void learn_softness(const Study& study, const RowState& state, GaugeAnswer& answer) {
  const auto softness = softness_of(study);
  if (!softness || !answer.predicted) {
    return;
  }
  const Gauged& best = answer.gauges.front();
  const auto factor = [&](double net, double force_n) {
    if (!by_wall(best.reading.kind)) {
      return factor_for(
          force_n, [&](double times) { return force_with(study, state, softness->a_mpa * times); });
    }
    return factor_for(net, [&](double times) {
      return reading_with(study, state, softness->a_mpa * times, best.reading);
    });
  };
  const double half = two_sided_95 * std::sqrt(2.0) * best.reading.error;
  const auto middle = factor(best.net, best.force_n);
  const auto low = factor(best.net - half, best.force_span_n.low);
  const auto high = factor(best.net + half, best.force_span_n.high);
  if (middle && low && high) {
    answer.learned = GaugeAnswer::Learned{softness->a_mpa * *middle,
                                          {softness->a_mpa * *low, softness->a_mpa * *high},
                                          softness->b,
                                          softness->a_mpa};
  }
}

Standing standing_of(const BandResult& band, double pressure_mpa) {
  if (band.limit_mpa && band.judged(pressure_mpa) > *band.limit_mpa) {
    return Standing::above_limit;
  }
  if (band.judged(pressure_mpa) > band.high_mpa) {
    return Standing::above;
  }
  return pressure_mpa <= 0             ? Standing::loose
         : pressure_mpa < band.low_mpa ? Standing::below
                                       : Standing::inside;
}

}  // namespace

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
  combine(answer);
  const double area = study.row().face_area_mm2;
  answer.face_pressure_mpa = answer.force_n / area;
  answer.pressure_span_mpa = {answer.force_span_n.low / area, answer.force_span_n.high / area};
  if (map) {
    answer.highest_local_mpa = map->highest_local_mpa(answer.force_n);
    answer.top_mpa = map->top_force_n() / area;
  }
  answer.standing = standing_of(answer.band, answer.face_pressure_mpa);
  predict(study, state, map ? &*map : nullptr, answer);
  if (learn) {
    learn_softness(study, state, answer);
  }
  return answer;
}

}  // namespace stackfit
