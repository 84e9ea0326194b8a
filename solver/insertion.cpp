// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/insertion.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/series.hpp"

namespace stackfit {
namespace {

constexpr double gravity_m_s2 = 9.80665;  // standard, NIST SP 811

/// What must give way before the last cell drops in untouched [mm].
double room_needed_mm(const InsertionRules& rules, const RowModel& model, const ShimLoad& load) {
  return std::max(0.0, model.interference_mm(model.build_state(), load)) + rules.slide_clearance_mm;
}

/// The highest charge below today's at which a hand can do it; whole per cents.
WayOutResult lower_charge(const InsertionRules& rules, const RowModel& model,
                          const ShimLoad& load) {
  WayOutResult way{WayOut::lower_charge, false, 0, 0, 0, 0, true};
  RowState state = model.build_state();
  for (int percent = static_cast<int>(std::floor(state.charge * 100)) - 1;
       percent >= std::ceil(rules.lowest_charge * 100 - 1e-9); --percent) {
    state.charge = percent / 100.0;
    const double push = rules.push_n(model.solve(state, load).force_n);
    if (push <= rules.push_limit_n) {
      way.works = true;
      way.force_n = std::max(0.0, push);
      way.charge = state.charge;
      return way;
    }
  }
  return way;
}

/// Clamping the cells already in, until the last one drops in beside them: they take the whole
/// interference between them, and a little room to slide.
WayOutResult clamp_others(const InsertionRules& rules, const RowModel& model,
                          const ShimLoad& load) {
  const Row& row = model.row();
  WayOutResult way{WayOut::clamp, false, 0, 0, 0, 0, true};
  if (row.cells.size() < 2) {
    return way;
  }
  Series others;
  others.add({row.cell_law, row.nominal_mm * static_cast<double>(row.cells.size() - 1),
              row.face_area_mm2});
  others.add_give(load.give_mm_per_n);
  way.force_n = others.solve(room_needed_mm(rules, model, load)).force_n;
  way.face_pressure_mpa = way.force_n / row.face_area_mm2;
  way.within_limit =
      row.band.judged(way.face_pressure_mpa) <= row.band.limit_mpa.value_or(row.band.high_mpa);
  way.works = way.within_limit;
  return way;
}

/// Spreading the walls until the last cell drops in unpressed. They must not be bent further than
/// the row itself may ever bend them.
WayOutResult spread_walls(const InsertionRules& rules, const RowModel& model,
                          const ShimLoad& load) {
  const Row& row = model.row();
  WayOutResult way{WayOut::walls_spread, false, 0, 0, room_needed_mm(rules, model, load), 0, true};
  const double give = model.box_give_mm_per_n();
  if (!(give > 0)) {
    return way;
  }
  way.force_n = way.spread_mm / give;
  way.works = way.force_n <= row.band.high_mpa * row.face_area_mm2;
  return way;
}

std::vector<WayOutResult> ways_out(const InsertionRules& rules, const RowModel& model,
                                   const ShimLoad& load) {
  const double force = model.solve(model.build_state(), load).force_n;
  std::vector<WayOutResult> ways;
  ways.push_back({WayOut::end_wall_last, rules.wall_opens, force, 0, 0, 0, true});
  ways.push_back(spread_walls(rules, model, load));
  ways.push_back(lower_charge(rules, model, load));
  ways.push_back(clamp_others(rules, model, load));
  const double film_push = 2 * rules.friction_film * force - rules.weight_n;
  ways.push_back({WayOut::slip_film, film_push <= rules.push_limit_n, std::max(0.0, film_push), 0,
                  0, 0, true});
  return ways;
}

/// A gap holds a slippery sheet whichever plan is chosen: a fixed one, or any of the kinds from
/// which its insulating sheet must come.
bool slides(const Row& row, std::size_t gap) {
  const RowGap& g = row.gaps[gap];
  const bool fixed = std::any_of(g.fixed.begin(), g.fixed.end(),
                                 [](const RowSheet& sheet) { return sheet.slippery_face; });
  const bool must_come = g.insulation_due && !g.insulated() && !row.kit.empty();
  const bool any_kind = std::all_of(row.kit.begin(), row.kit.end(), [&](const RowKind& kind) {
    return !kind.allowed[gap] || kind.count == 0 || kind.sheet.slippery_face;
  });
  return fixed || (must_come && any_kind);
}

/// Which gaps slide, once it is known what lies in them.
std::vector<bool> sliding_gaps(const Row& row, const std::vector<std::vector<int>>& counts) {
  std::vector<bool> sliding;
  for (std::size_t gap = 0; gap < row.gaps.size(); ++gap) {
    bool slippery = slides(row, gap);
    for (std::size_t kind = 0; gap < counts.size() && kind < counts[gap].size(); ++kind) {
      slippery = slippery || (counts[gap][kind] > 0 && row.kit[kind].sheet.slippery_face);
    }
    sliding.push_back(slippery);
  }
  return sliding;
}

/// The cell with the least friction of those between two others, the nearest to the middle of
/// equal ones; both faces' friction with it.
void choose_last(InsertionRules& rules, const std::vector<bool>& sliding) {
  const auto cells = static_cast<int>(sliding.size()) - 1;
  const int middle = last_cell_by_hand(static_cast<std::size_t>(cells));
  const auto friction = [&](int gap) {
    return rules.slip_film || sliding[static_cast<std::size_t>(gap)] ? rules.friction_film
                                                                     : rules.friction_dry;
  };
  const auto take = [&](int cell) {
    rules.last_cell = cell;
    rules.friction = friction(cell - 1);
    rules.friction_other = friction(cell);
  };
  take(middle);
  for (int away = 1; away < cells; ++away) {
    for (const int cell : {middle - away, middle + away}) {
      if (cell >= 2 && cell <= cells - 1 &&
          friction(cell - 1) + friction(cell) < rules.friction_sum()) {
        take(cell);
      }
    }
  }
}

}  // namespace

bool method_holds(const InsertionRules& rules, const RowModel& model, const ShimLoad& load) {
  switch (rules.method) {
    case BuildMethod::hand:
      return rules.push_n(model.solve(model.build_state(), load).force_n) <= rules.push_limit_n;
    case BuildMethod::end_wall_last:
      return rules.wall_opens;
    case BuildMethod::clamp:
      return clamp_others(rules, model, load).works;
    case BuildMethod::walls_spread:
      return spread_walls(rules, model, load).works;
  }
  return false;
}

double InsertionRules::push_n(double force_n) const {
  return friction_sum() * force_n - weight_n;
}
double InsertionRules::draw_out_n(double force_n) const {
  return friction_sum() * force_n + weight_n;
}
double InsertionRules::build_force_cap_n() const {
  if (method != BuildMethod::hand) {
    return std::numeric_limits<double>::infinity();
  }
  return (push_limit_n + weight_n) / friction_sum();
}

int last_cell_by_hand(std::size_t cells) {
  return static_cast<int>(cells >= 3 ? (cells + 1) / 2 : cells);
}

InsertionRules resolve_insertion(const Build& build, const Row& row, const Assumptions& assumptions,
                                 Findings& findings) {
  InsertionRules rules;
  const Opens opens = build.box.opens;
  // A clamp frame's last plate goes on last.
  rules.wall_opens = build.frame || opens == Opens::one_end_wall || opens == Opens::both_end_walls;
  rules.method_said = build.build.method.has_value();
  rules.method = build.build.method.value_or(rules.wall_opens ? BuildMethod::end_wall_last
                                                              : BuildMethod::hand);
  // A wall that is said to go on last must come off, even where `opens` was not said.
  if (rules.method == BuildMethod::end_wall_last && opens == Opens::not_said) {
    rules.wall_opens = true;
  }
  rules.slip_film = build.build.slip_film;
  rules.opens_said = opens != Opens::not_said;
  findings.note(Assumed::friction);
  rules.friction_film = assumptions[Assumed::friction_slip_film];
  rules.friction_dry = assumptions[Assumed::friction];
  choose_last(rules, sliding_gaps(row, {}));
  const bool any_slippery = std::any_of(
      row.kit.begin(), row.kit.end(), [](const RowKind& kind) { return kind.sheet.slippery_face; });
  const bool may_slide = any_slippery && rules.method == BuildMethod::hand;
  if (may_slide || std::min(rules.friction, rules.friction_other) < rules.friction_dry) {
    findings.note(Assumed::friction_slip_film);
  }
  rules.slide_clearance_mm = assumptions[Assumed::slide_clearance];
  if (rules.method == BuildMethod::clamp || rules.method == BuildMethod::walls_spread) {
    findings.note(Assumed::slide_clearance);
  }
  rules.push_limit_n = findings.said_or(build.build.push_limit_n, assumptions, Assumed::push_limit);
  rules.weight_n = build.cell.mass_kg.value_or(0) * gravity_m_s2;
  rules.lowest_charge =
      std::max(assumptions[Assumed::lowest_charge], build.cell.minimum_charge.value_or(0));
  return rules;
}

InsertionRules with_plan(InsertionRules rules, const Row& row,
                         const std::vector<std::vector<int>>& counts) {
  choose_last(rules, sliding_gaps(row, counts));
  return rules;
}

InsertionResult assess_insertion(const InsertionRules& rules, const RowModel& model,
                                 const ShimLoad& load) {
  InsertionResult result;
  const double force = model.solve(model.build_state(), load).force_n;
  result.method = rules.method;
  result.method_said = rules.method_said;
  result.slip_film = rules.slip_film;
  result.opens_said = rules.opens_said;
  result.wall_force_n = force;
  result.push_limit_n = rules.push_limit_n;
  result.friction = rules.friction;
  result.friction_other = rules.friction_other;
  result.push_n = std::max(0.0, rules.push_n(force));
  result.draw_out_n = rules.draw_out_n(force);
  const std::size_t cells = model.row().cells.size();
  result.last_cell = cells >= 3 ? rules.last_cell : 0;
  std::vector<WayOutResult> ways = ways_out(rules, model, load);
  result.works = method_holds(rules, model, load);
  if (result.push_n > rules.push_limit_n) {
    result.ways_out = std::move(ways);
  }
  return result;
}

}  // namespace stackfit
