// SPDX-License-Identifier: GPL-3.0-or-later
//
// A press test against SciPy's curve_fit: fixtures/published/press_test.csv, written by
// tests/reference/press_test.py.
#include "solver/press_test.hpp"

#include <array>
#include <cmath>
#include <map>
#include <string>

#include "tests/catch.hpp"
#include "tests/published/csv.hpp"

using namespace stackfit;

namespace {

struct Reference {
  PressTest test;
  std::map<std::string, double> parameter;
  std::map<std::string, double> covariance;  ///< "ln_a_mpa ln_b"
};

Reference read_reference() {
  Reference out;
  for (const published::Row& row : published::read_table("press_test.csv")) {
    const std::string& quantity = published::text(row, "quantity");
    const std::string& first = published::text(row, "first");
    const double value = published::number(row, "value");
    if (quantity == "nominal") out.test.nominal_mm = value;
    if (quantity == "error") out.test.reading_error_mm = value;
    if (quantity == "reading") {
      out.test.loading.push_back({published::number(row, "first"), value});
    }
    if (quantity == "parameter") out.parameter[first] = value;
    if (quantity == "covariance") {
      out.covariance[first + " " + published::text(row, "second")] = value;
    }
  }
  return out;
}

}  // namespace

TEST_CASE("press test: parameters and covariance as SciPy's curve_fit has them") {
  // SciPy's covariance comes from a forward-difference Jacobian.
  constexpr double parameters_within = 1e-6;
  constexpr double covariance_within = 1e-4;
  const Reference reference = read_reference();
  REQUIRE(reference.test.loading.size() == 8);
  REQUIRE(reference.covariance.size() == 6);
  const PressFit fit(reference.test, Assumptions());
  CHECK(fit.end() == PressFitEnd::converged);
  CHECK(fit.error_source() == ErrorSource::said);
  const std::array<std::string, 3> names{"free_mm", "ln_a_mpa", "ln_b"};
  const std::array<double, 3> values{fit.law().free_mm, std::log(fit.law().a_mpa),
                                     std::log(fit.law().b)};
  for (int i = 0; i < 3; ++i) {
    const auto& row = names.at(static_cast<std::size_t>(i));
    INFO(row);
    CHECK(values.at(static_cast<std::size_t>(i)) ==
          Catch::Approx(reference.parameter.at(row)).epsilon(parameters_within));
    for (int j = i; j < 3; ++j) {
      const auto& column = names.at(static_cast<std::size_t>(j));
      INFO(column);
      CHECK(fit.covariance()(i, j) ==
            Catch::Approx(reference.covariance.at(row + " " + column)).epsilon(covariance_within));
    }
  }
}
