// SPDX-License-Identifier: GPL-3.0-or-later
//
// Mean bulge of a dome: exact where no slack closes, brute force where it does.
#include <algorithm>
#include <cmath>

#include "solver/dome.hpp"
#include "tests/catch.hpp"

using stackfit::mean_bulge_mm;

namespace {

/// Midpoint sum over a quarter of the face.
double by_sum(double height, double slack, double q) {
  constexpr int n = 2000;
  double sum = 0;
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < n; ++j) {
      const double x = (i + 0.5) / n;
      const double y = (j + 0.5) / n;
      sum += std::max(0.0, height * std::pow((1 - x * x) * (1 - y * y), q) - slack);
    }
  }
  return sum / n / n;
}

}  // namespace

TEST_CASE("the mean of a dome without slack is exact") {
  // Mean of (1 - t^2)^2 over [0, 1] is 8/15, of (1 - t^2) it is 2/3.
  CHECK(mean_bulge_mm({1.0, 0, 2}) == Catch::Approx(64.0 / 225).epsilon(1e-13));
  // Of (1 - t^2)^4 it is 128/315.
  CHECK(mean_bulge_mm({1.0, 0, 4}) == Catch::Approx(128.0 / 315 * 128 / 315).epsilon(1e-13));
  CHECK(mean_bulge_mm({-0.3, 0, 1}) == Catch::Approx(-0.3 * 4 / 9).epsilon(1e-13));
}

TEST_CASE("a dome within its slack closes at no force") {
  CHECK(mean_bulge_mm({0.3, 0.3, 2}) == 0);
  CHECK(mean_bulge_mm({0, 0, 2}) == 0);
}

TEST_CASE("a dome beyond its slack agrees with a fine sum") {
  for (const double q : {0.5, 1.0, 1.5, 2.0, 4.0}) {
    for (const double slack : {0.05, 0.3, 0.7}) {
      INFO("q " << q << " slack " << slack);
      CHECK(mean_bulge_mm({1, slack, q}) == Catch::Approx(by_sum(1, slack, q)).epsilon(2e-4));
    }
  }
}
