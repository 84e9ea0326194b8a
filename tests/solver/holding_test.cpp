// SPDX-License-Identifier: GPL-3.0-or-later
//
// Stretches over which something holds, and figures for the shop.
#include "solver/holding.hpp"

#include <cmath>

#include "tests/catch.hpp"

using namespace stackfit;
using Catch::Approx;

namespace {

std::vector<Span> stretches(const HoldingSearch& search, double (*value_at)(double)) {
  return holding_stretches(search, value_at);
}

}  // namespace

TEST_CASE("one stretch: its ends are found to the asked share, from inside") {
  HoldingSearch search;
  search.over = {100, 1000};
  search.end_share = 0.002;
  const auto found = stretches(search, [](double x) { return std::min(x - 313, 789 - x); });
  REQUIRE(found.size() == 1);
  CHECK(found[0].low >= 313);
  CHECK(found[0].low <= 313 * 1.002);
  CHECK(found[0].high <= 789);
  CHECK(found[0].high >= 789 * 0.998);
}

TEST_CASE("what holds in several stretches is found in several") {
  const auto found =
      stretches({{0, 12}, 24, {}, 0.001}, [](double x) { return std::sin(x) - 0.25; });
  REQUIRE(found.size() == 2);
  constexpr double pi = 3.14159265358979323846;
  const double rises = std::asin(0.25);
  CHECK(found[0].low == Approx(rises).epsilon(0.003));
  CHECK(found[0].high == Approx(pi - rises).epsilon(0.003));
  CHECK(found[1].low == Approx(2 * pi + rises).epsilon(0.003));
  CHECK(found[1].high == Approx(3 * pi - rises).epsilon(0.003));
}

TEST_CASE("a stretch narrower than the steps is found by its peak, a gap by its dip") {
  const auto narrow =
      stretches({{0, 10}, 5, {}, 0.001}, [](double x) { return 0.05 - std::abs(x - 5.37); });
  REQUIRE(narrow.size() == 1);
  CHECK(narrow[0].low == Approx(5.32).margin(0.01));
  CHECK(narrow[0].high == Approx(5.42).margin(0.01));
  const auto gap =
      stretches({{0, 10}, 5, {}, 0.001}, [](double x) { return std::abs(x - 5.37) - 0.05; });
  REQUIRE(gap.size() == 2);
  CHECK(gap[0].high == Approx(5.32).margin(0.01));
  CHECK(gap[1].low == Approx(5.42).margin(0.01));
}

TEST_CASE("nothing holds, everything holds") {
  CHECK(stretches({{1, 2}, 12, {}, 0.004}, [](double) { return -1.0; }).empty());
  const auto all = stretches({{1, 2}, 12, {}, 0.004}, [](double) { return 1.0; });
  REQUIRE(all.size() == 1);
  CHECK(all[0].low == 1);
  CHECK(all[0].high == 2);
  CHECK(widest({}).high == 0);
  CHECK(widest({{1, 2}, {5, 8}, {10, 11}}).low == 5);
}

TEST_CASE("a shop figure is the roundest in the middle third") {
  CHECK(shop_figure({1000, 3100}) == Approx(2000));
  CHECK(shop_figure({1480, 1520}) == Approx(1500));
  CHECK(shop_figure({1111, 1117}) == Approx(1114).margin(1));
  for (const Span span : {Span{812, 1290}, Span{2100, 2103}, Span{3.1, 99}, Span{640, 640.5}}) {
    const double third = (span.high - span.low) / 3;
    CHECK(shop_figure(span) >= span.low + third);
    CHECK(shop_figure(span) <= span.high - third);
  }
}
