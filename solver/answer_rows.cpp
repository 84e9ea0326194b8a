// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/answer_rows.hpp"

#include <algorithm>
#include <iterator>
#include <limits>
#include <memory>
#include <utility>

#include "solver/answer_order.hpp"

namespace stackfit {
namespace {

/// One row's cells, and its share of the kit.
Build build_of_row(const Build& whole, std::size_t index, const std::vector<int>& counts) {
  const auto rows = static_cast<std::size_t>(*whole.rows);
  const std::size_t each = whole.cells.size() / rows;
  Build row = whole;
  const auto first = whole.cells.begin() + static_cast<std::ptrdiff_t>(index * each);
  row.cells.assign(first, first + static_cast<std::ptrdiff_t>(each));
  for (std::size_t kind = 0; kind < row.kit.size(); ++kind) {
    row.kit[kind].count = counts[kind];
  }
  return row;
}

/// A row's gaps with its chosen shims lying in them, as the other rows meet them.
std::vector<RowGap> gaps_with(const Study& study, const ShimPlan& plan) {
  std::vector<RowGap> gaps = study.row().gaps;
  for (std::size_t gap = 0; gap < plan.counts.size(); ++gap) {
    for (std::size_t kind = 0; kind < plan.counts[gap].size(); ++kind) {
      for (int i = 0; i < plan.counts[gap][kind]; ++i) {
        gaps[gap].fixed.push_back(study.row().kit[kind].sheet);
      }
    }
  }
  return gaps;
}

class Rows {
 public:
  Rows(Question question, const Build& build, const Assumptions& assumptions,
       const std::optional<ChanceOptions>& chance, Pictures pictures)
      : question_(question),
        whole_(build),
        assumptions_(assumptions),
        chance_(chance),
        pictures_(pictures),
        count_(static_cast<std::size_t>(*build.rows)),
        store_(std::make_shared<WallStore>()) {}

  [[nodiscard]] Answer answer() {
    order_rows();
    choose();
    Answer all;
    std::vector<Answer> rows;
    for (std::size_t i = 0; i < count_; ++i) {
      rows.push_back(solved_together(i));
      rows.back().row_number = static_cast<int>(i) + 1;
      tell_order(i, rows.back());
    }
    const auto worst =
        std::max_element(rows.begin(), rows.end(), [](const Answer& a, const Answer& b) {
          return a.verdict != b.verdict ? a.verdict < b.verdict : a.plan.margin > b.plan.margin;
        });
    all = *worst;
    all.insertion.wall_force_n = 0;
    for (const Answer& row : rows) {
      all.insertion.wall_force_n += row.insertion.wall_force_n;
    }
    all.row_number = 0;
    for (const Answer& row : rows) {
      // That all rows pass is no likelier than that the least sure one does.
      if (row.chance && (!all.chance || row.chance->plan.chance < all.chance->plan.chance)) {
        all.chance = row.chance;
      }
    }
    all.order.reset();  // each row has its own
    all.first_cell = 1;
    all.cell_count = static_cast<int>(whole_.cells.size());
    all.series = whole_.series.value_or(all.cell_count / all.parallel);
    all.sense_lead_v.clear();
    for (const Answer& row : rows) {
      const double before = all.sense_lead_v.empty() ? 0 : all.sense_lead_v.back();
      for (const double volts : row.sense_lead_v) {
        all.sense_lead_v.push_back(before + volts);
      }
    }
    all.rows = std::move(rows);
    return all;
  }

 private:
  /// The others as they are before any plan: as long as the row looked at.
  [[nodiscard]] RowPlace alone(std::size_t index) const {
    RowPlace place{index, {}};
    for (std::size_t other = 0; other < count_; ++other) {
      if (other == index) {
        continue;
      }
      const Study bare(build_of_row(whole_, other, share(other)), assumptions_, store_,
                       {other, {}});
      place.companions.push_back({bare.row().cells, bare.row().gaps, static_cast<int>(other), 0});
    }
    return place;
  }

  /// An even share of each kind; odd pieces go to the first rows.
  [[nodiscard]] std::vector<int> share(std::size_t index) const {
    const auto rows = static_cast<int>(count_);
    std::vector<int> counts;
    for (const KitShim& shim : whole_.kit) {
      const int extra = static_cast<int>(index) < shim.count % rows ? 1 : 0;
      counts.push_back(shim.count / rows + extra);
    }
    return counts;
  }

  /// Each row by itself, from its share of the kit: no cell changes its row.
  void order_rows() {
    orders_.resize(count_);
    const std::size_t each = whole_.cells.size() / count_;
    for (std::size_t i = 0; question_ == Question::pick && i < count_; ++i) {
      const Study study(build_of_row(whole_, i, share(i)), assumptions_, store_, alone(i));
      orders_[i] = best_order(study);
      if (orders_[i]) {
        orders_[i]->proven = false;  // another share of the kit may allow a better one
        orders_[i]->fewest_moved = false;
        const Build row = in_order(study.build(), orders_[i]->places);
        std::copy(row.cells.begin(), row.cells.end(),
                  whole_.cells.begin() + static_cast<std::ptrdiff_t>(i * each));
      }
    }
  }

  void tell_order(std::size_t index, Answer& row) const {
    row.order = orders_[index];
    if (row.order) {
      for (int& place : row.order->places) {
        place += row.first_cell - 1;
      }
    }
  }

  void choose() {
    std::vector<int> left;
    for (const KitShim& shim : whole_.kit) {
      left.push_back(shim.count);
    }
    const auto take = [&](const ShimPlan& plan, int sign) {
      for (std::size_t kind = 0; kind < plan.used.size(); ++kind) {
        left[kind] -= sign * plan.used[kind];
      }
    };
    const bool placed = question_ == Question::pressure || !whole_.placed.empty();
    for (std::size_t i = 0; i < count_; ++i) {
      const Study study(build_of_row(whole_, i, share(i)), assumptions_, store_, alone(i));
      plans_.push_back(placed ? study.as_placed() : study.choose());
      take(plans_.back(), 1);
    }
    for (std::size_t i = 0; !placed && i < count_; ++i) {
      take(plans_[i], -1);
      const Study study(build_of_row(whole_, i, left), assumptions_, store_, alone(i));
      plans_[i] = study.choose();
      plans_[i].proven = false;
      plans_[i].margin_bound =
          std::numeric_limits<double>::infinity();  // what is left for it hangs on the other rows
      take(plans_[i], 1);
    }
  }

  /// All rows with their plans between the walls, one of them looked at.
  [[nodiscard]] Answer solved_together(std::size_t index) {
    std::vector<int> counts;
    for (const KitShim& shim : whole_.kit) {
      counts.push_back(shim.count);
    }
    std::vector<double> built_mm;
    std::vector<RowCompanion> rows;
    for (std::size_t i = 0; i < count_; ++i) {
      const Study study(build_of_row(whole_, i, counts), assumptions_, store_, {i, {}});
      ShimPlan plan = plans_[i];
      if (plan.counts.empty()) {
        plan.used.assign(study.row().kit.size(), 0);
        plan.counts.assign(study.row().gaps.size(), plan.used);
      }
      built_mm.push_back(study.model().built_interference_mm(study.load_of(plan.used)));
      rows.push_back({study.row().cells, gaps_with(study, plan), static_cast<int>(i), 0});
    }
    RowPlace place{index, {}};
    for (std::size_t i = 0; i < count_; ++i) {
      if (i != index) {
        rows[i].longer_mm = built_mm[i] - built_mm[index];
        place.companions.push_back(rows[i]);
      }
    }
    const Study study(build_of_row(whole_, index, counts), assumptions_, store_, std::move(place));
    return answer_one_row(question_, study, &plans_[index], chance_, pictures_);
  }

  Question question_;
  Build whole_;  ///< its cells in the order that was chosen
  Assumptions assumptions_;
  std::optional<ChanceOptions> chance_;
  Pictures pictures_;
  std::size_t count_;
  std::shared_ptr<WallStore> store_;
  std::vector<ShimPlan> plans_;
  std::vector<std::optional<OrderResult>> orders_;
};

}  // namespace

Answer answer_rows(Question question, const Build& build, const Assumptions& assumptions,
                   const std::optional<ChanceOptions>& chance, Pictures pictures) {
  return Rows(question, build, assumptions, chance, pictures).answer();
}

}  // namespace stackfit
