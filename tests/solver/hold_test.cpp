// SPDX-License-Identifier: GPL-3.0-or-later
//
// Holding by friction, worked by hand and as properties:
//   1. where friction is alike everywhere the whole row decides: 2 mu N = m a
//   2. it holds exactly where shears in the gaps can be found that friction bears
//   3. more force never holds less, more mass never more
#include "solver/hold.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <cmath>

#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;
using Catch::Approx;

namespace {

Build cells_of(int cells, double mass_kg) {
  Build b = sample::known(cells);
  b.cell.mass_kg = mass_kg;
  return b;
}

PlanPressures pressing(double force_n) {
  PlanPressures pressures;
  pressures.lowest.force_n = force_n;
  return pressures;
}

Hold held(const Build& build, double force_n, double g) {
  const Study study(build, {});
  Findings findings;
  return hold_at(study, study.as_placed(), pressing(force_n), g, findings);
}

/// Whether there are shears q of the gaps, each within its friction, that carry cells of mass m at
/// a: q falls by m a over each cell. By the span left to the first of them.
bool shears_exist(const std::vector<double>& friction_n, double inertia_n) {
  double low = -1e300;
  double high = 1e300;
  for (std::size_t gap = 0; gap < friction_n.size(); ++gap) {
    const double fallen = static_cast<double>(gap) * inertia_n;
    low = std::max(low, fallen - friction_n[gap]);
    high = std::min(high, fallen + friction_n[gap]);
  }
  return low <= high;
}

}  // namespace

TEST_CASE("hold: eight cells of 5.4 kg under 3000 N, worked by hand (1)") {
  // 2 x 0.15 x 3000 N = 900 N of friction; the row weighs 43.2 kg x 9.80665 m/s2 = 423.65 N.
  const Hold hold = held(cells_of(8, 5.4), 3000, 0.8);
  CHECK(hold.row_kg == Approx(43.2));
  CHECK(hold.holds_g == Approx(2.1244).epsilon(1e-4));
  CHECK(hold.whole_row_g == Approx(hold.holds_g));
  CHECK(hold.one_cell_g == Approx(8 * hold.holds_g));
  CHECK(hold.weakest.rule == HoldRule::whole_row);
  CHECK(hold.weakest.first_cell == 1);
  CHECK(hold.weakest.last_cell == 8);
  CHECK(hold.across.holds);
  CHECK(hold.across.missing_n == 0);
  // 0.8 x 423.65 N / 0.3
  CHECK(hold.across.force_needed_n == Approx(1129.7).epsilon(1e-4));
  // A bump of 0.8 g on top of the weight: 1.8 x 423.65 N = 762.6 N, still below 900 N.
  CHECK(hold.down.acceleration_g == Approx(1.8));
  CHECK(hold.down.holds);
  CHECK(hold.holds_bump_g == Approx(1.1244).epsilon(1e-4));
  CHECK(hold.holds_hung_g == Approx(std::sqrt(2.1244 * 2.1244 - 1)).epsilon(1e-4));
  CHECK(hold.up.force_needed_n == 0);
}

TEST_CASE("hold: what is missing is what blocks, floor and strap must carry") {
  // 1000 N press: 300 N of friction. Across at 1.5 g: 635.5 N; down 2.5 g: 1059.1 N; up 0.5 g:
  // 211.8 N.
  const Hold hold = held(cells_of(8, 5.4), 1000, 1.5);
  CHECK_FALSE(hold.across.holds);
  CHECK(hold.across.missing_n == Approx(335.5).epsilon(1e-3));
  CHECK_FALSE(hold.down.holds);
  CHECK(hold.down.missing_n == Approx(759.1).epsilon(1e-3));
  CHECK(hold.up.holds);
  CHECK(hold.up.missing_n == 0);
  const Hold loose = held(cells_of(8, 5.4), 0, 1.5);
  CHECK(loose.holds_g == 0);
  CHECK(loose.holds_bump_g == Approx(-1));
  CHECK(loose.across.missing_n == Approx(635.5).epsilon(1e-3));
}

TEST_CASE("hold: a row of one cell hangs between its walls") {
  const Hold hold = held(cells_of(1, 5.4), 500, 1);
  CHECK(hold.one_cell_g == Approx(hold.whole_row_g));
  CHECK(hold.holds_g == Approx(2 * 0.15 * 500 / (5.4 * standard_gravity)));
}

TEST_CASE("hold: slippery sheets make a shorter stretch decide, as found by shears (2)") {
  CHECK(rc::check([] {
    const int cells = *rc::gen::inRange(1, 9);
    Build b = cells_of(cells, 5.0);
    KitShim film;
    film.sheet = sample::sheet("film", 1e-6);  // weighs nothing
    film.sheet.slippery_face = true;
    film.count = 20;
    b.kit = {film};
    std::vector<double> friction_n;
    const double force = *rc::gen::inRange(1, 5000);
    const double film_friction = assumption(Assumed::friction_slip_film).low;
    const auto gaps = gap_names(static_cast<std::size_t>(cells));
    for (const std::string& gap : gaps) {
      const bool slippery = *rc::gen::inRange(0, 3) == 0;
      if (slippery) {
        b.placed.push_back({gap, {{"film", 1}}});
      }
      friction_n.push_back(force * (slippery ? film_friction : 0.15));
    }
    const Hold hold = held(b, force, 1);
    const double inertia = 5.0 * standard_gravity * hold.holds_g;
    RC_ASSERT(shears_exist(friction_n, inertia * (1 - 1e-6)));
    RC_ASSERT(!shears_exist(friction_n, inertia * (1 + 1e-6)));
  }));
}

TEST_CASE("hold: a slip film counts on both faces of the cell that went in last") {
  Build b = cells_of(5, 5.0);
  b.build.slip_film = true;
  const Hold with_film = held(b, 1000, 1);
  // Cell 3 between two films: 2 x 0.06 x 1000 N over 5 kg holds 2.45 g; the row between its end
  // walls 2 x 0.15 x 1000 N over 25 kg holds 1.22 g; cells 1 to 2 0.21 x 1000 N over 10 kg 2.14 g.
  CHECK(with_film.one_cell_g == Approx(120 / (5 * standard_gravity)));
  CHECK(with_film.weakest.rule == HoldRule::whole_row);
}

TEST_CASE("hold: more force never holds less, heavier cells never more (3)") {
  double before = -1;
  for (const double force : {0.0, 1.0, 100.0, 1000.0, 5000.0}) {
    const double now = held(cells_of(6, 5), force, 1).holds_g;
    CHECK(now > before);
    before = now;
  }
  before = 1e300;
  for (const double mass : {1.0, 2.0, 5.0, 10.0}) {
    const double now = held(cells_of(6, mass), 1000, 1).holds_g;
    CHECK(now < before);
    before = now;
  }
}

TEST_CASE("hold: sheets weigh too, and an unsaid mass is by the cell's size") {
  Build b = sample::known(4);
  Findings findings;
  const Study bare(b, {});
  const Hold by_size = hold_at(bare, bare.as_placed(), pressing(1000), 1, findings);
  CHECK(by_size.cell_mass_assumed);
  // 120 x 100 mm less the corners of 3 mm, 40 mm thick, 2.1 kg/l.
  CHECK(by_size.cell_kg == Approx((12000 - 9 * (4 - 3.14159265)) * 40e-6 * 2.1));
  CHECK(std::count(findings.assumed.begin(), findings.assumed.end(), Assumed::cell_density) == 1);
  CHECK(std::count(findings.assumed.begin(), findings.assumed.end(), Assumed::friction_low) == 1);
  const Study sheeted(sample::placed_evenly(b, "thick"), {});
  const Hold with_sheets = hold_at(sheeted, sheeted.as_placed(), pressing(1000), 1, findings);
  CHECK(with_sheets.row_kg > by_size.row_kg);
  CHECK(with_sheets.holds_g < by_size.holds_g);
}

TEST_CASE("hold: asked only where the order says an acceleration") {
  Build b = cells_of(4, 5);
  Findings findings;
  const Study silent(b, {});
  CHECK_FALSE(hold(silent, silent.as_placed(), pressing(1000), findings));
  b.order.acceleration_g = 0.5;
  const Study asked(b, {});
  const auto answer = hold(asked, asked.as_placed(), pressing(1000), findings);
  REQUIRE(answer);
  CHECK(answer->across.acceleration_g == 0.5);
  CHECK_THROWS_AS(held(b, 1000, 0), std::invalid_argument);
}
