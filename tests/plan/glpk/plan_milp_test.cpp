// SPDX-License-Identifier: GPL-3.0-or-later
//
// The shim search against two references that share no code with it or with each other: every
// placing looked at, and integer programs solved by GLPK level by level.
#include "solver/shim_plan.hpp"
#include "tests/catch.hpp"
#include "tests/plan/glpk/milp_plan.hpp"

using namespace stackfit;
using namespace plan_checks;

namespace {

constexpr double most_placings = 40'000;

struct Drawn {
  int infeasible = 0;
  int failing = 0;
  int wanted_spacing = 0;
  int own_mean = 0;
  int fixed_sheets = 0;
  int kit_used_up = 0;  ///< of a kind every sheet
  int kit_to_spare = 0;
  int wide_window = 0;

  void count(const DrawnPlan& drawn, const ReferencePlan& plan) {
    infeasible += plan.found ? 0 : 1;
    if (!plan.found) {
      return;
    }
    failing += plan.passes ? 0 : 1;
    const auto& terminals = drawn.problem.terminals;
    wanted_spacing += terminals && terminals->wanted_nm ? 1 : 0;
    own_mean += terminals && !terminals->wanted_nm ? 1 : 0;
    wide_window += plan.window > least_margin_window ? 1 : 0;
    bool fixed = false;
    for (const PlanGap& gap : drawn.problem.gaps) {
      fixed = fixed || gap.fixed_nm > 0;
    }
    fixed_sheets += fixed ? 1 : 0;
    bool used_up = false;
    for (std::size_t k = 0; k < drawn.problem.kinds.size(); ++k) {
      int used = 0;
      for (const std::vector<int>& gap : plan.counts) {
        used += gap[k];
      }
      used_up = used_up || (used > 0 && used == drawn.problem.kinds[k].count);
    }
    (used_up ? kit_used_up : kit_to_spare) += 1;
  }
};

}  // namespace

TEST_CASE("the shim search equals brute force and a MILP on 320 drawn kits") {
  Drawn seen;
  for (unsigned seed = 1; seed <= 320; ++seed) {
    const DrawnPlan drawn = draw_plan(seed, most_placings);
    const ShimPlan plan = pick_shims(drawn.problem);
    const ReferencePlan brute = brute_force(drawn.problem);
    const ReferencePlan milp = milp_plan(drawn);
    INFO("seed " << seed);
    REQUIRE(plan.proven);
    REQUIRE(brute.found == plan.found);
    REQUIRE(milp.found == plan.found);
    seen.count(drawn, brute);
    for (const ReferencePlan& expected : {brute, milp}) {
      CHECK(plan.passes == expected.passes);
      if (!plan.found) {
        continue;
      }
      CHECK(plan.rank == expected.rank);
      CHECK(plan.counts == expected.counts);
      CHECK(plan.margin == expected.margin);
      CHECK(plan.best_margin == expected.best_margin);
      CHECK(plan.window == expected.window);
    }
  }
  // Each sort must come up, or the comparison shows nothing of it.
  CHECK(seen.infeasible >= 30);
  CHECK(seen.failing >= 30);
  CHECK(seen.wanted_spacing >= 50);
  CHECK(seen.own_mean >= 30);
  CHECK(seen.fixed_sheets >= 100);
  CHECK(seen.kit_used_up >= 50);
  CHECK(seen.kit_to_spare >= 50);
  CHECK(seen.wide_window >= 50);
}
