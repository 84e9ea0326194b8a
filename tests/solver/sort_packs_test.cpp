// SPDX-License-Identifier: GPL-3.0-or-later
//
// Which cells come into a pack, how long rows are said to be, and whether lengths that a kit is
// said to serve are those at which plans pass: held against full choices for drawn rows.
#include "solver/sort_packs.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <numeric>
#include <random>
#include <string>
#include <vector>

#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"
#include "tests/solver/used_cells.hpp"

using namespace stackfit;
using Catch::Matchers::ContainsSubstring;

namespace {

SortAsked asked(int packs, int each) {
  return {packs, each, sample::day(2026, 11, 25), {}};
}

/// So many sound used cells, thicker by 0.01 mm one after another.
Build pile_of(int cells) {
  Build pile = sample::used_build();
  pile.cells.clear();
  for (int i = 0; i < cells; ++i) {
    CellReading cell = sample::used_cell("U" + std::to_string(i + 1));
    *cell.edge_mm += 0.01 * i;
    *cell.boards_mm += 0.01 * i;
    pile.cells.push_back(cell);
  }
  return pile;
}

std::vector<std::string> ids_aside(const SortAnswer& answer) {
  std::vector<std::string> ids;
  for (const CellCondition& cell : answer.aside) {
    ids.push_back(cell.id);
  }
  return ids;
}

bool in_a_pack(const SortAnswer& answer, std::size_t place) {
  return std::any_of(answer.packs.begin(), answer.packs.end(), [place](const SortedPack& pack) {
    return std::find(pack.cells.begin(), pack.cells.end(), place) != pack.cells.end();
  });
}

/// Twelve cells of 40 mm, far enough apart that not every four of them can be shimmed.
Build drawn_pile(unsigned seed) {
  Build pile = sample::known(12);
  pile.cell.thickness.tolerance_mm = 4;  // thick ones are no deformed cans
  std::mt19937 random(seed);
  std::normal_distribution<double> off(0, 0.8);
  for (std::size_t i = 0; i < pile.cells.size(); ++i) {
    pile.cells[i].id = "N" + std::to_string(i + 1);
    pile.cells[i].edge_mm = 40 + std::round(100 * off(random)) / 100;
    pile.cells[i].middle_mm = pile.cells[i].edge_mm;
  }
  return pile;
}

/// A box for four with few shims: lengths beyond either end are not served.
Build tight_box() {
  Build box = sample::known(4, 4.3);
  box.cell.thickness.tolerance_mm = 4;
  for (KitShim& shim : box.kit) {
    shim.count = 5;
  }
  return box;
}

}  // namespace

TEST_CASE("sort packs: signs, swelling and rules keep a cell out of every pack") {
  Build pile = pile_of(9);
  pile.cells[1].signs = "leaks";
  *pile.cells[3].boards_mm += 0.6;  // 1.1 % beyond the slack: on watch, and never pressed flat
  *pile.cells[5].edge_mm += 0.8;    // a deformed can
  *pile.cells[5].boards_mm += 0.8;
  pile.cells[7].signs.reset();
  const SortAnswer answer = answer_sort(pile, asked(2, 3));
  CHECK(ids_aside(answer) == std::vector<std::string>{"U2", "U4", "U6"});
  CHECK(answer.any_sign());
  CHECK(answer.signs_not_said == 1);
  for (const std::size_t out : {1U, 3U, 5U}) {
    CHECK_FALSE(in_a_pack(answer, out));
  }
  CHECK(answer.left_over.empty());
  CHECK_THROWS_WITH(answer_sort(pile, asked(2, 4)),
                    ContainsSubstring("set aside: U2, U4, U6") && ContainsSubstring("need 8"));
}

TEST_CASE("sort packs: capacities for all cells or for none") {
  Build pile = pile_of(6);
  CHECK_FALSE(answer_sort(pile, asked(2, 3)).by_capacity);
  for (std::size_t i = 0; i < 5; ++i) {
    pile.cells[i].capacity_ah = 100 + static_cast<double>(i % 2);
  }
  CHECK_THROWS_WITH(answer_sort(pile, asked(2, 3)), ContainsSubstring("not for cell U6"));
  // A cell that is in no pack needs none.
  pile.cells[5].signs = "smells";
  const SortAnswer answer = answer_sort(pile, asked(2, 2));
  CHECK(answer.by_capacity);
  CHECK(answer.spread_mah.found == 0);
  CHECK(answer.best);
}

TEST_CASE("sort packs: a cell measured fuller is no thicker for that") {
  Build pile = pile_of(4);
  pile.cell.swing = SwingTable{{0, 1}, {0, 0.01}};  // 0.5 mm from empty to full
  for (CellReading& cell : pile.cells) {
    cell.edge_mm = 50;
    cell.boards_mm = 50.2;
  }
  // Half a charge more is a quarter of a millimetre on these.
  for (const std::size_t fuller : {0U, 1U}) {
    pile.cells[fuller].charge = 0.9;
    *pile.cells[fuller].edge_mm += 0.25;
    *pile.cells[fuller].boards_mm += 0.25;
  }
  const SortAnswer answer = answer_sort(pile, asked(4, 1));
  CHECK(answer.charges_differ);
  CHECK(answer.difference_um.found == 0);
  CHECK(answer.at_charge == Catch::Approx(0.65));
}

TEST_CASE("sort packs: rows of any four drawn cells pass where their length is said to serve") {
  const Build box = tight_box();
  int inside = 0;
  int outside = 0;
  for (unsigned seed = 1; seed <= 3; ++seed) {
    const Build pile = drawn_pile(seed);
    SortAsked four = asked(3, 4);
    four.box = box;
    const SortAnswer answer = answer_sort(pile, four);
    REQUIRE_FALSE(answer.served_mm.empty());
    CHECK(answer.all_pass() == (answer.shims == SortShims::all));
    std::vector<std::size_t> order(pile.cells.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::mt19937 random(seed);
    const auto store = std::make_shared<WallStore>();
    for (int drawn = 0; drawn < 25; ++drawn) {
      std::shuffle(order.begin(), order.end(), random);
      const std::vector<std::size_t> cells(order.begin(), order.begin() + 4);
      double row = 0;
      for (const std::size_t cell : cells) {
        row += *pile.cells[cell].edge_mm;
      }
      // Lengths that are served end a guard before plans begin to fail.
      constexpr double guard_mm = 0.1;
      const auto served = [&](double wider) {
        return std::any_of(answer.served_mm.begin(), answer.served_mm.end(), [&](const Span& s) {
          return row >= s.low - wider && row <= s.high + wider;
        });
      };
      const bool passes = Study(pack_build(box, pile, cells), {}, store).choose().passes;
      INFO("seed " << seed << ", row " << row);
      if (served(0)) {
        CHECK(passes);
        ++inside;
      } else if (!served(guard_mm)) {
        CHECK_FALSE(passes);
        ++outside;
      }
    }
  }
  CHECK(inside > 10);
  CHECK(outside > 10);
}

TEST_CASE("sort packs: a box that serves no row is told, and no plan passes") {
  SortAsked none = asked(3, 4);
  none.box = sample::known(4, 40);
  const SortAnswer answer = answer_sort(drawn_pile(1), none);
  CHECK(answer.shims == SortShims::none_exists);
  CHECK(answer.passing() == 0);
  CHECK_FALSE(answer.best);
  CHECK(answer.packs.size() == 3);
}

TEST_CASE("sort packs: several rows in a build are refused") {
  SortAsked rows = asked(1, 4);
  rows.box = sample::known(4);
  rows.box->rows = 2;
  CHECK_THROWS_AS(answer_sort(drawn_pile(1), rows), UnusableBuild);
}
