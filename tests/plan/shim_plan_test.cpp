// SPDX-License-Identifier: GPL-3.0-or-later
//
// The shim search against brute force, with margins as doubles make them.
#include <algorithm>
#include <cmath>
#include <random>

#include "solver/shim_plan.hpp"
#include "tests/catch.hpp"
#include "tests/plan/brute_force.hpp"
#include "tests/plan/drawn_plan.hpp"

using namespace stackfit;
using namespace plan_checks;

namespace {

/// A random kit and row: up to 5 gaps, 3 thicknesses, counts up to 4; places, fixed sheets,
/// terminals and uninsulating shims now and then; targets often out of reach.
PlanProblem random_problem(unsigned seed) {
  std::mt19937 random(seed);
  const auto below = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
  static constexpr std::int64_t stock[]{300'000, 500'000, 500'000, 800'000, 1'000'000, 793'750};
  PlanProblem p;
  const int gaps = 2 + below(4);
  const int kinds = 1 + below(3);
  int pieces = 0;
  for (int k = 0; k < kinds; ++k) {
    PlanKind kind;
    kind.thickness_nm = stock[below(6)];
    // Large kits in many gaps have too many placings for brute force.
    kind.count = std::min(below(5), (gaps >= 5 ? 8 : 10) - pieces);
    pieces += kind.count;
    kind.insulates = below(5) > 0;
    for (int g = 0; g < gaps; ++g) {
      kind.allowed.push_back(below(8) > 0);
    }
    p.kinds.push_back(kind);
  }
  for (int g = 0; g < gaps; ++g) {
    p.gaps.push_back({below(4) == 0 ? 200'000 : 0, below(3) > 0});
  }
  if (gaps > 2 && below(3) == 0) {
    TerminalWish wish;
    for (int g = 0; g + 2 < gaps; ++g) {
      wish.middles_nm.push_back(40'000'000 + 50'000 * below(5));
    }
    if (below(2) == 0) {
      wish.wanted_nm = 41'000'000;
    }
    p.terminals = wish;
  }
  if (below(4) == 0) {
    p.most_total_nm = 2'000'000;
  }
  const double target_mm = 0.5 * below(12);
  const double slope = below(2) == 0 ? 0.3 : 1.0;
  const auto kinds_copy = p.kinds;
  const auto margin = [=](const std::vector<int>& used, double thinner_mm) {
    double total = -thinner_mm;
    for (std::size_t k = 0; k < used.size(); ++k) {
      total += used[k] * static_cast<double>(kinds_copy[k].thickness_nm) * 1e-6;
    }
    return 0.4 - slope * std::abs(total - target_mm);
  };
  p.score = [=](const std::vector<int>& used) {
    const double m = margin(used, 0);
    return PlanScore{m, m >= 0};
  };
  p.margin_thinner = margin;
  return p;
}

}  // namespace

TEST_CASE("the shim search equals brute force on 300 random kits") {
  int infeasible = 0;
  int failing = 0;
  int with_terminals = 0;
  for (unsigned seed = 1; seed <= 300; ++seed) {
    const PlanProblem p = random_problem(seed);
    const ReferencePlan expected = brute_force(p);
    const ShimPlan plan = pick_shims(p);
    INFO("seed " << seed);
    REQUIRE(plan.found == expected.found);
    REQUIRE(plan.proven);
    infeasible += expected.found ? 0 : 1;
    if (!expected.found) {
      continue;
    }
    failing += expected.passes ? 0 : 1;
    with_terminals += p.terminals.has_value() ? 1 : 0;
    CHECK(plan.passes == expected.passes);
    CHECK(plan.rank == expected.rank);
    CHECK(plan.counts == expected.counts);
    CHECK(plan.margin == expected.margin);
  }
  // The draw must hold ties and kits that cannot do it, or the comparison shows nothing.
  CHECK(infeasible >= 30);
  CHECK(failing >= 30);
  CHECK(with_terminals >= 30);
}

TEST_CASE("a search cut short says how far its best may be from what any plan can have") {
  constexpr double most_placings = 20'000;
  constexpr double rounding = 1e-12;
  int short_of_best = 0;
  int gap_closed = 0;
  int tight = 0;
  int cut_short = 0;
  for (unsigned seed = 1; seed <= 400; ++seed) {
    DrawnPlan drawn = draw_plan(seed, most_placings);
    const ReferencePlan whole = brute_force(drawn.problem);
    const ShimPlan exhaustive = pick_shims(drawn.problem);
    drawn.problem.most_combinations = 12;
    const ShimPlan plan = pick_shims(drawn.problem);
    INFO("seed " << seed);
    if (!whole.found) {
      CHECK_FALSE(plan.found);
      continue;
    }
    CHECK(exhaustive.margin_bound == whole.best_margin);
    CHECK(plan.margin_bound >= whole.best_margin);
    if (!plan.found || plan.proven) {
      continue;
    }
    ++cut_short;
    CHECK(plan.best_margin <= plan.margin_bound);
    if (plan.passes == whole.passes) {
      CHECK(plan.best_margin <= whole.best_margin);
      short_of_best += plan.best_margin < whole.best_margin ? 1 : 0;
    }
    gap_closed += plan.margin_bound - plan.best_margin < rounding ? 1 : 0;
    tight += plan.margin_bound - whole.best_margin < least_margin_window ? 1 : 0;
  }
  // The draw must hold all sorts, and the bound must be worth printing: within the rule's own
  // window of the truth more often than not.
  CHECK(cut_short >= 100);
  CHECK(short_of_best >= 20);
  CHECK(gap_closed >= 10);
  CHECK(tight > cut_short / 2);
}

namespace {

/// 64 cells, an insulating sheet due in each of the 65 gaps, three thicknesses to spare; the margin
/// is greatest where the shims come to 65 times 1.3 mm, and falls by 10 parts each unit from there.
DrawnPlan long_row() {
  constexpr std::size_t gaps = 65;
  constexpr std::int64_t greatest_at = 52 * std::int64_t{gaps};  // units of 0.025 mm
  DrawnPlan row;
  const std::vector<bool> anywhere(gaps, true);
  row.problem.kinds = {{300'000, 73, true, anywhere},
                       {500'000, 143, true, anywhere},
                       {800'000, 103, true, anywhere}};
  row.problem.gaps.assign(gaps, {0, true});
  row.law.press_units = {12, 20, 32};
  row.law.rising = {{400 - 10 * greatest_at, 10}};
  row.law.falling = {{400 + 10 * greatest_at, -10}};
  judge_by(row.law, row.problem);
  return row;
}

}  // namespace

// What is best, by the rule: 0.2 mm thinner is 8 units, 80 parts, so totals from 84.3 to 84.7 mm
// may be chosen. All 63 gaps between cells alike (h) and neither wall above them: 65 h is 84.3 or
// more and 63 h + 2 x 0.3 is 84.7 or less; the kit makes tenths of a millimetre, so h is 1.3. The
// least total, 84.3, leaves 2.4 for the walls: 1.1 and 1.3, or 1.2 twice. No sheet is 1.1 or
// thicker, so each gap takes two at least; 1.3 is 0.5 + 0.8, 1.1 is 0.3 + 0.8, and no two make 1.2.
// Of the two ways round, the first wall without the 0.3 comes first.
TEST_CASE("the plan of 64 cells is proven, with and without terminals") {
  DrawnPlan row = long_row();
  Counts best(65, {0, 1, 1});
  best.back() = {1, 0, 1};
  TerminalWish alike;
  alike.middles_nm.assign(63, 40'000'000);
  TerminalWish wanted = alike;
  wanted.wanted_nm = 41'300'000;
  const std::optional<TerminalWish> none;
  for (const auto& wish : {none, std::optional(wanted), std::optional(alike)}) {
    row.problem.terminals = wish;
    const ShimPlan plan = pick_shims(row.problem);
    CHECK(plan.proven);
    CHECK(plan.passes);
    CHECK(plan.counts == best);
    CHECK(plan.rank == PlanRank{0, 0, 0, 84'300'000, 130, 3});
    CHECK(plan.margin_bound == plan.best_margin);
  }
}
