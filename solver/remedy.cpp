// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/remedy.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>
#include <span>
#include <utility>
#include <variant>

#include "solver/cell_order.hpp"
#include "solver/insulation.hpp"
#include "solver/plan_result.hpp"
#include "solver/stock.hpp"
#include "solver/warnings.hpp"

namespace stackfit {
namespace {

constexpr double length_step_mm = 0.5;
constexpr double longest_change_mm = 12;
/// Forces of a frame that are tried over the band, and to what they are rounded [N].
constexpr int force_steps = 24;
constexpr double force_round_n = 10;
constexpr double charge_step = 0.05;
constexpr double narrowest_window = 0.3;
/// Of one thickness more pieces are named for so many kinds at most.
constexpr std::size_t most_kinds = 2;
/// Of thicker walls, and of thinner ones, so many are tried: each is meshed and solved anew.
constexpr std::size_t most_walls = 3;
/// Of one sort of change so many are asked for their chance.
constexpr int most_chances = 4;

int effort_of(RemedyCode code) {
  switch (code) {
    case RemedyCode::build_method:
    case RemedyCode::cell_order:
    case RemedyCode::frame_force:
      return effort::at_the_bench;
    case RemedyCode::build_charge:
    case RemedyCode::charge_window:
      return effort::another_use;
    case RemedyCode::add_shims:
    case RemedyCode::more_of_a_kind:
    case RemedyCode::insulating_sheets:
    case RemedyCode::slip_film:
      return effort::small_parts;
    case RemedyCode::end_pads:
    case RemedyCode::end_wall:
      return effort::soft_parts;
    case RemedyCode::box_length:
      return effort::another_box;
  }
  return effort::another_box;
}

/// The end walls where one thickness says how thick both are; else none.
std::optional<PlateWall> changeable_wall(const Box& box) {
  if (box.last_end_wall) {
    return {};
  }
  if (!box.end_walls) {
    return PlateWall{};
  }
  const auto* plate = std::get_if<PlateWall>(&*box.end_walls);
  return plate != nullptr ? std::optional(*plate) : std::nullopt;
}

std::span<const double> wall_stock(const PlateWall& wall) {
  if (wall.material.value_or(WallMaterial::aluminium) == WallMaterial::aluminium) {
    return wall_stock_mm;
  }
  return plate_stock_mm(*wall.material);
}

/// Whether the rods of a frame bear it; a box has none.
bool rods_hold(const Study& study, const ShimPlan& plan) {
  return !study.build().frame || describe_plan(study, plan).passes;
}

/// The cells in the order that would even the terminals most if the sheets between them were
/// alike; the sheets are then chosen anew.
Build with_evened_cells(const Study& study, const PlanResult& plan) {
  const std::size_t cells = study.row().cells.size();
  OrderQuestion question;
  for (const RowCell& cell : study.row().cells) {
    question.cells.push_back({"", cell.free_mm, 0});
  }
  double sheets_mm = 0;
  for (std::size_t gap = 1; gap + 1 < plan.gaps.size(); ++gap) {
    sheets_mm += plan.gaps[gap].total_mm;
  }
  question.gap_mm.assign(cells + 1,
                         sheets_mm / static_cast<double>(std::max<std::size_t>(cells, 2) - 1));
  question.wanted_spacing_mm = study.build().cell.terminals->spacing_mm;
  question.parallel = parallel_of(study.build());
  Build build = study.build();
  const CellOrder order = order_cells(question);
  for (std::size_t place = 0; place < order.places.size(); ++place) {
    build.cells[place] = study.build().cells[order.places[place].cell];
  }
  return build;
}

/// Whether even all shims on hand leave the row without any pressure in every state: no curve need
/// be solved to know that nothing passes.
bool always_loose(const Study& study) {
  const Row& row = study.row();
  if (row.box.rods) {
    return false;
  }
  std::vector<int> all;
  for (const RowKind& kind : row.kit) {
    all.push_back(kind.count);
  }
  const ShimLoad load = study.load_of(all);
  for (const double charge : row.swing.knots(row.use_charge)) {
    for (const double celsius : {row.use_temperature_c.low, row.use_temperature_c.high}) {
      const RowState state{charge, celsius, row.use_capacity_loss.high, false, false};
      if (study.model().interference_mm(state, load) > 0) {
        return false;
      }
    }
  }
  return true;
}

PlanInFull in_full(const Study& study, const ShimPlan& plan) {
  if (plan.in_full) {
    return *plan.in_full;
  }
  const RowModel::Judgement full =
      study.model().judge(study.load_of(plan.used), RowModel::By::full_solution);
  return {full.margin, full.lowest_mpa, full.highest_mpa};
}

class Finder {
 public:
  Finder(const Study& study, const RemedyGoal* goal)
      : study_(study),
        goal_(goal),
        short_of_insulators_(insulators_on_hand(study.row()) < sheets_due(study.row())) {}

  [[nodiscard]] std::vector<Remedy> find() {
    more_of_a_kind();
    other_thickness();
    build_method();
    build_charge();
    slip_film();
    charge_window();
    end_pads();
    if (study_.build().frame) {
      frame_force();
    } else {
      end_wall();
      box_length();
    }
    std::stable_sort(found_.begin(), found_.end(),
                     [](const Remedy& a, const Remedy& b) { return a.effort < b.effort; });
    return std::move(found_);
  }

 private:
  /// Solves the build with the remedy; adds it when a plan passes, build method and all, and is
  /// good enough.
  bool offer(Remedy remedy) {
    if (tries_left(remedy.code) == 0) {
      return false;
    }
    const Study changed(apply(remedy, study_.build()), study_.assumptions(), study_.store(),
                        study_.place());
    if (always_loose(changed) || !changed.can_pass()) {
      return false;
    }
    const ShimPlan plan = goal_ && goal_->choose ? goal_->choose(changed) : changed.choose();
    if (!plan.passes || !rods_hold(changed, plan) || !good_enough(changed, plan, remedy)) {
      return false;
    }
    const PlanInFull full = in_full(changed, plan);
    remedy.effort = effort_of(remedy.code);
    remedy.margin = full.margin;
    remedy.lowest_mpa = full.lowest_mpa;
    remedy.highest_mpa = full.highest_mpa;
    remedy.passes = true;
    found_.push_back(std::move(remedy));
    return true;
  }

  /// Chances are dear: of each sort of change only the first few that pass are asked for theirs.
  [[nodiscard]] int& tries_left(RemedyCode code) {
    return tries_left_.try_emplace(code, most_chances).first->second;
  }

  [[nodiscard]] bool good_enough(const Study& changed, const ShimPlan& plan, Remedy& remedy) {
    if (goal_ == nullptr || !goal_->chance) {
      return true;
    }
    --tries_left(remedy.code);
    remedy.chance = goal_->chance(changed, plan);
    return remedy.chance.value_or(0) >= goal_->needed;
  }

  /// The fewest more of one kind, tried kind by kind.
  void more_of_a_kind() {
    const auto gaps = static_cast<int>(study_.row().gaps.size());
    for (std::size_t kind = 0; kind < study_.row().kit.size(); ++kind) {
      Remedy remedy;
      remedy.code = RemedyCode::more_of_a_kind;
      remedy.name = study_.row().kit[kind].sheet.name;
      remedy.thickness_mm = study_.row().kit[kind].sheet.thickness_mm;
      remedy.kit_index = static_cast<int>(kind);
      for (int more = 1; more <= gaps; ++more) {
        remedy.count = study_.row().kit[kind].count + more;
        if (offer(remedy)) {
          break;
        }
      }
      if (found_.size() >= most_kinds) {
        return;
      }
    }
  }

  /// One further thickness: the fewest pieces that do, and one for every gap.
  void other_thickness() {
    const auto gaps = static_cast<int>(study_.row().gaps.size());
    if (!other_thickness({1, 2, 4})) {
      other_thickness({2 * gaps});
    }
    other_thickness({gaps});
  }

  bool other_thickness(const std::vector<int>& counts) {
    for (const int count : counts) {
      for (const double thickness : shim_stock_mm) {
        const bool known =
            std::any_of(study_.row().kit.begin(), study_.row().kit.end(),
                        [&](const RowKind& kind) { return kind.sheet.thickness_mm == thickness; });
        if (known) {
          continue;
        }
        Remedy remedy;
        remedy.code = short_of_insulators_ ? RemedyCode::insulating_sheets : RemedyCode::add_shims;
        remedy.name = "added";
        remedy.thickness_mm = thickness;
        remedy.count = count;
        if (offer(remedy)) {
          return true;
        }
      }
    }
    return false;
  }

  void build_method() {
    const InsertionRules& rules = study_.insertion();
    if (rules.method != BuildMethod::hand) {
      return;
    }
    if (study_.build().box.opens == Opens::none) {
      return;
    }
    Remedy remedy;
    remedy.code = RemedyCode::build_method;
    remedy.method = BuildMethod::end_wall_last;
    offer(remedy);
  }

  void build_charge() {
    if (study_.insertion().method != BuildMethod::hand) {
      return;
    }
    Remedy remedy;
    remedy.code = RemedyCode::build_charge;
    // Whole steps below today's charge, down to the lowest that is allowed.
    const auto steps_of = [](double charge) { return std::lround(charge / charge_step); };
    for (long step = steps_of(study_.row().build_charge) - 1;
         step >= steps_of(study_.insertion().lowest_charge); --step) {
      remedy.value = std::round(100 * charge_step * static_cast<double>(step)) / 100;
      if (offer(remedy)) {
        return;
      }
    }
  }

  void slip_film() {
    if (study_.insertion().method != BuildMethod::hand || study_.build().build.slip_film) {
      return;
    }
    Remedy remedy;
    remedy.code = RemedyCode::slip_film;
    offer(remedy);
  }

  /// Narrower by equal steps at both ends.
  void charge_window() {
    Remedy remedy;
    remedy.code = RemedyCode::charge_window;
    const Span now = study_.row().use_charge;
    for (int step = 1;; ++step) {
      remedy.window = {now.low + step * charge_step, now.high - step * charge_step};
      remedy.window.low = std::round(remedy.window.low * 100) / 100;
      remedy.window.high = std::round(remedy.window.high * 100) / 100;
      if (remedy.window.high - remedy.window.low < narrowest_window) {
        return;
      }
      if (offer(remedy)) {
        return;
      }
    }
  }

  /// The thinnest pads at both ends that do.
  void end_pads() {
    if (!study_.build().pads.empty()) {
      return;
    }
    for (const double thickness : pad_stock_mm) {
      for (const int grade : pad_grades) {
        Remedy remedy;
        remedy.code = RemedyCode::end_pads;
        remedy.thickness_mm = thickness;
        remedy.grade = grade;
        remedy.count = 2;
        if (offer(remedy)) {
          return;
        }
      }
    }
  }

  /// End walls of the next thickness that does: thicker ones first, then thinner.
  void end_wall() {
    const std::optional<PlateWall> wall = changeable_wall(study_.build().box);
    if (!wall) {
      return;
    }
    const double now = wall->thickness_mm.value_or(study_.assumptions()[Assumed::wall_thickness]);
    const std::span<const double> stock = wall_stock(*wall);
    std::vector<double> thicker(std::upper_bound(stock.begin(), stock.end(), now), stock.end());
    std::vector<double> thinner(stock.begin(), std::lower_bound(stock.begin(), stock.end(), now));
    std::reverse(thinner.begin(), thinner.end());
    for (std::vector<double>* side : {&thicker, &thinner}) {
      side->resize(std::min(side->size(), most_walls));
      for (const double thickness : *side) {
        Remedy remedy;
        remedy.code = RemedyCode::end_wall;
        remedy.thickness_mm = thickness;
        remedy.wall = *wall;
        remedy.wall.thickness_mm = thickness;
        if (offer(remedy)) {
          return;
        }
      }
    }
  }

  /// The nearest length, longer or shorter, by which the kit serves.
  void box_length() {
    const double now = study_.row().box.inner_length_mm;
    for (int step = 1; step * length_step_mm <= longest_change_mm; ++step) {
      const double change = step * length_step_mm;
      for (const double length : {now + change, now - change}) {
        Remedy remedy;
        remedy.code = RemedyCode::box_length;
        remedy.value = std::round(length / length_step_mm) * length_step_mm;
        if (offer(remedy)) {
          return;
        }
      }
    }
  }

  /// The force nearest to the present one to which the frame is better brought.
  void frame_force() {
    const BandResult& band = study_.row().band;
    const double now = study_.row().box.rods->force_n;
    std::vector<double> forces;
    for (int step = 0; step <= force_steps; ++step) {
      const double share = static_cast<double>(step) / force_steps;
      const double pressure = band.low_mpa + share * (band.high_mpa - band.low_mpa);
      forces.push_back(std::round(pressure * band.face_area_mm2 / force_round_n) * force_round_n);
    }
    std::sort(forces.begin(), forces.end(),
              [now](double x, double y) { return std::abs(x - now) < std::abs(y - now); });
    for (const double force : forces) {
      Remedy remedy;
      remedy.code = RemedyCode::frame_force;
      remedy.value = force;
      if (offer(remedy)) {
        return;
      }
    }
  }

  const Study& study_;
  const RemedyGoal* goal_;
  bool short_of_insulators_;
  std::map<RemedyCode, int> tries_left_;
  std::vector<Remedy> found_;
};

}  // namespace

std::vector<Remedy> find_remedies(const Study& study, const RemedyGoal* goal) {
  return Finder(study, goal).find();
}

std::optional<Remedy> order_remedy(const Study& study, const PlanResult& plan) {
  const auto& terminals = study.build().cell.terminals;
  const bool sought = terminals && terminals->spacing_mm && !study.build().cells_may_move &&
                      plan.terminal_deviation_mm > bus_bar_slack_mm;
  if (!sought) {
    return {};
  }
  const Study changed(with_evened_cells(study, plan), study.assumptions(), study.store(),
                      study.place());
  const ShimPlan chosen = changed.choose();
  if (!chosen.passes || describe_plan(changed, chosen).terminal_deviation_mm > bus_bar_slack_mm) {
    return {};
  }
  Remedy remedy;
  remedy.code = RemedyCode::cell_order;
  remedy.effort = effort_of(remedy.code);
  remedy.margin = chosen.in_full->margin;
  remedy.lowest_mpa = chosen.in_full->lowest_mpa;
  remedy.highest_mpa = chosen.in_full->highest_mpa;
  remedy.passes = true;
  return remedy;
}

}  // namespace stackfit
