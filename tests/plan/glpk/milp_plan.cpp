// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/plan/glpk/milp_plan.hpp"

#include <algorithm>
#include <cstdlib>
#include <stdexcept>

#include "tests/plan/glpk/integer_program.hpp"

namespace plan_checks {
namespace {

using stackfit::PlanProblem;

std::int64_t units(std::int64_t length_nm) {
  if (length_nm % unit_nm != 0) {
    throw std::runtime_error("a length of a drawn plan is not a whole multiple of the unit");
  }
  return length_nm / unit_nm;
}

/// The hard rules, and the sums that the levels compare.
class PlanProgram {
 public:
  PlanProgram(const DrawnPlan& plan, bool passing) : plan_(plan), p_(plan.problem) {
    used_.resize(p_.kinds.size());
    for (std::size_t g = 0; g < p_.gaps.size(); ++g) {
      add_gap(g);
    }
    for (std::size_t k = 0; k < p_.kinds.size(); ++k) {
      lp_.at_most(used_[k], p_.kinds[k].count);
      press_.add(used_[k], plan_.law.press_units[k]);
      total_.add(used_[k], units(p_.kinds[k].thickness_nm));
      sheets_.add(used_[k]);
    }
    if (p_.most_total_nm) {
      lp_.at_most(total_, units(*p_.most_total_nm));
    }
    if (passing) {
      margin_at_least(Linear{});
      if (plan_.law.most_passing_press) {
        lp_.at_most(press_, *plan_.law.most_passing_press);
      }
    }
  }

  void margin_at_least(const Linear& parts) {
    for (const auto* side : {&plan_.law.rising, &plan_.law.falling}) {
      for (const MarginLine& line : *side) {
        lp_.at_least(Linear{{}, line.start}.add(press_, line.slope).add(parts, -1), 0);
      }
    }
  }

  /// M*, in parts; empty where the rules leave nothing.
  [[nodiscard]] std::optional<std::int64_t> best_margin() {
    constexpr std::int64_t beyond_any = 100'000;
    const Linear margin = lp_.whole(-beyond_any, beyond_any);
    margin_at_least(margin);
    const auto least = lp_.least(Linear{}.add(margin, -1));
    return least ? std::optional(-*least) : std::nullopt;
  }

  /// The least of the vectors used by plans, kind by kind.
  [[nodiscard]] std::vector<int> least_used() {
    std::vector<int> counts;
    for (const Linear& used : used_) {
      counts.push_back(static_cast<int>(lp_.settle(used)));
    }
    return counts;
  }

  [[nodiscard]] stackfit::PlanRank settle_rank() {
    stackfit::PlanRank rank;
    if (p_.gaps.size() > 2) {
      rank.terminal_steps = p_.terminals ? settle_terminals() : 0;
      rank.evenness_nm = settle_evenness() * unit_nm;
      rank.wall_excess_nm = settle_walls() * unit_nm;
    }
    rank.total_nm = lp_.settle(total_) * unit_nm;
    rank.sheets = static_cast<int>(lp_.settle(sheets_));
    rank.kinds = static_cast<int>(settle_kinds());
    return rank;
  }

  /// Gaps from the first wall on. The counts of one gap are digits of one number.
  [[nodiscard]] Counts least_counts() {
    std::int64_t base = 1;
    for (const stackfit::PlanKind& kind : p_.kinds) {
      base = std::max<std::int64_t>(base, kind.count + 1);
    }
    Counts counts;
    for (const std::vector<Linear>& gap : sheet_counts_) {
      Linear digits;
      for (const Linear& count : gap) {
        Linear shifted = Linear{}.add(digits, base);
        digits = shifted.add(count);
      }
      lp_.settle(digits);
      std::vector<int> found;
      for (const Linear& count : gap) {
        found.push_back(static_cast<int>(lp_.value(count)));
      }
      counts.push_back(std::move(found));
    }
    return counts;
  }

 private:
  void add_gap(std::size_t gap) {
    std::vector<Linear> counts;
    Linear total{{}, units(p_.gaps[gap].fixed_nm)};
    Linear insulators;
    for (std::size_t k = 0; k < p_.kinds.size(); ++k) {
      const stackfit::PlanKind& kind = p_.kinds[k];
      counts.push_back(lp_.whole(0, kind.allowed[gap] ? kind.count : 0));
      used_[k].add(counts.back());
      total.add(counts.back(), units(kind.thickness_nm));
      insulators.add(counts.back(), kind.insulates ? 1 : 0);
    }
    if (p_.gaps[gap].needs_insulation) {
      lp_.at_least(insulators, 1);
    }
    sheet_counts_.push_back(std::move(counts));
    gap_totals_.push_back(std::move(total));
  }

  [[nodiscard]] std::size_t inner_end() const { return gap_totals_.size() - 1; }

  /// floor(|off| / step) <= steps, with all in whole units: |off| <= step * steps + step - 1.
  [[nodiscard]] std::int64_t settle_terminals() {
    const stackfit::TerminalWish& wish = *p_.terminals;
    const auto n = static_cast<std::int64_t>(wish.middles_nm.size());
    const Linear steps = lp_.whole(0, most_units);
    Linear sum;
    std::vector<Linear> spacings;
    for (std::size_t g = 1; g < inner_end(); ++g) {
      spacings.push_back(Linear{{}, units(wish.middles_nm[g - 1])}.add(gap_totals_[g]));
      sum.add(spacings.back());
    }
    for (const Linear& spacing : spacings) {
      // The row's own mean is sum / n: everything n times.
      const std::int64_t times = wish.wanted_nm ? 1 : n;
      Linear off = Linear{}.add(spacing, times);
      off.add(wish.wanted_nm ? Linear{{}, units(*wish.wanted_nm)} : sum, -1);
      const std::int64_t step = units(stackfit::terminal_step_nm) * times;
      for (const std::int64_t sign : {1, -1}) {
        lp_.at_least(Linear{{}, step - 1}.add(steps, step).add(off, sign), 0);
      }
    }
    return lp_.settle(steps);
  }

  [[nodiscard]] std::int64_t settle_evenness() {
    high_ = lp_.whole(0, most_units);
    const Linear low = lp_.whole(0, most_units);
    for (std::size_t g = 1; g < inner_end(); ++g) {
      lp_.at_least(Linear{high_}.add(gap_totals_[g], -1), 0);
      lp_.at_least(Linear{gap_totals_[g]}.add(low, -1), 0);
    }
    return lp_.settle(Linear{high_}.add(low, -1));
  }

  /// `top` is no more than the greatest total between cells: one of them, picked by a switch, is
  /// as great.
  [[nodiscard]] std::int64_t settle_walls() {
    const Linear top = lp_.whole(0, most_units);
    Linear switches;
    for (std::size_t g = 1; g < inner_end(); ++g) {
      const Linear picked = lp_.whole(0, 1);
      switches.add(picked);
      lp_.at_least(Linear{{}, most_units}.add(gap_totals_[g]).add(top, -1).add(picked, -most_units),
                   0);
    }
    lp_.at_least(switches, 1);
    const Linear excess = lp_.whole(0, most_units);
    for (const std::size_t wall : {std::size_t{0}, inner_end()}) {
      lp_.at_least(Linear{excess}.add(top).add(gap_totals_[wall], -1), 0);
    }
    return lp_.settle(excess);
  }

  [[nodiscard]] std::int64_t settle_kinds() {
    Linear kinds;
    for (std::size_t k = 0; k < p_.kinds.size(); ++k) {
      const Linear any = lp_.whole(0, 1);
      kinds.add(any);
      lp_.at_most(Linear{used_[k]}.add(any, -p_.kinds[k].count), 0);
    }
    return lp_.settle(kinds);
  }

  /// More than any length of a drawn plan or any steps of it.
  static constexpr std::int64_t most_units = 4000;

  const DrawnPlan& plan_;
  const PlanProblem& p_;
  IntegerProgram lp_;
  std::vector<std::vector<Linear>> sheet_counts_;  ///< [gap][kind]
  std::vector<Linear> gap_totals_;
  std::vector<Linear> used_;
  Linear press_;
  Linear total_;
  Linear sheets_;
  Linear high_;
};

/// D in parts. 0.05 of the margin is 51.2 parts: what is within it is within 51.
std::int64_t window_parts(const DrawnPlan& plan, bool passing, std::int64_t best) {
  PlanProgram program(plan, passing);
  program.margin_at_least(Linear{{}, best});
  const std::int64_t press = plan.law.press(program.least_used());
  constexpr std::int64_t thinner_nm = 200'000;
  const std::int64_t change = std::abs(best - plan.law.parts_at(press - units(thinner_nm)));
  return std::max<std::int64_t>(change, margin_parts / 20);
}

}  // namespace

ReferencePlan milp_plan(const DrawnPlan& plan) {
  ReferencePlan result;
  std::optional<std::int64_t> best;
  for (const bool passing : {true, false}) {
    best = PlanProgram(plan, passing).best_margin();
    result.passes = passing;
    if (best) {
      break;
    }
  }
  if (!best) {
    result.passes = false;
    return result;
  }
  result.found = true;
  const std::int64_t window = window_parts(plan, result.passes, *best);
  PlanProgram program(plan, result.passes);
  program.margin_at_least(Linear{{}, *best - window});
  result.rank = program.settle_rank();
  result.counts = program.least_counts();
  std::vector<int> used(plan.problem.kinds.size(), 0);
  for (const std::vector<int>& gap : result.counts) {
    for (std::size_t k = 0; k < used.size(); ++k) {
      used[k] += gap[k];
    }
  }
  const auto margin = [](std::int64_t parts) { return static_cast<double>(parts) / margin_parts; };
  result.best_margin = margin(*best);
  result.window = std::max(stackfit::least_margin_window, margin(window));
  result.margin = margin(plan.law.parts_at(plan.law.press(used)));
  return result;
}

}  // namespace plan_checks
