// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/chance_model.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "solver/chance_shifts.hpp"
#include "solver/monte_carlo.hpp"
#include "solver/rising_root.hpp"

namespace stackfit {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

/// Band's pressures count as pressed at least so far above nothing.
constexpr double least_pressure_mpa = 1e-6;

/// One figure over a block: a draw for each sample, or one value for all (step 0).
struct Draws {
  const double* first = nullptr;
  std::size_t step = 0;
  [[nodiscard]] double at(std::size_t i) const { return first[i * step]; }
};

}  // namespace

struct ChanceModel::Shifts {
  ChanceShifts at;
  /// Draw that each figure takes from `u`; below zero: not drawn.
  int calipers_common = -1;
  int calipers_each = -1;
  int lot_thickness = -1;
  int measured_charge = -1;
  int measured_temperature = -1;
  int box_length = -1;
  int shim_thickness = -1;
  int fixed_sheets = -1;
  int swing_net = -1;
  int swing_hump = -1;
  int growth = -1;
  int growth_under_load = -1;
  int expansion = -1;
  int friction = -1;
  int friction_slip_film = -1;
  int model_margin = -1;
  int softness = -1;
  int first_shape = -1;
  int frame_force = -1;  ///< which of the shape inputs
};

struct ChanceModel::Work {
  explicit Work(std::size_t samples, std::size_t inputs, std::size_t shapes)
      : value(inputs * samples),
        x((1 + shapes) * samples),
        built(samples),
        thinnest(samples),
        thickest(samples),
        ln_more(samples),
        over_more(samples),
        push(samples),
        interference(samples),
        residual(samples),
        residual_above(samples) {}
  std::vector<double> value;  ///< each input's figure
  std::vector<double> x;      ///< ln softness, then shape figures less their nominal ones
  std::vector<double> built;
  std::vector<double> thinnest;
  std::vector<double> thickest;
  std::vector<double> ln_more;    ///< ln (1 + m)
  std::vector<double> over_more;  ///< 1 / (1 + m)
  std::vector<double> push;       ///< greatest face pressure as built that a hand gets in [MPa]
  std::vector<double> interference;
  std::vector<double> residual;
  std::vector<double> residual_above;
};

/// One condition: an interference that a state must reach, or must not pass.
struct ChanceModel::Bound {
  enum class Level : std::uint8_t { fixed, over_margin, push };
  enum class Of : std::uint8_t { built, thinnest, thickest };
  RowModel::Kind kind;
  std::vector<double> levels_mpa;
  Level level = Level::fixed;
  Of of = Of::thickest;
  WindowRow row = WindowRow::tightest;
  double top_mpa = 0;  ///< over_margin: over one plus m
  std::vector<SqueezeSurface> surface = {};
  double per_built = 0;  ///< how it moves with the interference as built
};

struct ChanceModel::Curve {
  RowModel::Kind kind;
  SqueezeSurface surface;
  double per_built = 0;
};

bool ChanceModel::can_draw(const Study& study) {
  return !study.row().rim.has_value();
}

ChanceModel::~ChanceModel() = default;

ChanceModel::ChanceModel(const Study& study, const ShimLoad& load,
                         const std::function<bool(ChanceInput)>& drawn, int threads)
    : study_(study), load_(load), inputs_(chance_inputs(study)), cells_(study.row()) {
  if (drawn) {
    inputs_.keep(drawn);
  }
  all_ = inputs_.all();
  studies_ = std::make_unique<ShapeStudies>(study_, inputs_, load_, threads);
  frame_ = study_.row().box.rods.has_value();
  if (frame_) {
    const RowModel& model = study_.model();
    built_in_frame_mpa_ = model.solve(model.build_state(), load_).face_pressure_mpa;
  }
  const ShiftInputs& s = inputs_.shift;
  double most_off = 0;
  if (s.measured_charge) {
    const Drawn& charge = *s.measured_charge;
    constexpr double deviations = 5;
    most_off = charge.spread == Spread::uniform ? charge.bounds.high : deviations * charge.width;
  }
  shifts_ = std::make_unique<Shifts>(
      Shifts{ChanceShifts(study_, load_, s.measured_temperature.has_value(), most_off)});
  int next = 0;
  const auto number = [&next](const std::optional<Drawn>& input) { return input ? next++ : -1; };
  // In the order of ChanceInputs::all().
  shifts_->calipers_common = number(s.calipers_common);
  shifts_->calipers_each = number(s.calipers_each);
  shifts_->lot_thickness = number(s.lot_thickness);
  shifts_->measured_charge = number(s.measured_charge);
  shifts_->measured_temperature = number(s.measured_temperature);
  shifts_->box_length = number(s.box_length);
  shifts_->shim_thickness = number(s.shim_thickness);
  shifts_->fixed_sheets = number(s.fixed_sheets);
  shifts_->swing_net = number(s.swing_net);
  shifts_->swing_hump = number(s.swing_hump);
  shifts_->growth = number(s.growth);
  shifts_->growth_under_load = number(s.growth_under_load);
  shifts_->expansion = number(s.expansion);
  shifts_->friction = number(s.friction);
  shifts_->friction_slip_film = number(s.friction_slip_film);
  shifts_->model_margin = number(s.model_margin);
  shifts_->softness = inputs_.softness ? next++ : -1;
  shifts_->first_shape = next;
  for (std::size_t i = 0; i < inputs_.shape.size(); ++i) {
    if (inputs_.shape[i].drawn.id == ChanceInput::frame_force) {
      shifts_->frame_force = static_cast<int>(i);
    }
  }
  make_bounds();
}

/// How the interference at a force moves with that as built: rows that follow another path once
/// they are built.
void ChanceModel::add_bound(Bound bound, const SqueezeSurface::Interference& interference) {
  bound.surface.emplace_back(*studies_, cells_, load_, bound.levels_mpa, interference);
  if (!bound.surface.back().reached()) {
    return;  // never met
  }
  bounds_.push_back(std::move(bound));
}

namespace {

/// d interference / d interference as built, at a face pressure.
double slope_by_build(const Study& study, const RowModel::Kind& kind, const ShimLoad& load,
                      double pressure_mpa) {
  constexpr double step_mm = 0.2;
  const double force = pressure_mpa * study.row().face_area_mm2;
  ShimLoad more = load;
  more.thickness_mm += step_mm;
  ShimLoad less = load;
  less.thickness_mm -= step_mm;
  return (study.model().interference_for(kind, more, force) -
          study.model().interference_for(kind, less, force)) /
         (2 * step_mm);
}

}  // namespace

bool ChanceModel::by_hand() const {
  return study_.insertion().method == BuildMethod::hand && !frame_;
}

void ChanceModel::make_bounds() {
  const Row& row = study_.row();
  const BandResult& band = row.band;
  const double area = row.face_area_mm2;
  const RowModel& model = study_.model();
  const double low = std::max(band.low_mpa, least_pressure_mpa);
  const auto& margin = inputs_.shift.model_margin;
  const Span more = margin ? margin->bounds : Span{band.model_margin, band.model_margin};
  // What walls and pads add is nearly straight over so small a span of pressures.
  const auto over_margin = [&](double top) {
    return std::vector<double>{top / (1 + more.high), top / (1 + more.low)};
  };
  const auto at_force = [this, area](RowModel::Kind kind) {
    return [this, area, kind](const Study& s, double level) {
      return s.model().interference_for(kind, load_, level * area);
    };
  };
  const double most_force = 3 * band.high_mpa * area;
  const RowModel::Kind built{true, false, model.build_state().stiff_pads};
  const RowModel::Kind built_soft{true, false, false};
  std::vector<RowModel::Kind> all = model.kinds();
  const auto of = [](const RowModel::Kind& kind) {
    return kind.building ? Bound::Of::built : Bound::Of::thickest;
  };
  const auto slope = [&](const RowModel::Kind& kind, double pressure) {
    return kind.building ? 0.0 : slope_by_build(study_, kind, load_, pressure);
  };
  const auto fixed = [&](const RowModel::Kind& kind, double level, Bound::Of which, WindowRow to) {
    return Bound{kind, {level}, Bound::Level::fixed, which, to, level, {}, slope(kind, level)};
  };
  const auto below = [&](const RowModel::Kind& kind, double top, WindowRow to) {
    return Bound{kind,
                 over_margin(top),
                 Bound::Level::over_margin,
                 of(kind),
                 to,
                 top,
                 {},
                 slope(kind, std::min(top, band.high_mpa))};
  };
  for (const RowModel::Kind& kind : all) {
    add_bound(fixed(kind, low, Bound::Of::thinnest, WindowRow::loosest), at_force(kind));
  }
  if (!frame_) {
    all.push_back(built);
  }
  for (const RowModel::Kind& kind : all) {
    const double top = kind.building ? band.build_high_mpa.value_or(band.high_mpa) : band.high_mpa;
    add_bound(below(kind, top, WindowRow::tightest), at_force(kind));
    if (band.limit_mpa) {
      add_bound(below(kind, *band.limit_mpa, WindowRow::at_limit),
                [this, kind, most_force](const Study& s, double level) {
                  return s.model().interference_for_local(kind, load_, level, most_force);
                });
    }
    if (row.watched()) {
      add_bound(fixed(kind, band.high_mpa, of(kind), WindowRow::at_limit),
                [this, kind, most_force, share = row.swollen_contact](const Study& s, double) {
                  return s.model().interference_for_contact(kind, load_, share, most_force);
                });
    }
  }
  if (band.build_low_mpa && !frame_) {
    add_bound(fixed(built_soft, std::max(*band.build_low_mpa, least_pressure_mpa), Bound::Of::built,
                    WindowRow::loosest),
              at_force(built_soft));
  }
  if (by_hand()) {
    // Levels over the span in which nearly all draws of the friction fall.
    constexpr std::array spans{0.25, 0.6, 1.0, 1.6, 2.5, 4.5};
    Bound push{built, {}, Bound::Level::push, Bound::Of::built, WindowRow::got_in, 0, {}, 0};
    for (const double span : spans) {
      push.levels_mpa.push_back(span * study_.insertion().build_force_cap_n() / area);
    }
    add_bound(std::move(push), at_force(built));
  }
  // Whole curves: from next to nothing to beyond what any draw inside the band sees.
  std::vector<double> levels{least_pressure_mpa};
  constexpr int per_decade = 12;
  for (int i = -2 * per_decade; i <= per_decade / 2; ++i) {
    levels.push_back(band.high_mpa * std::pow(10.0, static_cast<double>(i) / per_decade));
  }
  std::vector<RowModel::Kind> kinds = model.kinds();
  kinds.insert(kinds.begin(), built);
  for (const RowModel::Kind& kind : kinds) {
    curves_.push_back({kind, SqueezeSurface(*studies_, cells_, load_, levels, at_force(kind)),
                       slope(kind, band.high_mpa)});
  }
}

void ChanceModel::take_inputs(std::span<const double> u, std::size_t samples, Work& work) const {
  for (std::size_t input = 0; input < all_.size(); ++input) {
    const Drawn& drawn = *all_[input];
    const double* from = u.data() + input * samples;
    double* to = work.value.data() + input * samples;
    if (drawn.spread == Spread::uniform) {
      const double wide = drawn.bounds.high - drawn.bounds.low;
      for (std::size_t i = 0; i < samples; ++i) {
        to[i] = drawn.bounds.low + wide * from[i];
      }
      continue;
    }
    normal_quantiles({from, samples}, {to, samples});
    for (std::size_t i = 0; i < samples; ++i) {
      to[i] *= to[i] < 0 ? drawn.width : drawn.width_above;
    }
    if (drawn.spread == Spread::normal) {
      for (std::size_t i = 0; i < samples; ++i) {
        to[i] += drawn.centre;
      }
    } else if (static_cast<int>(input) != shifts_->softness) {  // its logarithm is what is wanted
      for (std::size_t i = 0; i < samples; ++i) {
        to[i] = drawn.centre * std::exp(to[i]);
      }
    }
  }
}

void ChanceModel::prepare(std::span<const double> u, std::size_t samples, Work& work) const {
  take_inputs(u, samples, work);
  const Shifts& s = *shifts_;
  const auto figure = [&](int input, std::size_t i) {
    return work.value[static_cast<std::size_t>(input) * samples + i];
  };
  const ShiftDraw nominal = s.at.nominal();
  // A figure's draws, or the one value that it keeps.
  const auto draws = [&](int input, const double& kept) {
    return input >= 0 ? Draws{work.value.data() + static_cast<std::size_t>(input) * samples, 1}
                      : Draws{&kept, 0};
  };
  const double none = 0;
  const double once = 1;
  const std::array lengths{draws(s.calipers_common, none), draws(s.calipers_each, none),
                           draws(s.lot_thickness, none), draws(s.fixed_sheets, none)};
  const Draws box = draws(s.box_length, none);
  const Draws charge = draws(s.measured_charge, none);
  const Draws net = draws(s.swing_net, nominal.swing_net);
  const Draws hump = draws(s.swing_hump, nominal.swing_hump);
  const Draws expansion = draws(s.expansion, nominal.expansion_per_k);
  const Draws reference = draws(s.measured_temperature, nominal.reference_c);
  const Draws growth = draws(s.growth, once);
  const Draws under_load = draws(s.growth_under_load, once);
  for (std::size_t i = 0; i < samples; ++i) {
    ShiftDraw draw;
    draw.lengths_mm =
        lengths[0].at(i) + lengths[1].at(i) + lengths[2].at(i) + lengths[3].at(i) - box.at(i);
    draw.charge_off = charge.at(i);
    draw.swing_net = net.at(i);
    draw.swing_hump = hump.at(i);
    draw.expansion_per_k = expansion.at(i);
    draw.reference_c = reference.at(i);
    draw.growth_per_loss = nominal.growth_per_loss * growth.at(i) * under_load.at(i);
    const Shifted shifted = s.at.at(draw);
    work.built[i] = shifted.built_mm;
    work.thinnest[i] = shifted.thinnest_mm;
    work.thickest[i] = shifted.thickest_mm;
  }
  const double nominal_margin = study_.row().band.model_margin;
  for (std::size_t i = 0; i < samples; ++i) {
    const double more = 1 + (s.model_margin >= 0 ? figure(s.model_margin, i) : nominal_margin);
    work.over_more[i] = 1 / more;
    work.ln_more[i] = std::log(more);
    work.x[i] = s.softness >= 0 ? figure(s.softness, i) : 0;
  }
  for (std::size_t shape = 0; shape < inputs_.shape.size(); ++shape) {
    const double* from =
        work.value.data() + (static_cast<std::size_t>(s.first_shape) + shape) * samples;
    double* to = work.x.data() + (1 + shape) * samples;
    const ShapeInput& input = inputs_.shape[shape];
    const double as_said = input.coordinate(input.nominal);
    for (std::size_t i = 0; i < samples; ++i) {
      to[i] = input.coordinate(from[i]) - as_said;
    }
  }
  const InsertionRules& rules = study_.insertion();
  if (by_hand()) {
    const double area = study_.row().face_area_mm2;
    const auto factor = [&](double friction, std::size_t i) {
      const int input = friction == rules.friction_film ? s.friction_slip_film : s.friction;
      return friction * (input >= 0 ? figure(input, i) : 1);
    };
    for (std::size_t i = 0; i < samples; ++i) {
      work.push[i] = (rules.push_limit_n + rules.weight_n) /
                     (factor(rules.friction, i) + factor(rules.friction_other, i)) / area;
    }
  }
}

/// The interference at a level that differs from draw to draw: by a line between the levels solved.
void ChanceModel::interpolate(const Bound& bound, std::size_t samples, Work& work) const {
  const SqueezeSurface& surface = bound.surface.front();
  const std::vector<double>& levels = surface.levels_mpa();
  const bool push = bound.level == Bound::Level::push;
  const double ln_top = push ? 0 : std::log(bound.top_mpa);
  surface.residual(0, work.x, samples, work.residual);
  for (std::size_t level = 0; level + 1 < levels.size(); ++level) {
    surface.residual(level + 1, work.x, samples, work.residual_above);
    const double from = levels[level];
    const double per_wide = 1 / (levels[level + 1] - from);
    const double least = level == 0 ? -infinity : 0;
    const double most = level + 2 == levels.size() ? infinity : 1;
    for (std::size_t i = 0; i < samples; ++i) {
      const double pressure = push ? work.push[i] : bound.top_mpa * work.over_more[i];
      const double share = (pressure - from) * per_wide;
      if (share >= least && share < most) {
        work.interference[i] =
            work.residual[i] + share * (work.residual_above[i] - work.residual[i]);
      }
    }
    std::swap(work.residual, work.residual_above);
  }
  for (std::size_t i = 0; i < samples; ++i) {
    const double ln_pressure = push ? std::log(work.push[i]) : ln_top - work.ln_more[i];
    work.interference[i] += cells_.at(ln_pressure - work.x[i]);
  }
}

/// The interference of a bound in every draw, turned into the total of shims at which it is met.
void ChanceModel::apply(const Bound& bound, std::size_t samples, Work& work,
                        std::span<double> out) const {
  const SqueezeSurface& surface = bound.surface.front();
  const std::vector<double>& levels = surface.levels_mpa();
  const auto ln_softness = std::span(work.x).first(samples);
  if (levels.size() == 1) {
    surface.residual(0, work.x, samples, work.residual);
    const double ln_level = std::log(levels.front());
    for (std::size_t i = 0; i < samples; ++i) {
      work.interference[i] = cells_.at(ln_level - ln_softness[i]) + work.residual[i];
    }
  } else {
    interpolate(bound, samples, work);
  }
  const bool least = bound.row == WindowRow::loosest;
  const std::vector<double>& now = bound.of == Bound::Of::built      ? work.built
                                   : bound.of == Bound::Of::thinnest ? work.thinnest
                                                                     : work.thickest;
  double* to = out.data() + static_cast<std::size_t>(bound.row) * samples;
  const double beta = bound.per_built;
  for (std::size_t i = 0; i < samples; ++i) {
    // now + t = interference + beta (built + t), for the total t that is met
    const double short_by = work.interference[i] + beta * work.built[i] - now[i];
    double total = 0;
    if (frame_) {
      total = short_by > 0 ? infinity : -infinity;  // of a least one: never met; else always kept
    } else {
      total = load_.thickness_mm + short_by / (1 - beta);
    }
    to[i] = least ? std::max(to[i], total) : std::min(to[i], total);
  }
}

/// As built a frame is brought to its force.
void ChanceModel::judge_frame(std::size_t samples, const Work& work, std::span<double> out) const {
  const Row& build = study_.row();
  const double pulled = built_in_frame_mpa_;
  const double top = build.band.build_high_mpa.value_or(build.band.high_mpa);
  const double bottom = build.band.build_low_mpa.value_or(0);
  for (std::size_t i = 0; i < samples; ++i) {
    const double now = pulled * frame_factor(work, samples, i);
    if (now * std::exp(work.ln_more[i]) > top) {
      out[static_cast<std::size_t>(WindowRow::tightest) * samples + i] = -infinity;
    }
    if (now < bottom) {
      out[static_cast<std::size_t>(WindowRow::loosest) * samples + i] = infinity;
    }
  }
}

void ChanceModel::windows(std::span<const double> u, std::size_t samples,
                          std::span<double> out) const {
  Work work(samples, all_.size(), inputs_.shape.size());
  prepare(u, samples, work);
  const auto row = [&](WindowRow which) {
    return out.subspan(static_cast<std::size_t>(which) * samples, samples);
  };
  std::ranges::fill(row(WindowRow::loosest), -infinity);
  std::ranges::fill(row(WindowRow::tightest), infinity);
  std::ranges::fill(row(WindowRow::at_limit), infinity);
  std::ranges::fill(row(WindowRow::got_in), infinity);
  for (const Bound& bound : bounds_) {
    apply(bound, samples, work, out);
  }
  if (frame_) {
    judge_frame(samples, work, out);
  }
  const int share = shifts_->shim_thickness;
  for (std::size_t i = 0; i < samples; ++i) {
    row(WindowRow::shim_share)[i] =
        share >= 0 ? work.value[static_cast<std::size_t>(share) * samples + i] : 0;
  }
}

/// Pressures at interferences, between the levels of a curve: the squeeze of the cells by its own
/// law, the rest by a line.
void ChanceModel::solve(const Curve& curve, std::span<const double> target,
                        std::span<const double> built, Work& work,
                        std::span<double> pressure) const {
  const std::size_t samples = pressure.size();
  const std::vector<double>& levels = curve.surface.levels_mpa();
  std::vector<double> residual(levels.size() * samples);
  for (std::size_t level = 0; level < levels.size(); ++level) {
    curve.surface.residual(level, work.x, samples,
                           std::span(residual).subspan(level * samples, samples));
  }
  for (std::size_t i = 0; i < samples; ++i) {
    const double softness = work.x[i];
    const double wanted = target[i] - curve.per_built * built[i];
    const auto at_level = [&](std::size_t level) {
      return cells_.at(std::log(levels[level]) - softness) + residual[level * samples + i];
    };
    if (wanted <= at_level(0)) {
      pressure[i] = 0;
      continue;
    }
    std::size_t under = 0;
    std::size_t over = levels.size() - 1;
    while (under + 1 < over) {
      const std::size_t middle = (under + over) / 2;
      (at_level(middle) <= wanted ? under : over) = middle;
    }
    const double from = residual[under * samples + i];
    const double per_mpa = (residual[over * samples + i] - from) / (levels[over] - levels[under]);
    const auto beyond = [&](double p) {
      return cells_.at(std::log(p) - softness) + from + per_mpa * (p - levels[under]) - wanted;
    };
    constexpr double close_mm = 1e-7;  // far below what a pressure shows
    pressure[i] = rising_root({levels[under], levels[over], close_mm}, beyond);
  }
}

/// What the shims really come to, beyond the load that the curves were solved with.
void ChanceModel::add_shims(const ShimTotal& shims, std::size_t samples, Work& work) const {
  const int share = shifts_->shim_thickness;
  const double longer = shims.total_mm - load_.thickness_mm;
  for (std::size_t i = 0; i < samples; ++i) {
    const double off =
        share < 0 ? 0 : shims.spread_mm * work.value[static_cast<std::size_t>(share) * samples + i];
    work.built[i] += longer + off;
    work.thinnest[i] += longer + off;
    work.thickest[i] += longer + off;
  }
}

/// The force of a frame's rods, as a factor on what it was brought to.
double ChanceModel::frame_factor(const Work& work, std::size_t samples, std::size_t i) const {
  const int shape = shifts_->frame_force;
  return shape < 0 ? 1 : 1 + work.x[static_cast<std::size_t>(1 + shape) * samples + i];
}

void ChanceModel::pressures(const ShimTotal& shims, std::span<const double> u, std::size_t samples,
                            std::span<double> out) const {
  Work work(samples, all_.size(), inputs_.shape.size());
  prepare(u, samples, work);
  add_shims(shims, samples, work);
  const auto row = [&](std::size_t which) { return out.subspan(which * samples, samples); };
  std::ranges::fill(row(0), infinity);
  std::vector<double> found(samples);
  for (const Curve& curve : curves_) {
    if (curve.kind.building && frame_) {
      for (std::size_t i = 0; i < samples; ++i) {
        row(1)[i] = built_in_frame_mpa_ * frame_factor(work, samples, i);
      }
    } else if (curve.kind.building) {
      solve(curve, work.built, work.built, work, row(1));
    } else {
      solve(curve, work.thinnest, work.built, work, found);
      std::ranges::transform(row(0), found, row(0).begin(),
                             [](double a, double b) { return std::min(a, b); });
    }
  }
  solve_highest(samples, work, row(2));
}

void ChanceModel::solve_highest(std::size_t samples, Work& work, std::span<double> out) const {
  std::ranges::fill(out, 0.0);
  std::vector<double> found(samples);
  for (const Curve& curve : curves_) {
    if (!curve.kind.building) {
      solve(curve, work.thickest, work.built, work, found);
      std::ranges::transform(out, found, out.begin(),
                             [](double a, double b) { return std::max(a, b); });
    }
  }
}

void ChanceModel::highest_pressures(const ShimTotal& shims, std::span<const double> u,
                                    std::size_t samples, std::span<double> out) const {
  Work work(samples, all_.size(), inputs_.shape.size());
  prepare(u, samples, work);
  add_shims(shims, samples, work);
  solve_highest(samples, work, out);
}

}  // namespace stackfit
