// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/robust.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <vector>

#include "tests/catch.hpp"

using namespace stackfit;
using Catch::Approx;

// numpy.median and scipy.stats.median_abs_deviation(x, scale='normal'), SciPy 1.10.1.
TEST_CASE("median and scaled MAD are SciPy's") {
  const std::vector<double> volts{3.297, 3.297, 3.296, 3.298, 3.297, 3.295, 3.299, 3.297};
  CHECK(median(volts) == Approx(3.297).epsilon(1e-14));
  CHECK(scaled_mad(volts) == Approx(0.0007413011092527194).epsilon(1e-9));
  const std::vector<double> ampere_hours{212.4, 211.0, 209.3, 213.1, 210.8, 212.0, 188.6};
  CHECK(median(ampere_hours) == 211.0);
  CHECK(scaled_mad(ampere_hours) == Approx(2.0756431059078513).epsilon(1e-12));
  const std::vector<double> mohms{0.31, 0.30, 0.32, 0.31, 0.47, 0.33};
  CHECK(median(mohms) == Approx(0.315).epsilon(1e-14));
  CHECK(scaled_mad(mohms) == Approx(0.014826022185056032).epsilon(1e-12));
}

TEST_CASE("one value does not move median and spread beyond the others' range") {
  CHECK(rc::check([](const std::vector<int>& drawn, int wild) {
    RC_PRE(drawn.size() >= 2U);
    std::vector<double> values(drawn.begin(), drawn.end());
    const auto [least, most] = std::minmax_element(drawn.begin(), drawn.end());
    const double low = *least;
    const double high = *most;
    values.push_back(wild * 1e6);
    RC_ASSERT(median(values) >= low);
    RC_ASSERT(median(values) <= high);
    // Of the distances too, fewer than half lie beyond the others' range.
    RC_ASSERT(scaled_mad(values) <= 1.4827 * (high - low));
  }));
}

TEST_CASE("the step of readings is that of their last decimal") {
  CHECK(reading_step({3.297, 3.3, 3.298}) == Approx(0.001));
  CHECK(reading_step({212.4, 211.0}) == Approx(0.1));
  CHECK(reading_step({280, 279, 281}) == 1);
  CHECK(reading_step({0.31, 0.3}) == Approx(0.01));
  CHECK(reading_step({0.123456}) == Approx(0.0001));
}

TEST_CASE("fewer than five values are not compared, like values by their step") {
  CHECK_FALSE(among_others(3.2, {3.3, 3.3, 3.3}));
  const auto stands = among_others(3.296, {3.3, 3.3, 3.3, 3.3});
  REQUIRE(stands);
  CHECK(stands->median == 3.3);
  CHECK(stands->spread == Approx(0.001));
  CHECK(stands->spreads == Approx(-4));
  // A spread of the others' own, where it is wider than their step.
  const auto wide = among_others(190, {212.4, 211.0, 209.3, 213.1, 210.8, 212.0, 188.6});
  REQUIRE(wide);
  CHECK(wide->spreads == Approx((190 - 211.0) / 2.0756431059078513));
}
