// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/check.hpp"

#include <vector>

#include "tests/catch.hpp"
#include "tests/solver/used_cells.hpp"

using namespace stackfit;
using namespace stackfit::sample;
using Catch::Approx;

TEST_CASE("check: the nominal thickness is the data sheet's, or the median of what was read") {
  Build build = used_build();
  CHECK(nominal_of(build).from == NominalFrom::data_sheet);
  build.cell.thickness.nominal_mm = 0;
  build.cells[0].edge_mm = 57;
  CHECK(nominal_of(build).from == NominalFrom::median_edge);
  CHECK(nominal_of(build).mm == 50);
  for (CellReading& cell : build.cells) cell.edge_mm.reset();
  CHECK(nominal_of(build).from == NominalFrom::median_highest);
  CHECK(nominal_of(build).mm == Approx(50.2));
  for (CellReading& cell : build.cells) cell.boards_mm.reset();
  CHECK(nominal_of(build).from == NominalFrom::nothing);
  // Nothing measured at all still gives an answer: watch.
  CHECK(answer_check(build, {day(2024, 3, 16), {}, false, {}}).verdict == CellVerdict::watch);
}

TEST_CASE("check: the charge said for all cells is that of each without its own") {
  Build build = used_build();
  for (CellReading& cell : build.cells) cell.charge.reset();
  build.cells[0].charge = 0.7;
  build.measured_charge = MeasuredCharge{0.35, Span{0.3, 0.5}, false};
  const std::vector<CellReading> cells = cells_with_charges(build);
  CHECK(cells[0].charge == 0.7);
  CHECK(cells[1].charge == Approx(0.4));
}

TEST_CASE("check: next check in three months, in one where a cell is watched") {
  Build build = used_build();
  const CheckAsked asked{day(2024, 1, 31), {}, false, {}};
  CHECK(answer_check(build, asked).next_check == day(2024, 4, 30));
  build.cells[2].boards_mm = 51;
  CHECK(answer_check(build, asked).next_check == day(2024, 2, 29));
  // A cell set aside needs no further look.
  build.cells[2].boards_mm = 53;
  CHECK(answer_check(build, asked).next_check == day(2024, 4, 30));
}

TEST_CASE("check: a limit that may be reached meanwhile brings the next check forward") {
  Build build = used_build();
  build.cells[0].boards_mm = 50.72;  // watched over 50.75
  const CellLog log = log_of({{day(2023, 3, 16), 50, 50.49},
                              {day(2023, 7, 16), 50, 50.57},
                              {day(2023, 11, 16), 50, 50.64}});
  const CheckAnswer answer = answer_check(build, {day(2024, 3, 16), log, true, {}});
  CHECK(answer.verdict == CellVerdict::no_fault_found);
  REQUIRE(answer.cells[0].reaches);
  CHECK(answer.cells[0].reaches->followed == Followed::dome);
  CHECK(answer.next_check == day(2024, 4, 16));
}

TEST_CASE("check: a block for a gap is as thick as the cells that stay") {
  Build build = used_build();
  build.cells[0].edge_mm = 51;  // deformed
  build.cells[0].boards_mm = 51.2;
  build.series = 6;
  const CheckAnswer answer = answer_check(build, {day(2024, 3, 16), {}, false, {}});
  CHECK(answer.verdict == CellVerdict::set_aside);
  CHECK(answer.count(CellVerdict::set_aside) == 1);
  CHECK(answer.filler_mm == 50);
  REQUIRE(answer.left_out);
  CHECK(answer.left_out->after.series == 5);
}
