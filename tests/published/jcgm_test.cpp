// SPDX-License-Identifier: GPL-3.0-or-later
//
// Drawing against the additive examples of JCGM 101:2008, 9.2 (fixtures/published/statistics.csv).
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include "solver/monte_carlo.hpp"
#include "tests/catch.hpp"
#include "tests/published/csv.hpp"

using namespace stackfit;
using Catch::Matchers::WithinAbs;

namespace {

struct Published {
  double rounded = 0;
  double exact = 0;
};
Published published_half_width(const std::string& quantity) {
  for (const auto& row : published::read_table("statistics.csv")) {
    if (published::text(row, "quantity") == quantity) {
      return {published::number(row, "published"), published::number(row, "exact")};
    }
  }
  FAIL("no line " << quantity);
  return {};
}

/// Of standard deviation one: the normal distribution, or the even one between -sqrt 3 and sqrt 3.
double as_is(double z) {
  return z;
}
double rectangular(double z) {
  return std::sqrt(3.0) * (std::erfc(-z / std::sqrt(2.0)) - 1);
}

/// Four inputs, the last `widening` times as wide, summed in a million samples.
std::vector<double> sums_of_four(double (*turn)(double), double widening) {
  return draw_samples({101, 4, 1, 1'000'000}, [&](const SampleBlock& block) {
    for (std::size_t i = 0; i < block.samples; ++i) {
      const auto input = [&](std::size_t k) { return turn(block.draws[k * block.samples + i]); };
      block.out[i] = input(0) + input(1) + input(2) + widening * input(3);
    }
  });
}

/// The half-width within three of its standard errors of the exact one, and that one within the
/// published places.
void hold(const Coverage& found, const Published& known, double places) {
  const double half_width = (found.high - found.low) / 2;
  // The ends are a quarter and less correlated, so they count as independent.
  const double error = std::hypot(found.low_error, found.high_error) / 2;
  CAPTURE(half_width, error);
  CHECK_THAT(half_width, WithinAbs(known.exact, 3 * error));
  CHECK(error < 0.001 * known.exact);
  CHECK_THAT(known.exact, WithinAbs(known.rounded, places));
  CHECK_THAT(found.low, WithinAbs(-known.exact, 3 * found.low_error));
  CHECK_THAT(found.high, WithinAbs(known.exact, 3 * found.high_error));
}

}  // namespace

TEST_CASE("JCGM 101: the sum of four normal inputs", "[published]") {
  const Published known = published_half_width("sum of 4 N(0;1): 95 % interval half-width");
  const std::vector<double> sums = sums_of_four(as_is, 1);
  hold(symmetric_coverage(sums), known, 0.005);
  const Coverage shortest = shortest_coverage(sums);
  CHECK_THAT(shortest.low, WithinAbs(-known.exact, 3 * shortest.low_error));
  CHECK_THAT(shortest.high, WithinAbs(known.exact, 3 * shortest.high_error));
}

TEST_CASE("JCGM 101: the sum of four rectangular inputs", "[published]") {
  hold(symmetric_coverage(sums_of_four(rectangular, 1)),
       published_half_width("sum of 4 R(-sqrt3;sqrt3): 95 % interval half-width"), 0.005);
}

TEST_CASE("JCGM 101: one rectangular input ten times wider than the others", "[published]") {
  hold(symmetric_coverage(sums_of_four(rectangular, 10)),
       published_half_width("same with one input ten times wider"), 0.05);
}
