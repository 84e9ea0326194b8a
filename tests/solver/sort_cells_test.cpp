// SPDX-License-Identifier: GPL-3.0-or-later
//
// Sorting a pile, held against every sorting there is: small piles by putting each cell into each
// pack, 24 cells into three packs of 8 by all subsets of 8. All piles are drawn, seeds fixed.
#include <rapidcheck.h>
#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>
#include <limits>
#include <numeric>
#include <optional>
#include <random>
#include <set>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "solver/sort_cells.hpp"
#include "tests/catch.hpp"

using namespace stackfit;

namespace {

struct Shape {
  int cells = 0;
  int packs = 1;
  int each = 1;
};

struct Drawn {
  bool by_capacity = false;
  bool thick_follows_capacity = false;
  int thickness_steps_um = 10;
  std::optional<std::vector<LengthSpanUm>> shimmable = {};
};

constexpr std::int64_t usual_um = 58'000;

SortProblem draw(const Shape& shape, unsigned seed, const Drawn& how) {
  std::mt19937 random(seed);
  std::normal_distribution<double> thickness(0, 120);
  std::normal_distribution<double> capacity(0, 800);
  SortProblem problem;
  problem.packs = shape.packs;
  problem.cells_each = shape.each;
  problem.by_capacity = how.by_capacity;
  problem.shimmable = how.shimmable;
  for (int i = 0; i < shape.cells; ++i) {
    const double off = thickness(random);
    const double more = capacity(random) + (how.thick_follows_capacity ? 4 * off : 0);
    problem.cells.push_back(
        {"C" + std::to_string(i + 1),
         usual_um + how.thickness_steps_um * std::lround(off / how.thickness_steps_um),
         105'000 + 100 * std::lround(more / 100)});
  }
  return problem;
}

bool can_be_shimmed(const SortProblem& problem, std::int64_t row) {
  return !problem.shimmable ||
         std::any_of(problem.shimmable->begin(), problem.shimmable->end(),
                     [row](const LengthSpanUm& s) { return row >= s.low && row <= s.high; });
}

/// What a sorting is judged by, worked out afresh from the cells.
struct Figures {
  int not_shimmable = 0;
  std::int64_t spread = 0;
  std::int64_t difference = 0;
};

class Tally {
 public:
  explicit Tally(const SortProblem& problem) : problem_(problem) {}
  void add(const std::vector<std::size_t>& pack) {
    std::int64_t row = 0;
    std::int64_t low = std::numeric_limits<std::int64_t>::max();
    std::int64_t high = 0;
    for (const std::size_t cell : pack) {
      row += problem_.cells[cell].thickness_um;
      low = std::min(low, problem_.cells[cell].capacity_mah);
      high = std::max(high, problem_.cells[cell].capacity_mah);
    }
    out_.not_shimmable += can_be_shimmed(problem_, row) ? 0 : 1;
    out_.spread = problem_.by_capacity ? std::max(out_.spread, high - low) : 0;
    shortest_ = std::min(shortest_, row);
    longest_ = std::max(longest_, row);
  }
  [[nodiscard]] Figures figures() const {
    Figures out = out_;
    out.difference = longest_ - shortest_;
    return out;
  }

 private:
  const SortProblem& problem_;
  Figures out_;
  std::int64_t shortest_ = std::numeric_limits<std::int64_t>::max();
  std::int64_t longest_ = 0;
};

Figures figures_of(const SortProblem& problem, const std::vector<std::vector<std::size_t>>& packs) {
  Tally tally(problem);
  for (const auto& pack : packs) {
    tally.add(pack);
  }
  return tally.figures();
}

/// Every cell into every pack (a new one only behind those begun) or left over: no sorting is
/// missed, none is met twice.
class Everything {
 public:
  explicit Everything(const SortProblem& problem) : problem_(problem) {
    packs_.resize(static_cast<std::size_t>(problem.packs));
    spare_ = problem.cells.size() -
             static_cast<std::size_t>(problem.packs) * static_cast<std::size_t>(problem.cells_each);
    place(0, 0);
  }
  /// The best of those whose packs can all be shimmed; empty where there are none.
  [[nodiscard]] const std::optional<std::pair<std::int64_t, std::int64_t>>& best() const {
    return best_;
  }
  [[nodiscard]] int met() const { return met_; }

 private:
  void place(std::size_t cell, std::size_t left) {
    if (cell == problem_.cells.size()) {
      judge();
      return;
    }
    for (auto& pack : packs_) {
      const bool was_empty = pack.empty();
      if (pack.size() < static_cast<std::size_t>(problem_.cells_each)) {
        pack.push_back(cell);
        place(cell + 1, left);
        pack.pop_back();
      }
      if (was_empty) {
        break;
      }
    }
    if (left < spare_) {
      place(cell + 1, left + 1);
    }
  }
  void judge() {
    ++met_;
    const Figures figures = figures_of(problem_, packs_);
    if (figures.not_shimmable > 0) {
      return;
    }
    const std::pair rank(figures.spread, figures.difference);
    if (!best_ || rank < *best_) {
      best_ = rank;
    }
  }

  const SortProblem& problem_;
  std::vector<std::vector<std::size_t>> packs_;
  std::size_t spare_ = 0;
  std::optional<std::pair<std::int64_t, std::int64_t>> best_;
  int met_ = 0;
};

/// Packs disjoint and of the size asked, what is left over the rest; figures as reported.
void check_kept(const SortProblem& problem, const SortResult& result) {
  REQUIRE(result.packs.size() == static_cast<std::size_t>(problem.packs));
  std::set<std::size_t> seen(result.left_over.begin(), result.left_over.end());
  std::size_t places = result.left_over.size();
  for (const auto& pack : result.packs) {
    CHECK(pack.size() == static_cast<std::size_t>(problem.cells_each));
    seen.insert(pack.begin(), pack.end());
    places += pack.size();
  }
  CHECK(places == problem.cells.size());
  CHECK(seen.size() == problem.cells.size());
  CHECK(*seen.rbegin() == problem.cells.size() - 1);
  const Figures figures = figures_of(problem, result.packs);
  CHECK((figures.not_shimmable == 0) == (result.shims == SortShims::all));
  CHECK(result.spread_mah.found == figures.spread);
  CHECK(result.difference_um.found == figures.difference);
  CHECK(result.spread_mah.bound <= result.spread_mah.found);
  CHECK(result.difference_um.bound <= result.difference_um.found);
}

void check_against_everything(const SortProblem& problem, int sortings) {
  const Everything everything(problem);
  CHECK(everything.met() == sortings);
  const SortResult result = sort_cells(problem);
  check_kept(problem, result);
  if (!everything.best()) {
    CHECK(result.shims == SortShims::none_exists);
    CHECK_FALSE(result.proven());
    return;
  }
  CHECK(result.proven());
  CHECK(std::pair(result.spread_mah.found, result.difference_um.found) == *everything.best());
  // Without the search: no longer the best, perhaps, but no bound above it.
  SortProblem by_exchange = problem;
  by_exchange.search_steps = 0;
  const SortResult quick = sort_cells(by_exchange);
  check_kept(problem, quick);
  CHECK(quick.shims != SortShims::none_exists);
  CHECK(quick.spread_mah.bound <= everything.best()->first);
  if (quick.spread_mah.found == everything.best()->first) {
    CHECK(quick.difference_um.bound <= everything.best()->second);
  }
}

/// Two spans with a hole between them, about where rows of so many cells lie.
std::vector<LengthSpanUm> two_spans(int each, std::int64_t off_um) {
  const std::int64_t middle = each * usual_um + off_um;
  return {{middle - 260, middle - 20}, {middle + 40, middle + 300}};
}

}  // namespace

TEST_CASE("sort: small piles equal the best of all sortings") {
  struct Case {
    Shape shape;
    int sortings;  // n! / (each!^packs packs! spare!)
  };
  const std::array cases{Case{{9, 3, 3}, 280},    Case{{10, 2, 4}, 1575}, Case{{8, 4, 2}, 105},
                         Case{{11, 3, 3}, 15400}, Case{{5, 1, 3}, 10},    Case{{6, 6, 1}, 1}};
  for (const Case& one : cases) {
    for (unsigned seed = 1; seed <= 12; ++seed) {
      for (const bool by_capacity : {false, true}) {
        Drawn how;
        how.by_capacity = by_capacity;
        how.thick_follows_capacity = seed % 3 == 0;
        how.thickness_steps_um = seed % 2 == 0 ? 1 : 10;
        INFO(one.shape.cells << " cells, " << one.shape.packs << " packs, seed " << seed
                             << ", capacities " << by_capacity);
        check_against_everything(draw(one.shape, seed, how), one.sortings);
        how.shimmable = two_spans(one.shape.each, static_cast<std::int64_t>(seed) * 30 - 200);
        check_against_everything(draw(one.shape, seed, how), one.sortings);
      }
    }
  }
}

TEST_CASE("sort: nothing can be shimmed, and that is said") {
  SortProblem problem = draw({9, 3, 3}, 4, {});
  problem.shimmable = std::vector<LengthSpanUm>{};
  const SortResult none = sort_cells(problem);
  check_kept(problem, none);
  CHECK(none.shims == SortShims::none_exists);
  problem.shimmable = std::vector<LengthSpanUm>{{1, 2}};
  CHECK(sort_cells(problem).shims == SortShims::none_exists);
}

namespace {

using Mask = std::uint32_t;

struct Subset {
  Mask cells = 0;
  std::int64_t row = 0;
  std::int64_t wide = 0;
};

/// All subsets of 8 of 24 cells, by the first cell in them.
class ThreePacksOfEight {
 public:
  explicit ThreePacksOfEight(const SortProblem& problem) : problem_(problem) {
    for (const SortCell& cell : problem.cells) {
      total_ += cell.thickness_um;
    }
    for (Mask eight = 0xFF; eight <= all_cells; eight = next_subset(eight)) {
      subsets_.push_back({eight, row_of(eight), wide(eight)});
    }
  }

  /// Whether three packs are spread by no more than `spread` and differ by less than `below`.
  /// The first pack is any eight with the first cell in them, the second any eight of the others
  /// with the first of those, as near in length. Of a pack and the rest the mean of the other two
  /// rows is known: the longest is no shorter, the shortest no longer than it, so a first pack too
  /// far from that mean is passed over, and no other.
  [[nodiscard]] bool any(std::int64_t spread, std::int64_t below) const {
    std::array<std::vector<Subset>, cells_in_all> narrow;
    for (const Subset& subset : subsets_) {
      if (subset.wide <= spread) {
        narrow.at(static_cast<std::size_t>(std::countr_zero(subset.cells))).push_back(subset);
      }
    }
    for (std::vector<Subset>& some : narrow) {
      std::sort(some.begin(), some.end(),
                [](const Subset& a, const Subset& b) { return a.row < b.row; });
    }
    return std::any_of(narrow[0].begin(), narrow[0].end(), [&](const Subset& first) {
      const Mask rest = all_cells & ~first.cells;
      const auto next = static_cast<std::size_t>(std::countr_zero(rest));
      return std::abs(3 * first.row - total_) < 2 * below &&
             any_second(first, narrow.at(next), spread, below);
    });
  }

 private:
  [[nodiscard]] bool any_second(const Subset& first, const std::vector<Subset>& seconds,
                                std::int64_t spread, std::int64_t below) const {
    const Mask rest = all_cells & ~first.cells;
    auto second =
        std::lower_bound(seconds.begin(), seconds.end(), first.row - below,
                         [](const Subset& subset, std::int64_t row) { return subset.row < row; });
    for (; second != seconds.end() && second->row < first.row + below; ++second) {
      if ((second->cells & first.cells) == 0 && apart(first, *second) < below &&
          wide(rest & ~second->cells) <= spread) {
        return true;
      }
    }
    return false;
  }

  static constexpr std::size_t cells_in_all = 24;
  static constexpr Mask all_cells = (Mask{1} << cells_in_all) - 1;

  static Mask next_subset(Mask m) {
    const Mask low = m & (~m + 1);
    const Mask up = m + low;
    return up | (((m ^ up) >> 2U) / low);
  }
  [[nodiscard]] std::int64_t apart(const Subset& first, const Subset& second) const {
    const std::int64_t third = total_ - first.row - second.row;
    return std::max({first.row, second.row, third}) - std::min({first.row, second.row, third});
  }
  [[nodiscard]] std::int64_t row_of(Mask cells) const {
    std::int64_t row = 0;
    for (; cells != 0; cells &= cells - 1) {
      row += problem_.cells[static_cast<std::size_t>(std::countr_zero(cells))].thickness_um;
    }
    return row;
  }
  [[nodiscard]] std::int64_t wide(Mask cells) const {
    if (!problem_.by_capacity) {
      return 0;
    }
    std::int64_t low = std::numeric_limits<std::int64_t>::max();
    std::int64_t high = 0;
    for (; cells != 0; cells &= cells - 1) {
      const std::int64_t c =
          problem_.cells[static_cast<std::size_t>(std::countr_zero(cells))].capacity_mah;
      low = std::min(low, c);
      high = std::max(high, c);
    }
    return high - low;
  }

  const SortProblem& problem_;
  std::int64_t total_ = 0;
  std::vector<Subset> subsets_;
};

}  // namespace

TEST_CASE("sort: 24 cells into three packs of 8, no subset of 8 does better") {
  constexpr std::int64_t any_difference = 1'000'000;
  for (unsigned seed = 1; seed <= 4; ++seed) {
    Drawn how;
    how.by_capacity = seed != 3;
    how.thick_follows_capacity = seed % 2 == 0;
    how.thickness_steps_um = seed % 3 == 0 ? 10 : 1;
    const SortProblem problem = draw({24, 3, 8}, seed, how);
    const SortResult result = sort_cells(problem);
    INFO("seed " << seed);
    check_kept(problem, result);
    REQUIRE(result.proven());
    const ThreePacksOfEight subsets(problem);
    const std::int64_t spread = result.spread_mah.found;
    CHECK_FALSE(subsets.any(spread, result.difference_um.found));
    CHECK(subsets.any(spread, result.difference_um.found + 1));
    if (how.by_capacity) {
      CHECK_FALSE(subsets.any(spread - 1, any_difference));
    }
  }
}

TEST_CASE("sort: thousands of cells keep every rule, whatever the order of the pile") {
  const std::array shapes{Shape{2000, 250, 8}, Shape{600, 35, 16}};
  for (const Shape& shape : shapes) {
    Drawn how;
    how.by_capacity = true;
    how.shimmable = {{shape.each * usual_um - 250, shape.each * usual_um + 250}};
    SortProblem problem = draw(shape, 7, how);
    const SortResult result = sort_cells(problem);
    check_kept(problem, result);
    CHECK(result.shims == SortShims::all);
    const auto names = [](const SortProblem& p, const SortResult& r) {
      std::vector<std::vector<std::string>> out;
      for (const auto& pack : r.packs) {
        out.emplace_back();
        for (const std::size_t cell : pack) {
          out.back().push_back(p.cells[cell].id);
        }
      }
      return out;
    };
    const auto before = names(problem, result);
    std::shuffle(problem.cells.begin(), problem.cells.end(), std::mt19937(3));
    CHECK(names(problem, sort_cells(problem)) == before);
  }
}

TEST_CASE("sort: what is found has the figures of other ids, and of any order") {
  REQUIRE(rc::check("packs kept, figures the same", [] {
    Drawn how;
    how.by_capacity = *rc::gen::arbitrary<bool>();
    how.thickness_steps_um = *rc::gen::element(1, 10, 50);
    const int packs = *rc::gen::inRange(1, 5);
    const int each = *rc::gen::inRange(1, 6);
    const int spare = *rc::gen::inRange(0, 4);
    SortProblem problem =
        draw({packs * each + spare, packs, each}, *rc::gen::arbitrary<unsigned>(), how);
    problem.search_steps = 20'000;  // proven or not, the contract is the same
    const SortResult result = sort_cells(problem);
    check_kept(problem, result);
    SortProblem renamed = problem;
    std::shuffle(renamed.cells.begin(), renamed.cells.end(),
                 std::mt19937(*rc::gen::arbitrary<unsigned>()));
    int number = 0;
    for (SortCell& cell : renamed.cells) {
      cell.id = "other " + std::to_string(++number);
    }
    const SortResult other = sort_cells(renamed);
    RC_ASSERT(other.spread_mah.found == result.spread_mah.found);
    RC_ASSERT(other.spread_mah.bound == result.spread_mah.bound);
    RC_ASSERT(other.difference_um.found == result.difference_um.found);
    RC_ASSERT(other.difference_um.bound == result.difference_um.bound);
    RC_ASSERT(other.proven() == result.proven());
  }));
}

TEST_CASE("sort: digits in ids count as numbers") {
  CHECK(id_before("A2", "A10"));
  CHECK_FALSE(id_before("A10", "A2"));
  CHECK(id_before("A", "A1"));
  CHECK(id_before("7", "8"));
  CHECK(id_before("a9b1", "a9b2"));
  CHECK(id_before("x01", "x1") != id_before("x1", "x01"));
  CHECK_FALSE(id_before("B3", "B3"));
}

TEST_CASE("sort: a pile too small is refused") {
  CHECK_THROWS_AS(sort_cells(draw({7, 2, 4}, 1, {})), std::invalid_argument);
  SortProblem none = draw({7, 2, 3}, 1, {});
  none.packs = 0;
  CHECK_THROWS_AS(sort_cells(none), std::invalid_argument);
}
