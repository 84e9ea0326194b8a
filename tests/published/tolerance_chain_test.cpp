// SPDX-License-Identifier: GPL-3.0-or-later
//
// Tolerance chains against a worked example: P. Drake (ed.), Dimensioning and Tolerancing Handbook,
// McGraw-Hill 1999, chapter 9, the motor assembly; its inputs from memory
// (fixtures/published/statistics.csv).
#include <sstream>
#include <string>
#include <vector>

#include "solver/tolerance_stack.hpp"
#include "tests/catch.hpp"
#include "tests/published/csv.hpp"

using namespace stackfit;

namespace {

std::string cell_of(const std::string& quantity, const std::string& column) {
  for (const auto& row : published::read_table("statistics.csv")) {
    if (row.at("quantity") == quantity) {
      return row.at(column);
    }
  }
  FAIL("no line " << quantity);
  return {};
}

double exact(const std::string& quantity) {
  return std::stod(cell_of(quantity, "exact"));
}

/// `nominal tolerance; nominal tolerance; ...`
std::vector<ChainPart> motor() {
  std::istringstream text(cell_of("motor inputs (nominal tolerance)", "exact"));
  std::vector<ChainPart> parts;
  for (std::string part; std::getline(text, part, ';');) {
    std::istringstream numbers(part);
    ChainPart read;
    numbers >> read.nominal_mm >> read.tolerance_mm;
    REQUIRE(numbers);
    parts.push_back(read);
  }
  return parts;
}

}  // namespace

TEST_CASE("the motor assembly's gap, worst case and root sum of squares", "[published]") {
  const std::vector<ChainPart> parts = motor();
  REQUIRE(parts.size() == 11);
  const ChainGap gap = chain_gap(parts);
  CHECK_THAT(gap.nominal_mm, Catch::Matchers::WithinAbs(exact("motor assembly: gap inch"), 1e-9));
  CHECK_THAT(gap.worst_case_mm,
             Catch::Matchers::WithinAbs(exact("motor assembly: worst case inch"), 1e-9));
  CHECK_THAT(gap.rss_mm, Catch::Matchers::WithinAbs(exact("motor assembly: RSS inch"), 1e-6));
}

TEST_CASE("a lot lies between independent cells and cells that are all alike") {
  // All common: the worst case. Nothing common: n equal parts add as the square root of n.
  CHECK(lot_spread({16, 0.5, 1}).likely_mm == lot_spread({16, 0.5, 1}).worst_case_mm);
  CHECK_THAT(lot_spread({16, 0.5, 0}).likely_mm, Catch::Matchers::WithinRel(4 * 0.5, 1e-12));
  CHECK_THAT(lot_spread({16, 0.5, 0.8}).likely_mm,
             Catch::Matchers::WithinRel(16 * 0.4 + 4 * 0.1, 1e-12));
  CHECK_THAT(lot_spread({16, 0.5, 0.8}).worst_case_mm, Catch::Matchers::WithinRel(8.0, 1e-12));
}
