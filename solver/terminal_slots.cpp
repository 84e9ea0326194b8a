// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/terminal_slots.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace stackfit {
namespace {

/// Lays out the parts of a row in any state.
class PartLengths {
 public:
  PartLengths(const Study& study, const ShimPlan& plan, const StateResult& as_built)
      : row_(study.row()) {
    if (plan.counts.size() != row_.gaps.size()) {
      throw std::invalid_argument("a plan has counts for every gap of the row");
    }
    for (const std::vector<int>& counts : plan.counts) {
      if (counts.size() != row_.kit.size()) {
        throw std::invalid_argument("a plan counts every kind of the kit in every gap");
      }
    }
    counts_ = plan.counts;
    built_ = as_built;
    other_built_ = as_built;
    if (as_built.stiff_pads) {
      RowState soft = study.model().build_state();
      soft.stiff_pads = false;
      other_built_ = study.model().solve_fully(soft, study.load_of(plan.used));
    }
  }

  /// As built, with the pads at that edge of their grade's band: a pad has one law from the day
  /// it is built in.
  [[nodiscard]] const StateResult& built(bool stiff_pads) const {
    return stiff_pads == built_.stiff_pads ? built_ : other_built_;
  }

  [[nodiscard]] TerminalState at(const StateResult& state) const {
    TerminalState out;
    out.state = state;
    const double built_n = built(state.stiff_pads).force_n;
    double z = 0;
    for (std::size_t i = 0; i < row_.cells.size(); ++i) {
      z += gap_mm(i, state, built_n);
      const double cell = cell_mm(row_.cells[i], state);
      out.middle_mm.push_back(z + 0.5 * cell);
      z += cell;
    }
    out.row_mm = z + gap_mm(row_.cells.size(), state, built_n);
    for (std::size_t i = 0; i + 1 < out.middle_mm.size(); ++i) {
      out.spacing_mm.push_back(out.middle_mm[i + 1] - out.middle_mm[i]);
    }
    return out;
  }

 private:
  [[nodiscard]] double cell_mm(const RowCell& cell, const StateResult& state) const {
    const double swing = row_.swing.at(state.charge) - row_.swing.at(cell.measured_charge);
    const double heat = row_.expansion_per_k * (state.temperature_c - cell.measured_temperature_c);
    const double growth = row_.growth.per_loss * state.capacity_loss;
    const double squeeze = row_.cell_law->strain_at(state.force_n / row_.face_area_mm2).value;
    return cell.free_mm + row_.nominal_mm * (swing + heat + growth - squeeze);
  }

  [[nodiscard]] double sheet_mm(const RowSheet& sheet, const StateResult& state) const {
    const double warmer = state.temperature_c - row_.reference_temperature_c;
    return sheet.thickness_mm * (1 + sheet.expansion_per_k * warmer) -
           state.force_n * sheet.give_mm_per_n();
  }

  /// A settled foam keeps a share of its stress, and has lost a share of its squeeze as built.
  [[nodiscard]] double pad_mm(const RowPad& pad, const StateResult& state, double built_n) const {
    const LawPtr& fresh = state.stiff_pads ? pad.stiff_edge : pad.soft_edge;
    const double pressure = state.force_n / pad.area_mm2;
    if (!state.settled || !pad.relaxes) {
      return pad.thickness_mm * (1 - fresh->strain_at(pressure).value);
    }
    const double lost = row_.foam_set * fresh->strain_at(built_n / pad.area_mm2).value;
    const double squeeze = RelaxedLaw(fresh, row_.foam_share).strain_at(pressure).value;
    return pad.thickness_mm * (1 - lost - squeeze);
  }

  [[nodiscard]] double gap_mm(std::size_t gap, const StateResult& state, double built_n) const {
    double sum = 0;
    for (const RowSheet& sheet : row_.gaps[gap].fixed) {
      sum += sheet_mm(sheet, state);
    }
    for (const RowPad& pad : row_.gaps[gap].pads) {
      sum += pad_mm(pad, state, built_n);
    }
    for (std::size_t kind = 0; kind < row_.kit.size(); ++kind) {
      sum += counts_[gap][kind] * sheet_mm(row_.kit[kind].sheet, state);
    }
    return sum;
  }

  const Row& row_;
  std::vector<std::vector<int>> counts_;
  StateResult built_;        ///< the stiff edge where a grade's pads have two
  StateResult other_built_;  ///< the soft edge
};

/// Each state is held against the row as it was built with the same pads.
struct BuiltAtBothEdges {
  TerminalState soft;
  TerminalState stiff;
  [[nodiscard]] const TerminalState& of(const TerminalState& state) const {
    return state.state.stiff_pads ? stiff : soft;
  }
};

double mean_of(const std::vector<double>& values) {
  double sum = 0;
  for (const double value : values) {
    sum += value;
  }
  return sum / static_cast<double>(values.size());
}

TerminalPair pair_of(const TerminalSlots& slots, const BuiltAtBothEdges& built, std::size_t i) {
  TerminalPair pair;
  pair.cell = static_cast<int>(i) + 1;
  pair.built_mm = slots.built.spacing_mm[i];
  pair.deviation_mm = pair.built_mm - slots.wanted_mm;
  pair.least_mm = pair.built_mm;
  pair.greatest_mm = pair.built_mm;
  for (const TerminalState& state : slots.states) {
    const double now = state.spacing_mm[i];
    pair.least_mm = std::min(pair.least_mm, now);
    pair.greatest_mm = std::max(pair.greatest_mm, now);
    pair.movement_mm = std::max(pair.movement_mm, std::abs(now - built.of(state).spacing_mm[i]));
  }
  pair.flexible_due = pair.movement_mm > slots.rigid_movement_mm;
  if (slots.play_mm) {
    pair.goes_on = std::abs(pair.deviation_mm) <= *slots.play_mm;
    pair.goes_on_always = pair.greatest_mm - slots.wanted_mm <= *slots.play_mm &&
                          slots.wanted_mm - pair.least_mm <= *slots.play_mm;
  }
  return pair;
}

/// From play = (hole - screw)/2 + (slot - screw)/2, a slot no shorter than the hole.
std::optional<double> slot_for(const std::optional<Terminals>& terminals, double deviation_mm) {
  if (!terminals || !terminals->screw_mm) {
    return std::nullopt;
  }
  const double hole = terminals->hole_mm.value_or(*terminals->screw_mm);
  return std::max(hole, 2 * *terminals->screw_mm + 2 * deviation_mm - hole);
}

void judge_pairs(const std::optional<Terminals>& terminals, const BuiltAtBothEdges& built,
                 TerminalSlots& slots) {
  double worst_always = 0;
  for (std::size_t i = 0; i < slots.built.spacing_mm.size(); ++i) {
    slots.pairs.push_back(pair_of(slots, built, i));
    const TerminalPair& pair = slots.pairs.back();
    if (std::abs(pair.deviation_mm) > std::abs(slots.pairs[slots.worst_pair].deviation_mm)) {
      slots.worst_pair = i;
    }
    if (pair.movement_mm > slots.pairs[slots.most_moving].movement_mm) {
      slots.most_moving = i;
    }
    slots.flexible_due = slots.flexible_due || pair.flexible_due;
    worst_always = std::max(
        {worst_always, pair.greatest_mm - slots.wanted_mm, slots.wanted_mm - pair.least_mm});
  }
  slots.slot_needed_mm = slot_for(terminals, std::abs(slots.pairs[slots.worst_pair].deviation_mm));
  slots.slot_needed_always_mm = slot_for(terminals, worst_always);
}

void measure_from_first(const BuiltAtBothEdges& built, TerminalSlots& slots) {
  const std::vector<double>& at = slots.built.middle_mm;
  for (std::size_t i = 0; i < at.size(); ++i) {
    slots.from_first_mm.push_back(at[i] - at[0] - static_cast<double>(i) * slots.wanted_mm);
    for (const TerminalState& state : slots.states) {
      const std::vector<double>& then = built.of(state).middle_mm;
      const double moved = state.middle_mm[i] - state.middle_mm[0] - (then[i] - then[0]);
      slots.movement_from_first_mm = std::max(slots.movement_from_first_mm, std::abs(moved));
    }
  }
}

}  // namespace

std::optional<double> bar_play_mm(const Terminals& terminals) {
  if (!terminals.hole_mm || !terminals.screw_mm) {
    return std::nullopt;
  }
  const double slot = terminals.slot_mm.value_or(*terminals.hole_mm);
  return 0.5 * (*terminals.hole_mm - *terminals.screw_mm) + 0.5 * (slot - *terminals.screw_mm);
}

std::optional<TerminalSlots> terminal_slots(const Study& study, const ShimPlan& plan,
                                            const PlanPressures& pressures, Findings& findings) {
  if (study.row().cells.size() < 2) {
    return std::nullopt;
  }
  const PartLengths lengths(study, plan, pressures.as_built);
  const std::optional<Terminals>& terminals = study.build().cell.terminals;
  TerminalSlots slots;
  slots.built = lengths.at(pressures.as_built);
  for (const StateResult& state : pressures.states) {
    slots.states.push_back(lengths.at(state));
    slots.comes_loose = slots.comes_loose || state.loose_by_mm > 0;
  }
  const BuiltAtBothEdges built{lengths.at(lengths.built(false)), lengths.at(lengths.built(true))};
  slots.wanted_said = terminals && terminals->spacing_mm;
  slots.wanted_mm = slots.wanted_said ? *terminals->spacing_mm : mean_of(slots.built.spacing_mm);
  if (terminals) {
    slots.play_mm = bar_play_mm(*terminals);
    slots.flexible_said = terminals->flexible.value_or(false);
  }
  slots.rigid_movement_mm = study.assumptions()[Assumed::rigid_bar_movement];
  findings.note(Assumed::rigid_bar_movement);
  judge_pairs(terminals, built, slots);
  measure_from_first(built, slots);
  return slots;
}

}  // namespace stackfit
