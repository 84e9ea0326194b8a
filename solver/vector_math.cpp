// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/vector_math.hpp"

#include <bit>
#include <cstddef>
#include <cstdint>
#include <stdexcept>

#include "solver/vector_loops.hpp"

namespace stackfit {
namespace {

constexpr int mantissa_bits = 52;
constexpr std::uint64_t bits_of_one = std::bit_cast<std::uint64_t>(1.0);
// ln 2 in two parts: whole multiples of the first, up to 2^11, are exact.
constexpr double ln2_high = 0x1.62e42feep-1;
constexpr double ln2_low = 0x1.a39ef35793c76p-33;

/// 1 / n! from n = 2 on: |r| is at most half of ln 2.
constexpr double exp_of(double x) {
  constexpr double per_ln2 = 0x1.71547652b82fep+0;
  // Added, it leaves the nearest whole number in the last bits.
  constexpr double to_whole = 0x1.8p52;
  const double with_whole = x * per_ln2 + to_whole;
  const double whole = with_whole - to_whole;
  const double r = (x - whole * ln2_high) - whole * ln2_low;
  const double r2 = r * r;
  const double r4 = r2 * r2;
  const double low = (0.5 + r * (1.0 / 6)) + r2 * (1.0 / 24 + r * (1.0 / 120));
  const double middle = (1.0 / 720 + r * (1.0 / 5040)) + r2 * (1.0 / 40320 + r * (1.0 / 362880));
  const double high = (1.0 / 3628800 + r * (1.0 / 39916800)) + r2 * (1.0 / 479001600);
  const double grown = 1 + (r + r2 * (low + r4 * (middle + r4 * high)));
  const std::uint64_t power = (std::bit_cast<std::uint64_t>(with_whole) << mantissa_bits);
  return grown * std::bit_cast<double>(power + bits_of_one);
}

/// x = 2^k m with m from sqrt(1/2) to sqrt(2); ln m = 2 artanh s by its series.
constexpr double ln_of(double x) {
  constexpr std::uint64_t bits_of_root_half = std::bit_cast<std::uint64_t>(0x1.6a09e667f3bcdp-1);
  constexpr std::uint64_t mantissa = (std::uint64_t{1} << mantissa_bits) - 1;
  constexpr double two_52 = 0x1p52;
  constexpr std::uint64_t bits_of_two_52 = std::bit_cast<std::uint64_t>(two_52);
  constexpr double bias = 1023;
  const std::uint64_t bits = std::bit_cast<std::uint64_t>(x);
  const std::uint64_t raised = bits + (bits_of_one - bits_of_root_half);
  const std::uint64_t biased = raised >> mantissa_bits;
  const double k = std::bit_cast<double>(biased | bits_of_two_52) - (two_52 + bias);
  const double m = std::bit_cast<double>((raised & mantissa) + bits_of_root_half);
  const double f = m - 1;
  const double s = f / (2 + f);
  const double z = s * s;
  const double z2 = z * z;
  const double z4 = z2 * z2;
  const double low = (1.0 / 3 + z * (1.0 / 5)) + z2 * (1.0 / 7 + z * (1.0 / 9));
  const double middle = (1.0 / 11 + z * (1.0 / 13)) + z2 * (1.0 / 15 + z * (1.0 / 17));
  const double high = 1.0 / 19 + z * (1.0 / 21);
  const double series = z * (low + z4 * (middle + z4 * high));
  return k * ln2_high + (2 * s + (2 * s * series + k * ln2_low));
}

void require_room(std::span<const double> x, std::span<double> out) {
  if (out.size() != x.size()) {
    throw std::invalid_argument("as many results as figures are needed");
  }
}

}  // namespace

STACKFIT_VECTOR_LOOPS void exp_all(std::span<const double> x, std::span<double> out) {
  require_room(x, out);
  const std::size_t count = x.size();
  const double* from = x.data();
  double* to = out.data();
  for (std::size_t i = 0; i < count; ++i) {
    to[i] = exp_of(from[i]);
  }
}

STACKFIT_VECTOR_LOOPS void ln_all(std::span<const double> x, std::span<double> out) {
  require_room(x, out);
  const std::size_t count = x.size();
  const double* from = x.data();
  double* to = out.data();
  for (std::size_t i = 0; i < count; ++i) {
    to[i] = ln_of(from[i]);
  }
}

}  // namespace stackfit
