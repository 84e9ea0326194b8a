// SPDX-License-Identifier: GPL-3.0-or-later
//
// Pressures over a face as levels: outlines that hold just their squares, and a drawing that is
// small whatever the map.
#include <cstddef>
#include <cstdlib>
#include <random>
#include <string>
#include <vector>

#include "cli/picture_levels.hpp"
#include "cli/picture_map.hpp"
#include "cli/read_build.hpp"
#include "tests/catch.hpp"
#include "tests/cli/picture_helper.hpp"
#include "tests/cli/read_helper.hpp"
#include "tests/cli/sample_answers.hpp"

namespace {

using namespace stackfit;
using namespace stackfit::cli;
using namespace stackfit::cli::testing;
using Catch::Approx;
using Catch::Matchers::ContainsSubstring;
using svg_reader::by_id;
using svg_reader::Element;

Answer with_map(int columns, int rows, double low_mpa, double high_mpa) {
  Answer answer = samples::fitting(4);
  answer.picture = sample_picture(answer);
  PressureMap& map = answer.picture->worst_face;
  map.columns = columns;
  map.rows = rows;
  map.pressure_mpa.clear();
  std::mt19937 draws(7);
  for (int i = 0; i < columns * rows; ++i) {
    const double share = static_cast<double>(draws() % 1000) / 999;
    map.pressure_mpa.push_back(low_mpa + share * (high_mpa - low_mpa));
  }
  return answer;
}

// Twice the area by the corners; holes count against it.
int area_of(const std::vector<CornerLoop>& loops) {
  int twice = 0;
  for (const CornerLoop& loop : loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const auto& a = loop[i];
      const auto& b = loop[(i + 1) % loop.size()];
      twice += a.first * b.second - b.first * a.second;
    }
  }
  return twice / 2;
}

}  // namespace

TEST_CASE("outlines hold as many squares as the set, with upright and lying sides in turn") {
  std::mt19937 draws(11);
  for (int trial = 0; trial < 200; ++trial) {
    SquareSet set{1 + static_cast<int>(draws() % 9), 1 + static_cast<int>(draws() % 9), {}};
    int squares = 0;
    for (int i = 0; i < set.columns * set.rows; ++i) {
      set.in.push_back(draws() % 3 != 0);
      squares += set.in.back() ? 1 : 0;
    }
    const std::vector<CornerLoop> loops = outlines_of(set);
    CHECK(area_of(loops) == squares);
    for (const CornerLoop& loop : loops) {
      REQUIRE(loop.size() >= 4);
      for (std::size_t i = 0; i < loop.size(); ++i) {
        const auto& a = loop[i];
        const auto& b = loop[(i + 1) % loop.size()];
        const auto& c = loop[(i + 2) % loop.size()];
        CHECK((a.first == b.first) != (a.second == b.second));
        CHECK((a.first == b.first) != (b.first == c.first));
      }
    }
  }
}

TEST_CASE("eight round levels hold every pressure of a map") {
  for (const auto& [low, high] :
       {std::pair{0.06, 0.098}, {0.0002, 0.161}, {0.0251, 0.0273}, {0.05, 0.05}, {0.5, 4.0}}) {
    PressureMap map{100, 100, 2, 1, {low, high}};
    const MapLevels levels = levels_of(map);
    CHECK(levels.edge_mpa(0) <= low);
    CHECK(levels.edge_mpa(MapLevels::count) >= high);
    CHECK(levels.step_mpa >= 0.0002);
    CHECK(levels.level_of(high) >= levels.level_of(low));
  }
}

TEST_CASE("a finer map keeps the pressures in the middle of its squares, and what does not touch") {
  const PressureMap map{30, 20, 3, 2, {1, 2, 3, 4, 0, 6}};
  const PressureMap fine = finer(map, 3);
  REQUIRE(fine.columns == 9);
  REQUIRE(fine.rows == 6);
  for (int row = 0; row < 2; ++row) {
    for (int column = 0; column < 3; ++column) {
      const std::size_t middle = static_cast<std::size_t>((3 * row + 1) * 9 + 3 * column + 1);
      const std::size_t square = static_cast<std::size_t>(row * 3 + column);
      CHECK(fine.pressure_mpa[middle] == Approx(map.pressure_mpa[square]));
    }
  }
  CHECK(fine.pressure_mpa[2] == Approx(1 + 1.0 / 3));
}

TEST_CASE("a map says which state it is, marks its highest spot and hatches what does not touch") {
  Answer answer = samples::fitting(4);
  answer.picture = sample_picture(answer);
  const std::vector<Element> all = check_inline(pressure_map(answer, "m"), "m");
  CHECK(has_text(all, "highest state: 90 %, 40 \u00b0C"));
  CHECK(has_text(all, "highest 94 kPa (13.6 psi)"));
  CHECK(of_class(all, "hatch").empty());
  CHECK_THAT(by_id(all, "m-d").text, ContainsSubstring("near the bottom right"));
  answer.picture->worst_as_built = true;
  answer.picture->worst_face.pressure_mpa[0] = 0;
  const std::vector<Element> part = check_inline(pressure_map(answer, "m"), "m");
  CHECK(has_text(part, "as built: 38 %, 20 \u00b0C"));
  CHECK(of_class(part, "hatch").size() == 2);  // in the face, and in the scale
  CHECK(has_text(part, "not touching"));
}

TEST_CASE("a map stays small, even one of noise") {
  const Answer smooth = with_map(1, 1, 0.05, 0.05);
  CHECK(check_inline(pressure_map(smooth, "m"), "m").size() > 20);
  Answer noise = with_map(40, 40, 0.0, 0.2);
  CHECK(pressure_map(noise, "m").size() < 400'000);
  CHECK(check_inline(pressure_map(noise, "m"), "m").size() > 20);
}

TEST_CASE("the shed bank's worst face is drawn in less than 40 kB") {
  const ReadBuild read = read_fixture("shed_bank.json");
  REQUIRE(read.build);
  const Answer answer = answer_pick(*read.build, {}, {}, Pictures::drawn);
  REQUIRE(answer.picture);
  const std::string drawing = pressure_map(answer, "m");
  CHECK(drawing.size() < 40'000);
  const std::vector<Element> elements = check_inline(drawing, "m");
  // Eight in the scale, and those of the face itself.
  std::size_t levels = 0;
  for (int level = 0; level < MapLevels::count; ++level) {
    levels += of_class(elements, "f-m" + std::to_string(level)).size();
  }
  CHECK(levels >= 8 + 3);
}
