// SPDX-License-Identifier: GPL-3.0-or-later
//
// Disc springs that are sold: A and B against disc_springs.csv, which names its sources; C against
// the forces that the table of DIN 2093 prints at 0.75 h0, from memory.
#include "solver/disc_stock.hpp"

#include <algorithm>
#include <array>

#include "solver/row_frame.hpp"
#include "tests/catch.hpp"
#include "tests/published/csv.hpp"

using namespace stackfit;
using Catch::Approx;

TEST_CASE("discs of series A and B are those of the published table") {
  const auto table = published::read_table("disc_springs.csv");
  int compared = 0;
  for (const DiscSize& disc : disc_stock()) {
    if (disc.series == 'C') {
      continue;
    }
    const auto row = std::find_if(table.begin(), table.end(), [&](const published::Row& r) {
      return published::text(r, "series") == std::string(1, disc.series) &&
             published::number(r, "De") == disc.outer_mm;
    });
    REQUIRE(row != table.end());
    CHECK(published::number(*row, "Di") == disc.inner_mm);
    CHECK(published::number(*row, "t") == disc.thickness_mm);
    CHECK(published::number(*row, "h0") == disc.cone_height_mm);
    ++compared;
  }
  CHECK(compared == 22);
}

TEST_CASE("discs of series C have the forces that the table prints") {
  struct Printed {
    double outer_mm;
    double deflection_mm;  // 0.75 h0, to two decimals
    double force_n;
  };
  constexpr std::array<Printed, 11> printed{{{8, 0.19, 39},
                                             {10, 0.23, 58},
                                             {12.5, 0.34, 152},
                                             {14, 0.34, 123},
                                             {16, 0.38, 155},
                                             {18, 0.45, 214},
                                             {20, 0.49, 254},
                                             {22.5, 0.60, 425},
                                             {25, 0.68, 601},
                                             {28, 0.75, 801},
                                             {31.5, 0.79, 687}}};
  int compared = 0;
  for (const DiscSize& disc : disc_stock()) {
    if (disc.series != 'C') {
      continue;
    }
    const auto* const row = std::find_if(printed.begin(), printed.end(), [&](const Printed& p) {
      return p.outer_mm == disc.outer_mm;
    });
    REQUIRE(row != printed.end());
    const SpringSet one = disc_set(springs_of(disc, 1, 1));
    // Printed to three figures: 39 N is the coarsest.
    CHECK(one.force_at(row->deflection_mm).n == Approx(row->force_n).margin(0.75));
    CHECK(one.rises_all_the_way());
    ++compared;
  }
  CHECK(compared == 11);
}

TEST_CASE("each thread from M4 to M16 has three discs that go over it closely") {
  for (const double thread : {4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0}) {
    CHECK(std::ranges::count_if(
              disc_stock(), [&](const DiscSize& disc) { return disc_suits(disc, thread); }) == 3);
  }
}

TEST_CASE("the mass of a disc: a ring of steel") {
  // 16 x 8.2 x 0.9: (256 - 67.24) pi/4 = 148.25 mm2, 133.4 mm3, 7.85 mg each.
  CHECK(disc_mass_g({'A', 16, 8.2, 0.9, 0.35}) == Approx(1.0474).epsilon(1e-3));
}
