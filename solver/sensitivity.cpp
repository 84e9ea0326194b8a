// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/sensitivity.hpp"

#include <algorithm>
#include <boost/random/sobol.hpp>
#include <cstdint>
#include <stdexcept>

#include "solver/monte_carlo.hpp"

namespace stackfit {

namespace {

constexpr double coordinate_step = 0x1p-32;
/// Of the shift of the Sobol points only: the same points every time.
constexpr std::uint64_t shift_seed = 2010;

/// `points` points in (0, 1)^dimensions, dimension after dimension: the Sobol sequence from its
/// first point, the origin, on, which keeps its balance; each coordinate's bits flipped by a
/// random word of the dimension, which keeps the balance too and leaves no point at the edge.
std::vector<double> shifted_sobol(std::size_t dimensions, std::size_t points) {
  std::vector<double> draws(dimensions);
  draw_uniform(shift_seed, 0, dimensions, 1, draws);
  std::vector<double> out(dimensions * points);
  boost::random::sobol sequence(dimensions);
  for (std::size_t i = 0; i < points; ++i) {
    for (std::size_t k = 0; k < dimensions; ++k) {
      const auto shift = static_cast<std::uint64_t>(draws[k] / coordinate_step);
      // Boost leaves the origin out.
      const std::uint64_t bits = (i == 0 ? 0 : sequence() >> 32U) ^ shift;
      out[k * points + i] = (static_cast<double>(bits) + 0.5) * coordinate_step;
    }
  }
  return out;
}

double mean_of(std::span<const double> values) {
  double sum = 0;
  for (const double value : values) {
    sum += value;
  }
  return sum / static_cast<double>(values.size());
}

/// One output at the base points A and B, with what both say of its mean and variance.
struct BaseOutputs {
  std::span<const double> a;
  std::span<const double> b;
  double mean = 0;
  double variance = 0;

  BaseOutputs(std::span<const double> at_a, std::span<const double> at_b) : a(at_a), b(at_b) {
    mean = (mean_of(a) + mean_of(b)) / 2;
    double squares = 0;
    for (std::size_t j = 0; j < a.size(); ++j) {
      squares += (a[j] - mean) * (a[j] - mean) + (b[j] - mean) * (b[j] - mean);
    }
    variance = squares / static_cast<double>(2 * a.size());
  }

  /// Whether it varies by more than rounding.
  [[nodiscard]] bool varies() const {
    constexpr double rounding = 1e-13;
    return variance > rounding * rounding * mean * mean;
  }
};

/// `mixed`: the output at A with one input's column from B.
SensitivityIndices indices_of(const BaseOutputs& base, std::span<const double> mixed) {
  if (!base.varies()) {
    return {};
  }
  double first_order = 0;
  double total = 0;
  for (std::size_t j = 0; j < mixed.size(); ++j) {
    const double change = mixed[j] - base.a[j];
    // The mean taken off changes nothing on average, and takes most of the scatter.
    first_order += (base.b[j] - base.mean) * change;
    total += change * change / 2;
  }
  const double scale = 1 / (base.variance * static_cast<double>(mixed.size()));
  return {first_order * scale, total * scale};
}

}  // namespace

std::vector<std::vector<SensitivityIndices>> sensitivity(const SensitivityQuestion& question,
                                                         const PointFunction& function) {
  const auto [inputs, outputs, points] = question;
  if (points == 0) {
    throw std::invalid_argument("sensitivity: base samples are needed");
  }
  const std::vector<double> u = shifted_sobol(2 * inputs, points);
  const std::span<const double> u_a = std::span(u).first(inputs * points);
  const std::span<const double> u_b = std::span(u).last(inputs * points);
  std::vector<double> out_a(outputs * points);
  std::vector<double> out_b(outputs * points);
  function(u_a, points, out_a);
  function(u_b, points, out_b);

  const auto column = [&](std::span<const double> all, std::size_t k) {
    return all.subspan(k * points, points);
  };
  std::vector<BaseOutputs> bases;
  for (std::size_t k = 0; k < outputs; ++k) {
    bases.emplace_back(column(out_a, k), column(out_b, k));
  }
  std::vector<std::vector<SensitivityIndices>> result(outputs,
                                                      std::vector<SensitivityIndices>(inputs));
  std::vector<double> u_mixed(u_a.begin(), u_a.end());
  std::vector<double> out_mixed(outputs * points);
  for (std::size_t input = 0; input < inputs; ++input) {
    const auto place = u_mixed.begin() + static_cast<std::ptrdiff_t>(input * points);
    std::ranges::copy(column(u_b, input), place);
    function(u_mixed, points, out_mixed);
    for (std::size_t k = 0; k < outputs; ++k) {
      result[k][input] = indices_of(bases[k], column(out_mixed, k));
    }
    std::ranges::copy(column(u_a, input), place);
  }
  return result;
}

}  // namespace stackfit
