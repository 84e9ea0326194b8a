// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/kit_search.hpp"

#include <algorithm>
#include <functional>
#include <numeric>
#include <stdexcept>
#include <tuple>

namespace stackfit {
namespace {

constexpr int most_sheets_a_gap = 6;
constexpr int least_most_sheets = 12;

void require_rising(const std::vector<std::int64_t>& sold_nm) {
  std::int64_t before = 0;
  for (const std::int64_t thickness : sold_nm) {
    if (thickness <= before) {
      throw std::invalid_argument("sheets that are sold: thicknesses above zero, rising");
    }
    before = thickness;
  }
}

class Search {
 public:
  explicit Search(const KitProblem& problem) : problem_(problem) {
    most_sheets_ = problem.most_sheets > 0
                       ? problem.most_sheets
                       : std::max(least_most_sheets, most_sheets_a_gap * problem.sheets_due);
  }

  [[nodiscard]] KitChoice run() {
    if (problem_.sheets_due == 0 && problem_.spread_nm <= problem_.window_nm) {
      return {true, {}, {}};  // the row serves as it is
    }
    for (std::size_t kinds = 1; kinds <= problem_.most_kinds; ++kinds) {
      for (int sheets = std::max<int>(problem_.sheets_due, static_cast<int>(kinds));
           sheets <= most_sheets_; ++sheets) {
        choose_kinds(kinds, sheets, 0);
        if (best_.found) {
          return best_;
        }
      }
    }
    return best_;
  }

 private:
  /// Every choice of `kinds` of what is sold, thinnest first, then every share of the sheets.
  void choose_kinds(std::size_t kinds, int sheets, std::size_t from) {
    if (kinds == 0) {
      share(0, sheets);
      return;
    }
    for (std::size_t i = from; i + kinds <= problem_.sold_nm.size(); ++i) {
      kit_.push_back({problem_.sold_nm[i], 0});
      choose_kinds(kinds - 1, sheets, i + 1);
      kit_.pop_back();
    }
  }

  /// Every way to share the sheets among the chosen kinds, one of each at least.
  void share(std::size_t kind, int left) {
    if (kind + 1 == kit_.size()) {
      kit_[kind].count = left;
      look_at_kit();
      return;
    }
    const int others = static_cast<int>(kit_.size() - kind) - 1;
    for (int count = 1; count + others <= left; ++count) {
      kit_[kind].count = count;
      share(kind + 1, left - count);
    }
  }

  void look_at_kit() {
    if (reach() < problem_.spread_nm) {
      return;
    }
    const std::vector<std::int64_t> totals =
        kit_totals(kit_, problem_.sheets_due, problem_.filler_nm);
    // The first run that is long enough: the shortest box.
    std::size_t first = 0;
    for (std::size_t i = 0; i < totals.size(); ++i) {
      if (i > 0 && totals[i] - totals[i - 1] > problem_.window_nm) {
        first = i;
      }
      if (totals[i] - totals[first] + problem_.window_nm >= problem_.spread_nm) {
        offer({totals[first], totals[i]});
        return;
      }
    }
  }

  /// No run can be longer: from the fewest, thinnest sheets to all, with the window.
  [[nodiscard]] std::int64_t reach() const {
    std::int64_t all = problem_.filler_nm;
    std::int64_t least = 0;
    int due = problem_.sheets_due;
    for (const KitKind& kind : kit_) {
      const int taken = std::min(due, kind.count);
      least += taken * kind.thickness_nm;
      due -= taken;
      all += kind.count * kind.thickness_nm;
    }
    return all - least + problem_.window_nm;
  }

  void offer(const TotalRun& run) {
    const auto total = [](const std::vector<KitKind>& kit) {
      return std::accumulate(kit.begin(), kit.end(), std::int64_t{0},
                             [](std::int64_t sum, const KitKind& kind) {
                               return sum + kind.count * kind.thickness_nm;
                             });
    };
    if (!best_.found || std::tuple(run.least_nm, total(kit_)) <
                            std::tuple(best_.run.least_nm, total(best_.kinds))) {
      best_ = {true, kit_, run};
    }
  }

  const KitProblem& problem_;
  int most_sheets_ = 0;
  std::vector<KitKind> kit_;
  KitChoice best_;
};

}  // namespace

int KitChoice::sheets() const {
  return std::accumulate(kinds.begin(), kinds.end(), 0,
                         [](int sum, const KitKind& kind) { return sum + kind.count; });
}

std::vector<std::int64_t> kit_totals(const std::vector<KitKind>& kinds, int sheets_due,
                                     std::int64_t filler_nm) {
  std::vector<std::int64_t> totals;
  const std::function<void(std::size_t, int, std::int64_t)> add = [&](std::size_t kind, int sheets,
                                                                      std::int64_t total) {
    if (kind == kinds.size()) {
      if (sheets >= sheets_due) {
        totals.push_back(total);
        if (filler_nm > 0) {
          totals.push_back(total + filler_nm);
        }
      }
      return;
    }
    for (int count = 0; count <= kinds[kind].count; ++count) {
      add(kind + 1, sheets + count, total + count * kinds[kind].thickness_nm);
    }
  };
  add(0, 0, 0);
  std::sort(totals.begin(), totals.end());
  totals.erase(std::unique(totals.begin(), totals.end()), totals.end());
  return totals;
}

TotalRun longest_run(const std::vector<std::int64_t>& totals, std::int64_t window_nm) {
  TotalRun longest{0, -1};
  std::size_t first = 0;
  for (std::size_t i = 0; i < totals.size(); ++i) {
    if (i > 0 && totals[i] - totals[i - 1] > window_nm) {
      first = i;
    }
    if (totals[i] - totals[first] > longest.most_nm - longest.least_nm) {
      longest = {totals[first], totals[i]};
    }
  }
  return longest;
}

KitChoice smallest_kit(const KitProblem& problem) {
  require_rising(problem.sold_nm);
  if (problem.window_nm < 0) {
    return {};
  }
  return Search(problem).run();
}

}  // namespace stackfit
