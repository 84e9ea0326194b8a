// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/leave_out.hpp"

#include <vector>

#include "tests/catch.hpp"

using namespace stackfit;
using Catch::Approx;

namespace {

std::optional<LeftOut> left_out(const std::vector<bool>& leave, const PackAsked& asked) {
  Findings findings;
  return leave_out(leave, asked, {}, findings);
}

std::vector<bool> leave_of(std::size_t cells, std::initializer_list<std::size_t> gone) {
  std::vector<bool> leave(cells, false);
  for (const std::size_t i : gone) leave[i] = true;
  return leave;
}

}  // namespace

TEST_CASE("leaving out: six of eight on an eight-cell charger get 4.87 V each") {
  const auto out = left_out(leave_of(8, {1, 6}), {8, {}, Chemistry::lfp_graphite, {}});
  REQUIRE(out);
  CHECK(out->after.series == 6);
  CHECK(out->before.nominal_v == Approx(25.6));
  CHECK(out->after.nominal_v == Approx(19.2));
  CHECK(out->after.charge_v == Approx(21.9));
  CHECK(out->charger_v == Approx(29.2));
  CHECK_FALSE(out->charger_said);
  CHECK(out->charger_per_cell_v == Approx(29.2 / 6).epsilon(1e-12));
  CHECK(out->charger_per_cell_v == Approx(4.87).margin(0.005));
  CHECK(out->charger_too_high);
}

TEST_CASE("leaving out: the charger as said, and the chemistry's own voltages") {
  const auto said = left_out(leave_of(8, {0}), {8, 1, Chemistry::lfp_graphite, 28.4});
  REQUIRE(said);
  CHECK(said->charger_said);
  CHECK(said->charger_per_cell_v == Approx(28.4 / 7));
  // 25.6 V over seven cells is 3.66 V: within a charger's setting.
  const auto low = left_out(leave_of(8, {0}), {8, 1, Chemistry::lfp_graphite, 25.6});
  REQUIRE(low);
  CHECK_FALSE(low->charger_too_high);
  const auto nmc = left_out(leave_of(4, {0}), {4, 1, Chemistry::nmc_graphite, {}});
  REQUIRE(nmc);
  CHECK(nmc->after.nominal_v == Approx(10.8));
  CHECK(nmc->after.charge_v == Approx(12.6));
  CHECK(nmc->charger_per_cell_v == Approx(5.6));
}

TEST_CASE("leaving out: not said how it is wired, no voltage is known") {
  const auto out = left_out(leave_of(8, {1}), {});
  REQUIRE(out);
  CHECK_FALSE(out->series_said);
  CHECK(out->left == 7);
  CHECK(out->after.series == 0);
  CHECK(out->after.nominal_v == 0);
  CHECK_FALSE(left_out(leave_of(8, {}), {8, 1, Chemistry::lfp_graphite, {}}));
}

TEST_CASE("leaving out: a short parallel group limits the whole string") {
  // Four groups of three: the second keeps one, the fourth keeps two.
  const auto out = left_out(leave_of(12, {3, 4, 11}), {4, 3, Chemistry::lfp_graphite, {}});
  REQUIRE(out);
  CHECK(out->parallel == 3);
  CHECK(out->after.series == 4);
  REQUIRE(out->short_groups.size() == 2);
  CHECK(out->short_groups[0].group == 2);
  CHECK(out->short_groups[0].left == 1);
  CHECK(out->short_groups[1].group == 4);
  CHECK(out->short_groups[1].left == 2);
  CHECK(out->capacity_left == Approx(1.0 / 3));
  CHECK(out->current_up == Approx(3));
  CHECK_FALSE(out->charger_too_high);
}

TEST_CASE("leaving out: a group that loses all its cells drops out of the string") {
  const auto out = left_out(leave_of(8, {2, 3}), {4, 2, Chemistry::lfp_graphite, {}});
  REQUIRE(out);
  CHECK(out->after.series == 3);
  CHECK(out->short_groups.empty());
  CHECK(out->capacity_left == 1);
  CHECK(out->charger_per_cell_v == Approx(4 * 3.65 / 3));
  CHECK(out->charger_too_high);
  const auto none = left_out(leave_of(2, {0, 1}), {2, 1, Chemistry::lfp_graphite, {}});
  REQUIRE(none);
  CHECK(none->after.series == 0);
  CHECK_FALSE(none->charger_too_high);
}

TEST_CASE("leaving out: parallel alone gives the groups by the number of cells") {
  const auto out = left_out(leave_of(8, {0}), {{}, 2, Chemistry::lfp_graphite, {}});
  REQUIRE(out);
  CHECK(out->before.series == 4);
  CHECK(out->short_groups.size() == 1);
}
