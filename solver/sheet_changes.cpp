// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/sheet_changes.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstdlib>
#include <limits>
#include <numeric>
#include <utility>

#include "solver/cell_order.hpp"
#include "solver/plan_result.hpp"

namespace stackfit {
namespace {

using Counts = std::vector<std::vector<int>>;

/// Count vectors tried before the search for the fewest changes is given up.
constexpr std::size_t most_tried = 20000;
/// Of equally few changes so many are held against a full solution.
constexpr std::size_t most_in_full = 4;

/// Lays a count vector into the gaps, changing as little as can be of what lies there: piece by
/// piece, each where the row is then evenest.
class Layer {
 public:
  Layer(const Study& study, Counts placed, const MergedGaps& merged)
      : study_(study), row_(study.row()), counts_(std::move(placed)), merged_(merged) {}

  /// None where the hard rules cannot be kept this way.
  [[nodiscard]] std::optional<Counts> lay(const std::vector<int>& change) && {
    for (std::size_t kind = 0; kind < change.size(); ++kind) {
      may_bare_ += row_.kit[kind].sheet.insulates ? std::max(0, change[kind]) : 0;
    }
    const bool all_done = take_all(change) && put_all(change, true) && put_all(change, false);
    for (std::size_t gap = 0; gap < counts_.size(); ++gap) {
      if (!all_done || bare(gap)) {
        return std::nullopt;
      }
    }
    return std::move(counts_);
  }

 private:
  /// How uneven a row is, by the order of the rule for picking (shim_plan.hpp).
  using Unevenness = std::array<std::int64_t, 3>;

  /// Thick pieces first: thin ones then even out what they leave.
  [[nodiscard]] std::vector<std::size_t> thickest_first() const {
    std::vector<std::size_t> kinds(row_.kit.size());
    std::iota(kinds.begin(), kinds.end(), std::size_t{0});
    std::stable_sort(kinds.begin(), kinds.end(), [this](std::size_t a, std::size_t b) {
      return row_.kit[a].sheet.thickness_mm > row_.kit[b].sheet.thickness_mm;
    });
    return kinds;
  }
  [[nodiscard]] bool take_all(const std::vector<int>& change) {
    for (const std::size_t kind : thickest_first()) {
      for (int i = 0; i < -change[kind]; ++i) {
        if (!take(kind)) {
          return false;
        }
      }
    }
    return true;
  }
  [[nodiscard]] bool put_all(const std::vector<int>& change, bool insulating) {
    for (const std::size_t kind : thickest_first()) {
      for (int i = 0; i < change[kind]; ++i) {
        if (row_.kit[kind].sheet.insulates == insulating && !put(kind)) {
          return false;
        }
      }
    }
    return true;
  }

  /// Sheets of one gap as it was before cells made way for blocks.
  [[nodiscard]] std::int64_t sheets_nm(std::size_t gap) const {
    double sum = row_.gaps[gap].fixed_sheets_mm();
    for (std::size_t kind = 0; kind < row_.kit.size(); ++kind) {
      sum += counts_[gap][kind] * row_.kit[kind].sheet.thickness_mm;
    }
    const int gaps = merged_.gaps.empty() ? 1 : merged_.gaps[gap];
    return to_nm((sum - (gaps - 1) * merged_.block_mm) / gaps);
  }
  [[nodiscard]] std::int64_t terminal_steps() const {
    if (!study_.build().cell.terminals || !merged_.gaps.empty()) {
      return 0;
    }
    OrderQuestion question;
    for (const RowCell& cell : row_.cells) {
      question.cells.push_back({cell.id, cell.free_mm, 0});
    }
    std::vector<std::size_t> order;
    for (std::size_t gap = 0; gap < counts_.size(); ++gap) {
      question.gap_mm.push_back(static_cast<double>(sheets_nm(gap)) * 1e-6 +
                                row_.gaps[gap].pads_mm());
      order.push_back(gap);
    }
    order.pop_back();
    question.wanted_spacing_mm = study_.build().cell.terminals->spacing_mm;
    return to_nm(figures_of(question, order).deviation_mm) / terminal_step_nm;
  }
  [[nodiscard]] Unevenness unevenness() const {
    std::int64_t least = std::numeric_limits<std::int64_t>::max();
    std::int64_t most = std::numeric_limits<std::int64_t>::min();
    for (std::size_t gap = 1; gap + 1 < counts_.size(); ++gap) {
      least = std::min(least, sheets_nm(gap));
      most = std::max(most, sheets_nm(gap));
    }
    const std::int64_t wall = std::max(sheets_nm(0), sheets_nm(counts_.size() - 1));
    const bool inner = counts_.size() > 2;
    return {terminal_steps(), inner ? most - least : 0,
            inner ? std::max<std::int64_t>(0, wall - most) : wall};
  }

  [[nodiscard]] bool bare(std::size_t gap) const {
    const RowGap& g = row_.gaps[gap];
    bool insulated = g.insulated();
    for (std::size_t kind = 0; kind < row_.kit.size(); ++kind) {
      insulated = insulated || (row_.kit[kind].sheet.insulates && counts_[gap][kind] > 0);
    }
    return g.insulation_due && !insulated;
  }

  /// One more or less of a kind where `may` allows it and the row is then evenest; of ties the
  /// gap nearest to the last wall, which is reached first.
  template <typename May>
  [[nodiscard]] std::optional<std::size_t> change_one(std::size_t kind, int by, const May& may) {
    std::optional<std::size_t> best;
    Unevenness least{};
    for (std::size_t gap = 0; gap < counts_.size(); ++gap) {
      if (!may(gap)) {
        continue;
      }
      counts_[gap][kind] += by;
      const Unevenness now = unevenness();
      counts_[gap][kind] -= by;
      if (!best || now <= least) {
        best = gap;
        least = now;
      }
    }
    if (best) {
      counts_[*best][kind] += by;
    }
    return best;
  }

  [[nodiscard]] bool bared_without(std::size_t gap, std::size_t kind) {
    const bool before = bare(gap);
    --counts_[gap][kind];
    const bool after = bare(gap);
    ++counts_[gap][kind];
    return after && !before;
  }

  /// A gap is bared by it only if an insulating sheet comes, and only where there is no other.
  [[nodiscard]] bool take(std::size_t kind) {
    for (const bool baring : {false, true}) {
      if (baring && may_bare_ == 0) {
        break;
      }
      const auto may = [&](std::size_t gap) {
        return counts_[gap][kind] > 0 && bared_without(gap, kind) == baring;
      };
      if (change_one(kind, -1, may)) {
        may_bare_ -= baring ? 1 : 0;
        return true;
      }
    }
    return false;
  }

  /// What insulates goes into bare gaps first.
  [[nodiscard]] bool put(std::size_t kind) {
    const auto allowed = [&](std::size_t gap) -> bool { return row_.kit[kind].allowed[gap]; };
    const auto mends = [&](std::size_t gap) {
      return allowed(gap) && row_.kit[kind].sheet.insulates && bare(gap);
    };
    return change_one(kind, 1, mends) || change_one(kind, 1, allowed);
  }

  const Study& study_;
  const Row& row_;
  Counts counts_;
  const MergedGaps& merged_;
  int may_bare_ = 0;  ///< gaps that may be bared because an insulating sheet comes for each
};

class Search {
 public:
  Search(const Study& study, const ShimPlan& placed, const MergedGaps& merged)
      : study_(study), placed_(placed), merged_(merged) {}

  [[nodiscard]] std::optional<ShimPlan> fewest() {
    int most = 0;
    for (std::size_t kind = 0; kind < kinds(); ++kind) {
      most += std::max(placed_.used[kind], on_hand(kind) - placed_.used[kind]);
    }
    for (int pieces = 1; pieces <= most && tried_ <= most_tried; ++pieces) {
      found_.clear();
      std::vector<int> change(kinds(), 0);
      gather(0, pieces, change);
      if (std::optional<ShimPlan> plan = best_of_found()) {
        return plan;
      }
    }
    return std::nullopt;
  }

  [[nodiscard]] std::optional<ShimPlan> laid(const std::vector<int>& change) const {
    std::optional<Counts> counts = Layer(study_, placed_.counts, merged_).lay(change);
    if (!counts) {
      return std::nullopt;
    }
    ShimPlan plan;
    plan.found = true;
    plan.counts = std::move(*counts);
    plan.used = placed_.used;
    for (std::size_t kind = 0; kind < change.size(); ++kind) {
      plan.used[kind] += change[kind];
    }
    const PlanResult described = describe_plan(study_, plan);
    plan.passes = described.passes;
    plan.margin = described.margin;
    return plan;
  }

 private:
  struct Found {
    std::vector<int> change;
    double margin = 0;
  };

  [[nodiscard]] std::size_t kinds() const { return study_.row().kit.size(); }
  [[nodiscard]] int on_hand(std::size_t kind) const { return study_.row().kit[kind].count; }

  /// Every change by so many pieces that the kit allows and that passes by the curves.
  void gather(std::size_t kind, int pieces, std::vector<int>& change) {
    if (tried_ > most_tried) {
      return;
    }
    if (kind == kinds()) {
      if (pieces == 0) {
        judge(change);
      }
      return;
    }
    for (int by = -pieces; by <= pieces; ++by) {
      const int used = placed_.used[kind] + by;
      if (used < 0 || used > on_hand(kind)) {
        continue;
      }
      change[kind] = by;
      gather(kind + 1, pieces - std::abs(by), change);
    }
    change[kind] = 0;
  }

  void judge(const std::vector<int>& change) {
    ++tried_;
    std::vector<int> used = placed_.used;
    for (std::size_t kind = 0; kind < change.size(); ++kind) {
      used[kind] += change[kind];
    }
    const PlanScore score = study_.score(study_.load_of(used));
    if (score.passes) {
      found_.push_back({change, score.margin});
    }
  }

  [[nodiscard]] std::optional<ShimPlan> best_of_found() {
    std::stable_sort(found_.begin(), found_.end(),
                     [](const Found& a, const Found& b) { return a.margin > b.margin; });
    for (std::size_t i = 0; i < std::min(found_.size(), most_in_full); ++i) {
      std::optional<ShimPlan> plan = laid(found_[i].change);
      if (plan && plan->passes) {
        return plan;
      }
    }
    return std::nullopt;
  }

  const Study& study_;
  const ShimPlan& placed_;
  const MergedGaps& merged_;
  std::vector<Found> found_;
  std::size_t tried_ = 0;
};

ChangedSheets difference(const Study& study, const ShimPlan& placed, const MergedGaps& merged,
                         ShimPlan plan) {
  const Row& row = study.row();
  ChangedSheets out;
  for (std::size_t gap = 0; gap < row.gaps.size(); ++gap) {
    GapChange change;
    change.gap = row.gaps[gap].name;
    const int blocks = merged.gaps.empty() ? 0 : merged.gaps[gap] - 1;
    change.before_mm = row.gaps[gap].fixed_sheets_mm() - blocks * merged.block_mm;
    change.after_mm = change.before_mm;
    for (std::size_t kind = 0; kind < row.kit.size(); ++kind) {
      const RowSheet& sheet = row.kit[kind].sheet;
      const int before = placed.counts[gap][kind];
      const int after = plan.counts[gap][kind];
      change.before_mm += before * sheet.thickness_mm;
      change.after_mm += after * sheet.thickness_mm;
      out.before_mm += before * sheet.thickness_mm;
      out.after_mm += after * sheet.thickness_mm;
      if (before != after) {
        change.sheets.push_back({sheet.name, sheet.thickness_mm, before, after});
        out.taken_out += std::max(0, before - after);
        out.put_in += std::max(0, after - before);
      }
    }
    if (!change.sheets.empty()) {
      out.gaps.push_back(std::move(change));
    }
  }
  out.plan = std::move(plan);
  return out;
}

}  // namespace

std::optional<ChangedSheets> change_sheets(const Study& study, const ShimPlan& placed,
                                           const MergedGaps& merged) {
  if (!study.can_pass()) {
    return std::nullopt;
  }
  const bool nothing_placed =
      std::all_of(placed.used.begin(), placed.used.end(), [](int used) { return used == 0; });
  Search search(study, placed, merged);
  if (!nothing_placed) {
    if (std::optional<ShimPlan> plan = search.fewest()) {
      ChangedSheets changed = difference(study, placed, merged, std::move(*plan));
      changed.fewest = true;
      return changed;
    }
  }
  ShimPlan chosen = study.choose();
  if (!chosen.passes) {
    return std::nullopt;
  }
  if (nothing_placed) {
    return difference(study, placed, merged, std::move(chosen));
  }
  std::vector<int> change = chosen.used;
  for (std::size_t kind = 0; kind < change.size(); ++kind) {
    change[kind] -= placed.used[kind];
  }
  std::optional<ShimPlan> laid = search.laid(change);
  const bool keeps = laid && laid->passes;
  return difference(study, placed, merged, keeps ? std::move(*laid) : std::move(chosen));
}

}  // namespace stackfit
