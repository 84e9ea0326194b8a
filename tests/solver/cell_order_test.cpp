// SPDX-License-Identifier: GPL-3.0-or-later
//
// Orders of cells against every order there is, by the rule as it is written.
#include "solver/cell_order.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <optional>
#include <set>
#include <stdexcept>
#include <tuple>
#include <utility>
#include <vector>

#include "solver/study.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;
using Catch::Approx;

namespace {

using Sequence = std::vector<std::size_t>;
using Key = std::tuple<long, long, int, Sequence>;

long steps(double mm) {
  return std::lround(std::ceil(mm / 0.05 - 1e-4));
}

/// The rule's text, sharing no code with the search.
Key key_of(const OrderQuestion& q, const Sequence& order) {
  double sum = 0;
  double facing = 0;
  std::vector<double> spacing;
  for (std::size_t i = 1; i < order.size(); ++i) {
    const OrderCell& left = q.cells[order[i - 1]];
    const OrderCell& right = q.cells[order[i]];
    spacing.push_back(left.thickness_mm / 2 + right.thickness_mm / 2 + q.gap_mm[i]);
    sum += spacing.back();
    facing = std::max(facing, left.swelling_mm + right.swelling_mm);
  }
  const double wanted =
      q.wanted_spacing_mm ? *q.wanted_spacing_mm : sum / static_cast<double>(spacing.size());
  double worst = 0;
  for (const double one : spacing) {
    worst = std::max(worst, std::abs(one - wanted));
  }
  int moved = 0;
  for (std::size_t i = 0; i < order.size(); ++i) {
    moved += order[i] == i ? 0 : 1;
  }
  return {steps(worst), steps(facing), moved, order};
}

Key least(const OrderQuestion& q, Sequence& so_far, std::set<std::size_t>& left) {
  if (left.empty()) {
    return key_of(q, so_far);
  }
  std::optional<Key> best;
  const std::set<std::size_t> choices = left;
  for (const std::size_t cell : choices) {
    so_far.push_back(cell);
    left.erase(cell);
    const Key key = least(q, so_far, left);
    left.insert(cell);
    so_far.pop_back();
    if (!best || key < *best) {
      best = key;
    }
  }
  return *best;
}

Sequence order_of(const CellOrder& order) {
  Sequence cells;
  for (const OrderedPlace& place : order.places) {
    cells.push_back(place.cell);
  }
  return cells;
}

/// Cells of so many hundredths over 40 mm; swelling likewise.
OrderQuestion drawn(int cells) {
  OrderQuestion q;
  for (int i = 0; i < cells; ++i) {
    q.cells.push_back({std::to_string(i + 1), 40 + *rc::gen::inRange(0, 100) * 0.01,
                       *rc::gen::inRange(-10, 60) * 0.01});
  }
  for (int i = 0; i <= cells; ++i) {
    q.gap_mm.push_back(*rc::gen::inRange(0, 4) * 0.5);
  }
  if (*rc::gen::arbitrary<bool>()) {
    q.wanted_spacing_mm = 41;
  }
  return q;
}

}  // namespace

TEST_CASE("cell order: the best of all, by trying them all") {
  REQUIRE(rc::check("up to five cells", [] {
    const OrderQuestion q = drawn(*rc::gen::inRange(2, 6));
    const CellOrder order = order_cells(q);
    Sequence so_far;
    std::set<std::size_t> left;
    for (std::size_t i = 0; i < q.cells.size(); ++i) {
      left.insert(i);
    }
    const Key best = least(q, so_far, left);
    RC_ASSERT(order.proven);
    RC_ASSERT(key_of(q, order_of(order)) == best);
    RC_ASSERT(order.moved == std::get<2>(best));
  }));
}

TEST_CASE("cell order: more cells than can all be tried are never worse than as they stand") {
  REQUIRE(rc::check("nine to twelve cells", [] {
    const OrderQuestion q = drawn(*rc::gen::inRange(9, 13));
    const CellOrder order = order_cells(q);
    RC_ASSERT_FALSE(order.proven);
    Sequence sorted = order_of(order);
    const Key found = key_of(q, sorted);
    Sequence now(sorted.size());
    for (std::size_t i = 0; i < now.size(); ++i) {
      now[i] = i;
    }
    RC_ASSERT(found <= key_of(q, now));
    // No exchange of two cells is better.
    for (std::size_t i = 0; i < now.size(); ++i) {
      for (std::size_t j = i + 1; j < now.size(); ++j) {
        Sequence other = order_of(order);
        std::swap(other[i], other[j]);
        RC_ASSERT(found <= key_of(q, other));
      }
    }
    std::sort(sorted.begin(), sorted.end());
    RC_ASSERT(sorted == now);
  }));
}

TEST_CASE("cell order: the thick cell goes beside the thin sheets") {
  // Spacings 40 and 42 as they stand; with the thick one first 41 and 41.
  OrderQuestion q;
  q.cells = {{"a", 40, 0}, {"b", 40, 0}, {"c", 42, 0}};
  q.gap_mm = {0.5, 0, 1, 0.5};
  const CellOrder order = order_cells(q);
  CHECK(order.before.deviation_mm == Approx(1));
  CHECK(order.after.deviation_mm == Approx(0).margin(1e-12));
  CHECK(order.places[0].cell == 2);
  CHECK(order.worth_it);
  CHECK(order.moved == 2);  // c and a change places
}

TEST_CASE("cell order: domes do not face each other where spacing is the same") {
  OrderQuestion q;
  q.cells = {{"a", 40, 0.5}, {"b", 40, 0.5}, {"c", 40, 0}, {"d", 40, -0.1}};
  q.gap_mm = {0.5, 0.5, 0.5, 0.5, 0.5};
  const CellOrder order = order_cells(q);
  CHECK(order.before.facing_swelling_mm == Approx(1.0));
  CHECK(order.after.facing_swelling_mm == Approx(0.5));
  CHECK(order.worth_it);
  CHECK(order.moved == 2);
}

TEST_CASE("cell order: nothing is moved for less than it is worth") {
  OrderQuestion q;
  q.cells = {{"a", 40, 0}, {"b", 40, 0}, {"c", 40.15, 0}};
  q.gap_mm = {0.5, 0, 0.1, 0.5};
  const CellOrder order = order_cells(q);
  CHECK(order.before.deviation_mm > order.after.deviation_mm);
  CHECK_FALSE(order.worth_it);
}

TEST_CASE("cell order: polarity is that of the place, groups in series turned about") {
  OrderQuestion q;
  q.cells = {{"a", 40, 0}, {"b", 41, 0}, {"c", 40, 0}, {"d", 40, 0}};
  q.gap_mm = {0, 1, 0, 0, 0};
  q.parallel = 2;
  const CellOrder order = order_cells(q);
  std::vector<bool> plus;
  for (const OrderedPlace& place : order.places) {
    plus.push_back(place.plus_near_side);
  }
  CHECK(plus == std::vector<bool>{true, true, false, false});
  bool changes = false;
  for (std::size_t i = 0; i < 4; ++i) {
    changes = changes || order.places[i].cell / 2 != i / 2;
  }
  CHECK(changes);  // the thick one goes where no sheet is
  CHECK(order.groups_change);
  q.parallel = 1;
  CHECK_FALSE(order_cells(q).groups_change);
}

TEST_CASE("cell order: one cell stays where it is, and what makes no row is refused") {
  OrderQuestion q;
  q.cells = {{"a", 40, 0}};
  q.gap_mm = {0.5, 0.5};
  CHECK(order_cells(q).moved == 0);
  q.gap_mm.pop_back();
  CHECK_THROWS_AS(order_cells(q), std::invalid_argument);
  q.gap_mm = {0.5, 0.5};
  q.parallel = 0;
  CHECK_THROWS_AS(order_cells(q), std::invalid_argument);
  CHECK_THROWS_AS(order_cells({}), std::invalid_argument);
}

TEST_CASE("cell order: no order changes a pressure") {
  Build b = sample::known(4, 5.0);
  for (std::size_t i = 0; i < b.cells.size(); ++i) {
    b.cells[i].edge_mm = 40 + 0.05 * static_cast<double>(i);
    b.cells[i].middle_mm = *b.cells[i].edge_mm + 0.15 * static_cast<double>(i);
  }
  Build turned = b;
  std::rotate(turned.cells.begin(), turned.cells.begin() + 1, turned.cells.end());
  ShimLoad load;
  load.thickness_mm = 5.2;
  const PlanPressures one = Study(b, {}).model().evaluate(load, RowModel::By::full_solution);
  const PlanPressures two = Study(turned, {}).model().evaluate(load, RowModel::By::full_solution);
  REQUIRE(one.highest.force_n > 0);
  CHECK(two.highest.force_n == Approx(one.highest.force_n));
  CHECK(two.lowest.force_n == Approx(one.lowest.force_n));
  CHECK(two.highest.highest_local_mpa == Approx(one.highest.highest_local_mpa));
}
