// SPDX-License-Identifier: GPL-3.0-or-later
//
// One suite of identities over every law:
//   1. zero at zero   2. strain_at and pressure_at are inverse   3. strictly rising
//   4. the slope is the derivative   5. pressure is the energy's derivative   6. energy convex
#include <cmath>
#include <map>
#include <stdexcept>
#include <string>

#include "solver/law.hpp"
#include "solver/pad_laws.hpp"
#include "solver/rim_law.hpp"
#include "tests/catch.hpp"

using namespace stackfit;

namespace {

std::map<std::string, LawPtr> every_law() {
  const auto foam = std::make_shared<TableLaw>(
      std::vector<double>{0, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7},
      std::vector<double>{0, 0.02, 0.035, 0.055, 0.08, 0.12, 0.2, 0.4, 1.0});
  return {{"hard sheet", std::make_shared<LinearLaw>(10000.0, 100.0)},
          {"cell", std::make_shared<ExponentialLaw>(ExponentialLaw::Constants{0.06, 180, 1})},
          {"rim that buckles", std::make_shared<RimLaw>(RimLaw::Constants{24000, 1.0})},
          {"rim of a large can", std::make_shared<RimLaw>(RimLaw::Constants{23600, 2.1})},
          {"foam", foam},
          {"generic foam", generic_foam(0.05)},
          {"settled foam", std::make_shared<RelaxedLaw>(foam, 0.6)},
          {"foam that starts flat",
           std::make_shared<TableLaw>(std::vector<double>{0, 0.1, 0.2, 0.3},
                                      std::vector<double>{0, 0.004, 0.03, 0.2})},
          {"two points",
           std::make_shared<TableLaw>(std::vector<double>{0, 0.5}, std::vector<double>{0, 0.2})},
          {"three points", std::make_shared<TableLaw>(std::vector<double>{0, 0.2, 0.5},
                                                      std::vector<double>{0, 0.1, 0.9})}};
}

}  // namespace

TEST_CASE("every law keeps the identities of a law") {
  for (const auto& [name, law] : every_law()) {
    INFO(name);
    CHECK(law->strain_at(0).value == 0);
    CHECK(law->pressure_at(0) == 0);
    CHECK(law->energy_at(0) == 0);
    const double top = 2 * std::min(1.5, law->known_up_to_mpa());
    double last_strain = 0;
    double last_slope = 0;
    for (int i = 1; i <= 200; ++i) {
      const double p = top * i / 200;
      const SqueezeLaw::Strain strain = law->strain_at(p);
      INFO("pressure " << p);
      CHECK(strain.value > last_strain);
      CHECK(law->pressure_at(strain.value) == Catch::Approx(p).epsilon(1e-11));
      const double h = 1e-6 * p;
      const double slope = (law->strain_at(p + h).value - law->strain_at(p - h).value) / (2 * h);
      CHECK(strain.per_mpa == Catch::Approx(slope).epsilon(2e-4));
      const double s = strain.value;
      const double k = 1e-5 * s;
      const double work = (law->energy_at(s + k) - law->energy_at(s - k)) / (2 * k);
      CHECK(work == Catch::Approx(p).epsilon(1e-4));
      CHECK(work >= last_slope);  // energy's slope rises: convex
      last_slope = work;
      last_strain = strain.value;
    }
  }
}

TEST_CASE("a cell goes on along its tangent beyond 1 MPa") {
  const ExponentialLaw cell({0.06, 180, 1});
  const auto at = cell.strain_at(1);
  const auto beyond = cell.strain_at(1.5);
  CHECK(beyond.value == Catch::Approx(at.value + 0.5 * at.per_mpa).epsilon(1e-12));
  // The default law's tangents by its own formula B (A + p): 10.8 MPa unloaded, 28.8 at 0.1 MPa.
  CHECK(1 / cell.strain_at(0).per_mpa == Catch::Approx(10.8).epsilon(1e-12));
  CHECK(1 / cell.strain_at(0.1).per_mpa == Catch::Approx(28.8).epsilon(1e-12));
}

TEST_CASE("a table's ends have the slopes of SciPy's PCHIP") {
  // By the three-point formula: slope 0.45 at the start, 8 at the end and on along the tangent.
  const TableLaw foam({0, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7},
                      {0, 0.02, 0.035, 0.055, 0.08, 0.12, 0.2, 0.4, 1.0});
  CHECK(1 / foam.strain_at(0).per_mpa == Catch::Approx(0.45).epsilon(1e-12));
  CHECK(foam.pressure_at(0.8) == Catch::Approx(1.0 + 8 * 0.1).epsilon(1e-12));
}

TEST_CASE("tables that do not rise from zero are refused") {
  using List = std::vector<double>;
  CHECK_THROWS_AS(TableLaw(List{0, 0.2, 0.1}, List{0, 1, 2}), std::invalid_argument);
  CHECK_THROWS_AS(TableLaw(List{0, 0.1, 0.2}, List{0, 1, 1}), std::invalid_argument);
  CHECK_THROWS_AS(TableLaw(List{0.1, 0.2}, List{0, 1}), std::invalid_argument);
  CHECK_THROWS_AS(TableLaw(List{0, 0.1}, List{0, 1, 2}), std::invalid_argument);
}
