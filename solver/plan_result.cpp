// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/plan_result.hpp"

#include <algorithm>
#include <cmath>

#include "geometry/stack.hpp"
#include "solver/dome_reading.hpp"
#include "solver/frame_result.hpp"
#include "solver/signs.hpp"
#include "solver/terminal_slots.hpp"
#include "solver/wall_result.hpp"

namespace stackfit {
namespace {

GapSheet one_of(const RowSheet& sheet, int count, SheetOrigin origin) {
  return {sheet.name, sheet.thickness_mm, count, origin, sheet.insulates, sheet.slippery_face};
}

/// The cell that slides past a gap's sheet: by hand the last one where the gap is beside it;
/// else, put together from the first wall on, the one that comes later. At the last wall it is
/// the cell before.
int cell_sliding_past(const Study& study, int last, std::size_t gap) {
  const std::size_t cells = study.row().cells.size();
  if (study.insertion().method == BuildMethod::hand) {
    if (static_cast<int>(gap) == last || static_cast<int>(gap) + 1 == last) {
      return last;
    }
  }
  return static_cast<int>(gap < cells ? gap + 1 : cells);
}

GapResult describe_gap(const Study& study, int last_cell, std::size_t index,
                       const std::vector<int>& counts) {
  const Row& row = study.row();
  const RowGap& gap = row.gaps[index];
  GapResult out;
  out.name = gap.name;
  out.insulation_due = gap.insulation_due;
  out.insulated = gap.insulated();
  out.total_mm = gap.fixed_mm();
  for (const RowSheet& sheet : gap.fixed) {
    out.sheets.push_back(one_of(sheet, 1, SheetOrigin::fixed));
  }
  for (const RowPad& pad : gap.pads) {
    out.sheets.push_back({pad.name, pad.thickness_mm, 1, SheetOrigin::pad, pad.insulates, false});
  }
  for (std::size_t kind = 0; kind < counts.size(); ++kind) {
    if (counts[kind] == 0) {
      continue;
    }
    const RowSheet& sheet = row.kit[kind].sheet;
    out.sheets.push_back(one_of(sheet, counts[kind], SheetOrigin::kit));
    out.total_mm += counts[kind] * sheet.thickness_mm;
    out.insulated = out.insulated || sheet.insulates;
  }
  const bool slippery = std::any_of(out.sheets.begin(), out.sheets.end(),
                                    [](const GapSheet& s) { return s.slippery_face; });
  if (slippery) {
    out.slippery_towards_cell = cell_sliding_past(study, last_cell, index);
  }
  return out;
}

void describe_interference(const Study& study, const ShimLoad& load, PlanResult& out) {
  const RowModel& model = study.model();
  out.interference_mm = model.interference_mm(model.build_state(), load);
  out.interference_edge_mm =
      out.interference_mm - model.greatest_longer_mm(model.build_state(), load);
  out.interference_middle_mm = out.interference_edge_mm + model.middle_bulge_mm();
}

/// Where the terminals were described: bars as built and over the swing.
void describe_bars(const Study& study, const ShimPlan& plan, const PlanPressures& pressures,
                   PlanResult& out) {
  Findings noted;  // the figure that is assumed here is told with the answer
  const auto slots = study.build().cell.terminals ? terminal_slots(study, plan, pressures, noted)
                                                  : std::optional<TerminalSlots>();
  if (!slots) {
    return;
  }
  TerminalUse use;
  use.play_mm = slots->play_mm;
  if (slots->play_mm) {
    use.go_on = true;
    use.go_on_always = true;
  }
  for (const TerminalPair& pair : slots->pairs) {
    if (slots->play_mm) {
      use.go_on = *use.go_on && *pair.goes_on;
      use.go_on_always = *use.go_on_always && *pair.goes_on_always;
    }
    if (pair.flexible_due) {
      use.flexible_due.push_back(pair.cell);
    }
  }
  use.worst_pair = slots->pairs[slots->worst_pair].cell;
  use.moving_pair = slots->pairs[slots->most_moving].cell;
  use.slot_mm = slots->slot_needed_mm;
  use.movement_mm = slots->pairs[slots->most_moving].movement_mm;
  use.flexible_said = slots->flexible_said;
  out.terminals = std::move(use);
}

void describe_pressures(const Study& study, const ShimPlan& plan, const ShimLoad& load,
                        PlanResult& out) {
  const PlanPressures pressures = study.model().evaluate(load, RowModel::By::full_solution);
  describe_bars(study, plan, pressures, out);
  out.as_built = pressures.as_built;
  out.lowest = pressures.lowest;
  out.highest = pressures.highest;
  out.states = pressures.states;
  for (const StateResult& state : out.states) {
    out.worst = std::max(out.worst, state.standing);
  }
  // Built looser than in use is no fault; built tighter is.
  if (out.as_built.standing >= Standing::above) {
    out.worst = std::max(out.worst, out.as_built.standing);
  }
  const RowModel::Give give = study.model().give(load);
  out.cells_give_mm = give.cells_mm;
  out.sheets_give_mm = give.sheets_mm;
  out.pads_give_mm = give.pads_mm;
  out.walls_give_mm = give.walls_mm;
  const RowModel::Life life = study.model().life(load);
  out.life_mean = life.mean;
  out.life_span = life.span;
}

/// The end walls and the cans' rims in the state of most force.
void describe_walls(const Study& study, const ShimLoad& load, PlanResult& out) {
  const StateResult& most = out.as_built.force_n > out.highest.force_n ? out.as_built : out.highest;
  const auto full = study.model().columns_at(
      {most.charge, most.temperature_c, most.capacity_loss, most.settled, most.stiff_pads}, load);
  if (full) {
    out.walls = wall_results(study.row(), *full);
    if (study.row().rim) {
      const double force = full->figures.force_n;
      out.rim_share = force > 0 ? full->rim_force_n / force : 0;
    }
  }
}

/// The search reads curves, the printed margin is solved in full: where that comes out greater by
/// what the curve is off, best and bound must not stand below it.
std::optional<MarginProof> margin_proof(const ShimPlan& plan, double margin) {
  if (!std::isfinite(plan.margin_bound)) {
    return std::nullopt;
  }
  const double best = std::max(plan.best_margin, margin);
  const double bound = std::max(plan.margin_bound, best);
  return MarginProof{best, bound, bound - best};
}

}  // namespace

double change_since_measured(const Row& row, const RowCell& cell) {
  return row.nominal_mm * (row.swing.at(row.build_charge) - row.swing.at(cell.measured_charge)) +
         row.expansion_per_k * row.nominal_mm *
             (row.build_temperature_c - cell.measured_temperature_c);
}

TerminalSpacing describe_terminals(const Study& study, const ShimPlan& plan) {
  geometry::StackLengths lengths;
  const Row& row = study.row();
  for (const RowCell& cell : row.cells) {
    lengths.cell_mm.push_back(cell.free_mm + change_since_measured(row, cell));
  }
  for (std::size_t gap = 0; gap < row.gaps.size(); ++gap) {
    double total = row.gaps[gap].fixed_mm();
    for (std::size_t kind = 0; kind < row.kit.size(); ++kind) {
      total += plan.counts[gap][kind] * row.kit[kind].sheet.thickness_mm;
    }
    lengths.sheet_mm.push_back(total);
  }
  lengths.inner_length_mm = row.box.inner_length_mm;
  TerminalSpacing out{geometry::lay_out(lengths).terminal_spacing_mm, 0};
  const auto& terminals = study.build().cell.terminals;
  if (!terminals || out.spacing_mm.empty()) {
    return out;
  }
  double mean = 0;
  for (const double spacing : out.spacing_mm) {
    mean += spacing;
  }
  mean /= static_cast<double>(out.spacing_mm.size());
  const double wanted = terminals->spacing_mm.value_or(mean);
  for (const double spacing : out.spacing_mm) {
    out.deviation_mm = std::max(out.deviation_mm, std::abs(spacing - wanted));
  }
  return out;
}

PlanResult describe_plan(const Study& study, const ShimPlan& plan) {
  const Row& row = study.row();
  const InsertionRules insertion = with_plan(study.insertion(), row, plan.counts);
  PlanResult out;
  for (std::size_t gap = 0; gap < row.gaps.size(); ++gap) {
    out.gaps.push_back(describe_gap(study, insertion.last_cell, gap, plan.counts[gap]));
    const GapResult& made = out.gaps.back();
    if (made.insulation_due && !made.insulated) {
      out.bare_metal.push_back(made.name);
    }
  }
  for (std::size_t kind = 0; kind < row.kit.size(); ++kind) {
    const RowKind& k = row.kit[kind];
    out.kit.push_back({k.sheet.name, k.sheet.thickness_mm, plan.used[kind], k.count});
    out.shim_total_mm += plan.used[kind] * k.sheet.thickness_mm;
  }
  out.proven_best = plan.proven;
  const ShimLoad load = study.load_of(plan.used);
  const RowModel::Judgement judged = study.model().judge(load, RowModel::By::full_solution);
  out.margin = judged.margin;
  out.margin_proof = margin_proof(plan, out.margin);
  out.swollen_contact = judged.swollen_contact;
  out.spares_swollen = judged.spares_swollen;
  describe_interference(study, load, out);
  TerminalSpacing terminals = describe_terminals(study, plan);
  out.terminal_spacing_mm = std::move(terminals.spacing_mm);
  out.terminal_deviation_mm = terminals.deviation_mm;
  describe_pressures(study, plan, load, out);
  out.sheets_cover_share = study.model().cover_share(load);
  describe_walls(study, load, out);
  out.frame = frame_result(study, load, out);
  const bool rods_hold =
      !out.frame || (out.frame->highest.proof_share <= 1 && out.frame->as_built.proof_share <= 1);
  out.passes = judged.passes && method_holds(insertion, study.model(), load) &&
               out.bare_metal.empty() && rods_hold;
  return out;
}

int parallel_of(const Build& build) {
  if (build.parallel) {
    return *build.parallel;
  }
  if (build.series && *build.series > 0) {
    return std::max(1, static_cast<int>(build.cells.size()) / *build.series);
  }
  return 1;
}

std::vector<CellResult> describe_cells(const Study& study) {
  const Row& row = study.row();
  const auto parallel = static_cast<std::size_t>(parallel_of(study.build()));
  std::vector<CellResult> out;
  for (const RowCell& cell : row.cells) {
    CellResult c;
    const double change = change_since_measured(row, cell);
    c.id = cell.id;
    c.free_mm = cell.free_mm + change;
    c.edge_mm = cell.edge_mm;
    c.dome_mm = cell.dome_mm;
    c.dome = with_flatness(cell.dome, study.build().cells[out.size()].points);
    c.slack_mm = cell.slack_mm;
    c.swelling_mm = cell.swelling_mm();
    c.beyond_watch = c.swelling_mm > row.watch_mm;
    c.signs = cell.signs;
    c.shows_sign = signs_in(cell.signs) == Signs::seen;
    c.refused =
        c.shows_sign || c.swelling_mm > row.set_aside_mm || (c.beyond_watch && !cell.dome_measured);
    // Neighbouring groups in series are turned about, so that bus bars run from + to -.
    c.plus_near_side = (out.size() / parallel) % 2 == 0;
    out.push_back(std::move(c));
  }
  return out;
}

}  // namespace stackfit
