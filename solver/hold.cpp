// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/hold.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "solver/lifting.hpp"

namespace stackfit {
namespace {

bool is_slippery(const Study& study, std::size_t gap, const std::vector<int>& counts,
                 int last_cell) {
  const Row& row = study.row();
  const std::vector<RowSheet>& fixed = row.gaps[gap].fixed;
  if (std::any_of(fixed.begin(), fixed.end(), [](const RowSheet& s) { return s.slippery_face; })) {
    return true;
  }
  for (std::size_t kind = 0; kind < row.kit.size(); ++kind) {
    if (counts[kind] > 0 && row.kit[kind].sheet.slippery_face) {
      return true;
    }
  }
  if (!study.insertion().slip_film) {
    return false;
  }
  const auto last = static_cast<std::size_t>(last_cell);
  return gap + 1 == last || gap == last;
}

/// Low friction of each gap; that of a slip film is the low end of its span.
std::vector<double> friction_of(const Study& study, const ShimPlan& plan, Findings& findings) {
  const double plain = study.assumptions()[Assumed::friction_low];
  const double film = std::min(assumption(Assumed::friction_slip_film).low,
                               study.assumptions()[Assumed::friction_slip_film]);
  findings.note(Assumed::friction_low);
  std::vector<double> friction;
  const int last_cell = with_plan(study.insertion(), study.row(), plan.counts).last_cell;
  for (std::size_t gap = 0; gap < plan.counts.size(); ++gap) {
    const bool slippery = is_slippery(study, gap, plan.counts[gap], last_cell);
    if (slippery) {
      findings.note(Assumed::friction_slip_film);
    }
    friction.push_back(slippery ? std::min(film, plain) : plain);
  }
  return friction;
}

/// Every stretch of the row, the shortest first.
std::vector<HeldStretch> stretches_of(const RowMass& mass, const std::vector<double>& friction,
                                      double force_n) {
  std::vector<HeldStretch> found;
  const std::size_t cells = friction.size() - 1;
  for (std::size_t length = 1; length <= cells; ++length) {
    for (std::size_t first = 0; first + length <= cells; ++first) {
      HeldStretch s;
      s.rule = length == cells ? HoldRule::whole_row
                               : (length == 1 ? HoldRule::one_cell : HoldRule::part_of_row);
      s.first_cell = static_cast<int>(first) + 1;
      s.last_cell = static_cast<int>(first + length);
      s.mass_kg = static_cast<double>(length) * mass.cell_kg;
      for (std::size_t gap = first; gap <= first + length; ++gap) {
        s.mass_kg += mass.gap_kg[gap];
      }
      s.friction_sum = friction[first] + friction[first + length];
      s.holds_g = s.friction_sum * force_n / (s.mass_kg * standard_gravity);
      found.push_back(s);
    }
  }
  return found;
}

HoldDemand demand(const std::vector<HeldStretch>& stretches, double force_n, double g) {
  HoldDemand out;
  out.acceleration_g = g;
  for (const HeldStretch& s : stretches) {
    const double shear = s.mass_kg * g * standard_gravity;
    out.force_needed_n = std::max(out.force_needed_n, shear / s.friction_sum);
    out.missing_n = std::max(out.missing_n, shear - s.friction_sum * force_n);
  }
  out.holds = force_n >= out.force_needed_n;
  out.missing_n = out.holds ? 0 : out.missing_n;
  return out;
}

}  // namespace

Hold hold_at(const Study& study, const ShimPlan& plan, const PlanPressures& pressures,
             double acceleration_g, Findings& findings) {
  if (!(acceleration_g > 0)) {
    throw std::invalid_argument("an acceleration to hold is above zero");
  }
  const RowMass mass = row_mass(study, plan, findings);
  const std::vector<double> friction = friction_of(study, plan, findings);
  const double force = pressures.lowest.force_n;
  const std::vector<HeldStretch> stretches = stretches_of(mass, friction, force);
  Hold out;
  out.asked_g = acceleration_g;
  out.lowest = pressures.lowest;
  out.friction = study.assumptions()[Assumed::friction_low];
  out.cell_kg = mass.cell_kg;
  out.cell_mass_assumed = mass.cell_assumed;
  out.row_kg = mass.total_kg();
  out.weakest = stretches.back();  // the whole row, unless another holds less
  out.whole_row_g = stretches.back().holds_g;
  out.one_cell_g = std::numeric_limits<double>::infinity();
  for (const HeldStretch& s : stretches) {
    if (s.first_cell == s.last_cell) {
      out.one_cell_g = std::min(out.one_cell_g, s.holds_g);
    }
    if (s.holds_g < out.weakest.holds_g) {
      out.weakest = s;
    }
  }
  out.holds_g = out.weakest.holds_g;
  out.holds_hung_g = std::sqrt(std::max(0.0, out.holds_g * out.holds_g - 1));
  out.holds_bump_g = out.holds_g - 1;
  out.across = demand(stretches, force, acceleration_g);
  out.down = demand(stretches, force, acceleration_g + 1);
  out.up = demand(stretches, force, std::max(0.0, acceleration_g - 1));
  return out;
}

std::optional<Hold> hold(const Study& study, const ShimPlan& plan, const PlanPressures& pressures,
                         Findings& findings) {
  const std::optional<double>& asked = study.build().order.acceleration_g;
  if (!asked) {
    return std::nullopt;
  }
  return hold_at(study, plan, pressures, *asked, findings);
}

}  // namespace stackfit
