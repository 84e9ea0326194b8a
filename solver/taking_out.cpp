// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/taking_out.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "solver/plan_result.hpp"
#include "solver/threads.hpp"

namespace stackfit {
namespace {

constexpr double percents = 100;

class Puller {
 public:
  Puller(const Study& study, const ShimLoad& load)
      : study_(study), load_(load), today_(at(study.row().build_charge)) {}

  [[nodiscard]] DrawOut at(double charge) const {
    RowState state = study_.model().build_state();
    state.charge = charge;
    const StateResult solved = study_.model().solve_fully(state, load_);
    return {charge, solved.face_pressure_mpa, solved.force_n,
            study_.insertion().draw_out_n(solved.force_n)};
  }
  [[nodiscard]] const DrawOut& today() const { return today_; }
  [[nodiscard]] bool works(const DrawOut& draw) const {
    return draw.pull_n <= study_.insertion().push_limit_n;
  }

  /// The first whole per cent on the way to `end` at which a hand can do it; none where the row
  /// comes to press harder than today before.
  [[nodiscard]] std::optional<DrawOut> first_towards(double end) const {
    const int step = end < today_.charge ? -1 : 1;
    const double from = today_.charge * percents;
    const auto last = static_cast<int>(step < 0 ? std::ceil(end * percents - rounding)
                                                : std::floor(end * percents + rounding));
    for (int percent = static_cast<int>(step < 0 ? std::ceil(from) : std::floor(from)) + step;
         step * percent <= step * last; percent += step) {
      const double charge = percent / percents;
      if (!easier_all_the_way(charge)) {
        return std::nullopt;
      }
      if (quick_pull_n(charge) > quick_limit_n()) {
        continue;
      }
      const DrawOut draw = at(charge);
      if (works(draw)) {
        return draw;
      }
    }
    return std::nullopt;
  }

  /// Where the row presses least of the charges that may be gone to.
  [[nodiscard]] DrawOut easiest(Span window) const {
    double best = today_.charge;
    for (const double charge : study_.row().swing.knots(window)) {
      if (easier_all_the_way(charge) && swing(charge) < swing(best)) {
        best = charge;
      }
    }
    return at(best);
  }

 private:
  static constexpr double rounding = 1e-9;

  [[nodiscard]] double swing(double charge) const { return study_.row().swing.at(charge); }

  /// The force rises with the thickness, whose peaks between two charges are knots of its curve.
  [[nodiscard]] bool easier_all_the_way(double charge) const {
    const Span way{std::min(charge, today_.charge), std::max(charge, today_.charge)};
    const std::vector<double> knots = study_.row().swing.knots(way);
    return std::all_of(knots.begin(), knots.end(),
                       [&](double knot) { return swing(knot) <= swing(today_.charge) + rounding; });
  }

  /// By the reduced curve, to pass over charges that are far off.
  [[nodiscard]] double quick_pull_n(double charge) const {
    RowState state = study_.model().build_state();
    state.charge = charge;
    return study_.insertion().draw_out_n(study_.model().solve(state, load_).force_n);
  }
  [[nodiscard]] double quick_limit_n() const {
    constexpr double curves_may_be_off = 1.05;
    return curves_may_be_off * study_.insertion().push_limit_n;
  }

  const Study& study_;
  const ShimLoad& load_;
  DrawOut today_;
};

WayToOpen way_of(const TakingOut& out, const Puller& puller, bool frame) {
  if (frame) {
    return WayToOpen::frame_nuts;
  }
  if (puller.works(out.at_today)) {
    return WayToOpen::draw_out;
  }
  if (out.at_charge) {
    return WayToOpen::draw_out_at_charge;
  }
  return out.wall_opens ? WayToOpen::end_wall : WayToOpen::nothing_opens;
}

/// The same row with the assumed squeeze law at the ends of its span.
Span released_span_n(const Study& today, const ShimLoad& placed) {
  const Assumption& a = assumption(Assumed::squeeze_a);
  const auto force_at = [&](double value) {
    const Study other(today.build(), today.assumptions().with(Assumed::squeeze_a, value),
                      today.store(), today.place());
    return other.model().solve_fully(other.model().build_state(), placed).force_n;
  };
  const double soft = force_at(a.low);
  const double stiff = force_at(a.high);
  return {std::min(soft, stiff), std::max(soft, stiff)};
}

void describe_release(const Study& today, const ShimLoad& placed, TakingOut& out) {
  out.released_force_n = out.today.force_n;
  if (!(out.released_force_n > 0)) {
    return;
  }
  if (today.row().law_assumed && !today.row().box.rods) {
    out.released_span_n = released_span_n(today, placed);
  }
  out.give = today.model().give(placed);
  out.spring_back_mm =
      out.give.cells_mm + out.give.sheets_mm + out.give.pads_mm + out.give.walls_mm;
}

void describe_nuts(const Study& today, const ShimLoad& placed, TakingOut& out) {
  const auto& rods = today.row().box.rods;
  if (!rods) {
    return;
  }
  const RowModel& model = today.model();
  const auto built = model.columns_at(model.build_state(), placed);
  const double extension = built ? built->now.extension_mm : 0;
  const double closed = model.greatest_longer_mm(model.build_state(), placed) - extension;
  out.rods = rods->count;
  out.turns_to_free = nut_travel(*rods, std::max(0.0, closed)).turns;
}

void describe_rules(const Study& today, bool set_aside, TakingOut& out) {
  const InsertionRules& rules = today.insertion();
  out.pull_limit_n = rules.push_limit_n;
  out.friction = rules.friction;
  out.friction_other = rules.friction_other;
  out.lowest_charge = rules.lowest_charge;
  out.opens_said = rules.opens_said;
  const Opens opens = today.build().box.opens;
  out.wall_opens = opens == Opens::one_end_wall || opens == Opens::both_end_walls;
  const std::vector<CellResult> cells = describe_cells(today);
  out.charge_barred =
      std::any_of(cells.begin(), cells.end(), [](const CellResult& c) { return c.shows_sign; });
  out.discharge_only = set_aside || std::any_of(cells.begin(), cells.end(),
                                                [](const CellResult& c) { return c.refused; });
}

/// Of the readings, where every cell says its own.
std::optional<double> mean_temperature(const Build& build) {
  double sum = 0;
  for (const CellReading& cell : build.cells) {
    if (!cell.temperature_c) {
      return std::nullopt;
    }
    sum += *cell.temperature_c;
  }
  return sum / static_cast<double>(build.cells.size());
}

}  // namespace

Build as_it_stands(Build build) {
  build.build.charge.reset();  // then the readings' own counts
  build.build.temperature_c = mean_temperature(build);
  if (build.box.lid == Lid::screwed) {
    build.box.lid = Lid::none;
  }
  return build;
}

TakingOut assess_taking_out(const Study& today, const ShimLoad& placed, bool set_aside) {
  const RowModel& model = today.model();
  const Puller puller(today, placed);
  TakingOut out;
  out.today = model.solve_fully(model.build_state(), placed);
  out.press = out.today.standing >= Standing::above;
  out.at_today = puller.today();
  describe_rules(today, set_aside, out);
  out.easiest = out.at_today;
  const bool frame = today.row().box.rods.has_value();
  if (!frame && !out.charge_barred) {
    const double charge = out.at_today.charge;
    const double top = out.discharge_only ? charge : std::max(charge, today.row().use_charge.high);
    out.easiest = puller.easiest({std::min(out.lowest_charge, top), top});
    if (!puller.works(out.at_today)) {
      out.at_charge = puller.first_towards(out.lowest_charge);
      if (!out.at_charge && top > charge) {
        out.at_charge = puller.first_towards(top);
      }
    }
  }
  out.way = way_of(out, puller, frame);
  describe_release(today, placed, out);
  describe_nuts(today, placed, out);
  return out;
}

}  // namespace stackfit
