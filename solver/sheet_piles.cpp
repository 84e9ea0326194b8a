// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/sheet_piles.hpp"

#include <algorithm>
#include <functional>
#include <numeric>

namespace stackfit {
namespace {

/// Sums of thicknesses nearer than this are the same.
constexpr double same_mm = 1e-9;

using Pile = std::vector<double>;

double height_mm(const Pile& pile) {
  return std::accumulate(pile.begin(), pile.end(), 0.0);
}

/// Thickest first, each once.
Pile sorted(Pile stock) {
  std::erase_if(stock, [](double sheet) { return !(sheet > 0); });
  std::sort(stock.begin(), stock.end(), std::greater<>());
  stock.erase(std::unique(stock.begin(), stock.end()), stock.end());
  return stock;
}

/// All piles of up to `most_sheets_in_a_pile`, the empty one first, each thickest first.
std::vector<Pile> all_piles(const Pile& stock) {
  std::vector<Pile> piles{{}};
  for (std::size_t at = 0; at < piles.size(); ++at) {
    const Pile pile = piles[at];
    if (pile.size() == most_sheets_in_a_pile) {
      continue;
    }
    for (const double sheet : stock) {
      if (pile.empty() || sheet <= pile.back()) {
        piles.push_back(pile);
        piles.back().push_back(sheet);
      }
    }
  }
  return piles;
}

bool lower(const Pile& a, const Pile& b) {
  const double by = height_mm(b) - height_mm(a);
  return by > same_mm || (by > -same_mm && a.size() < b.size());
}

}  // namespace

std::vector<double> least_pile(const std::vector<double>& stock_mm, double need_mm) {
  const Pile stock = sorted(stock_mm);
  if (stock.empty()) {
    return {};
  }
  Pile below;
  double rest = need_mm;
  while (rest > static_cast<double>(most_sheets_in_a_pile) * stock.front() + same_mm) {
    below.push_back(stock.front());
    rest -= stock.front();
  }
  std::vector<Pile> piles = all_piles(stock);
  std::erase_if(piles, [&](const Pile& pile) { return height_mm(pile) < rest - same_mm; });
  // The pile of the thickest alone is left at least.
  const Pile& best = *std::min_element(piles.begin(), piles.end(), lower);
  below.insert(below.end(), best.begin(), best.end());
  return below;
}

Levelling level_cells(const std::vector<double>& stock_mm, double span_mm) {
  Levelling level{.span_mm = span_mm};
  Pile stock = sorted(stock_mm);
  std::erase_if(stock, [&](double sheet) { return sheet > span_mm + same_mm; });
  level.sheets_mm = stock;
  // A lower cell gets the highest pile that does not lift it over the highest cell: what is left
  // is less than the step from that pile to the next.
  Pile heights{span_mm};
  for (const Pile& pile : all_piles(stock)) {
    if (height_mm(pile) <= span_mm) {
      heights.push_back(height_mm(pile));
    }
  }
  std::sort(heights.begin(), heights.end());
  for (std::size_t i = 1; i < heights.size(); ++i) {
    level.uneven_mm = std::max(level.uneven_mm, heights[i] - heights[i - 1]);
  }
  return level;
}

}  // namespace stackfit
