// SPDX-License-Identifier: GPL-3.0-or-later
#include "geometry/stack.hpp"

#include <rapidcheck.h>

#include <cmath>
#include <cstddef>
#include <limits>
#include <numeric>
#include <stdexcept>
#include <vector>

#include "tests/catch.hpp"

namespace stackfit::geometry {
namespace {

/// Sums of a few hundred lengths of tenths of a millimetre.
constexpr double sum_error_mm = 1e-10;

double draw_tenths_mm(int high) {
  return *rc::gen::inRange(0, high + 1) / 10.0;
}

StackLengths draw_row() {
  const auto n = static_cast<std::size_t>(*rc::gen::inRange(1, 33));
  StackLengths row;
  for (std::size_t i = 0; i < n; ++i) {
    row.cell_mm.push_back(draw_tenths_mm(900));
    row.sheet_mm.push_back(draw_tenths_mm(50));
  }
  row.sheet_mm.push_back(draw_tenths_mm(50));
  row.inner_length_mm = draw_tenths_mm(20000);
  return row;
}

double sum(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0);
}

TEST_CASE("a row of three: every part in its place") {
  // Eighths and halves are exact in a double, so every figure is.
  const StackLayout layout =
      lay_out({.cell_mm = {60, 64, 62}, .sheet_mm = {1, 0.5, 1.5, 2}, .inner_length_mm = 190.5});
  REQUIRE(layout.gaps.size() == 4);
  REQUIRE(layout.cells.size() == 3);
  CHECK(layout.gaps[0].from_mm == 0);
  CHECK(layout.gaps[0].to_mm == 1);
  CHECK(layout.cells[0].from_mm == 1);
  CHECK(layout.cells[0].to_mm == 61);
  CHECK(layout.cells[1].from_mm == 61.5);
  CHECK(layout.cells[2].to_mm == 189);
  CHECK(layout.gaps[3].from_mm == 189);
  CHECK(layout.gaps[3].to_mm == 191);
  CHECK(layout.free_length_mm == 191);
  CHECK(layout.interference_mm == 0.5);
  CHECK(layout.terminal_spacing_mm == std::vector<double>{62.5, 64.5});
}

TEST_CASE("one cell has no spacing, and room shows as negative interference") {
  const StackLayout layout = lay_out({.cell_mm = {60}, .sheet_mm = {0, 0}, .inner_length_mm = 62});
  CHECK(layout.terminal_spacing_mm.empty());
  CHECK(layout.interference_mm == -2);
}

TEST_CASE("the row is whole: parts follow without holes and add up") {
  REQUIRE(rc::check([] {
    const StackLengths row = draw_row();
    const StackLayout layout = lay_out(row);
    RC_ASSERT(layout.gaps.front().from_mm == 0);
    for (std::size_t i = 0; i < layout.cells.size(); ++i) {
      RC_ASSERT(layout.gaps[i].to_mm == layout.cells[i].from_mm);
      RC_ASSERT(layout.cells[i].to_mm == layout.gaps[i + 1].from_mm);
    }
    RC_ASSERT(layout.gaps.back().to_mm == layout.free_length_mm);
    const double expected = sum(row.cell_mm) + sum(row.sheet_mm);
    RC_ASSERT(std::abs(layout.free_length_mm - expected) <= sum_error_mm);
    RC_ASSERT(std::abs(layout.interference_mm - (expected - row.inner_length_mm)) <= sum_error_mm);
  }));
}

TEST_CASE("spacings reach from the first cell's middle to the last one's") {
  REQUIRE(rc::check([] {
    const StackLengths row = draw_row();
    const StackLayout layout = lay_out(row);
    RC_ASSERT(layout.terminal_spacing_mm.size() == row.cell_mm.size() - 1);
    const double from = layout.cells.front().to_mm - row.cell_mm.front() / 2;
    const double to = layout.cells.back().from_mm + row.cell_mm.back() / 2;
    RC_ASSERT(std::abs(sum(layout.terminal_spacing_mm) - (to - from)) <= sum_error_mm);
  }));
}

TEST_CASE("the same row from the other end is the mirror image") {
  REQUIRE(rc::check([] {
    const StackLengths row = draw_row();
    const StackLengths mirror{{row.cell_mm.rbegin(), row.cell_mm.rend()},
                              {row.sheet_mm.rbegin(), row.sheet_mm.rend()},
                              row.inner_length_mm};
    const StackLayout a = lay_out(row);
    const StackLayout b = lay_out(mirror);
    RC_ASSERT(std::abs(a.interference_mm - b.interference_mm) <= sum_error_mm);
    const double far_face = a.free_length_mm - b.cells.back().to_mm;
    RC_ASSERT(std::abs(a.cells.front().from_mm - far_face) <= sum_error_mm);
  }));
}

TEST_CASE("a row that cannot be is refused") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const StackLengths impossible[] = {
      {{}, {0}, 100},       {{60}, {0}, 100},       {{60}, {0, 0, 0}, 100},
      {{-60}, {0, 0}, 100}, {{60}, {0, -0.5}, 100}, {{60}, {0, 0}, -1},
      {{nan}, {0, 0}, 100}, {{60}, {nan, 0}, 100},  {{60}, {0, 0}, nan},
  };
  for (const StackLengths& row : impossible) {
    CAPTURE(row.cell_mm, row.sheet_mm, row.inner_length_mm);
    CHECK_THROWS_AS(lay_out(row), std::invalid_argument);
  }
}

}  // namespace
}  // namespace stackfit::geometry
