// SPDX-License-Identifier: GPL-3.0-or-later
//
// The row as a page shows it: to scale, legible, and what is marked in its place.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include "cli/picture_row.hpp"
#include "cli/picture_row_layout.hpp"
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

using Elements = std::vector<Element>;

Answer sample_row(int cells) {
  Answer answer = samples::fitting(cells);
  answer.picture = sample_picture(answer);
  return answer;
}

std::vector<const Element*> cells_of(const Elements& elements) {
  std::vector<const Element*> cells;
  for (const Element* cell : of_class(elements, "f-cell")) {
    if (cell->name == "rect") cells.push_back(cell);
  }
  return cells;
}

}  // namespace

TEST_CASE(
    "a row of 1 to 64 cells is legible from the side and from above, all cells at one scale") {
  for (const int count : {1, 2, 3, 8, 9, 16, 23, 64}) {
    for (const double thickness : {12.3, 63.5, 140.0}) {
      Answer answer = samples::fitting(count);
      for (std::size_t i = 0; i < answer.cells.size(); ++i) {
        CellResult& cell = answer.cells[i];
        cell.free_mm = cell.edge_mm = thickness * (1 + 0.01 * static_cast<double>(i % 4));
      }
      answer.picture = sample_picture(answer);
      CAPTURE(count, thickness);
      for (const std::string& drawing : {row_from_side(answer, "r"), row_from_above(answer, "r")}) {
        const Elements elements = check_inline(drawing, "r");
        CHECK(drawing.size() < 90'000);
        const std::vector<const Element*> cells = cells_of(elements);
        REQUIRE(cells.size() == answer.cells.size());
        const double scale = cells.front()->number("width") / answer.cells.front().free_mm;
        for (std::size_t i = 0; i < cells.size(); ++i) {
          CHECK(cells[i]->number("width") ==
                Approx(scale * answer.cells[i].free_mm).epsilon(0.003));
        }
        for (const GapResult& gap : answer.plan.gaps) CHECK(has_text(elements, gap.name));
      }
    }
  }
}

TEST_CASE("names of 10,000 letters are cut, and do not break the drawing") {
  Answer answer = sample_row(16);
  for (CellResult& cell : answer.cells) cell.id = "<&\">\x01" + std::string(10'000, 'W') + cell.id;
  for (GapResult& gap : answer.plan.gaps) gap.sheets.front().name = std::string(10'000, 'S');
  for (const std::string& drawing : {row_from_side(answer, "r"), row_from_above(answer, "r")}) {
    const Elements elements = check_inline(drawing, "r");
    CHECK(drawing.size() < 40'000);
    CHECK(cells_of(elements).size() == 16);
  }
}

TEST_CASE("a wall's path is what its bow says, drawn as many times as is written") {
  const Answer answer = sample_row(8);
  const RowLayout layout = row_layout(answer);
  const Elements elements = check_inline(row_from_side(answer, "r"), "r");
  const std::vector<const Element*> walls = of_class(elements, "play-wall");
  REQUIRE(walls.size() == 2);
  for (std::size_t i = 0; i < 2; ++i) {
    const double away = i == 0 ? -1 : 1;
    const std::vector<double> ys = numbers_in(walls[i]->said("data-ys"));
    const std::vector<double> bow = numbers_in(walls[i]->said("data-bow"));
    REQUIRE(ys.size() == bow.size());
    CHECK(ys.front() > ys.back());  // from the floor up
    CHECK(away * walls[i]->number("data-outer") > 0);
    for (std::size_t k = 0; k < bow.size(); ++k) {
      CHECK(bow[k] ==
            Approx(away * layout.scale * layout.bow_times * answer.picture->first_wall.up_mm[k])
                .margin(0.01));
    }
    // The path goes down the inner face and up the outer one.
    std::string path = walls[i]->said("d");
    std::ranges::replace_if(
        path, [](char c) { return c == 'M' || c == 'L' || c == 'Z'; }, ' ');
    const std::vector<double> points = numbers_in(path);
    REQUIRE(points.size() == 4 * ys.size());
    CHECK(points[0] == Approx(walls[i]->number("data-straight") + bow.front()).margin(0.011));
    CHECK(points[points.size() - 2] ==
          Approx(points[0] + walls[i]->number("data-outer")).margin(0.011));
  }
  CHECK(layout.bow_times > 1);
  CHECK(has_text(elements, "Bow as built, up to 0.50 mm: drawn " +
                               std::to_string(layout.bow_times) + " times."));
}

TEST_CASE("without a picture the walls are straight and nothing is said of a bow") {
  Answer answer = samples::fitting(8);
  const Elements elements = check_inline(row_from_side(answer, "r"), "r");
  for (const Element* wall : of_class(elements, "play-wall")) {
    CHECK(wall->said("data-bow") == "0 0");
  }
  CHECK_THAT(by_id(elements, "r-d").text, !ContainsSubstring("bow"));
  CHECK(has_text(elements, "loose wall"));
  CHECK(has_text(elements, "fixed wall"));
}

TEST_CASE("a slippery face is marked on the side of the cell that slides on it") {
  for (const int towards : {2, 3}) {
    Answer answer = sample_row(4);
    answer.plan.gaps[2].slippery_towards_cell = towards;  // between cells 2 and 3
    const Elements elements = check_inline(row_from_above(answer, "r"), "r");
    const std::vector<const Element*> marks = of_class(elements, "f-slip");
    REQUIRE(marks.size() == 1);
    const double x = std::stod(marks[0]->said("d").substr(1));
    const std::vector<const Element*> cells = cells_of(elements);
    const double second = cells[1]->number("x") + cells[1]->number("width");
    CHECK((towards == 2 ? x < second : x >= cells[2]->number("x") - 0.01));
    const Elements side = check_inline(row_from_side(answer, "s"), "s");
    CHECK_THAT(by_id(side, "s-d").text,
               ContainsSubstring("slippery face towards cell " + std::to_string(towards)));
  }
}

TEST_CASE("swollen and refused cells carry an octagon, swollen ones their dome too") {
  Answer answer = sample_row(4);
  CHECK(of_class(check_inline(row_from_side(answer, "r"), "r"), "f-bad").empty());
  answer.cells[1].beyond_watch = true;
  answer.cells[1].dome_mm = 3;
  answer.cells[3].refused = true;
  const Elements elements = check_inline(row_from_side(answer, "r"), "r");
  CHECK(of_class(elements, "f-bad").size() == 2);
  CHECK(of_class(elements, "l-hidden").size() == 2);
  CHECK_THAT(by_id(elements, "r-d").text, ContainsSubstring("cell 2 (c2), 63.50 mm at its edge") &&
                                              ContainsSubstring("swollen, its dome 3.00 mm"));
}

TEST_CASE("pads are hatched, and a clamp frame has plates and rods in place of a box") {
  Answer answer = sample_row(6);
  answer.plan.gaps[0].sheets.push_back({"pad", 3.2, 1, SheetOrigin::pad, false, false});
  answer.plan.gaps[0].total_mm += 3.2;
  const Elements box = check_inline(row_from_side(answer, "r"), "r");
  const std::vector<const Element*> hatched = of_class(box, "hatch");
  REQUIRE(hatched.size() == 1);
  CHECK(hatched[0]->said("fill") == "url(#r-hatch)");
  CHECK(by_id(box, "r-hatch").name == "pattern");
  answer.clamp_frame = true;
  const Elements frame = check_inline(row_from_side(answer, "r"), "r");
  CHECK(has_text(frame, "first plate"));
  CHECK(of_class(frame, "f-ink").size() == 4);  // a nut at each end of the two rods that are seen
}
