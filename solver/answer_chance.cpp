// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/answer_chance.hpp"

#include <algorithm>
#include <cmath>

#include "solver/monte_carlo.hpp"
#include "solver/remedy.hpp"

namespace stackfit {

AnswerChance::AnswerChance(const Study& study, const ShimPlan& by_margin,
                           const std::optional<ChanceOptions>& options)
    : study_(study), options_(options) {
  if (options_ && by_margin.found && ChanceModel::can_draw(study)) {
    chance_ = std::make_unique<ChanceStudy>(study, study.load_of(by_margin.used), *options_);
  }
}

Study::ChanceScore AnswerChance::score() const {
  if (!chance_ || options_->by != PickBy::chance) {
    return {};
  }
  return [this](const ShimTotal& shims) { return chance_->quick(shims); };
}

ShimPlan AnswerChance::choose(const ShimPlan& by_margin) {
  if (!chance_ || !by_margin.passes) {
    return by_margin;
  }
  ShimPlan by_chance =
      study_.choose({}, [this](const ShimTotal& shims) { return chance_->quick(shims); });
  // How good any plan's margin can be does not hang on what is chosen by.
  by_chance.best_margin = by_margin.best_margin;
  by_chance.margin_bound = by_margin.margin_bound;
  by_chance.window = by_margin.window;
  if (!by_chance.found || !by_chance.passes || by_chance.counts == by_margin.counts) {
    return by_margin;
  }
  by_margin_ = by_margin;
  by_chance_ = by_chance;
  return options_->by == PickBy::chance ? by_chance : by_margin;
}

ChanceRival AnswerChance::rival(const ShimPlan& plan) const {
  const ShimTotal shims = shim_total(study_.row(), plan.used);
  return {plan.used, shims.total_mm, plan.margin, chance_->of(shims)};
}

/// The best others that pass, apart in their totals.
std::vector<ChanceRival> AnswerChance::rivals(const ShimPlan& plan) const {
  constexpr double apart_mm = 0.1;
  constexpr std::size_t most = 4;
  constexpr std::size_t most_tried = 200;
  const Row& row = study_.row();
  std::vector<std::pair<double, std::vector<int>>> order;
  for (std::vector<int>& used : study_.placeable()) {
    const double chance = chance_->quick(shim_total(row, used));
    order.emplace_back(chance, std::move(used));
  }
  std::stable_sort(order.begin(), order.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<double> taken{shim_total(row, plan.used).total_mm};
  std::vector<ChanceRival> found;
  for (std::size_t i = 0, tried = 0; i < order.size() && found.size() < most; ++i) {
    const ShimTotal shims = shim_total(row, order[i].second);
    const bool near = std::any_of(taken.begin(), taken.end(), [&](double total) {
      return std::abs(total - shims.total_mm) < apart_mm;
    });
    if (near) {
      continue;
    }
    if (++tried > most_tried) {
      break;
    }
    const PlanScore score = study_.score(study_.load_of(order[i].second));
    if (score.passes) {
      taken.push_back(shims.total_mm);
      found.push_back({order[i].second, shims.total_mm, score.margin, chance_->of(shims)});
    }
  }
  return found;
}

bool AnswerChance::poor(const Answer& answer) const {
  return answer.chance && options_->need && answer.chance->plan.chance < *options_->need;
}

std::vector<Remedy> AnswerChance::remedies() const {
  // What is drawn to choose the changed build's plan also tells its chance.
  std::unique_ptr<ChanceStudy> drawn;
  RemedyGoal goal;
  goal.needed = *options_->need;
  goal.choose = [&](const Study& changed) {
    ShimPlan plan = changed.choose();
    drawn.reset();
    if (plan.passes && ChanceModel::can_draw(changed)) {
      drawn = std::make_unique<ChanceStudy>(changed, changed.load_of(plan.used), *options_);
      if (options_->by == PickBy::chance) {
        ShimPlan sure =
            changed.choose({}, [&](const ShimTotal& shims) { return drawn->quick(shims); });
        plan = sure.passes ? std::move(sure) : std::move(plan);
      }
    }
    return plan;
  };
  goal.chance = [&](const Study& changed, const ShimPlan& plan) -> std::optional<double> {
    if (!drawn) {
      return std::nullopt;
    }
    const ShimTotal shims = shim_total(changed.row(), plan.used);
    // Only what looks good enough is drawn to the end.
    const double quick = drawn->quick(shims);
    return quick + 2 * chance_tolerance < *options_->need ? quick : drawn->of(shims).chance;
  };
  return find_remedies(study_, &goal);
}

void AnswerChance::begin(const ShimPlan& plan) {
  if (!chance_ || !plan.passes) {
    return;
  }
  const auto when = options_->threads == 1 ? std::launch::deferred : std::launch::async;
  begun_ = std::async(when, [this, used = plan.used] { return chance_->assess(used); });
}

void AnswerChance::describe(const ShimPlan& plan, const std::optional<ShimPlan>& looser,
                            Answer& answer) {
  if (!chance_ || !answer.has_plan) {
    return;
  }
  Chance chance = begun_.valid() ? begun_.get() : chance_->assess(plan.used);
  if (looser) {
    chance.looser = chance_->of(shim_total(study_.row(), looser->used));
  }
  if (by_margin_ && by_chance_) {
    chance.by_margin = rival(*by_margin_);
    chance.by_chance = rival(*by_chance_);
    (plan.counts == by_chance_->counts ? chance.by_chance : chance.by_margin)->chance = chance.plan;
  }
  const bool alone = study_.place().companions.empty();
  if (answer.question == Question::pick && study_.build().placed.empty() && alone) {
    chance.rivals = rivals(plan);
  }
  for (const Assumed id : chance_->model().doubts()) {
    const auto known = std::any_of(answer.assumed.begin(), answer.assumed.end(),
                                   [id](const AssumedUse& use) { return use.id == id; });
    if (!known) {
      answer.assumed.push_back({id, study_.assumptions()[id], 0, 0});
    }
  }
  answer.chance = std::move(chance);
}

}  // namespace stackfit
