// SPDX-License-Identifier: GPL-3.0-or-later
//
// Charts of the build sheet: pressure against charge, who gives, how sure, and labels kept apart.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include "cli/picture_curves.hpp"
#include "cli/picture_gives.hpp"
#include "cli/picture_measuring.hpp"
#include "cli/picture_pressure.hpp"
#include "cli/picture_scale.hpp"
#include "cli/picture_spread.hpp"
#include "tests/catch.hpp"
#include "tests/cli/picture_helper.hpp"
#include "tests/cli/sample_answers.hpp"

namespace {

using namespace stackfit;
using namespace stackfit::cli;
using namespace stackfit::cli::testing;
using Catch::Approx;
using Catch::Matchers::ContainsSubstring;
using svg_reader::by_id;
using svg_reader::Element;
using svg_reader::named;

using Elements = std::vector<Element>;

Answer with_picture() {
  Answer answer = samples::with_chance();
  answer.build_temperature_c = 20;
  answer.use_capacity_loss = {0, 0.01};
  answer.picture = sample_picture(answer);
  return answer;
}

}  // namespace

TEST_CASE("places are kept apart, in their order, within bounds, and moved no further than need") {
  const std::vector<double> wanted{10, 11, 12, 50, 90, 99};
  const std::vector<double> placed = kept_apart(wanted, 8, 0, 100);
  for (std::size_t i = 0; i < placed.size(); ++i) {
    CHECK(placed[i] >= 0);
    CHECK(placed[i] <= 100);
    if (i > 0) CHECK(placed[i] - placed[i - 1] >= 8 - 1e-9);
  }
  CHECK(placed[1] == Approx(11));  // three that crowd stand about their middle
  CHECK(placed[3] == Approx(50));
  CHECK(placed[4] == Approx(90));
  // Another order of asking gives the same places.
  const std::vector<double> turned = kept_apart({99, 90, 50, 12, 11, 10}, 8, 0, 100);
  for (std::size_t i = 0; i < placed.size(); ++i) {
    CHECK(turned[turned.size() - 1 - i] == Approx(placed[i]));
  }
  // What does not fit runs over the upper bound, never over each other.
  const std::vector<double> many = kept_apart(std::vector<double>(20, 5), 8, 0, 100);
  for (std::size_t i = 1; i < many.size(); ++i) CHECK(many[i] - many[i - 1] >= 8 - 1e-9);
  CHECK(many.front() == Approx(0));
}

TEST_CASE("an axis ends on a round figure and has few ticks in either unit") {
  for (const double mpa : {0.0004, 0.0123, 0.094, 0.1241, 0.7, 3.2}) {
    const double top = round_top_mpa(mpa);
    CHECK(top >= mpa);
    CHECK(top <= std::max(0.001, 1.5 * mpa));
    for (const TickUnit unit : {TickUnit::kpa, TickUnit::psi}) {
      const std::vector<PressureTick> ticks = pressure_ticks(top, unit);
      CHECK(ticks.size() >= 3);
      CHECK(ticks.size() <= 7);
      CHECK(ticks.back().mpa <= top * (1 + 1e-9));
    }
    CHECK(pressure_ticks(top, TickUnit::kpa).back().mpa == Approx(top));
  }
  CHECK(pressure_ticks(0.1, TickUnit::psi)[1].mpa == Approx(5 * 0.006894757));
}

TEST_CASE("aged, cold and warm curves are the reduced curves' own figures") {
  const Answer answer = with_picture();
  const std::vector<PressureCurve> curves = pressure_curves(answer);
  REQUIRE(curves.size() == 4);
  CHECK(curves[0].name == "new");
  CHECK(curves[1].name == "aged 1 %");
  CHECK(curves[2].name == "warm 40 \u00b0C");
  CHECK(curves[3].name == "cold 5 \u00b0C");
  // By hand: 0.16 MPa and 0.05 MPa for each mm that the row is longer.
  CHECK(pressure_on(curves[1], 1) == Approx(0.16 + 0.05 * (0.4 + 0.08)));
  CHECK(pressure_on(curves[2], 0.25) == Approx(0.16 + 0.05 * (-0.2 + 0.2)));
  CHECK(pressure_on(curves[3], 0) == Approx(0.16 + 0.05 * (-0.4 - 0.15)));
  // The new one is as solved, and goes on beyond as interpolated.
  CHECK(pressure_on(curves[0], 0.29) == Approx(0.086));
  CHECK(pressure_on(curves[0], 1) == Approx(0.16 + 0.05 * 0.4));
  Answer plain = answer;
  plain.picture.reset();
  CHECK(pressure_curves(plain).size() == 1);
  CHECK(pressure_curves(plain)[0].points.front().charge == Approx(0.1));
}

TEST_CASE("a curve leaves the band where its pressure with the margin does") {
  BandResult band;
  band.low_mpa = 0.03;
  band.high_mpa = 0.11;
  band.model_margin = 0.1;
  const PressureCurve curve{"", {{0, 0.02}, {0.5, 0.06}, {1, 0.16}}};
  const std::vector<BandCrossing> found = crossings(curve, band);
  REQUIRE(found.size() == 2);
  CHECK_FALSE(found[0].upper);
  CHECK_FALSE(found[0].leaves);
  CHECK(found[0].at.charge == Approx(0.125));
  CHECK(found[1].upper);
  CHECK(found[1].leaves);
  CHECK(found[1].at.pressure_mpa == Approx(0.1));
  CHECK(found[1].at.charge == Approx(0.7));
}

TEST_CASE("pressure against charge stands on its axes, and is ready to be played with") {
  Answer answer = with_picture();
  answer.band.limit_mpa = 0.2;
  const Elements elements = check_inline(pressure_over_charge(answer, "p"), "p");
  const Element& root = elements.front();
  const double x0 = root.number("data-x0");
  const double x1 = root.number("data-x1");
  const double y0 = root.number("data-y0");
  const double y1 = root.number("data-y1");
  const double top = root.number("data-top-mpa");
  CHECK(x1 > x0);
  CHECK(y0 > y1);
  // The build point's circle, by those figures.
  const auto circles = named(elements, "circle");
  const bool built = std::ranges::any_of(circles, [&](const Element* circle) {
    return std::abs(circle->number("cx") - (x0 + (x1 - x0) * answer.plan.as_built.charge)) < 0.01 &&
           std::abs(circle->number("cy") -
                    (y0 + (y1 - y0) * answer.plan.as_built.face_pressure_mpa / top)) < 0.01;
  });
  CHECK(built);
  REQUIRE(of_class(elements, "play-line").size() == 2);
  CHECK(of_class(elements, "play-line")[0]->said("d").empty());
  CHECK(of_class(elements, "play-line-soft").size() == 1);
  REQUIRE(of_class(elements, "play-dot").size() == 1);
  CHECK(of_class(elements, "play-dot")[0]->number("r") == 0);
  CHECK(has_text(elements, "limit"));
  CHECK(has_text(elements, "warm 40 \u00b0C"));
  CHECK_THAT(by_id(elements, "p-d").text,
             ContainsSubstring("new: above the band from 91 % charge"));
}

TEST_CASE("a chart is legible with curves far above the band, below it and on one another") {
  for (const double scale : {0.001, 0.1, 1.0, 20.0}) {
    Answer answer = with_picture();
    for (double& mpa : answer.curve_pressure_mpa) mpa *= scale;
    for (double& mpa : answer.picture->play.kinds[0].face_pressure_mpa) mpa *= scale;
    answer.plan.highest.face_pressure_mpa *= scale;
    CAPTURE(scale);
    CHECK(check_inline(pressure_over_charge(answer, "p"), "p").size() > 20);
  }
}

TEST_CASE("who gives is divided to scale, and what gives nothing is left out") {
  PlanResult plan = with_picture().plan;
  plan.cells_give_mm = 2.4;
  plan.walls_give_mm = 0.6;
  plan.pads_give_mm = 0.05;
  plan.sheets_give_mm = 0.001;
  const Elements elements = check_inline(who_gives(plan, "g"), "g");
  const auto width = [&](const char* fill) {
    const auto found = of_class(elements, fill);
    return found.empty() ? 0.0 : found.front()->number("width");
  };
  CHECK(width("f-cell") / width("f-metal") == Approx(4).epsilon(1e-3));
  CHECK(width("f-pad") / width("f-metal") == Approx(0.05 / 0.6).epsilon(1e-2));
  CHECK(of_class(elements, "f-sheet").empty());
  CHECK(has_text(elements, "2.4 mm"));
  CHECK(has_text(elements, "0.60 mm"));
  CHECK_THAT(by_id(elements, "g-d").text, ContainsSubstring("cells 2.4 mm"));
  plan.cells_give_mm = plan.walls_give_mm = plan.pads_give_mm = plan.sheets_give_mm = 0;
  CHECK(has_text(check_inline(who_gives(plan, "g"), "g"), "Nothing is pressed as built"));
}

TEST_CASE("a hundred builds are a hundred signs, by how they end") {
  Answer answer = with_picture();
  Chance& chance = *answer.chance;
  chance.plan.chance = 0.9;
  chance.above = 0.06;
  chance.below = 0.03;
  chance.not_got_in = 0.03;
  const auto signs = [&] {
    const Elements elements = check_inline(pressure_spread(answer, "c"), "c");
    std::size_t drawn = 0;
    for (const Element* path : named(elements, "path")) {
      const std::string& d = path->said("d");
      drawn += static_cast<std::size_t>(std::ranges::count(d, 'M'));
    }
    // One of each kind stands again in front of its words.
    const auto said = std::ranges::count_if(named(elements, "text"), [](const Element* text) {
      return text->text.find(" of 100 ") != std::string::npos && text->text.front() != 'B';
    });
    return drawn - static_cast<std::size_t>(said);
  };
  CHECK(signs() == 100);
  const Elements elements = check_inline(pressure_spread(answer, "c"), "c");
  CHECK(has_text(elements, "90 of 100 inside the band"));
  CHECK(has_text(elements, "5 of 100 too tight"));
  CHECK_THAT(by_id(elements, "c-d").text, ContainsSubstring("in 95 of 100 builds between"));
  for (const double share : {0.0, 0.004, 0.333, 0.995, 1.0}) {
    chance.plan.chance = share;
    CAPTURE(share);
    CHECK(signs() == 100);
  }
  chance.plan.chance = 0.5;
  chance.above = chance.below = chance.not_got_in = 0;
  CHECK(signs() == 100);
}

TEST_CASE("the measuring sheet's drawings are legible and say in words where the tools go") {
  const Elements calipers = check_inline(caliper_places("a"), "a");
  CHECK_THAT(by_id(calipers, "a-d").text, ContainsSubstring("10 mm in from the rim"));
  for (const char* place : {"e1", "e2", "e3", "e4", "m"}) CHECK(has_text(calipers, place));
  CHECK(of_class(calipers, "f-accent").size() == 2);  // a cap on each terminal
  CHECK_THAT(by_id(check_inline(board_places("b"), "b"), "b-d").text,
             ContainsSubstring("whole row"));
  CHECK_THAT(by_id(check_inline(straightedge_places("c"), "c"), "c-d").text,
             ContainsSubstring("both diagonals"));
  const Elements box = check_inline(box_places("d"), "d");
  for (const char* place : {"1", "2", "3", "4", "5"}) CHECK(has_text(box, place));
}
