// SPDX-License-Identifier: GPL-3.0-or-later
//
// The smallest kit against an enumeration that knows nothing of runs and reaches: every kit of so
// many sheets is made, every total of it listed by choosing sheet by sheet, and every row length of
// the spread tried.
#include <algorithm>
#include <functional>
#include <optional>
#include <random>
#include <set>
#include <vector>

#include "solver/kit_search.hpp"
#include "tests/catch.hpp"

using namespace stackfit;

namespace {

/// Totals of every subset of the sheets that has enough of them.
std::set<std::int64_t> totals_by_subsets(const std::vector<std::int64_t>& sheets, int due) {
  std::set<std::pair<int, std::int64_t>> sums{{0, 0}};
  for (const std::int64_t sheet : sheets) {
    std::set<std::pair<int, std::int64_t>> more = sums;
    for (const auto& [count, sum] : sums) {
      more.emplace(count + 1, sum + sheet);
    }
    sums = std::move(more);
  }
  std::set<std::int64_t> totals;
  for (const auto& [count, sum] : sums) {
    if (count >= due) {
      totals.insert(sum);
    }
  }
  return totals;
}

/// Whether some box serves every row from `start` on. Numbers are even, so that between two totals
/// too far apart there is always a row that none serves.
bool serves(const std::set<std::int64_t>& totals, std::int64_t window, std::int64_t spread) {
  for (const std::int64_t start : totals) {
    bool all = true;
    for (std::int64_t row = start; all && row <= start + spread; ++row) {
      all = std::any_of(totals.begin(), totals.end(),
                        [&](std::int64_t total) { return total <= row && row <= total + window; });
    }
    if (all) {
      return true;
    }
  }
  return false;
}

struct Found {
  std::size_t kinds = 0;
  int sheets = 0;
};

std::optional<Found> by_enumeration(const KitProblem& p) {
  for (std::size_t kinds = 1; kinds <= p.most_kinds; ++kinds) {
    for (int sheets = std::max(p.sheets_due, static_cast<int>(kinds)); sheets <= p.most_sheets;
         ++sheets) {
      std::vector<std::int64_t> pile;
      bool found = false;
      const std::function<void(std::size_t)> add = [&](std::size_t from) {
        if (static_cast<int>(pile.size()) == sheets) {
          const std::set<std::int64_t> used(pile.begin(), pile.end());
          found = found || (used.size() == kinds && serves(totals_by_subsets(pile, p.sheets_due),
                                                           p.window_nm, p.spread_nm));
          return;
        }
        for (std::size_t i = from; i < p.sold_nm.size() && !found; ++i) {
          pile.push_back(p.sold_nm[i]);
          add(i);
          pile.pop_back();
        }
      };
      add(0);
      if (found) {
        return Found{kinds, sheets};
      }
    }
  }
  return std::nullopt;
}

}  // namespace

TEST_CASE("the smallest kit is that of an enumeration") {
  std::mt19937 random(41);  // NOLINT(cert-msc51-cpp): a fixed seed, so that it can be run again
  const auto draw = [&](int low, int high) {
    return std::uniform_int_distribution<int>(low, high)(random);
  };
  int found_some = 0;
  int two_kinds = 0;
  for (int i = 0; i < 300; ++i) {
    KitProblem p;
    std::set<std::int64_t> sold;
    const int kinds = draw(1, 4);
    while (static_cast<int>(sold.size()) < kinds) {
      sold.insert(2 * draw(2, 15));
    }
    p.sold_nm.assign(sold.begin(), sold.end());
    p.sheets_due = draw(0, 4);
    p.window_nm = 2 * draw(0, 9);
    p.spread_nm = 2 * draw(0, 25);
    p.most_sheets = 7;
    const KitChoice choice = smallest_kit(p);
    const std::optional<Found> expected = by_enumeration(p);
    INFO("case " << i << ": due " << p.sheets_due << " window " << p.window_nm << " spread "
                 << p.spread_nm);
    if (p.sheets_due == 0 && p.spread_nm <= p.window_nm) {
      CHECK(choice.found);
      CHECK(choice.kinds.empty());
      continue;
    }
    REQUIRE(choice.found == expected.has_value());
    if (choice.found) {
      ++found_some;
      two_kinds += choice.kinds.size() == 2 ? 1 : 0;
      CHECK(choice.kinds.size() == expected->kinds);
      CHECK(choice.sheets() == expected->sheets);
    }
  }
  CHECK(found_some > 100);
  CHECK(two_kinds > 5);
}

TEST_CASE("a kit's totals are those of its subsets, and runs break where a step is too great") {
  const std::vector<std::int64_t> totals = kit_totals({{5, 3}, {8, 2}}, 2);
  const std::set<std::int64_t> expected = totals_by_subsets({5, 5, 5, 8, 8}, 2);
  CHECK(totals == std::vector<std::int64_t>(expected.begin(), expected.end()));
  const TotalRun run = longest_run({10, 12, 14, 20, 22, 24, 26}, 3);
  CHECK(run.least_nm == 20);
  CHECK(run.most_nm == 26);
}

TEST_CASE("a filler spares sheets, and thicknesses that do not rise are refused") {
  KitProblem p;
  p.sold_nm = {5, 8};
  p.sheets_due = 5;
  p.window_nm = 6;
  p.spread_nm = 60;
  const KitChoice without = smallest_kit(p);
  p.filler_nm = 25;
  const KitChoice with = smallest_kit(p);
  REQUIRE(without.found);
  REQUIRE(with.found);
  CHECK(with.sheets() < without.sheets());
  p.sold_nm = {8, 5};
  CHECK_THROWS_AS(smallest_kit(p), std::invalid_argument);
}
