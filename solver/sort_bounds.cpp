// SPDX-License-Identifier: GPL-3.0-or-later
//
// What no sorting of a pile can beat.
#include <algorithm>
#include <functional>
#include <limits>
#include <numeric>

#include "solver/sort_parts.hpp"

namespace stackfit::sorting {
namespace {

Um up_to_step(Um value, Um step) {
  return step > 0 ? (value + step - 1) / step * step : 0;
}

Um divided_up(Um value, Um by) {
  return value > 0 ? (value + by - 1) / by : -(-value / by);
}
Um divided_down(Um value, Um by) {
  return -divided_up(-value, by);
}

/// Shortest and longest row that a pack with a given cell in it can have.
struct RowsWith {
  std::vector<Um> shortest;
  std::vector<Um> longest;
};

/// The thinnest and the thickest cells of one span of capacities, summed up.
struct Window {
  int first = 0;
  int last = 0;  ///< one past
  std::vector<Um> sorted;
};

/// Sum of the pack of `each` with a cell of thickness t whose others are the least of `sorted`
/// (which holds t itself once).
Um least_with(const std::vector<Um>& sorted, int each, Um t) {
  const auto n = static_cast<std::ptrdiff_t>(each);
  const Um least = std::accumulate(sorted.begin(), sorted.begin() + n, Um{0});
  const Um last = sorted[static_cast<std::size_t>(each - 1)];
  return t <= last ? least : least - last + t;
}
Um most_with(const std::vector<Um>& sorted, int each, Um t) {
  const auto n = static_cast<std::ptrdiff_t>(each);
  const Um most = std::accumulate(sorted.end() - n, sorted.end(), Um{0});
  const Um last = sorted[sorted.size() - static_cast<std::size_t>(each)];
  return t >= last ? most : most - last + t;
}

/// A pack lies in the span of capacities that begins at its weakest cell. Spans that begin at
/// cells of one capacity are the same.
RowsWith rows_with(const Pile& pile, Mah spread) {
  const int n = pile.size();
  RowsWith rows{std::vector<Um>(pile.t.size(), endless_um),
                std::vector<Um>(pile.t.size(), -endless_um)};
  int last = 0;
  for (int first = 0; first < n; ++first) {
    if (first > 0 && pile.capacity(first) == pile.capacity(first - 1)) {
      continue;
    }
    while (last < n && pile.capacity(last) <= pile.capacity(first) + spread) {
      ++last;
    }
    if (last - first < pile.each) {
      continue;
    }
    std::vector<Um> sorted(pile.t.begin() + first, pile.t.begin() + last);
    std::sort(sorted.begin(), sorted.end());
    for (int cell = first; cell < last; ++cell) {
      const auto i = static_cast<std::size_t>(cell);
      rows.shortest[i] = std::min(rows.shortest[i], least_with(sorted, pile.each, pile.t[i]));
      rows.longest[i] = std::max(rows.longest[i], most_with(sorted, pile.each, pile.t[i]));
    }
  }
  return rows;
}

/// Where every cell is used, the total is known: what one pack has too much the others lack.
Um by_mean(const Pile& pile, Um longest_at_least, Um shortest_at_most) {
  const Um total = std::accumulate(pile.t.begin(), pile.t.end(), Um{0});
  const Um others = pile.packs - 1;
  const Um above = longest_at_least - divided_down(total - longest_at_least, others);
  const Um below = divided_up(total - shortest_at_most, others) - shortest_at_most;
  // In steps above packs of the first cell alone, a total that cannot be shared out evenly.
  const Um steps = (total - pile.size() * pile.t.front()) / pile.step;
  const Um apart = steps % pile.packs == 0 ? 0 : pile.step;
  return std::max({above, below, apart});
}

}  // namespace

Mah least_spread(const Pile& pile) {
  Mah low = 0;
  Mah high = pile.c.back() - pile.c.front();
  while (low < high) {
    const Mah middle = low + (high - low) / 2;
    if (runs_within(pile, middle).empty()) {
      low = middle + 1;
    } else {
      high = middle;
    }
  }
  return low;
}

Packs runs_within(const Pile& pile, Mah spread) {
  // Packs in the order of their weakest cells can be untangled into runs without any becoming
  // wider; of runs, the one that begins first leaves most to the others.
  Packs packs;
  for (int first = 0; first + pile.each <= pile.size();) {
    if (pile.capacity(first + pile.each - 1) - pile.capacity(first) > spread) {
      ++first;
      continue;
    }
    packs.emplace_back(static_cast<std::size_t>(pile.each));
    std::iota(packs.back().begin(), packs.back().end(), first);
    if (static_cast<int>(packs.size()) == pile.packs) {
      return packs;
    }
    first += pile.each;
  }
  return {};
}

Um difference_bound(const Pile& pile, Mah spread) {
  if (pile.packs == 1 || pile.step == 0) {
    return 0;
  }
  RowsWith rows = rows_with(pile, spread);
  // So many cells may be left over; the pack of the next one is as long, or as short, as it must.
  const auto spare = static_cast<std::ptrdiff_t>(pile.spare());
  std::nth_element(rows.shortest.begin(), rows.shortest.begin() + spare, rows.shortest.end(),
                   std::greater<>());
  std::nth_element(rows.longest.begin(), rows.longest.begin() + spare, rows.longest.end());
  const Um longest_at_least = rows.shortest[static_cast<std::size_t>(spare)];
  const Um shortest_at_most = rows.longest[static_cast<std::size_t>(spare)];
  if (longest_at_least >= endless_um || shortest_at_most <= -endless_um) {
    return 0;
  }
  Um bound = std::max<Um>(0, longest_at_least - shortest_at_most);
  if (spare == 0) {
    bound = std::max(bound, by_mean(pile, longest_at_least, shortest_at_most));
  }
  return up_to_step(bound, pile.step);
}

bool never_shimmable(const Pile& pile) {
  if (pile.shimmable.empty()) {
    return true;
  }
  std::vector<Um> sorted = pile.t;
  std::sort(sorted.begin(), sorted.end());
  const auto used = static_cast<std::ptrdiff_t>(pile.packs) * pile.each;
  const Um least = std::accumulate(sorted.begin(), sorted.begin() + used, Um{0});
  const Um most = std::accumulate(sorted.end() - used, sorted.end(), Um{0});
  return least > pile.packs * pile.shimmable.back().high ||
         most < pile.packs * pile.shimmable.front().low;
}

}  // namespace stackfit::sorting
