// SPDX-License-Identifier: GPL-3.0-or-later
//
// The shim search against brute force, with margins as doubles make them.
#include <algorithm>
#include <cmath>
#include <random>

#include "solver/shim_plan.hpp"
#include "tests/catch.hpp"
#include "tests/plan/brute_force.hpp"

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
