// SPDX-License-Identifier: GPL-3.0-or-later
//
// Thickness change with charge, against the layer table computed apart from this program from
// the published graphite knots (Mohtat et al. 2020) and the open LFP layer recipe.
#include "solver/swing.hpp"
#include "tests/catch.hpp"
#include "tests/published/csv.hpp"

using namespace stackfit;

TEST_CASE("the LFP layer law meets its table to 0.002 percentage points") {
  const SwingCurve layer = layer_swing(Chemistry::lfp_graphite);
  const auto rows = published::read_table("swelling_layer.csv");
  REQUIRE(rows.size() == 11);
  for (const auto& row : rows) {
    const double charge = published::number(row, "charge");
    INFO("charge " << charge);
    CHECK(std::abs(100 * layer.at(charge) - published::number(row, "percent")) <= 0.002);
  }
}

TEST_CASE("the LFP layer law has its local peak of 0.483 % at charge 0.2904") {
  const SwingCurve layer = layer_swing(Chemistry::lfp_graphite);
  const auto extremes = layer.extremes({0.1, 0.6});
  CHECK(std::abs(extremes.charge_highest - 0.2904) <= 1e-4);
  CHECK(std::abs(100 * layer.at(extremes.charge_highest) - 0.483) <= 5e-4);
}

TEST_CASE("a stretched swing has the net and the hump asked for") {
  for (const double net : {0.003, 0.006, 0.010}) {
    for (const double hump : {0.001, 0.003, 0.005}) {
      const SwingCurve curve = stretched_swing(Chemistry::lfp_graphite, net, hump);
      const double peak = curve.at(curve.extremes({0.1, 0.5}).charge_highest);
      const double dip = curve.at(curve.extremes({0.3, 0.9}).charge_lowest);
      INFO("net " << net << " hump " << hump);
      CHECK(std::abs(curve.at(1) - net) < 1e-15);
      CHECK(std::abs(peak - dip - hump) < 1e-15);
    }
  }
}

TEST_CASE("an NMC cell only grows with charge") {
  const SwingCurve curve = layer_swing(Chemistry::nmc_graphite);
  const auto knots = curve.knots({0, 1});
  for (std::size_t i = 1; i < knots.size(); ++i) {
    CHECK(curve.at(knots[i]) > curve.at(knots[i - 1]));
  }
}
