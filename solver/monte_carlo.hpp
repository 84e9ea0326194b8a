// SPDX-License-Identifier: GPL-3.0-or-later
//
// Propagation of distributions by drawing: JCGM 101:2008, with counted draws.
//
// For: chances and coverage intervals of whatever a block of draws is turned into. Every sample
// has its own numbers, by (seed, sample, input), so that the answer is the same on any number of
// threads and whichever way the samples are cut into blocks.
// Not for: what the inputs mean (chance_model.hpp) or which of them matters (sensitivity.hpp).
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <span>
#include <vector>

#include "solver/chance_result.hpp"

namespace stackfit {

/// Samples that are drawn and evaluated together, as one array for each input.
inline constexpr std::size_t block_samples = 512;

/// The quantile of the standard normal distribution at u in (0, 1), rising with u: a table with a
/// cubic between its knots, and the closed form in the tails; within 1e-7 of the true one.
[[nodiscard]] double normal_quantile(double u);
/// The same of many draws as draw_uniform makes them; `out` may be `u`.
void normal_quantiles(std::span<const double> u, std::span<double> out);

/// Uniform draws in (0, 1), as input after input of `samples` values each: the middles of 2^32
/// equal steps. Counter-based (Philox 4x64, Salmon et al. 2011): a function of seed, number of the
/// sample and number of the input alone.
void draw_uniform(std::uint64_t seed, std::uint64_t first_sample, std::size_t inputs,
                  std::size_t samples, std::span<double> out);
/// The same turned into standard normal draws: normal_quantile of each. The farthest is 6.3.
void draw_normal(std::uint64_t seed, std::uint64_t first_sample, std::size_t inputs,
                 std::size_t samples, std::span<double> out);

/// One block's draws, input after input, and where its outputs are to be written, output after
/// output: value i of input k is draws[k * samples + i].
struct SampleBlock {
  std::uint64_t first_sample = 0;  ///< the number of the block's first sample among all
  std::size_t samples = 0;
  std::span<const double> draws;  ///< inputs x samples
  std::span<double> out;          ///< outputs x samples
};
/// Called from several threads at once.
using BlockFunction = std::function<void(const SampleBlock&)>;

struct DrawPlan {
  std::uint64_t seed = 1;
  std::size_t inputs = 0;
  std::size_t outputs = 0;
  std::int64_t samples = 0;
  int threads = 0;  ///< 0: as many as the machine has
  enum class Distribution : std::uint8_t { normal, uniform };
  Distribution distribution = Distribution::normal;  ///< standard normal, or uniform in (0, 1)
  std::uint64_t first_sample = 0;                    ///< to go on where an earlier plan stopped
};
/// All samples' outputs, output after output. What `evaluate` throws comes out, from the first
/// block that threw.
[[nodiscard]] std::vector<double> draw_samples(const DrawPlan& plan, const BlockFunction& evaluate);

/// The least number of draws, and the most that the rule below asks for.
inline constexpr std::int64_t least_samples = 10'000;
inline constexpr double chance_tolerance = 0.005;
/// How sure a chance may be called at most.
inline constexpr double surest_chance = 0.999;

/// A chance by counting. Where no draw failed, `more_than` is min(1 - 3/M, 0.999): with 3 in M
/// failing, 95 of 100 such runs would have seen one.
[[nodiscard]] ChanceOf chance_by_count(std::int64_t kept, std::int64_t samples);
/// Whether so many draws settle a chance: twice its standard error within `chance_tolerance`, and
/// `least_samples` drawn.
[[nodiscard]] bool settled(const ChanceOf& chance);

/// An interval that holds a share of the samples, with the standard error of its ends.
struct Coverage {
  double low = 0;
  double high = 0;
  double low_error = 0;
  double high_error = 0;
};
/// The probabilistically symmetric one (JCGM 101, 7.7.2), its errors from the order statistics.
[[nodiscard]] Coverage symmetric_coverage(std::vector<double> samples, double share = 0.95);
/// The shortest one (JCGM 101, 7.7.4). Where the density is level about its ends these wander far
/// more than its length; their errors come from parts of the samples drawn by lot, and are too
/// large rather than too small where the density breaks off.
[[nodiscard]] Coverage shortest_coverage(std::vector<double> samples, double share = 0.95);

}  // namespace stackfit
