// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/leave_out.hpp"

#include <algorithm>
#include <cstddef>

namespace stackfit {
namespace {

struct CellVoltages {
  double nominal_v = 0;
  double charge_v = 0;
};

CellVoltages voltages_of(Chemistry chemistry, const Assumptions& assumptions, Findings& findings) {
  const bool lfp = chemistry == Chemistry::lfp_graphite;
  const Assumed nominal = lfp ? Assumed::lfp_nominal_voltage : Assumed::nmc_nominal_voltage;
  const Assumed charge = lfp ? Assumed::lfp_charge_voltage : Assumed::nmc_charge_voltage;
  findings.note(nominal);
  findings.note(charge);
  return {assumptions[nominal], assumptions[charge]};
}

// Either may be left to the other and the number of cells.
int groups_of(const PackAsked& asked, int cells) {
  return asked.series ? *asked.series : std::max(1, cells / asked.parallel.value_or(1));
}

std::vector<int> cells_left(const std::vector<bool>& leave, int groups) {
  std::vector<int> left(static_cast<std::size_t>(groups), 0);
  const std::size_t each = leave.size() / left.size();
  for (std::size_t i = 0; i < leave.size(); ++i) {
    left[std::min(i / each, left.size() - 1)] += leave[i] ? 0 : 1;
  }
  return left;
}

void describe_groups(const std::vector<int>& left, LeftOut& out) {
  int smallest = out.parallel;
  for (std::size_t i = 0; i < left.size(); ++i) {
    if (left[i] == 0) {
      continue;
    }
    ++out.after.series;
    smallest = std::min(smallest, left[i]);
    if (left[i] < out.parallel) {
      out.short_groups.push_back({static_cast<int>(i) + 1, left[i]});
    }
  }
  // One current goes through all groups: the smallest is empty first, and its cells share it.
  out.capacity_left = static_cast<double>(smallest) / out.parallel;
  out.current_up = static_cast<double>(out.parallel) / smallest;
}

void describe_charger(const PackAsked& asked, LeftOut& out) {
  // Chargers are set to a per cent or so.
  constexpr double setting = 1.01;
  out.charger_said = asked.charger_v.has_value();
  out.charger_v = asked.charger_v.value_or(out.before.charge_v);
  if (out.after.series == 0) {
    return;
  }
  out.charger_per_cell_v = out.charger_v / out.after.series;
  out.charger_too_high = out.charger_per_cell_v > setting * out.cell_charge_v;
}

}  // namespace

std::optional<LeftOut> leave_out(const std::vector<bool>& leave, const PackAsked& asked,
                                 const Assumptions& assumptions, Findings& findings) {
  const auto gone = static_cast<int>(std::count(leave.begin(), leave.end(), true));
  if (gone == 0) {
    return std::nullopt;
  }
  LeftOut out;
  out.cells = static_cast<int>(leave.size());
  out.left = out.cells - gone;
  out.series_said = asked.series || asked.parallel;
  if (!out.series_said) {
    return out;
  }
  const int groups = groups_of(asked, out.cells);
  out.parallel = std::max(1, out.cells / groups);
  describe_groups(cells_left(leave, groups), out);
  const CellVoltages cell = voltages_of(asked.chemistry, assumptions, findings);
  out.cell_charge_v = cell.charge_v;
  out.before = {groups, groups * cell.nominal_v, groups * cell.charge_v};
  out.after.nominal_v = out.after.series * cell.nominal_v;
  out.after.charge_v = out.after.series * cell.charge_v;
  describe_charger(asked, out);
  return out;
}

}  // namespace stackfit
