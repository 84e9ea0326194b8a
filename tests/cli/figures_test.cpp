// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/figures.hpp"

#include "tests/catch.hpp"

using namespace stackfit;
using namespace stackfit::cli;

TEST_CASE("pressures are whole above ten and carry one decimal below") {
  const Figures figures;
  CHECK(figures.pressure(0.0814) == "81 kPa");
  CHECK(figures.pressure(0.00996) == "10 kPa");
  CHECK(figures.pressure(0.0099) == "9.9 kPa");
  CHECK(figures.pressure(-1e-9) == "0.0 kPa");
  CHECK(figures.pressure(0) == "0 kPa");
  CHECK(figures.companion_number(0.0814) == "11.8");
}

TEST_CASE("forces, lengths and sheets keep the digits they earn") {
  const Figures figures;
  CHECK(figures.force(1383) == "141 kgf");
  CHECK(figures.force(50) == "5.1 kgf");
  CHECK(figures.length(3.63) == "3.6 mm");
  CHECK(figures.length(0.42) == "0.42 mm");
  CHECK(figures.thickness(0.8) == "0.80 mm");
}

TEST_CASE("in the units asked for") {
  const Figures figures(read_unit_choice("in,psi,lbf,F").choice);
  CHECK(figures.pressure(0.0814) == "11.8 psi");
  CHECK(figures.companion_unit() == "kPa");
  CHECK(figures.force(1000) == "225 lbf");
  CHECK(figures.thickness(0.8) == "0.0315 in");
  CHECK(figures.temperature(5) == "41 F");
}

TEST_CASE("charges carry a decimal only where they have one") {
  CHECK(percent(0.38) == "38 %");
  CHECK(percent(0.375) == "37.5 %");
  CHECK(percent(Span{0.1, 0.9}) == "10-90 %");
  CHECK(charge_text(0.607) == "61 %");
}

TEST_CASE("a life is a span, and no figure is foretold for a worn-out cell") {
  CHECK(life_text({0.013, 0.026}) == "1.3-2.6 %");
  CHECK(life_text({0.043, 0.598}) == "4.3-20+ %");
  CHECK(life_text({0.3, 0.6}) == "20+ %");
}
