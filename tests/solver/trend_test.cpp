// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/trend.hpp"

#include <rapidcheck.h>

#include <array>
#include <cmath>
#include <cstdint>
#include <span>
#include <vector>

#include "tests/catch.hpp"

using namespace stackfit;
using Catch::Approx;

namespace {

constexpr std::array<TrendPoint, 5> five{
    {{0, 0.12}, {12, 0.23}, {24, 0.32}, {36.5, 0.43}, {48.25, 0.52}}};

}  // namespace

// scipy.stats.linregress(x, y), SciPy 1.10.1; scatter: sqrt(sum of squares / (n - 2)).
TEST_CASE("a line of least squares is SciPy's") {
  const auto trend = fit_trend(five);
  REQUIRE(trend);
  CHECK(trend->slope == Approx(0.008265264308154625).epsilon(1e-12));
  CHECK(trend->intercept == Approx(0.12439386695806579).epsilon(1e-12));
  CHECK(trend->slope_error == Approx(0.00014610808168027855).epsilon(1e-9));
  CHECK(trend->scatter == Approx(0.005590806224291919).epsilon(1e-9));
}

// scipy.optimize.brentq on the line plus and minus t(0.975, n - 2) s sqrt(1/n + (x - mean)^2/Sxx),
// SciPy 1.10.1.
TEST_CASE("a level is reached within the band of the line") {
  const auto trend = fit_trend(five);
  REQUIRE(trend);
  const auto own = crossing(*trend, 0.8, 0);
  REQUIRE(own);
  CHECK(own->at == Approx(81.74041480746985).epsilon(1e-9));
  CHECK(own->earliest == Approx(78.53308019786789).epsilon(1e-9));
  REQUIRE(own->latest);
  CHECK(*own->latest == Approx(85.31344021047038).epsilon(1e-9));
  const auto least = crossing(*trend, 0.8, 0.02);
  REQUIRE(least);
  CHECK(least->at == own->at);
  CHECK(least->earliest == Approx(71.59084243978681).epsilon(1e-9));
  REQUIRE(least->latest);
  CHECK(*least->latest == Approx(96.7518650842955).epsilon(1e-9));
  // With so much scatter the slope may be none at all: the level may never be reached.
  const auto open = crossing(*trend, 0.8, 0.1);
  REQUIRE(open);
  CHECK(open->earliest == Approx(50.29653603149053).epsilon(1e-9));
  CHECK_FALSE(open->latest);
  const auto wide = crossing(*trend, 0.8, 0.2);
  REQUIRE(wide);
  CHECK(wide->earliest == Approx(37.75003828506271).epsilon(1e-9));
  CHECK_FALSE(wide->latest);
}

TEST_CASE("no line through one day, no day from two points or a falling line") {
  CHECK_FALSE(fit_trend(std::span(five).first(1)));
  CHECK_FALSE(fit_trend(std::vector<TrendPoint>{{3, 1}, {3, 2}}));
  const auto two = fit_trend(std::span(five).first(2));
  REQUIRE(two);
  CHECK(two->slope == Approx(0.11 / 12));
  CHECK_FALSE(crossing(*two, 0.8, 0.02));
  const auto falling = fit_trend(std::vector<TrendPoint>{{0, 3}, {1, 2}, {2, 1}});
  REQUIRE(falling);
  CHECK_FALSE(crossing(*falling, 4, 0.02));
}

TEST_CASE("a crossing lies on the line and within its span, more scatter widens the span") {
  CHECK(rc::check([](const std::array<std::uint8_t, 4>& steps) {
    std::vector<TrendPoint> points;
    double y = 1;
    for (std::size_t i = 0; i < steps.size(); ++i) {
      y += 0.01 * steps[i];
      points.push_back({static_cast<double>(i), y});
    }
    const auto trend = fit_trend(points);
    RC_PRE(trend->slope > 0);
    const double level = y + 1;
    const auto narrow = crossing(*trend, level, 0.01);
    const auto wide = crossing(*trend, level, 0.01 + 2 * trend->scatter);
    RC_ASSERT(std::abs(trend->at(narrow->at) - level) < 1e-9);
    RC_ASSERT(narrow->earliest <= narrow->at);
    RC_ASSERT(!narrow->latest || *narrow->latest >= narrow->at);
    RC_ASSERT(wide->earliest <= narrow->earliest + 1e-9);
    RC_ASSERT(!wide->latest || *wide->latest >= *narrow->latest - 1e-9);
  }));
}
