// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/plan/brute_force.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <tuple>

namespace plan_checks {
namespace {

using stackfit::PlanProblem;
using stackfit::PlanRank;
using stackfit::PlanScore;

/// Every placing that keeps the hard rules, gap by gap and kind by kind.
class EveryPlacing {
 public:
  using Visit = std::function<void(const Counts&, const std::vector<int>& used)>;

  EveryPlacing(const PlanProblem& problem, Visit visit)
      : problem_(problem),
        visit_(std::move(visit)),
        counts_(problem.gaps.size(), std::vector<int>(problem.kinds.size(), 0)),
        used_(problem.kinds.size(), 0) {}

  void run() { place(0, 0); }

 private:
  void place(std::size_t gap, std::size_t kind) {
    if (gap == problem_.gaps.size()) {
      if (!problem_.most_total_nm || total_nm() <= *problem_.most_total_nm) {
        visit_(counts_, used_);
      }
      return;
    }
    if (kind == problem_.kinds.size()) {
      if (insulated(gap)) {
        place(gap + 1, 0);
      }
      return;
    }
    const stackfit::PlanKind& k = problem_.kinds[kind];
    const int most = k.allowed[gap] ? k.count - used_[kind] : 0;
    for (int count = 0; count <= most; ++count) {
      counts_[gap][kind] = count;
      used_[kind] += count;
      place(gap, kind + 1);
      used_[kind] -= count;
    }
    counts_[gap][kind] = 0;
  }

  [[nodiscard]] bool insulated(std::size_t gap) const {
    bool insulated = !problem_.gaps[gap].needs_insulation;
    for (std::size_t kind = 0; kind < used_.size(); ++kind) {
      insulated = insulated || (counts_[gap][kind] > 0 && problem_.kinds[kind].insulates);
    }
    return insulated;
  }

  [[nodiscard]] std::int64_t total_nm() const {
    std::int64_t total = 0;
    for (std::size_t kind = 0; kind < used_.size(); ++kind) {
      total += used_[kind] * problem_.kinds[kind].thickness_nm;
    }
    return total;
  }

  const PlanProblem& problem_;
  Visit visit_;
  Counts counts_;
  std::vector<int> used_;
};

std::int64_t terminal_steps(const PlanProblem& p, const std::vector<std::int64_t>& inner) {
  const auto n = static_cast<std::int64_t>(inner.size());
  std::int64_t sum = 0;
  for (std::size_t i = 0; i < inner.size(); ++i) {
    sum += p.terminals->middles_nm[i] + inner[i];
  }
  std::int64_t most = 0;
  for (std::size_t i = 0; i < inner.size(); ++i) {
    const std::int64_t spacing = p.terminals->middles_nm[i] + inner[i];
    const std::int64_t steps =
        p.terminals->wanted_nm
            ? std::abs(spacing - *p.terminals->wanted_nm) / stackfit::terminal_step_nm
            : std::abs(spacing * n - sum) / (stackfit::terminal_step_nm * n);
    most = std::max(most, steps);
  }
  return most;
}

}  // namespace

PlanRank rank_of(const PlanProblem& p, const Counts& counts) {
  PlanRank rank;
  std::vector<int> used(p.kinds.size(), 0);
  std::vector<std::int64_t> inner;
  std::int64_t wall = 0;
  for (std::size_t g = 0; g < counts.size(); ++g) {
    std::int64_t total = p.gaps[g].fixed_nm;
    for (std::size_t k = 0; k < used.size(); ++k) {
      used[k] += counts[g][k];
      rank.sheets += counts[g][k];
      rank.total_nm += counts[g][k] * p.kinds[k].thickness_nm;
      total += counts[g][k] * p.kinds[k].thickness_nm;
    }
    if (g > 0 && g + 1 < counts.size()) {
      inner.push_back(total);
    } else {
      wall = std::max(wall, total);
    }
  }
  for (const int count : used) {
    rank.kinds += count > 0 ? 1 : 0;
  }
  if (!inner.empty()) {
    const auto [least, most] = std::minmax_element(inner.begin(), inner.end());
    rank.evenness_nm = *most - *least;
    rank.wall_excess_nm = std::max<std::int64_t>(0, wall - *most);
  }
  if (p.terminals && !inner.empty()) {
    rank.terminal_steps = terminal_steps(p, inner);
  }
  return rank;
}

ReferencePlan brute_force(const PlanProblem& p) {
  ReferencePlan result;
  std::map<std::vector<int>, PlanScore> scores;
  EveryPlacing(p, [&](const Counts&, const std::vector<int>& used) {
    if (scores.find(used) == scores.end()) {
      scores.emplace(used, p.score(used));
    }
  }).run();
  if (scores.empty()) {
    return result;
  }
  result.found = true;
  result.passes =
      std::any_of(scores.begin(), scores.end(), [](const auto& s) { return s.second.passes; });
  if (result.passes) {
    std::erase_if(scores, [](const auto& s) { return !s.second.passes; });
  }
  const auto best =
      std::min_element(scores.begin(), scores.end(), [](const auto& a, const auto& b) {
        return std::tuple(-a.second.margin, a.first) < std::tuple(-b.second.margin, b.first);
      });
  result.best_margin = best->second.margin;
  const double thinner = p.margin_thinner(best->first, stackfit::margin_window_thinner_mm);
  result.window = std::max(stackfit::least_margin_window, std::abs(result.best_margin - thinner));
  const double enough = result.best_margin - result.window;
  std::erase_if(scores, [&](const auto& s) { return s.second.margin < enough; });
  EveryPlacing(p, [&](const Counts& counts, const std::vector<int>& used) {
    const auto score = scores.find(used);
    if (score == scores.end()) {
      return;
    }
    const PlanRank rank = rank_of(p, counts);
    if (result.counts.empty() || std::tie(rank, counts) < std::tie(result.rank, result.counts)) {
      result.rank = rank;
      result.counts = counts;
      result.margin = score->second.margin;
    }
  }).run();
  return result;
}

double placings(const PlanProblem& problem) {
  double product = 1;
  for (const stackfit::PlanKind& kind : problem.kinds) {
    const auto places = std::count(kind.allowed.begin(), kind.allowed.end(), true);
    // Up to `count` pieces in so many places: (count + places) over places.
    for (int i = 1; i <= places; ++i) {
      product *= static_cast<double>(kind.count + i) / i;
    }
  }
  return product;
}

}  // namespace plan_checks
