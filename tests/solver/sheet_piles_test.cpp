// SPDX-License-Identifier: GPL-3.0-or-later
//
// Piles of sheets: the least that reaches, and what is left uneven, against trying everything.
#include "solver/sheet_piles.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <functional>
#include <limits>
#include <numeric>
#include <vector>

#include "tests/catch.hpp"

namespace stackfit {
namespace {

using Catch::Matchers::WithinAbs;
using Pile = std::vector<double>;

double height_mm(const Pile& pile) {
  return std::accumulate(pile.begin(), pile.end(), 0.0);
}

/// Heights of all piles of up to three sheets, by three loops.
Pile all_heights(const Pile& stock) {
  Pile with_none = stock;
  with_none.push_back(0);
  Pile heights;
  for (const double a : with_none) {
    for (const double b : with_none) {
      for (const double c : with_none) {
        heights.push_back(a + b + c);
      }
    }
  }
  return heights;
}

Pile draw_stock() {
  Pile stock;
  for (int n = *rc::gen::inRange(1, 6); n > 0; --n) {
    stock.push_back(*rc::gen::inRange(1, 40) / 10.0);
  }
  return stock;
}

TEST_CASE("a pile: the lowest that reaches, and of those the one with the fewest sheets") {
  CHECK(least_pile({0.5, 0.8, 1.0, 2.0}, 1.0) == Pile{1.0});
  CHECK(least_pile({0.5, 0.8, 1.0, 2.0}, 1.1) == Pile{0.8, 0.5});
  CHECK(least_pile({0.5, 1.0}, 1.9) == Pile{1.0, 1.0});  // two, not 1.0 + 0.5 + 0.5
  CHECK(least_pile({0.5}, 2.2) == Pile{0.5, 0.5, 0.5, 0.5, 0.5});
  CHECK(least_pile({0.5, 1.0}, 0).empty());
  CHECK(least_pile({}, 3).empty());
}

TEST_CASE("a pile against trying every one") {
  REQUIRE(rc::check([] {
    const Pile stock = draw_stock();
    const double need = *rc::gen::inRange(1, 60) / 10.0;
    const Pile pile = least_pile(stock, need);
    RC_ASSERT(height_mm(pile) >= need - 1e-9);
    RC_ASSERT(std::is_sorted(pile.begin(), pile.end(), std::greater<>()));
    double lowest = std::numeric_limits<double>::infinity();
    for (const double height : all_heights(stock)) {
      if (height >= need - 1e-9) {
        lowest = std::min(lowest, height);
      }
    }
    if (std::isfinite(lowest)) {
      RC_ASSERT(std::abs(height_mm(pile) - lowest) < 1e-9);
      RC_ASSERT(pile.size() <= most_sheets_in_a_pile);
    } else {
      RC_ASSERT(pile.size() > most_sheets_in_a_pile);
    }
  }));
}

TEST_CASE("level: what no pile reaches stays uneven") {
  // 0, 0.3, 0.5, 0.6, 0.8, 0.9 and the span's own 1.0: the widest step is from 0 to 0.3.
  const Levelling level = level_cells({0.3, 0.5, 2.0}, 1.0);
  CHECK(level.sheets_mm == Pile{0.5, 0.3});
  CHECK_THAT(level.uneven_mm, WithinAbs(0.3, 1e-12));
  CHECK(level_cells({}, 0.8).uneven_mm == 0.8);
  CHECK(level_cells({1.0}, 0.8).sheets_mm.empty());
  CHECK(level_cells({0.5}, 0).uneven_mm == 0);
}

TEST_CASE("level against cells one by one") {
  REQUIRE(rc::check([] {
    const Pile stock = draw_stock();
    const double span = *rc::gen::inRange(1, 30) / 10.0;
    const Pile heights = all_heights(stock);
    double worst = 0;
    constexpr int cells = 3000;
    for (int i = 0; i < cells; ++i) {
      const double lower_by = span * i / cells;
      double best = 0;
      for (const double height : heights) {
        best = height <= lower_by ? std::max(best, height) : best;
      }
      worst = std::max(worst, lower_by - best);
    }
    const double uneven = level_cells(stock, span).uneven_mm;
    RC_ASSERT(worst <= uneven + 1e-9);
    RC_ASSERT(worst >= uneven - 2 * span / cells);
  }));
}

}  // namespace
}  // namespace stackfit
