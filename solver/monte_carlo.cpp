// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/monte_carlo.hpp"

#include <Random123/philox.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <bit>
#include <boost/math/special_functions/erf.hpp>
#include <cmath>
#include <exception>
#include <limits>
#include <mutex>
#include <numbers>
#include <stdexcept>
#include <thread>

#include "solver/vector_loops.hpp"

namespace stackfit {

namespace {

// One Philox 4x64 block is cut into eight uniforms: eight samples of one input, so that nothing
// is thrown away however many inputs there are. It is measured faster than Philox 4x32 as four.
constexpr std::size_t draws_per_cut = 8;
constexpr double uniform_step = 0x1p-32;

/// Cut number `cut` holds samples 8 cut to 8 cut + 7.
void draw_cut(std::uint64_t seed, std::uint64_t cut, std::uint64_t input, double* out) {
  const philox4x64_key_t key{{seed, 0}};
  const philox4x64_ctr_t counter{{cut, input, 0, 0}};
  const philox4x64_ctr_t words = philox4x64_R(philox4x64_rounds, counter, key);
  const auto middle = [](std::uint64_t step) {
    // By way of the signed type: x86 converts only that in one instruction.
    return (static_cast<double>(static_cast<std::int64_t>(step)) + 0.5) * uniform_step;
  };
  for (std::size_t word = 0; word < draws_per_cut / 2; ++word) {
    out[2 * word] = middle(words.v[word] & 0xffff'ffffU);
    out[2 * word + 1] = middle(words.v[word] >> 32U);
  }
}

void draw_input(std::uint64_t seed, std::uint64_t first_sample, std::uint64_t input,
                std::span<double> out) {
  std::array<double, draws_per_cut> part{};
  for (std::size_t done = 0; done < out.size();) {
    const std::uint64_t sample = first_sample + done;
    const std::size_t skipped = sample % draws_per_cut;
    const std::size_t taken = std::min(draws_per_cut - skipped, out.size() - done);
    if (taken == draws_per_cut) {
      draw_cut(seed, sample / draws_per_cut, input, &out[done]);
    } else {
      draw_cut(seed, sample / draws_per_cut, input, part.data());
      std::copy_n(part.begin() + static_cast<std::ptrdiff_t>(skipped), taken,
                  out.begin() + static_cast<std::ptrdiff_t>(done));
    }
    done += taken;
  }
}

/// The lower half of the quantile, from the least uniform draw to 1/2. Knots stand 16 to the
/// octave, as what the quantile does over a step depends on the step relative to u, near enough;
/// the leading bits of u say between which it lies. 16 KB, so that it stays near.
class QuantileTable {
 public:
  static constexpr double least = uniform_step / 2;

  QuantileTable() {
    for (std::size_t i = 0; i < piece_count; ++i) {
      const Cubic piece = between(knot(i), knot(i + 1));
      c0_[i] = piece.c0;
      c1_[i] = piece.c1;
      c2_[i] = piece.c2;
      c3_[i] = piece.c3;
    }
  }

  /// For u from `least` to 1 - `least`.
  [[nodiscard]] double at(double u) const {
    const double from_end = u < 1 - u ? u : 1 - u;
    const auto bits = std::bit_cast<std::uint64_t>(from_end);
    const std::uint64_t i = (bits >> piece_bits) - first_piece;
    const double d = from_end - std::bit_cast<double>(bits & ~((1ULL << piece_bits) - 1));
    return std::copysign(c0_[i] + d * (c1_[i] + d * (c2_[i] + d * c3_[i])), u - 0.5);
  }

  /// -sqrt(2) erfc^-1(2 u), for u to 1/2.
  [[nodiscard]] static double exact(double u) {
    return -std::numbers::sqrt2 * boost::math::erfc_inv(2 * u);
  }

 private:
  struct Cubic {
    double c0 = 0, c1 = 0, c2 = 0, c3 = 0;
  };
  static constexpr unsigned knot_bits = 4;
  static constexpr unsigned piece_bits = 52 - knot_bits;
  static constexpr std::uint64_t first_piece = std::bit_cast<std::uint64_t>(least) >> piece_bits;
  /// The last one begins at 1/2.
  static constexpr std::uint64_t piece_count =
      (std::bit_cast<std::uint64_t>(0.5) >> piece_bits) - first_piece + 1;

  static double knot(std::size_t i) {
    return std::bit_cast<double>((first_piece + i) << piece_bits);
  }

  /// Values and slopes at both ends are the quantile's own; it bends little enough within a step
  /// that the cubic rises throughout.
  static Cubic between(double u0, double u1) {
    if (u1 > 0.5) {
      return {};  // the quantile at 1/2 itself is zero
    }
    const auto slope = [](double z) {
      return std::sqrt(2 * std::numbers::pi) * std::exp(z * z / 2);
    };
    const double step = u1 - u0;
    const double z0 = exact(u0);
    const double z1 = exact(u1);
    const double secant = (z1 - z0) / step;
    return {z0, slope(z0), (3 * secant - 2 * slope(z0) - slope(z1)) / step,
            (slope(z0) + slope(z1) - 2 * secant) / (step * step)};
  }

  // Apart, so that vector instructions can pick several pieces' at once.
  std::array<double, piece_count> c0_{};
  std::array<double, piece_count> c1_{};
  std::array<double, piece_count> c2_{};
  std::array<double, piece_count> c3_{};
};

const QuantileTable& quantile_table() {
  static const QuantileTable table;
  return table;
}

void check_room(std::size_t inputs, std::size_t samples, std::span<double> out) {
  if (out.size() != inputs * samples) {
    throw std::invalid_argument("draws: room for inputs x samples is needed");
  }
}

/// Draws, evaluates and stores blocks until none is left.
class BlockWorker {
 public:
  BlockWorker(const DrawPlan& plan, const BlockFunction& evaluate)
      : plan_(plan),
        evaluate_(evaluate),
        samples_(static_cast<std::size_t>(plan.samples)),
        blocks_((samples_ + block_samples - 1) / block_samples),
        all_(plan.outputs * samples_) {}

  std::vector<double> run() {
    {
      std::vector<std::jthread> others;
      for (std::size_t i = 1; i < threads(); ++i) {
        others.emplace_back([this] { work(); });
      }
      work();
    }
    if (thrown_) {
      std::rethrow_exception(thrown_);
    }
    return std::move(all_);
  }

 private:
  [[nodiscard]] std::size_t threads() const {
    const std::size_t wanted = plan_.threads > 0 ? static_cast<std::size_t>(plan_.threads)
                                                 : std::thread::hardware_concurrency();
    return std::clamp<std::size_t>(blocks_, 1, std::max<std::size_t>(wanted, 1));
  }

  void work() {
    std::vector<double> draws;
    std::vector<double> out;
    for (std::size_t block = next_++; block < blocks_; block = next_++) {
      try {
        do_block(block, draws, out);
      } catch (...) {
        // Blocks are begun in order, so every earlier one has begun and will end.
        next_ = blocks_;
        const std::lock_guard lock(thrown_mutex_);
        if (block < thrown_block_) {
          thrown_block_ = block;
          thrown_ = std::current_exception();
        }
      }
    }
  }

  void do_block(std::size_t block, std::vector<double>& draws, std::vector<double>& out) {
    const std::size_t first = block * block_samples;
    const std::size_t samples = std::min(block_samples, samples_ - first);
    draws.resize(plan_.inputs * samples);
    out.resize(plan_.outputs * samples);
    const std::uint64_t first_sample = plan_.first_sample + first;
    if (plan_.distribution == DrawPlan::Distribution::uniform) {
      draw_uniform(plan_.seed, first_sample, plan_.inputs, samples, draws);
    } else {
      draw_normal(plan_.seed, first_sample, plan_.inputs, samples, draws);
    }
    evaluate_({first_sample, samples, draws, out});
    for (std::size_t k = 0; k < plan_.outputs; ++k) {
      std::copy_n(out.begin() + static_cast<std::ptrdiff_t>(k * samples), samples,
                  all_.begin() + static_cast<std::ptrdiff_t>(k * samples_ + first));
    }
  }

  const DrawPlan& plan_;
  const BlockFunction& evaluate_;
  std::size_t samples_;
  std::size_t blocks_;
  std::vector<double> all_;
  std::atomic<std::size_t> next_ = 0;
  std::mutex thrown_mutex_;
  std::size_t thrown_block_ = std::numeric_limits<std::size_t>::max();
  std::exception_ptr thrown_;
};

}  // namespace

double normal_quantile(double u) {
  const double from_end = std::min(u, 1 - u);
  if (from_end < QuantileTable::least) {
    return std::copysign(QuantileTable::exact(from_end), u - 0.5);
  }
  return quantile_table().at(u);
}

void draw_uniform(std::uint64_t seed, std::uint64_t first_sample, std::size_t inputs,
                  std::size_t samples, std::span<double> out) {
  check_room(inputs, samples, out);
  for (std::size_t input = 0; input < inputs; ++input) {
    draw_input(seed, first_sample, input, out.subspan(input * samples, samples));
  }
}

void draw_normal(std::uint64_t seed, std::uint64_t first_sample, std::size_t inputs,
                 std::size_t samples, std::span<double> out) {
  draw_uniform(seed, first_sample, inputs, samples, out);
  normal_quantiles(out, out);
}

STACKFIT_VECTOR_LOOPS void normal_quantiles(std::span<const double> u, std::span<double> out) {
  const QuantileTable& table = quantile_table();
  const std::size_t count = u.size();
  const double* from = u.data();
  // What is written is no part of the table; `out` may be `u` all the same.
  std::array<double, 256> part{};
  for (std::size_t first = 0; first < count; first += part.size()) {
    const std::size_t here = std::min(part.size(), count - first);
    for (std::size_t i = 0; i < here; ++i) {
      part[i] = table.at(from[first + i]);
    }
    std::copy_n(part.begin(), here, out.data() + first);
  }
}

std::vector<double> draw_samples(const DrawPlan& plan, const BlockFunction& evaluate) {
  return BlockWorker(plan, evaluate).run();
}

ChanceOf chance_by_count(std::int64_t kept, std::int64_t samples) {
  ChanceOf result;
  result.samples = samples;
  if (samples <= 0) {
    return result;
  }
  const auto drawn = static_cast<double>(samples);
  result.chance = static_cast<double>(kept) / drawn;
  result.standard_error = std::sqrt(result.chance * (1 - result.chance) / drawn);
  if (kept == samples) {
    result.more_than = std::clamp(1 - 3 / drawn, 0.0, surest_chance);
  }
  return result;
}

bool settled(const ChanceOf& chance) {
  return chance.samples >= least_samples && 2 * chance.standard_error <= chance_tolerance;
}

}  // namespace stackfit
