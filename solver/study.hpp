// SPDX-License-Identifier: GPL-3.0-or-later
//
// One build under one set of assumptions, resolved and ready to be asked: the what-ifs
// (brackets, moves, remedies, worths) are studies of slightly different builds.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>

#include "solver/insertion.hpp"
#include "solver/order_plan.hpp"
#include "solver/row_model.hpp"
#include "solver/shim_plan.hpp"

namespace stackfit {

class Study {
 public:
  /// `store` holds walls and curves in common with studies of slightly different builds.
  Study(Build build, const Assumptions& assumptions,
        std::shared_ptr<WallStore> store = std::make_shared<WallStore>(), RowPlace place = {});
  ~Study() = default;
  Study(const Study&) = delete;  // the model holds on to the row
  Study& operator=(const Study&) = delete;
  Study(Study&&) = delete;
  Study& operator=(Study&&) = delete;

  [[nodiscard]] const Build& build() const { return build_; }
  [[nodiscard]] const std::shared_ptr<WallStore>& store() const { return store_; }
  [[nodiscard]] const RowPlace& place() const { return place_; }
  [[nodiscard]] const Row& row() const { return row_; }
  [[nodiscard]] const RowModel& model() const { return model_; }
  [[nodiscard]] const InsertionRules& insertion() const { return insertion_; }
  [[nodiscard]] const Findings& findings() const { return findings_; }
  [[nodiscard]] const Assumptions& assumptions() const { return assumptions_; }

  /// What so many of each kind of the kit add to the row.
  [[nodiscard]] ShimLoad load_of(const std::vector<int>& used) const;
  /// Passes: the band, the limit and the build method all kept. The margin is lowered by the
  /// millimetres a plan leaves loose. `guard`: margin that a passing plan must have, in shares of
  /// the band.
  [[nodiscard]] PlanScore score(const ShimLoad& load, double guard = 0) const;
  /// The best plan from the kit, searched on the reduced curves and held against a full solution;
  /// `most_total_nm` limits it to looser ones. With `chance` the best is that of the greatest
  /// chance, by the same rule: the margin of the plan returned is still its margin.
  using ChanceScore = std::function<double(const ShimTotal& shims)>;
  [[nodiscard]] ShimPlan choose(std::optional<std::int64_t> most_total_nm = {},
                                const ChanceScore& chance = {}) const;
  /// The order of the cells whose best plan is best (order_plan.hpp). Empty where there is nothing
  /// to choose: no terminals, fewer than three cells, or no plan that passes.
  [[nodiscard]] std::optional<OrderChoice> choose_order() const;
  /// How many of each kind the kit lets be used, whatever the pressure.
  [[nodiscard]] std::vector<std::vector<int>> placeable() const;
  /// Whether any plan passes: quicker than choosing the best.
  [[nodiscard]] bool can_pass() const;
  /// The plan that `placed` states, judged but not chosen. An unknown name counts as no sheet.
  [[nodiscard]] ShimPlan as_placed() const;

  /// Shim totals [mm] that may keep every required state in the band, by the kindest give and
  /// expansion that the kit holds; low > high where none does.
  [[nodiscard]] Span passing_total_mm() const;
  /// What no shims with this total can exceed, side by side: of the one where they press most, of
  /// the other where they press least. More shims press no less, softer ones no more.
  [[nodiscard]] MarginSides kindest_sides(double total_mm) const;

 private:
  [[nodiscard]] RowModel::Judgement judged_in_full(const ShimPlan& plan) const;
  [[nodiscard]] PlanProblem problem(double guard) const;
  void score_by_chance(const ChanceScore& chance, PlanProblem& problem) const;
  [[nodiscard]] PlanProblem hard_rules() const;

  Build build_;
  Assumptions assumptions_;
  RowPlace place_;
  Findings findings_;
  Row row_;
  std::shared_ptr<WallStore> store_;
  RowModel model_;
  InsertionRules insertion_;
};

}  // namespace stackfit
