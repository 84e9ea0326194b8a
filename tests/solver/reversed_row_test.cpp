// SPDX-License-Identifier: GPL-3.0-or-later
//
// A row read from its other end is the same row: same pressures, and the plan in a mirror.
#include <rapidcheck.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <utility>
#include <vector>

#include "solver/plan_result.hpp"
#include "solver/study.hpp"
#include "tests/catch.hpp"
#include "tests/solver/draw_rows.hpp"

using namespace stackfit;
using namespace stackfit::testing;

namespace {

void mirror(Place& place, std::size_t cells) {
  const std::vector<std::string> names = gap_names(cells);
  for (std::string& gap : place.gaps) {
    const auto at = std::find(names.begin(), names.end(), gap);
    gap = names[static_cast<std::size_t>(names.end() - at) - 1];
  }
}

Build mirrored(Build b) {
  const std::size_t cells = b.cells.size();
  std::reverse(b.cells.begin(), b.cells.end());
  if (b.box.last_end_wall) {
    std::swap(b.box.end_walls, b.box.last_end_wall);
  }
  for (KitShim& shim : b.kit) {
    mirror(shim.sheet.where, cells);
  }
  for (SheetInput& sheet : b.fixed_sheets) {
    mirror(sheet.where, cells);
  }
  return b;
}

/// Walls that differ, a sheet at one place, a shim that may lie only there, a bus bar to meet.
Build draw_lopsided() {
  // Plans for meshed rows take curves and full solutions: few of them, and no pads that settle.
  const bool meshed = *rc::gen::inRange(0, 25) == 0;
  Build b = draw_build(meshed ? DrawnWalls::plate : DrawnWalls::rigid);
  if (!meshed) {
    for (CellReading& cell : b.cells) {
      cell.middle_mm = cell.edge_mm;
    }
  } else {
    b.box.inner_length_mm.front() -= b.pads.empty() ? 0 : 1.2 * b.pads.front().thickness_mm;
    b.pads.clear();
    b.box.last_end_wall = draw_plate();
    b.box.lid = Lid::none;
  }
  const std::vector<std::string> names = gap_names(b.cells.size());
  const auto one_gap = [&] {
    return Place{PlaceWord::named_gaps, {names[*rc::gen::inRange<std::size_t>(0, names.size())]}};
  };
  b.fixed_sheets = {sample::sheet("block", drawn_between(0.2, 1), one_gap())};
  if (*rc::gen::arbitrary<bool>()) {
    b.kit.back().sheet.where = one_gap();
  }
  if (*rc::gen::arbitrary<bool>()) {
    b.cell.terminals = Terminals{drawn_between(40.2, 41.5)};
  }
  b.build.method = BuildMethod::end_wall_last;
  // Room for the shims that insulate every gap, and for some more.
  b.box.inner_length_mm.front() +=
      static_cast<double>(names.size()) * drawn_between(0.4, 0.9) + 0.5;
  return b;
}

/// What plans are compared by: steps of the terminals' deviation, evenness and total in
/// nanometres, sheets, kinds. The last rule, which reads the row from its first wall on, is left
/// out.
using Rank = std::array<std::int64_t, 5>;

Rank rank_of(const Study& study, const ShimPlan& plan) {
  const Row& row = study.row();
  std::vector<std::int64_t> between;
  Rank rank{};
  for (std::size_t gap = 0; gap < row.gaps.size(); ++gap) {
    std::int64_t shims = 0;
    for (std::size_t kind = 0; kind < row.kit.size(); ++kind) {
      shims += plan.counts[gap][kind] * to_nm(row.kit[kind].sheet.thickness_mm);
    }
    rank[2] += shims;
    if (gap > 0 && gap + 1 < row.gaps.size()) {
      between.push_back(shims + to_nm(row.gaps[gap].fixed_sheets_mm()));
    }
  }
  if (!between.empty()) {
    const auto [least, most] = std::minmax_element(between.begin(), between.end());
    rank[1] = *most - *least;
  }
  constexpr double terminal_step_mm = 0.05;
  constexpr double rounding_mm = 1e-6;
  rank[0] = std::llround(
      std::floor((describe_terminals(study, plan).deviation_mm + rounding_mm) / terminal_step_mm));
  for (const int used : plan.used) {
    rank[3] += used;
    rank[4] += used > 0 ? 1 : 0;
  }
  return rank;
}

ShimPlan mirrored(ShimPlan plan) {
  std::reverse(plan.counts.begin(), plan.counts.end());
  return plan;
}

void require_alike(double a, double b) {
  constexpr double share = 1e-9;
  RC_ASSERT(std::abs(a - b) <= share * (1e-6 + std::abs(a)));
}

}  // namespace

TEST_CASE("a row read from its other end has the same pressures and the plan in a mirror") {
  CHECK(rc::check([] {
    if (*rc::gen::arbitrary<bool>()) {
      return;  // a search each way: half the draws are enough
    }
    const Build build = draw_lopsided();
    const Study ahead(build, {});
    const Study back(mirrored(build), {});
    const ShimPlan plan = ahead.choose();
    const ShimPlan other = back.choose();
    RC_ASSERT(plan.found == other.found);
    RC_ASSERT(plan.passes == other.passes);
    if (!plan.found) {
      return;
    }
    require_alike(plan.best_margin, other.best_margin);
    RC_ASSERT(rank_of(ahead, plan) == rank_of(back, other));
    RC_ASSERT(rank_of(ahead, plan) == rank_of(ahead, mirrored(other)));
    RC_ASSERT(rank_of(back, mirrored(plan)) == rank_of(back, other));

    const ShimLoad load = ahead.load_of(plan.used);
    const PlanPressures a = ahead.model().evaluate(load, RowModel::By::full_solution);
    const PlanPressures b = back.model().evaluate(load, RowModel::By::full_solution);
    for (std::size_t i = 0; i < a.states.size(); ++i) {
      require_alike(a.states[i].force_n, b.states[i].force_n);
      require_alike(a.states[i].highest_local_mpa, b.states[i].highest_local_mpa);
      require_alike(a.states[i].wall_bow_mm, b.states[i].wall_bow_mm);
    }
  }));
}
