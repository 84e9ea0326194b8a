// SPDX-License-Identifier: GPL-3.0-or-later
//
// One build under one set of assumptions, resolved and ready to be asked: the what-ifs
// (brackets, moves, remedies, worths) are studies of slightly different builds.
#pragma once

#include <cstdint>
#include <optional>

#include "solver/insertion.hpp"
#include "solver/row_model.hpp"
#include "solver/shim_plan.hpp"

namespace stackfit {

class Study {
 public:
  Study(Build build, const Assumptions& assumptions);
  ~Study() = default;
  Study(const Study&) = delete;  // the model holds on to the row
  Study& operator=(const Study&) = delete;
  Study(Study&&) = delete;
  Study& operator=(Study&&) = delete;

  [[nodiscard]] const Build& build() const { return build_; }
  [[nodiscard]] const Row& row() const { return row_; }
  [[nodiscard]] const RowModel& model() const { return model_; }
  [[nodiscard]] const InsertionRules& insertion() const { return insertion_; }
  [[nodiscard]] const Findings& findings() const { return findings_; }
  [[nodiscard]] const Assumptions& assumptions() const { return assumptions_; }

  /// What so many of each kind of the kit add to the row.
  [[nodiscard]] ShimLoad load_of(const std::vector<int>& used) const;
  /// Passes: the band, the limit and the build method all kept. The margin is lowered by the
  /// millimetres a plan leaves loose.
  [[nodiscard]] PlanScore score(const ShimLoad& load) const;
  /// The best plan from the kit; `most_total_nm` limits it to looser ones.
  [[nodiscard]] ShimPlan choose(std::optional<std::int64_t> most_total_nm = {}) const;
  /// Whether any plan passes: quicker than choosing the best.
  [[nodiscard]] bool can_pass() const;
  /// The plan that `placed` states, judged but not chosen. An unknown name counts as no sheet.
  [[nodiscard]] ShimPlan as_placed() const;

  /// Shim totals [mm] that may keep every required state in the band, by the kindest give and
  /// expansion that the kit holds; low > high where none does.
  [[nodiscard]] Span passing_total_mm() const;

 private:
  [[nodiscard]] PlanProblem problem() const;

  Build build_;
  Assumptions assumptions_;
  Findings findings_;
  Row row_;
  RowModel model_;
  InsertionRules insertion_;
};

}  // namespace stackfit
