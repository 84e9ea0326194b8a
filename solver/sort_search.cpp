// SPDX-License-Identifier: GPL-3.0-or-later
//
// All sortings of a small pile, branch by branch.
//
// A pack is begun by the first cell not yet used (or that cell is left over), so that no order of
// packs is met twice. Its other cells come in the order of thickness, so that the shortest and the
// longest row still to be had are sums of neighbours. A branch is left where its row can lie in
// no length that would better what is known. Of cells alike in all, the first are taken.
#include <algorithm>
#include <limits>

#include "solver/sort_parts.hpp"

namespace stackfit::sorting {
namespace {

class Search {
 public:
  Search(const Pile& pile, const SearchAsked& asked, std::int64_t& steps)
      : pile_(pile),
        asked_(asked),
        steps_(steps),
        used_(pile.t.size(), false),
        allowed_(endless_um),
        levels_(static_cast<std::size_t>(pile.packs)) {
    if (asked.below) {
      allowed_ = *asked.below - std::max<Um>(pile.step, 1);
    }
    for (const Um t : pile.t) {
      left_um_ += t;
    }
  }

  Searched run() {
    if (!asked_.below || allowed_ >= 0) {
      next_pack(0, pile_.spare());
    }
    out_.exhausted = !stopped_;
    return std::move(out_);
  }

 private:
  /// One pack being filled.
  struct Level {
    std::vector<int> cells;     ///< those that may join, by thickness
    std::vector<Um> thickness;  ///< theirs
    std::vector<Um> sums;       ///< of the first so many
    std::vector<int> chosen;    ///< the first cell, and those that joined
    int spare = 0;
    LengthSpanUm rows;  ///< between which its row must lie
  };

  [[nodiscard]] bool over() {
    if (steps_ <= 0) {
      stopped_ = true;
    }
    return stopped_ || met_;
  }

  void next_pack(std::size_t level, int spare) {
    if (level == levels_.size()) {
      take();
      return;
    }
    int first = 0;
    while (used_[static_cast<std::size_t>(first)]) {
      ++first;
    }
    begin(level, first, spare);
    if (!over()) {
      leave_over(level, first, spare);
    }
  }

  /// All cells like it, too: to leave one and use its like is the same as the other way round.
  void leave_over(std::size_t level, int first, int spare) {
    std::vector<int> left;
    for (int cell = first; cell < pile_.size() && pile_.same(cell, first); ++cell) {
      if (!used_[static_cast<std::size_t>(cell)]) {
        left.push_back(cell);
      }
    }
    if (static_cast<int>(left.size()) > spare) {
      return;
    }
    set_used(left, true);
    next_pack(level, spare - static_cast<int>(left.size()));
    set_used(left, false);
  }

  void set_used(const std::vector<int>& cells, bool used) {
    for (const int cell : cells) {
      used_[static_cast<std::size_t>(cell)] = used;
      left_um_ += used ? -pile_.thickness(cell) : pile_.thickness(cell);
    }
  }

  void begin(std::size_t level, int first, int spare) {
    Level& now = levels_[level];
    now.cells.clear();
    for (int cell = first + 1; cell < pile_.size(); ++cell) {
      if (!used_[static_cast<std::size_t>(cell)] &&
          pile_.capacity(cell) <= pile_.capacity(first) + asked_.spread) {
        now.cells.push_back(cell);
      }
    }
    if (static_cast<int>(now.cells.size()) < pile_.each - 1) {
      return;
    }
    std::sort(now.cells.begin(), now.cells.end(), [&](int a, int b) {
      return std::pair(pile_.thickness(a), a) < std::pair(pile_.thickness(b), b);
    });
    now.thickness.clear();
    now.sums.assign(1, 0);
    for (const int cell : now.cells) {
      now.thickness.push_back(pile_.thickness(cell));
      now.sums.push_back(now.sums.back() + pile_.thickness(cell));
    }
    now.chosen.assign(1, first);
    now.spare = spare;
    now.rows = rows_allowed(level, spare);
    fill(level, 0, pile_.thickness(first));
  }

  /// Within what can be shimmed, near enough to the packs already filled, and so that those to
  /// come can be near enough too.
  [[nodiscard]] LengthSpanUm rows_allowed(std::size_t level, int spare) const {
    LengthSpanUm rows{pile_.shimmable.front().low, pile_.shimmable.back().high};
    const bool some_filled = level > 0;
    if (some_filled) {
      rows.low = std::max(rows.low, high_ - allowed_);
      rows.high = std::min(rows.high, low_ + allowed_);
    }
    if (spare > 0) {
      return rows;
    }
    const Um others = pile_.packs - static_cast<Um>(level) - 1;
    // Those to come are no longer than this, and no shorter than that.
    const Um longest = rows.high;
    const Um shortest = rows.low;
    if (longest < endless_um) {
      rows.low = std::max(rows.low, left_um_ - others * longest);
    }
    if (shortest > -endless_um) {
      rows.high = std::min(rows.high, left_um_ - others * shortest);
    }
    if (allowed_ < endless_um) {
      rows.low = std::max(rows.low, divided_up(left_um_ - others * allowed_, others + 1));
      rows.high = std::min(rows.high, divided_down(left_um_ + others * allowed_, others + 1));
    }
    return rows;
  }

  static Um divided_down(Um value, Um by) {
    return value >= 0 ? value / by : -((-value + by - 1) / by);
  }
  static Um divided_up(Um value, Um by) { return -divided_down(-value, by); }

  /// One more cell from place `from` on joins the pack, whose row so far is `sum`.
  void fill(std::size_t level, std::size_t from, Um sum) {
    Level& now = levels_[level];
    --steps_;
    const auto missing = static_cast<std::size_t>(pile_.each) - now.chosen.size();
    if (missing == 0) {
      close(level, sum);
      return;
    }
    const std::size_t count = now.cells.size();
    const Um longest_rest = now.sums[count] - now.sums[count - missing + 1];
    for (std::size_t i = first_worth(now, from, now.rows.low - sum - longest_rest);
         i + missing <= count && !over(); ++i) {
      if (sum + now.sums[i + missing] - now.sums[i] > now.rows.high) {
        return;
      }
      if (i > from && pile_.same(now.cells[i], now.cells[i - 1])) {
        continue;
      }
      now.chosen.push_back(now.cells[i]);
      fill(level, i + 1, sum + now.thickness[i]);
      now.chosen.pop_back();
    }
  }

  /// The first cell that is thick enough, but not in the middle of cells alike.
  [[nodiscard]] static std::size_t first_worth(const Level& now, std::size_t from, Um least) {
    const auto at = std::lower_bound(now.thickness.begin() + static_cast<std::ptrdiff_t>(from),
                                     now.thickness.end(), least);
    return static_cast<std::size_t>(at - now.thickness.begin());
  }

  void close(std::size_t level, Um row) {
    if (pile_.from_shimmable(row) != 0) {
      return;
    }
    const LengthSpanUm before{low_, high_};
    low_ = level == 0 ? row : std::min(low_, row);
    high_ = level == 0 ? row : std::max(high_, row);
    if (high_ - low_ <= allowed_) {
      // A copy: the packs to come change what was chosen at deeper levels only.
      const std::vector<int>& chosen = levels_[level].chosen;
      set_used(chosen, true);
      next_pack(level + 1, levels_[level].spare);
      set_used(chosen, false);
      levels_[level].rows = rows_after(level, before);
    }
    low_ = before.low;
    high_ = before.high;
  }

  /// What is asked for may have become less meanwhile.
  [[nodiscard]] LengthSpanUm rows_after(std::size_t level, const LengthSpanUm& before) {
    const LengthSpanUm now{low_, high_};
    low_ = before.low;
    high_ = before.high;
    const LengthSpanUm rows = rows_allowed(level, levels_[level].spare);
    low_ = now.low;
    high_ = now.high;
    return rows;
  }

  void take() {
    out_.packs.clear();
    for (const Level& level : levels_) {
      out_.packs.push_back(level.chosen);
    }
    const Um found = high_ - low_;
    met_ = found <= asked_.good_enough;
    allowed_ = found - std::max<Um>(pile_.step, 1);
    if (allowed_ < 0) {
      met_ = true;
    }
  }

  const Pile& pile_;
  const SearchAsked& asked_;
  std::int64_t& steps_;
  std::vector<bool> used_;
  Um allowed_;      ///< difference still worth finding
  Um left_um_ = 0;  ///< thickness of all cells neither packed nor left over
  Um low_ = 0;
  Um high_ = 0;
  std::vector<Level> levels_;
  Searched out_;
  bool met_ = false;
  bool stopped_ = false;
};

}  // namespace

Searched search(const Pile& pile, const SearchAsked& asked, std::int64_t& steps) {
  return Search(pile, asked, steps).run();
}

}  // namespace stackfit::sorting
