// SPDX-License-Identifier: GPL-3.0-or-later
//
// Shares of variance against functions whose shares are known in closed form.
#include "solver/sensitivity.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <set>
#include <stdexcept>
#include <vector>

#include "solver/monte_carlo.hpp"
#include "tests/catch.hpp"

using namespace stackfit;
using Catch::Matchers::WithinAbs;

namespace {

/// g = product of (|4 x_i - 2| + a_i) / (1 + a_i), Saltelli and Sobol' 1995. Each factor has mean
/// 1 and variance V_i = 1 / (3 (1 + a_i)^2), so the whole has V = prod(1 + V_i) - 1; alone input i
/// makes V_i / V of it, and all that it takes part in V_i prod over others (1 + V_j) / V.
struct GFunction {
  std::vector<double> a;

  void operator()(std::span<const double> u, std::size_t points, std::span<double> out) const {
    for (std::size_t j = 0; j < points; ++j) {
      out[j] = 1;
      for (std::size_t i = 0; i < a.size(); ++i) {
        out[j] *= (std::abs(4 * u[i * points + j] - 2) + a[i]) / (1 + a[i]);
      }
    }
  }
  [[nodiscard]] double part(std::size_t i) const { return 1 / (3 * (1 + a[i]) * (1 + a[i])); }
  [[nodiscard]] double product() const {
    double whole = 1;
    for (std::size_t i = 0; i < a.size(); ++i) {
      whole *= 1 + part(i);
    }
    return whole;
  }
  [[nodiscard]] double first_order(std::size_t i) const { return part(i) / (product() - 1); }
  [[nodiscard]] double total(std::size_t i) const {
    return part(i) * product() / (1 + part(i)) / (product() - 1);
  }
};

}  // namespace

TEST_CASE("sensitivity: Ishigami's function") {
  // T. Ishigami, T. Homma, An importance quantification technique in uncertainty analysis for
  // computer models, ISUMA 1990: f = sin x1 + a sin^2 x2 + b x3^4 sin x1, x even in (-pi, pi).
  // sin x1 (1 + b x3^4) and a sin^2 x2 are independent. E sin^2 = 1/2, E sin^4 = 3/8,
  // E x^4 = pi^4/5, E x^8 = pi^8/9:
  //   V1  = 1/2 (1 + b pi^4/5)^2            sin x1 with x3 averaged
  //   V2  = a^2 (3/8 - 1/4) = a^2/8
  //   V13 = 1/2 b^2 (pi^8/9 - pi^8/25)      the rest of the first term; x3 alone does nothing
  const double a = 7;
  const double b = 0.1;
  const double pi4 = std::pow(std::numbers::pi, 4);
  const double v1 = (1 + b * pi4 / 5) * (1 + b * pi4 / 5) / 2;
  const double v2 = a * a / 8;
  const double v13 = b * b * pi4 * pi4 * (1 / 9.0 - 1 / 25.0) / 2;
  const double v = v1 + v2 + v13;
  const auto ishigami = [&](std::span<const double> u, std::size_t points, std::span<double> out) {
    const auto x = [&](std::size_t k, std::size_t j) {
      return std::numbers::pi * (2 * u[k * points + j] - 1);
    };
    for (std::size_t j = 0; j < points; ++j) {
      const double s = std::sin(x(1, j));
      out[j] = std::sin(x(0, j)) * (1 + b * std::pow(x(2, j), 4)) + a * s * s;
      out[points + j] = 5;  // an output that does not vary
    }
  };
  const auto found = sensitivity({3, 2, 4096}, ishigami);
  const std::vector<SensitivityIndices> known{
      {v1 / v, (v1 + v13) / v}, {v2 / v, v2 / v}, {0, v13 / v}};
  for (std::size_t k = 0; k < 3; ++k) {
    CAPTURE(k);
    CHECK_THAT(found[0][k].first_order, WithinAbs(known[k].first_order, 0.01));
    CHECK_THAT(found[0][k].total, WithinAbs(known[k].total, 0.01));
    CHECK(found[1][k].first_order == 0);
    CHECK(found[1][k].total == 0);
  }
}

TEST_CASE("sensitivity: forty inputs, of which a few matter") {
  GFunction g{std::vector<double>(40, 99)};
  const std::vector<double> heavy{0.5, 1, 3};
  // At the front, and at the back where the Sobol sequence is worst.
  std::ranges::copy(heavy, g.a.begin());
  std::ranges::copy(heavy, g.a.end() - 3);
  const auto found = sensitivity({40, 1, 4096}, g);
  for (std::size_t i = 0; i < 40; ++i) {
    CAPTURE(i);
    CHECK_THAT(found[0][i].first_order, WithinAbs(g.first_order(i), 0.01));
    CHECK_THAT(found[0][i].total, WithinAbs(g.total(i), 0.01));
  }
}

TEST_CASE("sensitivity: whether a rule fails, a step") {
  // Fails when u1 + u2 > 1.5, whatever u3 is: p = 1/8, V = 7/64. Given u1 > 1/2 it fails with
  // chance u1 - 1/2: E of its square 1/24, so V1 = 1/24 - 1/64 = 5/192 and S1 = 5/21; the rest of
  // the variance is the two's together, so the total of either is 16/21.
  const auto found = sensitivity(
      {3, 1, 8192}, [](std::span<const double> u, std::size_t points, std::span<double> out) {
        for (std::size_t j = 0; j < points; ++j) {
          out[j] = u[j] + u[points + j] > 1.5 ? 1 : 0;
        }
      });
  for (const std::size_t k : {0U, 1U}) {
    CHECK_THAT(found[0][k].first_order, WithinAbs(5.0 / 21, 0.015));
    CHECK_THAT(found[0][k].total, WithinAbs(16.0 / 21, 0.02));
  }
  CHECK(found[0][2].first_order == 0);
  CHECK(found[0][2].total == 0);
}

TEST_CASE("sensitivity: points are balanced, inside the cube, and each call has as many") {
  const std::size_t inputs = 40;
  const std::size_t base = 256;
  std::size_t calls = 0;
  static_cast<void>(sensitivity(
      {inputs, 1, base}, [&](std::span<const double> u, std::size_t points, std::span<double> out) {
        ++calls;
        REQUIRE(points == base);
        REQUIRE(u.size() == inputs * base);
        REQUIRE(out.size() == base);
        for (std::size_t k = 0; k < inputs; ++k) {
          // 256 points of a Sobol sequence: one in each 256th of every coordinate.
          std::set<int> cells;
          for (const double x : u.subspan(k * base, base)) {
            REQUIRE(x > 0);
            REQUIRE(x < 1);
            cells.insert(static_cast<int>(x * 256));
          }
          REQUIRE(cells.size() == base);
        }
        std::ranges::fill(out, 1);
      }));
  CHECK(calls == inputs + 2);
  CHECK_THROWS_AS(sensitivity({1, 1, 0}, [](auto, auto, auto) {}), std::invalid_argument);
}

TEST_CASE("sensitivity: a large mean changes nothing") {
  GFunction g{{0, 1, 3}};
  const auto bare = sensitivity({3, 1, 1024}, g);
  const auto raised = sensitivity(
      {3, 1, 1024}, [&](std::span<const double> u, std::size_t points, std::span<double> out) {
        g(u, points, out);
        for (double& value : out) {
          value += 1e4;
        }
      });
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK_THAT(raised[0][i].first_order, WithinAbs(bare[0][i].first_order, 1e-6));
    CHECK_THAT(raised[0][i].total, WithinAbs(bare[0][i].total, 1e-6));
  }
}
