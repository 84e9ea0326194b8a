// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/sort_cells.hpp"

#include <algorithm>
#include <limits>
#include <numeric>
#include <stdexcept>
#include <tuple>

#include "solver/sort_parts.hpp"

namespace stackfit {
namespace sorting {
namespace {

/// Exchanges looked at in large piles, together: two or three seconds.
constexpr std::int64_t exchanges_looked_at = 600'000'000;
/// Larger piles have far more sortings than any search gets through.
constexpr int searched_at_most = 64;

std::vector<std::size_t> canonical_order(const SortProblem& problem) {
  std::vector<std::size_t> order(problem.cells.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    const SortCell& x = problem.cells[a];
    const SortCell& y = problem.cells[b];
    const Mah cx = problem.by_capacity ? x.capacity_mah : 0;
    const Mah cy = problem.by_capacity ? y.capacity_mah : 0;
    if (std::tie(cx, x.thickness_um) != std::tie(cy, y.thickness_um)) {
      return std::tie(cx, x.thickness_um) < std::tie(cy, y.thickness_um);
    }
    return id_before(x.id, y.id);
  });
  return order;
}

Pile pile_of(const SortProblem& problem, const std::vector<std::size_t>& order) {
  Pile pile;
  pile.packs = problem.packs;
  pile.each = problem.cells_each;
  for (const std::size_t i : order) {
    const SortCell& cell = problem.cells[i];
    pile.t.push_back(cell.thickness_um);
    pile.c.push_back(problem.by_capacity ? cell.capacity_mah : 0);
    pile.step = std::gcd(pile.step, cell.thickness_um - pile.t.front());
  }
  pile.shimmable =
      problem.shimmable.value_or(std::vector<LengthSpanUm>{LengthSpanUm{-endless_um, endless_um}});
  return pile;
}

/// Spreads from the least one that is worth a look; each the difference of two cells.
std::vector<Mah> spreads_from(const Pile& pile, Mah least) {
  std::vector<Mah> spreads{least};
  for (std::size_t i = 0; i < pile.c.size(); ++i) {
    for (std::size_t j = i + 1; j < pile.c.size(); ++j) {
      if (pile.c[j] - pile.c[i] > least) {
        spreads.push_back(pile.c[j] - pile.c[i]);
      }
    }
  }
  std::sort(spreads.begin(), spreads.end());
  spreads.erase(std::unique(spreads.begin(), spreads.end()), spreads.end());
  return spreads;
}

class Sorter {
 public:
  explicit Sorter(const Pile& pile, std::int64_t steps) : pile_(pile), steps_(steps) {}

  void run(SortResult& result) {
    const Mah least = least_spread(pile_);
    result.spread_mah.bound = least;
    if (never_shimmable(pile_)) {
      result.shims = SortShims::none_exists;
      packs = exchange_or_runs(least);
    } else if (Way way = look(least); way.found) {
      take(std::move(way), result);
    } else {
      rise(least, way.excluded, result);
    }
    finish(result);
  }

  Packs packs;

 private:
  struct Way {
    bool found = false;
    bool excluded = false;  ///< proven that there is none
    Packs packs;
  };

  [[nodiscard]] bool small() const { return pile_.size() <= searched_at_most; }

  /// Whether the packs can be filled with no greater spread, every row shimmable.
  Way look(Mah spread) {
    Exchanged tried = exchange(pile_, spread, ExchangeUntil::shimmable, looks_);
    if (tried.outside == 0) {
      return {true, false, std::move(tried.packs)};
    }
    if (!small()) {
      return {};
    }
    Searched searched = search(pile_, {spread, std::nullopt, endless_um}, steps_);
    const bool found = !searched.packs.empty();
    return {found, !found && searched.exhausted, std::move(searched.packs)};
  }

  void take(Way way, SortResult& result) {
    result.shims = SortShims::all;
    packs = std::move(way.packs);
  }

  Packs exchange_or_runs(Mah spread) {
    return pile_.shimmable.empty() ? runs_within(pile_, spread)
                                   : exchange(pile_, spread, ExchangeUntil::even, looks_).packs;
  }

  /// The least of the greater spreads that serves, by halving: with a greater one there are more
  /// ways, never fewer.
  void rise(Mah least, bool least_excluded, SortResult& result) {
    const std::vector<Mah> spreads = spreads_from(pile_, least);
    std::size_t out = 0;  // the greatest that is known, or has, to be passed over
    bool proven = least_excluded;
    Way widest = spreads.size() > 1 ? look(spreads.back()) : Way{false, least_excluded, {}};
    if (!widest.found) {
      result.shims = widest.excluded ? SortShims::none_exists : SortShims::none_found;
      packs = exchange_or_runs(least);
      return;
    }
    std::size_t in = spreads.size() - 1;
    take(std::move(widest), result);
    while (in - out > 1) {
      const std::size_t middle = out + (in - out) / 2;
      Way way = look(spreads[middle]);
      if (way.found) {
        in = middle;
        packs = std::move(way.packs);
        continue;
      }
      out = middle;
      if (way.excluded) {
        result.spread_mah.bound = spreads[middle + 1];
        proven = true;
      }
    }
    if (proven && result.spread_mah.bound == least) {
      result.spread_mah.bound = spreads[1];
    }
  }

  void finish(SortResult& result) {
    const Mah wide = spread(pile_, packs);
    if (result.shims == SortShims::all) {
      Exchanged even = exchange(pile_, wide, ExchangeUntil::even, looks_);
      if (even.outside == 0 && rank(even.packs) < rank(packs)) {
        packs = std::move(even.packs);
      }
    }
    result.difference_um = {difference(pile_, packs), difference_bound(pile_, wide)};
    if (result.shims == SortShims::all) {
      better(wide, result);
    }
    // Where the search could not say which spread is the least, packs may have come out narrower.
    result.spread_mah.found = spread(pile_, packs);
    result.spread_mah.bound = std::min(result.spread_mah.bound, result.spread_mah.found);
    result.searched_through = result.searched_through || result.difference_um.proven();
  }

  [[nodiscard]] std::pair<Mah, Um> rank(const Packs& of) const {
    return {spread(pile_, of), difference(pile_, of)};
  }

  /// Of a small pile all sortings that would differ less are gone through.
  void better(Mah wide, SortResult& result) {
    SortFigure& figure = result.difference_um;
    if (figure.proven() || !small()) {
      return;
    }
    Searched searched = search(pile_, {wide, figure.found, figure.bound}, steps_);
    if (!searched.packs.empty()) {
      packs = std::move(searched.packs);
      figure.found = difference(pile_, packs);
    }
    if (searched.exhausted) {
      figure.bound = figure.found;
      result.searched_through = true;
    }
  }

  const Pile& pile_;
  std::int64_t steps_;
  std::int64_t looks_ = exchanges_looked_at;
};

void check(const SortProblem& problem) {
  if (problem.packs < 1 || problem.cells_each < 1) {
    throw std::invalid_argument("sort_cells: at least one pack of at least one cell");
  }
  const auto needed =
      static_cast<std::size_t>(problem.packs) * static_cast<std::size_t>(problem.cells_each);
  if (problem.cells.size() < needed) {
    throw std::invalid_argument("sort_cells: fewer cells than the packs need");
  }
}

}  // namespace

Um Pile::from_shimmable(Um length) const {
  Um nearest = endless_um;
  for (const LengthSpanUm& span : shimmable) {
    nearest = std::min(nearest, std::max({Um{0}, span.low - length, length - span.high}));
  }
  return nearest;
}

Um Pile::row(const std::vector<int>& pack) const {
  Um sum = 0;
  for (const int cell : pack) {
    sum += thickness(cell);
  }
  return sum;
}

Um difference(const Pile& pile, const Packs& packs) {
  Um low = endless_um;
  Um high = -endless_um;
  for (const std::vector<int>& pack : packs) {
    low = std::min(low, pile.row(pack));
    high = std::max(high, pile.row(pack));
  }
  return high - low;
}

Mah spread(const Pile& pile, const Packs& packs) {
  Mah widest = 0;
  for (const std::vector<int>& pack : packs) {
    // In the pile's order, which is that of capacity.
    const auto [low, high] = std::minmax_element(pack.begin(), pack.end());
    widest = std::max(widest, pile.capacity(*high) - pile.capacity(*low));
  }
  return widest;
}

}  // namespace sorting

SortResult sort_cells(const SortProblem& problem) {
  sorting::check(problem);
  const std::vector<std::size_t> order = sorting::canonical_order(problem);
  const sorting::Pile pile = sorting::pile_of(problem, order);
  sorting::Sorter sorter(pile, problem.search_steps);
  SortResult result;
  sorter.run(result);
  const auto by_id = [&](std::size_t a, std::size_t b) {
    return id_before(problem.cells[a].id, problem.cells[b].id);
  };
  std::vector<bool> used(problem.cells.size(), false);
  for (const std::vector<int>& pack : sorter.packs) {
    std::vector<std::size_t> cells;
    for (const int cell : pack) {
      cells.push_back(order[static_cast<std::size_t>(cell)]);
      used[cells.back()] = true;
    }
    std::sort(cells.begin(), cells.end(), by_id);
    result.packs.push_back(std::move(cells));
  }
  std::sort(result.packs.begin(), result.packs.end(),
            [&](const auto& a, const auto& b) { return by_id(a.front(), b.front()); });
  for (std::size_t i = 0; i < used.size(); ++i) {
    if (!used[i]) {
      result.left_over.push_back(i);
    }
  }
  std::sort(result.left_over.begin(), result.left_over.end(), by_id);
  return result;
}

bool id_before(std::string_view left, std::string_view right) {
  const auto digit = [](char letter) { return letter >= '0' && letter <= '9'; };
  const auto number = [&](std::string_view text, std::size_t at) {
    std::size_t end = at;
    while (end < text.size() && digit(text[end])) {
      ++end;
    }
    while (at + 1 < end && text[at] == '0') {
      ++at;
    }
    return text.substr(at, end - at);
  };
  std::size_t i = 0;
  std::size_t j = 0;
  while (i < left.size() && j < right.size()) {
    if (digit(left[i]) && digit(right[j])) {
      const std::string_view a = number(left, i);
      const std::string_view b = number(right, j);
      if (a != b) {
        return std::pair(a.size(), a) < std::pair(b.size(), b);
      }
      i = static_cast<std::size_t>(a.data() + a.size() - left.data());
      j = static_cast<std::size_t>(b.data() + b.size() - right.data());
    } else if (left[i] != right[j]) {
      return left[i] < right[j];
    } else {
      ++i;
      ++j;
    }
  }
  const std::pair rest(left.size() - i, right.size() - j);
  return rest.first != rest.second ? rest.first < rest.second : left < right;
}

}  // namespace stackfit
