// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/study.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <memory>
#include <numeric>
#include <utility>

#include "solver/plan_result.hpp"

namespace stackfit {
namespace {

/// A plan at the very edge of the band may pass by the curve and fail in full: then plans must
/// keep clear of the edge by a little more than the curve is off.
constexpr double guard_step = 0.01;
constexpr int guard_tries = 3;

/// Shims per millimetre of their total, at the ends of what the kit holds.
struct PerMm {
  Span give_mm_per_n;
  Span expansion_mm_per_k;
  /// Outlines of the kit's partial sheets: at the soft end all of them leave the face free.
  std::vector<ShimLoad::Partial> partial;

  [[nodiscard]] static ShimLoad load(double total_mm, double give, double expansion) {
    ShimLoad load;
    load.thickness_mm = total_mm;
    load.give_mm_per_n = give * total_mm;
    load.expansion_mm_per_k = expansion * total_mm;
    return load;
  }
  /// At the least and the most expansion.
  [[nodiscard]] std::array<ShimLoad, 2> softest(double total_mm) const {
    std::array<ShimLoad, 2> made = both(total_mm, give_mm_per_n.high);
    for (ShimLoad& load : made) {
      load.partial = partial;
    }
    return made;
  }
  [[nodiscard]] std::array<ShimLoad, 2> stiffest(double total_mm) const {
    return both(total_mm, give_mm_per_n.low);
  }

 private:
  [[nodiscard]] std::array<ShimLoad, 2> both(double total_mm, double give) const {
    return {load(total_mm, give, expansion_mm_per_k.low),
            load(total_mm, give, expansion_mm_per_k.high)};
  }
};

/// Thickness of partial sheets that leave what they do not cover free, however much it bows.
constexpr double beyond_any_gap_mm = 1e3;

PerMm per_mm(const std::vector<RowKind>& kit) {
  if (kit.empty()) {
    return {};
  }
  constexpr double inf = std::numeric_limits<double>::infinity();
  PerMm ends{{inf, 0}, {inf, 0}, {}};
  const auto widen = [](Span& span, double value) {
    span = {std::min(span.low, value), std::max(span.high, value)};
  };
  for (const RowKind& kind : kit) {
    widen(ends.give_mm_per_n, kind.sheet.give_mm_per_n() / kind.sheet.thickness_mm);
    widen(ends.expansion_mm_per_k, kind.sheet.expansion_per_k);
    if (kind.sheet.outline >= 0) {
      ends.partial.push_back({kind.sheet.outline, beyond_any_gap_mm, 0});
    }
  }
  return ends;
}

/// Least total in [0, most] for which a condition that turns true with the total holds; `most`
/// where it never does.
template <typename Holds>
double turns_true_at(double most, const Holds& holds) {
  double low = 0;
  double high = most;
  if (holds(low)) {
    return low;
  }
  constexpr int halvings = 50;
  for (int i = 0; i < halvings; ++i) {
    const double middle = 0.5 * (low + high);
    (holds(middle) ? high : low) = middle;
  }
  return high;
}

/// Whether no shims of the kit can serve as long as the pads are fresh: the row would press too
/// little where it presses least, or too much where it presses most or is built. Settled pads need
/// a curve for each of several forces at which they may have been built; where fresh ones fail,
/// none of those need be solved.
bool fails_with_fresh_pads(const Study& study) {
  const Row& row = study.row();
  const RowModel& model = study.model();
  const bool settles = std::any_of(row.gaps.begin(), row.gaps.end(), [](const RowGap& gap) {
    return std::any_of(gap.pads.begin(), gap.pads.end(), [](const RowPad& p) { return p.relaxes; });
  });
  if (!settles || row.rim) {
    return false;  // nothing to save; a row with a rim has no curves
  }
  const SwingCurve::Extremes extreme = row.swing.extremes(row.use_charge);
  const auto every_state = [&](double charge, const auto& holds) {
    for (const double celsius : {row.use_temperature_c.low, row.use_temperature_c.high}) {
      for (const double loss : {row.use_capacity_loss.low, row.use_capacity_loss.high}) {
        for (const bool stiff : {false, true}) {
          if (!holds(RowState{charge, celsius, loss, false, stiff})) {
            return false;
          }
        }
      }
    }
    return true;
  };
  const PerMm ends = per_mm(row.kit);
  const double cap_n = study.insertion().build_force_cap_n();
  const auto enough = [&](double total_mm) {
    return every_state(extreme.charge_lowest, [&](const RowState& state) {
      const auto loads = ends.stiffest(total_mm);
      return std::max(model.solve(state, loads[0]).face_pressure_mpa,
                      model.solve(state, loads[1]).face_pressure_mpa) >= row.band.low_mpa;
    });
  };
  const auto too_much = [&](double total_mm) {
    const auto loads = ends.softest(total_mm);
    const auto least_n = [&](const RowState& state) {
      return std::min(model.solve(state, loads[0]).force_n, model.solve(state, loads[1]).force_n);
    };
    return least_n(model.build_state()) > cap_n ||
           !every_state(extreme.charge_highest, [&](const RowState& state) {
             return row.band.judged(least_n(state) / row.face_area_mm2) <= row.band.high_mpa;
           });
  };
  const double most = row.box.tie_length_mm;
  const double high = turns_true_at(most, too_much);
  return !(high > 0) || turns_true_at(most, enough) > high;
}

/// Judgements by the load alone: kinds alike in give and expansion share a total.
class Judge {
 public:
  Judge(const Study& study, double guard) : study_(study), guard_(guard) {
    for (const RowKind& kind : study.row().kit) {
      const RowSheet& s = kind.sheet;
      const auto same = std::find_if(classes_.begin(), classes_.end(), [&](const RowSheet& c) {
        return c.modulus_mpa == s.modulus_mpa && c.area_mm2 == s.area_mm2 &&
               c.expansion_per_k == s.expansion_per_k;
      });
      class_of_.push_back(static_cast<std::size_t>(same - classes_.begin()));
      if (same == classes_.end()) {
        classes_.push_back(s);
      }
    }
  }

  [[nodiscard]] PlanScore score(const std::vector<int>& used) {
    std::vector<std::int64_t> key(classes_.size(), 0);
    for (std::size_t kind = 0; kind < used.size(); ++kind) {
      key[class_of_[kind]] += used[kind] * to_nm(study_.row().kit[kind].sheet.thickness_mm);
    }
    const auto known = scores_.find(key);
    if (known != scores_.end()) {
      return known->second;
    }
    return scores_.emplace(key, study_.score(study_.load_of(used), guard_)).first->second;
  }

 private:
  const Study& study_;
  double guard_;
  std::vector<RowSheet> classes_;
  std::vector<std::size_t> class_of_;
  std::map<std::vector<std::int64_t>, PlanScore> scores_;
};

/// Cells as thick as they are when bars go on, with the pads between their places.
MovableCells movable_cells(const Row& row) {
  MovableCells cells;
  for (const RowCell& cell : row.cells) {
    cells.cell_nm.push_back(to_nm(cell.free_mm + change_since_measured(row, cell)));
  }
  for (std::size_t gap = 1; gap + 1 < row.gaps.size(); ++gap) {
    cells.pads_nm.push_back(to_nm(row.gaps[gap].pads_mm()));
  }
  return cells;
}

TerminalWish terminal_wish(const Study& study) {
  std::vector<std::size_t> as_given(study.row().cells.size());
  std::iota(as_given.begin(), as_given.end(), std::size_t{0});
  TerminalWish wish;
  wish.middles_nm = movable_cells(study.row()).middles_nm(as_given);
  const auto& said = study.build().cell.terminals;
  if (said && said->spacing_mm) {
    wish.wanted_nm = to_nm(*said->spacing_mm);
  }
  return wish;
}

}  // namespace

Study::Study(Build build, const Assumptions& assumptions, std::shared_ptr<WallStore> store,
             RowPlace place)
    : build_(std::move(build)),
      assumptions_(assumptions),
      place_(std::move(place)),
      row_(resolve_row(build_, assumptions_, findings_, place_)),
      store_(std::move(store)),
      model_(row_, store_),
      insertion_(resolve_insertion(build_, row_, assumptions_, findings_)) {}

ShimLoad Study::load_of(const std::vector<int>& used) const {
  ShimLoad load;
  for (std::size_t kind = 0; kind < used.size(); ++kind) {
    load.add(row_.kit[kind].sheet, used[kind]);
  }
  return load;
}

PlanScore Study::score(const ShimLoad& load, double guard) const {
  const RowModel::Judgement judged = model_.judge(load);
  // Curves know how much of the face touches only to some hundredths: a guard keeps clear there
  // too.
  constexpr double contact_per_guard = 5;
  const bool spared =
      judged.swollen_contact <= row_.swollen_contact - contact_per_guard * guard || !row_.watched();
  // Loose plans all press alike; the room left tells which is nearest.
  return {judged.margin - judged.loose_by_mm, judged.passes && judged.margin >= guard && spared &&
                                                  method_holds(insertion_, model_, load)};
}

Span Study::passing_total_mm() const {
  // No total can matter beyond a box full of shims.
  const double most = row_.box.tie_length_mm;
  const PerMm ends = per_mm(row_.kit);
  // Which expansion presses harder depends on whether a state is warmer or colder than the
  // reference, and a mix of sheets lies between: each state is taken at the kinder one.
  const double cap = insertion_.build_force_cap_n();
  const auto low_enough = [&](const RowModel::Judgement& j) {
    return j.not_above && j.walls_hold && j.spares_swollen && j.build_force_n <= cap;
  };
  Span span;
  span.low = turns_true_at(most, [&](double total) {
    return model_.judge_states(ends.stiffest(total), RowModel::Pressed::most).not_below;
  });
  span.high = turns_true_at(most, [&](double total) {
    return !low_enough(model_.judge_states(ends.softest(total), RowModel::Pressed::least));
  });
  // Already too much with no shim at all: no total passes.
  return span.high > 0 ? span : Span{most, 0};
}

MarginSides Study::kindest_sides(double total_mm) const {
  const PerMm ends = per_mm(row_.kit);
  return {model_.judge_states(ends.stiffest(total_mm), RowModel::Pressed::most).margin_below,
          model_.judge_states(ends.softest(total_mm), RowModel::Pressed::least).margin_above};
}

PlanProblem Study::hard_rules() const {
  PlanProblem problem;
  for (const RowKind& kind : row_.kit) {
    problem.kinds.push_back(
        {to_nm(kind.sheet.thickness_mm), kind.count, kind.sheet.insulates, kind.allowed});
  }
  for (const RowGap& gap : row_.gaps) {
    problem.gaps.push_back({to_nm(gap.fixed_sheets_mm()), gap.insulation_due && !gap.insulated()});
  }
  return problem;
}

PlanProblem Study::problem(double guard) const {
  PlanProblem problem = hard_rules();
  if (build_.cell.terminals) {
    problem.terminals = terminal_wish(*this);
  }
  const Span passing = passing_total_mm();
  constexpr std::int64_t rounding_nm = 1000;  // far above what halving and nanometres leave
  problem.may_pass_nm = {to_nm(passing.low) - rounding_nm, to_nm(passing.high) + rounding_nm};
  const auto judge = std::make_shared<Judge>(*this, guard);
  problem.score = [judge](const std::vector<int>& used) { return judge->score(used); };
  problem.margin_thinner = [this, guard](const std::vector<int>& used, double thinner_mm) {
    ShimLoad load = load_of(used);
    const bool passes = score(load, guard).passes;
    load.thickness_mm -= thinner_mm;
    // The bare margin by the rule; among failing plans the one that `score` compares.
    return passes ? model_.judge(load).margin : score(load).margin;
  };
  problem.kindest_sides = [this](std::int64_t total_nm) {
    constexpr double mm_per_nm = 1e-6;
    return kindest_sides(static_cast<double>(total_nm) * mm_per_nm);
  };
  return problem;
}

/// Plans that pass are compared by their chance. Where none does, by their margin as ever.
void Study::score_by_chance(const ChanceScore& chance, PlanProblem& problem) const {
  problem.least_window = least_chance_window;
  problem.score = [this, chance, by_margin = problem.score](const std::vector<int>& used) {
    PlanScore score = by_margin(used);
    score.margin = score.passes ? chance(shim_total(row_, used)) : score.margin;
    return score;
  };
  problem.margin_thinner = [this, chance, score = problem.score,
                            by_margin = problem.margin_thinner](const std::vector<int>& used,
                                                                double thinner_mm) {
    // Chances rise and fall steeply: what is given up for an even plan is never more than what the
    // draws can tell apart.
    const PlanScore now = score(used);
    return now.passes ? now.margin : by_margin(used, thinner_mm);
  };
}

ShimPlan Study::choose(std::optional<std::int64_t> most_total_nm, const ChanceScore& chance) const {
  ShimPlan plan;
  for (int i = 0; i < guard_tries; ++i) {
    PlanProblem asked = problem(i * guard_step);
    asked.most_total_nm = most_total_nm;
    if (chance) {
      score_by_chance(chance, asked);
    }
    plan = pick_shims(asked);
    if (chance && plan.found) {
      plan.margin = score(load_of(plan.used)).margin;
    }
    if (!plan.found || !plan.passes) {
      return plan;
    }
    const RowModel::Judgement full = judged_in_full(plan);
    if (full.passes) {
      plan.in_full = PlanInFull{full.margin, full.lowest_mpa, full.highest_mpa};
      return plan;
    }
  }
  plan.passes = false;
  return plan;
}

std::optional<OrderChoice> Study::choose_order() const {
  if (!build_.cells_may_move || !build_.cell.terminals || row_.cells.size() < 3) {
    return std::nullopt;
  }
  const MovableCells cells = movable_cells(row_);
  for (int i = 0; i < guard_tries; ++i) {
    OrderChoice choice = pick_order(problem(i * guard_step), cells);
    if (!choice.plan.found || !choice.plan.passes) {
      return std::nullopt;
    }
    if (judged_in_full(choice.plan).passes) {
      return choice;
    }
  }
  return std::nullopt;
}

RowModel::Judgement Study::judged_in_full(const ShimPlan& plan) const {
  return model_.judge(load_of(plan.used), RowModel::By::full_solution);
}

std::vector<std::vector<int>> Study::placeable() const {
  return placeable_counts(hard_rules());
}

bool Study::can_pass() const {
  if (fails_with_fresh_pads(*this)) {
    return false;
  }
  const Span passing = passing_total_mm();
  return passing.low <= passing.high && any_plan_passes(problem(0));
}

ShimPlan Study::as_placed() const {
  ShimPlan plan;
  plan.used.assign(row_.kit.size(), 0);
  plan.counts.assign(row_.gaps.size(), plan.used);
  for (const PlacedSheets& placed : build_.placed) {
    for (std::size_t gap = 0; gap < row_.gaps.size(); ++gap) {
      if (row_.gaps[gap].name != placed.gap) {
        continue;
      }
      for (const auto& [name, count] : placed.sheets) {
        for (std::size_t kind = 0; kind < row_.kit.size(); ++kind) {
          if (row_.kit[kind].sheet.name != name) {
            continue;
          }
          plan.counts[gap][kind] += count;
          plan.used[kind] += count;
        }
      }
    }
  }
  plan.found = true;
  plan.passes = score(load_of(plan.used)).passes && judged_in_full(plan).passes;
  return plan;
}

}  // namespace stackfit
