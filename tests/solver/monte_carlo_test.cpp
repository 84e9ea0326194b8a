// SPDX-License-Identifier: GPL-3.0-or-later
//
// Drawing: the generator against its definition and its published answers (J. K. Salmon et al.,
// Parallel random numbers: as easy as 1, 2, 3, SC11, 2011), draws against the distributions they
// are to have, and stated errors against what they are in many runs.
#include "solver/monte_carlo.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numbers>
#include <numeric>
#include <stdexcept>
#include <vector>

#include "tests/catch.hpp"

using namespace stackfit;
using Catch::Matchers::WithinAbs;

namespace {

using Words = std::array<std::uint64_t, 4>;
using Key = std::array<std::uint64_t, 2>;

std::uint64_t high_product(std::uint64_t a, std::uint64_t b) {
  const std::uint64_t low = 0xffff'ffffU;
  const std::uint64_t middle = (a >> 32U) * (b & low) + ((a & low) * (b & low) >> 32U);
  const std::uint64_t other = (a & low) * (b >> 32U) + (middle & low);
  return (a >> 32U) * (b >> 32U) + (middle >> 32U) + (other >> 32U);
}

/// Philox 4x64 with ten rounds, written from the paper's section 4.3 and its constants.
Words philox(Words c, Key key) {
  for (int round = 0; round < 10; ++round) {
    const std::uint64_t m0 = 0xD2E7470EE14C6C93U;
    const std::uint64_t m1 = 0xCA5A826395121157U;
    c = {high_product(m1, c[2]) ^ c[1] ^ key[0], m1 * c[2], high_product(m0, c[0]) ^ c[3] ^ key[1],
         m0 * c[0]};
    key = {key[0] + 0x9E3779B97F4A7C15U, key[1] + 0xBB67AE8584CAA73BU};
  }
  return c;
}

/// What a draw is to be: halves of the words of the block of eight samples that holds it.
double drawn(std::uint64_t seed, std::uint64_t sample, std::uint64_t input) {
  const Words words = philox({sample / 8, input, 0, 0}, {seed, 0});
  const std::uint64_t word = words.at(sample % 8 / 2);
  const std::uint64_t half = sample % 2 == 0 ? word & 0xffff'ffffU : word >> 32U;
  return (static_cast<double>(half) + 0.5) / 4294967296.0;
}

double normal_share_below(double z) {
  return std::erfc(-z / std::numbers::sqrt2) / 2;
}

std::vector<double> uniform(std::uint64_t seed, std::size_t samples, std::uint64_t first = 0) {
  std::vector<double> u(samples);
  draw_uniform(seed, first, 1, samples, u);
  return u;
}

std::vector<double> normal(std::uint64_t seed, std::size_t samples) {
  std::vector<double> z(samples);
  draw_normal(seed, 0, 1, samples, z);
  return z;
}

/// Kolmogorov and Smirnov: sqrt(n) times the greatest distance between shares; `u` uniform.
double ks_distance(std::vector<double> u) {
  std::ranges::sort(u);
  const auto n = static_cast<double>(u.size());
  double worst = 0;
  for (std::size_t i = 0; i < u.size(); ++i) {
    worst =
        std::max({worst, u[i] - static_cast<double>(i) / n, static_cast<double>(i + 1) / n - u[i]});
  }
  return worst * std::sqrt(n);
}
/// Exceeded by one run in 1,000 (Kolmogorov's limit distribution).
constexpr double ks_limit = 1.95;

/// A chi-square of `cells` counts against an even spread, as a standard normal (Wilson, Hilferty).
double chi_square_z(const std::vector<double>& counts) {
  const double mean =
      std::accumulate(counts.begin(), counts.end(), 0.0) / static_cast<double>(counts.size());
  double chi = 0;
  for (const double count : counts) {
    chi += (count - mean) * (count - mean) / mean;
  }
  const double freedom = static_cast<double>(counts.size()) - 1;
  const double part = 2 / (9 * freedom);
  return (std::cbrt(chi / freedom) - (1 - part)) / std::sqrt(part);
}

}  // namespace

TEST_CASE("monte carlo: the definition written here gives the published words") {
  // The lines "philox4x64 10" of tests/kat_vectors in the Random123 distribution, as quoted by its
  // authors' core123/ut/ut_philox.cpp (github.com/DEShawResearch/fs123).
  const std::uint64_t ones = ~std::uint64_t{0};
  CHECK(philox({0, 0, 0, 0}, {0, 0}) ==
        Words{0x16554d9eca36314c, 0xdb20fe9d672d0fdc, 0xd7e772cee186176b, 0x7e68b68aec7ba23b});
  CHECK(philox({ones, ones, ones, ones}, {ones, ones}) ==
        Words{0x87b092c3013fe90b, 0x438c3c67be8d0224, 0x9cc7d7c69cd777b6, 0xa09caebf594f0ba0});
  CHECK(philox({0x243f6a8885a308d3, 0x13198a2e03707344, 0xa4093822299f31d0, 0x082efa98ec4e6c89},
               {0x452821e638d01377, 0xbe5466cf34e90c6c}) ==
        Words{0xa528f45403e61d95, 0x38c72dbd566e9788, 0xa5a1610e72fd18b5, 0x57bd43b5e52b7fe6});
}

TEST_CASE("monte carlo: draws are the definition's, for any seed, sample and input") {
  // Seed 0, input 0, samples 0 and 1 are the first published word's halves.
  CHECK(uniform(0, 2)[0] == (0xca36314cU + 0.5) / 4294967296.0);
  CHECK(uniform(0, 2)[1] == (0x16554d9eU + 0.5) / 4294967296.0);
  for (const std::uint64_t seed : {0ULL, 1ULL, 0xfedc'ba98'7654'3210ULL}) {
    for (const std::uint64_t first : {0ULL, 5ULL, (1ULL << 40U) + 3}) {
      const std::size_t inputs = 3;
      const std::size_t samples = 21;
      std::vector<double> u(inputs * samples);
      draw_uniform(seed, first, inputs, samples, u);
      for (std::size_t k = 0; k < inputs; ++k) {
        for (std::size_t i = 0; i < samples; ++i) {
          REQUIRE(u[k * samples + i] == drawn(seed, first + i, k));
        }
      }
    }
  }
  std::vector<double> room(5);
  CHECK_THROWS_AS(draw_uniform(1, 0, 2, 3, room), std::invalid_argument);
}

TEST_CASE("monte carlo: draws do not depend on how they are cut") {
  const std::size_t samples = 1000;
  const std::size_t inputs = 2;
  std::vector<double> whole(inputs * samples);
  draw_normal(7, 100, inputs, samples, whole);
  for (const std::size_t piece : {1U, 3U, 8U, 77U, 512U}) {
    for (std::size_t first = 0; first < samples; first += piece) {
      const std::size_t count = std::min<std::size_t>(piece, samples - first);
      std::vector<double> part(inputs * count);
      draw_normal(7, 100 + first, inputs, count, part);
      for (std::size_t k = 0; k < inputs; ++k) {
        REQUIRE(std::equal(part.begin() + static_cast<std::ptrdiff_t>(k * count),
                           part.begin() + static_cast<std::ptrdiff_t>((k + 1) * count),
                           whole.begin() + static_cast<std::ptrdiff_t>(k * samples + first)));
      }
    }
  }
}

TEST_CASE("monte carlo: the normal quantile against the error function of the C library") {
  CHECK(normal_quantile(0.5) == 0);
  // Published to ten places in any table of the normal distribution.
  CHECK_THAT(normal_quantile(0.975), WithinAbs(1.9599639845, 1e-7));
  CHECK_THAT(normal_quantile(0.995), WithinAbs(2.5758293035, 1e-7));
  double worst = 0;
  const auto look_at = [&worst](double u) {
    const double z = normal_quantile(u);
    const double density = std::exp(-z * z / 2) / std::sqrt(2 * std::numbers::pi);
    worst = std::max(worst, std::abs(normal_share_below(z) - u) / density);
    if (1 - u < 1) {
      REQUIRE(normal_quantile(1 - (1 - u)) == -normal_quantile(1 - u));
    }
  };
  for (int i = 1; i < 400'000; ++i) {
    look_at(i * 0.5 / 400'000);
  }
  for (double octave = 1; octave < 60; octave += 0.0009) {  // on into the closed form
    look_at(std::exp2(-octave));
  }
  INFO("worst " << worst);
  CHECK(worst < 1e-7);
  CHECK(worst > 1e-8);  // so that the figure stated is the figure found
}

TEST_CASE("monte carlo: the normal quantile rises, across every knot of its table too") {
  const double step = 1.0 / 4294967296.0;
  double u = step / 2;
  // Each of the lowest draws there are, then 64 neighbours about each knot.
  for (double last = normal_quantile(u / 2); u < 4096 * step; u += step) {
    const double z = normal_quantile(u);
    REQUIRE(z > last);
    last = z;
  }
  for (double octave = step; octave < 1; octave *= 2) {
    for (int knot = 0; knot < 16; ++knot) {
      const double at = octave * (1 + knot / 16.0);
      for (double v = std::max(step, at - 32 * step); v < std::min(at + 32 * step, 1 - step);
           v += step) {
        REQUIRE(normal_quantile(v + step) > normal_quantile(v));
      }
    }
  }
}

TEST_CASE("monte carlo: uniform draws are spread evenly, and inputs do not know of each other") {
  const std::size_t n = 200'000;
  const std::vector<double> u = uniform(20260131, n);
  CHECK(*std::ranges::min_element(u) > 0);
  CHECK(*std::ranges::max_element(u) < 1);
  CHECK(ks_distance(u) < ks_limit);
  std::vector<double> two(2 * n);
  draw_uniform(20260131, 0, 2, n, two);
  std::vector<double> cells(32 * 32);
  std::vector<double> pairs(32 * 32);
  std::vector<double> seeds(32 * 32);
  const std::vector<double> next = uniform(20260132, n);
  const auto cell = [](double a, double b) {
    return static_cast<std::size_t>(a * 32) * 32 + static_cast<std::size_t>(b * 32);
  };
  for (std::size_t i = 0; i < n; ++i) {
    ++cells[cell(two[i], two[n + i])];                  // two inputs of one sample
    ++pairs[cell(two[i], two[i + 1 < n ? i + 1 : 0])];  // two samples of one input
    ++seeds[cell(two[i], next[i])];                     // two seeds
  }
  CHECK(std::abs(chi_square_z(cells)) < 3.3);
  CHECK(std::abs(chi_square_z(pairs)) < 3.3);
  CHECK(std::abs(chi_square_z(seeds)) < 3.3);
}

TEST_CASE("monte carlo: normal draws have the normal distribution and its moments") {
  const std::size_t n = 1'000'000;
  const std::vector<double> z = normal(5, n);
  std::array<double, 5> moments{};
  for (const double value : z) {
    double power = 1;
    for (double& moment : moments) {
      moment += power / static_cast<double>(n);
      power *= value;
    }
  }
  const double root = std::sqrt(static_cast<double>(n));
  // Standard errors of the means of z, z^2, z^3 and z^4: sqrt(1, 2, 15, 96) / sqrt(n).
  CHECK_THAT(moments[1], WithinAbs(0, 3 * std::sqrt(1.0) / root));
  CHECK_THAT(moments[2], WithinAbs(1, 3 * std::sqrt(2.0) / root));
  CHECK_THAT(moments[3], WithinAbs(0, 3 * std::sqrt(15.0) / root));
  CHECK_THAT(moments[4], WithinAbs(3, 3 * std::sqrt(96.0) / root));
  std::vector<double> shares(200'000);
  std::transform(z.begin(), z.begin() + 200'000, shares.begin(), normal_share_below);
  CHECK(ks_distance(shares) < ks_limit);
  // Tails: 3.17 in 100,000 lie beyond 4 (a tail's own count, within three standard errors).
  const auto beyond = static_cast<double>(
      std::ranges::count_if(z, [](double value) { return std::abs(value) > 4; }));
  const double expected = static_cast<double>(n) * 2 * normal_share_below(-4);
  CHECK_THAT(beyond, WithinAbs(expected, 3 * std::sqrt(expected)));
}

TEST_CASE("monte carlo: the same bytes on any number of threads") {
  const BlockFunction evaluate = [](const SampleBlock& block) {
    for (std::size_t i = 0; i < block.samples; ++i) {
      block.out[i] = block.draws[i] + block.draws[block.samples + i];
      block.out[block.samples + i] = static_cast<double>(block.first_sample + i);
    }
  };
  DrawPlan plan{3, 2, 2, 20'011, 1};  // the last block is not full
  const std::vector<double> alone = draw_samples(plan, evaluate);
  for (const int threads : {2, 3, 0}) {
    plan.threads = threads;
    CHECK(draw_samples(plan, evaluate) == alone);
  }
  const auto n = static_cast<std::size_t>(plan.samples);
  std::vector<double> z(2 * n);
  draw_normal(3, 0, 2, n, z);
  for (std::size_t i = 0; i < n; ++i) {
    REQUIRE(alone[i] == z[i] + z[n + i]);
    REQUIRE(alone[n + i] == static_cast<double>(i));
  }
  // Going on from sample 10,001 gives what the whole would have had there.
  plan.first_sample = 10'001;
  plan.samples -= 10'001;
  const std::vector<double> rest = draw_samples(plan, evaluate);
  CHECK(std::equal(rest.begin(), rest.begin() + 10'010, alone.begin() + 10'001));
  plan.samples = 0;
  CHECK(draw_samples(plan, evaluate).empty());
}

TEST_CASE("monte carlo: the first block that throws is the one that is heard of") {
  const BlockFunction evaluate = [](const SampleBlock& block) {
    if (block.first_sample >= 5 * block_samples) {
      throw std::runtime_error(std::to_string(block.first_sample / block_samples));
    }
  };
  for (const int threads : {1, 2, 3}) {
    CHECK_THROWS_WITH(draw_samples({1, 1, 1, 20'000, threads}, evaluate), "5");
  }
}

TEST_CASE("monte carlo: a chance by counting, and how sure it may be called") {
  const ChanceOf some = chance_by_count(9'000, 10'000);
  CHECK(some.chance == 0.9);
  CHECK(some.samples == 10'000);
  CHECK_THAT(some.standard_error, WithinAbs(std::sqrt(0.9 * 0.1 / 10'000), 1e-15));
  CHECK_FALSE(some.more_than);
  CHECK_FALSE(chance_by_count(0, 10'000).more_than);
  // The rule of three: were 3 in 1,000 failing, 95 of 100 such runs would have seen one.
  CHECK_THAT(chance_by_count(1'000, 1'000).more_than.value(), WithinAbs(0.997, 1e-12));
  CHECK_THAT(std::pow(0.997, 1'000), WithinAbs(0.05, 0.001));
  CHECK(chance_by_count(3'000, 3'000).more_than.value() == 0.999);
  CHECK(chance_by_count(1'000'000, 1'000'000).more_than.value() == 0.999);
  CHECK(chance_by_count(1'000'000, 1'000'000).standard_error == 0);
  CHECK(chance_by_count(2, 2).more_than.value() == 0);
  CHECK_FALSE(chance_by_count(999'999, 1'000'000).more_than);
}

TEST_CASE("monte carlo: a chance is settled when twice its error is within 0.005") {
  CHECK_FALSE(settled(chance_by_count(9'999, 9'999)));
  CHECK(settled(chance_by_count(10'000, 10'000)));
  // 2 sqrt(p (1 - p) / M) <= 0.005 needs M >= 40,000 at one half, 14,400 at 0.9.
  CHECK_FALSE(settled(chance_by_count(19'990, 39'980)));
  CHECK(settled(chance_by_count(20'010, 40'020)));
  CHECK_FALSE(settled(chance_by_count(12'951, 14'390)));
  CHECK(settled(chance_by_count(12'969, 14'410)));
  CHECK_FALSE(settled(chance_by_count(0, 0)));
}

TEST_CASE("monte carlo: coverage intervals of samples that can be counted by hand") {
  // 1, 2, ... 100, in disorder: q = 90, r = (100 - 90) / 2 = 5 (JCGM 101, 7.7.2).
  std::vector<double> hundred;
  for (int i = 0; i < 100; ++i) {
    hundred.push_back(i * 37 % 100 + 1);
  }
  const Coverage middle = symmetric_coverage(hundred, 0.9);
  CHECK(middle.low == 5);
  CHECK(middle.high == 95);
  // A rank's standard deviation is sqrt(100 x 0.05 x 0.95), 2.2: two ranks to either side.
  CHECK(middle.low_error == 2);
  CHECK(middle.high_error == 2);
  // 101 samples: q = int(90.9 + 1/2) = 91, r = (101 - 91) / 2 = 5. Half a rank is rounded up.
  hundred.push_back(101);
  CHECK(symmetric_coverage(hundred, 0.9).low == 5);
  CHECK(symmetric_coverage(hundred, 0.9).high == 96);
  // Squares crowd together at the low end: the shortest interval begins at the first.
  for (double& value : hundred) {
    value *= value;
  }
  CHECK(shortest_coverage(hundred, 0.9).low == 1);
  CHECK(shortest_coverage(hundred, 0.9).high == 92 * 92);
  CHECK_THROWS_AS(symmetric_coverage({1}, 0.9), std::invalid_argument);
  CHECK_THROWS_AS(shortest_coverage({1, 2, 3}, 1.0), std::invalid_argument);
}

namespace {

/// How often the truth lies within two stated errors, and the root mean square of the misses in
/// stated errors, over 200 seeds.
struct Held {
  double within_two = 0;
  double rms = 0;
};
template <class Turn, class Interval>
Held hold(const Turn& turn, const Interval& interval, double truth, double Coverage::*end,
          double Coverage::*error) {
  const int seeds = 200;
  Held held;
  for (int seed = 1; seed <= seeds; ++seed) {
    std::vector<double> samples = uniform(static_cast<std::uint64_t>(seed), 4'000);
    std::ranges::transform(samples, samples.begin(), turn);
    const Coverage found = interval(std::move(samples), 0.95);
    const double miss = (found.*end - truth) / found.*error;
    held.within_two += std::abs(miss) < 2 ? 1.0 / seeds : 0;
    held.rms += miss * miss / seeds;
  }
  held.rms = std::sqrt(held.rms);
  return held;
}

}  // namespace

TEST_CASE("monte carlo: stated errors of coverage intervals hold over 200 seeds") {
  const auto exponential = [](double u) { return -std::log(u); };
  // Symmetric: quantiles at 0.025 and 0.975. 95 of 100 within two errors, give or take four
  // standard errors of a count of 200.
  for (const Held& held :
       {hold(normal_quantile, symmetric_coverage, -1.9599640, &Coverage::low, &Coverage::low_error),
        hold(normal_quantile, symmetric_coverage, 1.9599640, &Coverage::high,
             &Coverage::high_error),
        hold(exponential, symmetric_coverage, -std::log(0.975), &Coverage::low,
             &Coverage::low_error),
        hold(exponential, symmetric_coverage, -std::log(0.025), &Coverage::high,
             &Coverage::high_error)}) {
    CAPTURE(held.within_two, held.rms);
    CHECK_THAT(held.within_two, WithinAbs(0.95, 0.06));
    CHECK_THAT(held.rms, WithinAbs(1, 0.2));
  }
  // Shortest: of the normal distribution the same interval, but its ends wander.
  for (const Held& held :
       {hold(normal_quantile, shortest_coverage, -1.9599640, &Coverage::low, &Coverage::low_error),
        hold(normal_quantile, shortest_coverage, 1.9599640, &Coverage::high,
             &Coverage::high_error)}) {
    CAPTURE(held.within_two, held.rms);
    CHECK_THAT(held.within_two, WithinAbs(0.95, 0.06));
    CHECK_THAT(held.rms, WithinAbs(1, 0.3));
  }
  // Of the exponential one it begins at zero, where the density breaks off: errors too large.
  const Held held =
      hold(exponential, shortest_coverage, -std::log(0.05), &Coverage::high, &Coverage::high_error);
  CAPTURE(held.within_two, held.rms);
  CHECK(held.within_two > 0.95);
  CHECK(held.rms > 0.4);
}
