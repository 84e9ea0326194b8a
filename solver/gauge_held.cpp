// SPDX-License-Identifier: GPL-3.0-or-later
//
// The force that was read against the force the build as placed should press with.
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <variant>

#include "solver/gauge_parts.hpp"
#include "solver/materials.hpp"

namespace stackfit {
namespace {

/// Between what factors on the softness a build is believed at all.
constexpr double farthest_factor = 4;

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
}

/// What the build as placed presses with, and how far from that the readings are.
struct Held {
  GaugeAnswer::Prediction prediction;
  double longer_mm = 0;  ///< a row so much longer would press as was read
  LengthErrors errors;
};

Held hold(const Study& study, const RowState& state, const BowMap* map, double force_n,
          const Span& span_n) {
  Held out;
  GaugeAnswer::Prediction& prediction = out.prediction;
  prediction.force_n = study.model().solve_fully(state, placed_load(study)).force_n;
  double soft = prediction.force_n;
  double stiff = prediction.force_n;
  const auto softness = softness_of(study);
  if (softness && study.row().law_assumed) {
    const Assumption& doubt = assumption(Assumed::squeeze_a);
    soft = force_with(study, state, softness->a_mpa * doubt.low / doubt.value);
    stiff = force_with(study, state, softness->a_mpa * doubt.high / doubt.value);
  }
  out.errors = length_errors(study);
  // A frame is brought to its force by length or by turns (common practice: to a tenth).
  constexpr double frame_error_share = 0.1;
  const double frame_error = map == nullptr ? frame_error_share * prediction.force_n : 0;
  double per_mm = 0;
  if (map != nullptr) {
    constexpr double step_share = 0.02;
    const double f = std::max(prediction.force_n, 0.02 * map->top_force_n());
    per_mm = 2 * step_share * f /
             (map->even_mm((1 + step_share) * f) - map->even_mm((1 - step_share) * f));
    out.longer_mm = map->even_mm(force_n) - map->even_mm(prediction.force_n);
  }
  const double length = std::hypot(out.errors.box_mm, out.errors.cells_mm, out.errors.charge_mm);
  prediction.error_n =
      std::hypot((stiff - soft) / (2 * two_sided_95), per_mm * length, frame_error);
  const double read = (span_n.high - span_n.low) / (2 * two_sided_95);
  prediction.deviation =
      (force_n - prediction.force_n) / std::max(1e-9, std::hypot(prediction.error_n, read));
  return out;
}

/// The joint of an end wall, if it is one and the same round its sides and bottom.
std::optional<WallJoint> joint_of(const std::optional<EndWallInput>& wall) {
  const EndWallInput said = wall.value_or(PlateWall{});
  const auto* plate = std::get_if<PlateWall>(&said);
  if (plate == nullptr || plate->edges) {
    return {};
  }
  return plate->joint.value_or(joint_when_not_said);
}

void join(std::optional<EndWallInput>& wall, WallJoint joint) {
  PlateWall plate = wall ? std::get<PlateWall>(*wall) : PlateWall{};
  plate.joint = joint;
  wall = plate;
}

bool joint_said(const Build& build) {
  const auto said = [](const EndWallInput& wall) {
    const auto* plate = std::get_if<PlateWall>(&wall);
    return plate == nullptr || plate->joint || plate->edges;
  };
  const Box& box = build.box;
  return box.end_walls && said(*box.end_walls) && (!box.last_end_wall || said(*box.last_end_wall));
}

/// The build with its end walls' edges held the other way: welded for screwed, screwed for welded
/// or folded. Empty where they are open, rigid, known by a bow, or joined edge by edge.
std::optional<Build> joined_otherwise(const Study& study) {
  Build build = study.build();
  const auto joint = joint_of(build.box.end_walls);
  const bool alike = !build.box.last_end_wall || joint_of(build.box.last_end_wall) == joint;
  if (build.frame || !joint || !alike || *joint == WallJoint::open) {
    return {};
  }
  const WallJoint other = *joint == WallJoint::screwed ? WallJoint::welded : WallJoint::screwed;
  join(build.box.end_walls, other);
  if (build.box.last_end_wall) {
    join(build.box.last_end_wall, other);
  }
  return build;
}

/// The same readings on the build joined the other way; a suspect where it comes nearer to them.
void try_other_joint(const Study& study, const RowState& state, GaugeAnswer& answer) {
  const std::optional<Build> build = joined_otherwise(study);
  if (!build) {
    return;
  }
  const Study other(*build, study.assumptions(), study.store(), study.place());
  std::vector<Gauged> gauges;
  std::optional<BowMap> map;
  GaugeAnswer::OtherJoint found;
  for (const Gauged& gauged : answer.gauges) {
    map.emplace(other, state, gauged.reading);
    gauges.push_back(gauge_bow(*map, gauged.reading));
    found.at_least = found.at_least || gauges.back().beyond;
  }
  const Combined there = combined(gauges);
  found.said = joint_said(study.build());
  found.screwed = joint_of(build->box.end_walls) == WallJoint::screwed;
  found.force_n = there.force_n;
  answer.other_joint = found;
  if (!answer.predicted || std::abs(answer.predicted->deviation) <= two_sided_95 ||
      !(answer.force_n > 0)) {
    return;
  }
  // A joint is one or the other: not said, either is as likely; said, it is rarely the other. What
  // it leaves unexplained counts beside that (own judgement).
  constexpr double errors_if_not_said = 1;
  constexpr double errors_if_said = 2;
  const double left = hold(other, state, &*map, there.force_n, there.span_n).prediction.deviation;
  if (std::abs(left) < std::abs(answer.predicted->deviation)) {
    answer.predicted->suspects.push_back(
        {SuspectInput::wall_joint, found.force_n / answer.force_n,
         std::hypot(found.said ? errors_if_said : errors_if_not_said, left)});
  }
}

}  // namespace

void hold_against_build(const Study& study, const RowState& state, const BowMap* map,
                        GaugeAnswer& answer) {
  // With a kit of which nothing is placed it is not known which sheets are in.
  const bool known = !study.build().placed.empty() || study.build().kit.empty();
  bool disagree = false;
  if (known) {
    const Held held = hold(study, state, map, answer.force_n, answer.force_span_n);
    answer.predicted = held.prediction;
    disagree = map != nullptr && std::abs(held.prediction.deviation) > two_sided_95;
    if (disagree) {
      find_suspects(study, state, held.longer_mm, held.errors, answer);
    }
  }
  if (map != nullptr && (disagree || !joint_said(study.build()))) {
    try_other_joint(study, state, answer);
  }
  if (disagree) {
    auto& suspects = answer.predicted->suspects;
    std::stable_sort(suspects.begin(), suspects.end(), [](const Suspect& a, const Suspect& b) {
      return a.in_its_errors < b.in_its_errors;
    });
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

}  // namespace stackfit
