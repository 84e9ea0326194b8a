// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/vector_math.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "tests/catch.hpp"

namespace {

using namespace stackfit;

constexpr double ulps = 3;

/// In units of the last place of what is true.
double off_by(double found, long double is) {
  const double near = static_cast<double>(is);
  const double ulp =
      std::nextafter(std::abs(near), std::numeric_limits<double>::infinity()) - std::abs(near);
  return static_cast<double>(std::abs(static_cast<long double>(found) - is)) / ulp;
}

TEST_CASE("exponentials of many figures are the library's") {
  std::vector<double> x;
  for (int i = -7000; i <= 7000; ++i) {
    x.push_back(0.1 * i);                      // the whole span
    x.push_back(1e-4 * i);                     // about nothing
    x.push_back(0.5 * std::log(2.0) * i / 7);  // where the power of two changes
  }
  std::vector<double> found(x.size());
  exp_all(x, found);
  double worst = 0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    worst = std::max(worst, off_by(found[i], std::exp(static_cast<long double>(x[i]))));
  }
  CHECK(worst < ulps);
  exp_all(x, x);
  CHECK(x == found);
}

TEST_CASE("logarithms of many figures are the library's") {
  std::vector<double> x{1, std::nextafter(1.0, 2.0), std::nextafter(1.0, 0.0),
                        std::numeric_limits<double>::min(), std::numeric_limits<double>::max()};
  for (int i = -300; i <= 300; ++i) {
    x.push_back(std::pow(10.0, i));
    x.push_back(std::exp(1e-3 * i));
    x.push_back(std::sqrt(0.5) * (1 + 1e-6 * i));  // where the power of two changes
  }
  std::vector<double> found(x.size());
  ln_all(x, found);
  double worst = 0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    const long double is = std::log(static_cast<long double>(x[i]));
    worst = std::max(worst, is == 0 ? std::abs(found[i]) : off_by(found[i], is));
  }
  CHECK(worst < ulps);
}

TEST_CASE("as many results as figures are asked for") {
  const std::vector<double> x(3, 1.0);
  std::vector<double> found(2);
  CHECK_THROWS_AS(exp_all(x, found), std::invalid_argument);
  CHECK_THROWS_AS(ln_all(x, found), std::invalid_argument);
}

TEST_CASE("a figure alone comes to what it comes to among many, to the last bit") {
  // Among many, vector instructions of this machine's width do it; alone, none do.
  std::vector<double> x;
  for (int i = -500; i < 500; ++i) {
    x.push_back(1.37 * i + 0.1);
  }
  std::vector<double> found(x.size());
  std::vector<double> one(1);
  int different = 0;
  exp_all(x, found);
  for (std::size_t i = 0; i < x.size(); ++i) {
    exp_all({&x[i], 1}, one);
    different += one[0] == found[i] ? 0 : 1;
    x[i] = found[i];
  }
  ln_all(x, found);
  for (std::size_t i = 0; i < x.size(); ++i) {
    ln_all({&x[i], 1}, one);
    different += one[0] == found[i] ? 0 : 1;
  }
  CHECK(different == 0);
}

}  // namespace
