// SPDX-License-Identifier: GPL-3.0-or-later
//
// Thin rectangular plates: plates.csv (Timoshenko & Woinowsky-Krieger, recomputed) for the
// middle under uniform load, plate_patch.csv (Roark; recomputed) for the mean over a patch.
#include <string>

#include "solver/wall.hpp"
#include "tests/catch.hpp"
#include "tests/published/csv.hpp"

using namespace stackfit;

namespace {

EdgeSupport edge(char letter) {
  return letter == 'S' ? EdgeSupport::held : letter == 'C' ? EdgeSupport::fixed : EdgeSupport::free;
}

/// A plate 100 mm wide with D = 1 N mm, edges in the order left right bottom top.
RectangularPlate plate(const std::string& edges, double b_over_a) {
  RectangularPlate p;
  p.width_mm = 100;
  p.height_mm = 100 * b_over_a;
  p.thickness_mm = 1;
  p.poisson = 0.3;
  p.modulus_mpa = 12 * (1 - p.poisson * p.poisson);
  p.edges = {edge(edges[0]), edge(edges[1]), edge(edges[2]), edge(edges[3])};
  return p;
}

}  // namespace

TEST_CASE("the middle of a plate under uniform load") {
  int checked = 0;
  for (const auto& row : published::read_table("plates.csv")) {
    if (published::text(row, "point") != "centre" || published::text(row, "quantity") != "alpha") {
      continue;
    }
    const RectangularPlate p =
        plate(published::text(row, "edges"), published::number(row, "b_over_a"));
    const PlateGive give = plate_give(p, {0, p.width_mm, 0, p.height_mm});
    // alpha = w D/(q a^4), with q = 1/(a b) for one newton.
    const double alpha = give.middle_of_plate * p.height_mm / 1e6;
    INFO(published::text(row, "edges") << " b/a " << p.height_mm / p.width_mm);
    CHECK(alpha == Catch::Approx(published::number(row, "value")).epsilon(1e-3));
    ++checked;
  }
  CHECK(checked == 12);
}

TEST_CASE("the mean deflection of a loaded patch") {
  for (const auto& row : published::read_table("plate_patch.csv")) {
    const RectangularPlate p =
        plate(published::text(row, "edges"), published::number(row, "b_over_a"));
    const double u = 100 * published::number(row, "u_over_a");
    const double v = 100 * published::number(row, "v_over_a");
    const PlateGive give =
        plate_give(p, {50 - u / 2, 50 + u / 2, p.height_mm / 2 - v / 2, p.height_mm / 2 + v / 2});
    INFO(published::text(row, "edges") << " patch " << u << " x " << v);
    CHECK(give.mean_over_patch / 1e4 ==
          Catch::Approx(published::number(row, "avg_patch")).epsilon(5e-3));
    CHECK(give.middle_of_plate / 1e4 ==
          Catch::Approx(published::number(row, "w_centre")).epsilon(5e-3));
  }
}
