// SPDX-License-Identifier: GPL-3.0-or-later
//
// Rules for used cells, each just below and just above its limit. The limits are common practice
// (assumptions.cpp), so what is held here is that the rules keep to them.
#include "solver/condition.hpp"

#include <rapidcheck.h>

#include <optional>
#include <string>
#include <vector>

#include "tests/catch.hpp"
#include "tests/solver/used_cells.hpp"

using namespace stackfit;
using namespace stackfit::sample;
using Catch::Approx;

namespace {

const Day today = day(2024, 3, 16);

/// The first cell of six, as changed.
CellCondition first_of(const Build& build, const CellLog& log = {}) {
  return answer_check(build, {today, log, !log.empty(), {}}).cells.front();
}

CellCondition with(const CellReading& cell, const CellLog& log = {}) {
  Build build = used_build();
  build.cells.front() = cell;
  return first_of(build, log);
}

CellCondition with_dome(double dome_mm) {
  CellReading cell = used_cell();
  cell.boards_mm = *cell.edge_mm + dome_mm;
  return with(cell);
}

}  // namespace

TEST_CASE("condition: a sound cell has no rule against it") {
  const CellCondition cell = with(used_cell());
  CHECK(cell.verdict == CellVerdict::no_fault_found);
  CHECK(cell.spoken.empty());
  CHECK(cell.dome_mm == Approx(0.2));
  CHECK(cell.swelling_mm == Approx(0).margin(1e-12));
}

TEST_CASE("condition: swelling is the dome less its slack, watched over 1 %, out over 2.5 %") {
  // 0.25 mm of slack on 50 mm; 0.5 and 1.25 mm of swelling.
  CHECK(with_dome(0.75).verdict == CellVerdict::no_fault_found);
  CHECK(with_dome(0.7501).verdict == CellVerdict::watch);
  CHECK(with_dome(1.50).verdict == CellVerdict::watch);
  const CellCondition aside = with_dome(1.5001);
  CHECK(aside.verdict == CellVerdict::set_aside);
  const RuleSpoken* rule = spoken(aside, CellRule::swelling);
  REQUIRE(rule != nullptr);
  CHECK(rule->figure == Approx(1.2501 / 50));
  CHECK(rule->limit == Approx(0.025));
  // Hollow is not swollen, and slack ends where the dome does.
  CHECK(with_dome(-0.3).swelling == Approx(0).margin(1e-12));
  CHECK(with_dome(0.1).swelling == Approx(0).margin(1e-12));
}

TEST_CASE("condition: any sign sets aside, whatever the figures say") {
  for (const char* sign : {"smell", "dent at the corner", "yes", "None of my business: it leaks"}) {
    CellReading cell = used_cell();
    cell.signs = sign;
    const CellCondition judged = with(cell);
    CHECK(judged.verdict == CellVerdict::set_aside);
    CHECK(judged.shows_sign);
    REQUIRE(spoken(judged, CellRule::sign_seen) != nullptr);
    CHECK(spoken(judged, CellRule::sign_seen)->words == sign);
  }
  for (const char* none : {"none", "None", " none ", "no", "ok"}) {
    CellReading cell = used_cell();
    cell.signs = none;
    CHECK(with(cell).verdict == CellVerdict::no_fault_found);
  }
}

TEST_CASE("condition: a sign in the log is not forgotten") {
  CellLog log = log_of({{day(2023, 3, 1)}});
  log.front().reading.signs = "leak";
  const CellCondition cell = with(used_cell(), log);
  CHECK(cell.verdict == CellVerdict::set_aside);
  CHECK(cell.shows_sign);
  REQUIRE(spoken(cell, CellRule::sign_in_log) != nullptr);
  CHECK(spoken(cell, CellRule::sign_in_log)->since == day(2023, 3, 1));
  // Another cell's leak is not this one's.
  log.front().reading.id = "B";
  CHECK(with(used_cell(), log).verdict == CellVerdict::no_fault_found);
}

TEST_CASE("condition: signs not said never end in no fault found") {
  CHECK(rc::check([](std::uint8_t dome_tenths, bool blank) {
    CellReading cell = used_cell();
    cell.boards_mm = 50 + 0.01 * dome_tenths;
    cell.signs = blank ? std::optional<std::string>(" - ") : std::nullopt;
    const CellCondition judged = with(cell);
    RC_ASSERT(judged.verdict != CellVerdict::no_fault_found);
    RC_ASSERT(spoken(judged, CellRule::signs_not_said) != nullptr);
    // It caps at watch: by itself it does not set aside.
    RC_ASSERT((judged.verdict == CellVerdict::watch) == (dome_tenths <= 150));
  }));
}

TEST_CASE("condition: an edge above nominal and tolerance by over 0.5 % is a deformed can") {
  CellReading cell = used_cell();
  cell.edge_mm = 50.45;  // 0.2 of tolerance, 0.25 of rule
  cell.boards_mm = 50.5;
  CHECK(with(cell).verdict == CellVerdict::no_fault_found);
  cell.edge_mm = 50.4501;
  const CellCondition aside = with(cell);
  CHECK(aside.verdict == CellVerdict::set_aside);
  REQUIRE(spoken(aside, CellRule::edge_above_data_sheet) != nullptr);
  CHECK(spoken(aside, CellRule::edge_above_data_sheet)->figure == Approx(0.2501 / 50));
  // Without a tolerance 0.5 % stands for it.
  Build build = used_build();
  build.cell.thickness.tolerance_mm.reset();
  build.cells.front() = cell;
  CHECK(first_of(build).verdict == CellVerdict::no_fault_found);
  build.cells.front().edge_mm = 50.5001;
  build.cells.front().boards_mm = 50.6;
  CHECK(first_of(build).verdict == CellVerdict::set_aside);
  // At another charge than the data sheet's, the swing (0.6 %) may be in it.
  build = used_build();
  build.cell.thickness.at_charge = Span{0.3, 0.4};
  build.cells.front() = cell;
  build.cells.front().charge = 0.55;
  CHECK(first_of(build).verdict == CellVerdict::set_aside);
  build.cells.front().charge = 0.56;
  CHECK(first_of(build).verdict == CellVerdict::no_fault_found);
}

TEST_CASE("condition: an edge up by over 0.5 % on its own first reading is a deformed can") {
  CellReading cell = used_cell();
  cell.edge_mm = 50.15;
  cell.boards_mm = 50.3;
  // 0.25 mm in four years; the growth in a month is far below its own limit.
  CHECK(with(cell, log_of({{day(2020, 3, 14), 49.90, 50.1}})).verdict ==
        CellVerdict::no_fault_found);
  const CellCondition aside = with(cell, log_of({{day(2020, 3, 14), 49.8999, 50.1}}));
  CHECK(aside.verdict == CellVerdict::set_aside);
  const RuleSpoken* rule = spoken(aside, CellRule::edge_above_own_reading);
  REQUIRE(rule != nullptr);
  CHECK(rule->figure == Approx(0.2501 / 50));
  CHECK(rule->since == day(2020, 3, 14));
  CHECK(spoken(aside, CellRule::growth) == nullptr);
  // Another charge: no comparison.
  CHECK(with(cell, log_of({{day(2020, 3, 14), 49.8999, 50.1, 0.2}})).verdict ==
        CellVerdict::no_fault_found);
}

TEST_CASE("condition: growth over 0.1 % of thickness a month is watched") {
  // 304 days are 9.988 months; 0.1 % of 50 mm a month over them is 0.4994 mm. The boards grow,
  // from a hollow cell that hardly shows it.
  const Day first = today - std::chrono::days(304);
  const double months = 304 / days_per_month;
  CellReading cell = used_cell();
  cell.boards_mm = 50.6;
  const auto log = [&](double gain_mm) { return log_of({{first, 50, 50.6 - gain_mm}}); };
  CHECK(with(cell, log(0.05 * months - 0.0001)).verdict == CellVerdict::no_fault_found);
  const CellCondition watched = with(cell, log(0.05 * months + 0.0001));
  CHECK(watched.verdict == CellVerdict::watch);
  const RuleSpoken* rule = spoken(watched, CellRule::growth);
  REQUIRE(rule != nullptr);
  CHECK(rule->figure == Approx((0.05 * months + 0.0001) / months / 50));
  CHECK(rule->limit == Approx(0.001));
}

TEST_CASE("condition: readings less than four weeks apart tell no growth") {
  CellReading cell = used_cell();
  cell.boards_mm = 50.6;
  const auto at = [&](int days) {
    return with(cell, log_of({{today - std::chrono::days(days), 50, 50.4}}));
  };
  CHECK_FALSE(at(27).growth);
  REQUIRE(at(28).growth);
  CHECK(at(28).verdict == CellVerdict::watch);
}

TEST_CASE("condition: voltage, capacity and resistance against the others, each in its bad way") {
  struct Case {
    CellRule rule;
    std::optional<double> CellReading::*reading;
    double usual;
    double step;
    double bad;
  };
  const std::vector<Case> cases{
      {CellRule::low_voltage, &CellReading::voltage_v, 3.297, 0.001, -1},
      {CellRule::low_capacity, &CellReading::capacity_ah, 210.4, 0.1, -1},
      {CellRule::high_resistance, &CellReading::resistance_mohm, 0.31, 0.01, +1}};
  for (const Case& one : cases) {
    Build build = used_build();
    for (CellReading& cell : build.cells) {
      cell.*one.reading = one.usual;
    }
    const auto moved = [&](double steps) {
      build.cells.front().*one.reading = one.usual + steps * one.step;
      return first_of(build);
    };
    // The others are alike: their step stands for their spread.
    CHECK(moved(3 * one.bad).verdict == CellVerdict::no_fault_found);
    const CellCondition watched = moved(4 * one.bad);
    CHECK(watched.verdict == CellVerdict::watch);
    REQUIRE(spoken(watched, one.rule) != nullptr);
    CHECK(spoken(watched, one.rule)->figure == Approx(4));
    CHECK(spoken(watched, one.rule)->limit == 3);
    CHECK(spoken(watched, one.rule)->usual == one.usual);
    // The good way is no fault.
    CHECK(moved(-40 * one.bad).verdict == CellVerdict::no_fault_found);
    // Four cells are too few to compare.
    moved(4 * one.bad);
    build.cells.resize(4);
    CHECK(first_of(build).verdict == CellVerdict::no_fault_found);
  }
}

TEST_CASE("condition: the others' own scatter widens what is usual") {
  Build build = used_build();
  const std::vector<double> capacities{0, 212.4, 211.0, 209.3, 213.1, 210.8};
  for (std::size_t i = 0; i < capacities.size(); ++i) {
    build.cells[i].capacity_ah = capacities[i];
  }
  // Median of the others 211.0, scaled MAD 1.4826 x 1.4: three of them are 6.227 Ah.
  build.cells[0].capacity_ah = 204.8;
  CHECK(first_of(build).verdict == CellVerdict::no_fault_found);
  build.cells[0].capacity_ah = 204.7;
  CHECK(first_of(build).verdict == CellVerdict::watch);
}

TEST_CASE("condition: rested voltages are compared at like charge only") {
  Build build = used_build();
  for (CellReading& cell : build.cells) {
    cell.voltage_v = 3.297;
  }
  build.cells[0].voltage_v = 3.200;
  CHECK(first_of(build).verdict == CellVerdict::watch);
  build.cells[0].charge = 0.1;
  CHECK(first_of(build).verdict == CellVerdict::no_fault_found);
}

TEST_CASE("condition: a deeply discharged cell is watched below 2.5 V, out below 2 V") {
  CellReading cell = used_cell();
  cell.voltage_v = 2.5;
  CHECK(with(cell).verdict == CellVerdict::no_fault_found);
  cell.voltage_v = 2.499;
  CHECK(with(cell).verdict == CellVerdict::watch);
  cell.voltage_v = 2.0;
  CHECK(with(cell).verdict == CellVerdict::watch);
  cell.voltage_v = 1.999;
  const CellCondition aside = with(cell);
  CHECK(aside.verdict == CellVerdict::set_aside);
  REQUIRE(spoken(aside, CellRule::deep_discharge) != nullptr);
  CHECK(spoken(aside, CellRule::deep_discharge)->figure == 1.999);
}

TEST_CASE("condition: what was not measured is no fault found either") {
  CellReading cell = used_cell();
  cell.boards_mm.reset();
  CHECK(with(cell).verdict == CellVerdict::watch);
  CHECK(spoken(with(cell), CellRule::swelling_not_measured) != nullptr);
  cell.edge_mm.reset();
  CHECK(with(cell).verdict == CellVerdict::watch);
  CHECK(spoken(with(cell), CellRule::thickness_not_measured) != nullptr);
}

TEST_CASE("condition: boards alone are held against a sound cell's thickness") {
  CellReading cell = used_cell();
  cell.edge_mm.reset();
  // 50 mm, 0.2 of tolerance, 0.25 of slack, 2.5 % of swelling: 51.7 mm.
  cell.boards_mm = 51.7;
  CHECK(with(cell).verdict == CellVerdict::watch);
  cell.boards_mm = 51.7001;
  CHECK(with(cell).verdict == CellVerdict::set_aside);
  CHECK(spoken(with(cell), CellRule::thick_at_highest) != nullptr);
}

TEST_CASE("condition: every rule that spoke is listed, the worst gives the verdict") {
  CellReading cell = used_cell();
  cell.signs = "smell";
  cell.boards_mm = 52;
  cell.voltage_v = 1.5;
  const CellCondition judged = with(cell);
  CHECK(judged.spoken.size() == 3);
  CHECK(rc::check([](std::uint8_t dome_hundredths, std::uint8_t volt_tenths, bool said) {
    CellReading drawn = used_cell();
    drawn.boards_mm = 50 + 0.01 * dome_hundredths;
    drawn.voltage_v = 0.1 * (volt_tenths % 42);
    if (!said) drawn.signs.reset();
    const CellCondition one = with(drawn);
    CellVerdict worst = CellVerdict::no_fault_found;
    for (const RuleSpoken& rule : one.spoken) worst = std::max(worst, rule.verdict);
    RC_ASSERT(worst == one.verdict);
  }));
}
