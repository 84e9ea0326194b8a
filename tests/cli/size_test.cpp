// SPDX-License-Identifier: GPL-3.0-or-later
//
// `size` from file to text: three invented orders with their figures, the order given back to
// `pick`, and what it says where nothing serves.
#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "cli/command_line.hpp"
#include "cli/text_lines.hpp"
#include "tests/catch.hpp"
#include "tests/cli/run_helper.hpp"

namespace {

using namespace stackfit::cli;
using namespace stackfit::cli::testing;
using Catch::Matchers::ContainsSubstring;
using nlohmann::json;

Ran run_size(const std::string& name, std::vector<std::string> more = {}) {
  more.insert(more.begin(), {"size", fixture(name)});
  return run_line(std::move(more));
}
json size_json(const std::string& name, std::vector<std::string> more = {}) {
  more.emplace_back("--json");
  return json::parse(run_size(name, std::move(more)).out);
}
bool between(const json& value, double low, double high) {
  return value.get<double>() >= low && value.get<double>() <= high;
}

/// The build as ordered, given back to `pick`: the exit status.
int picked(const std::string& name, const std::vector<std::string>& more) {
  const std::string saved = (std::filesystem::temp_directory_path() /
                             ("stackfit_" + std::filesystem::path(name).filename().string()))
                                .string();
  REQUIRE(run_size(name, {"--save", saved}).status == exit_inside);
  std::vector<std::string> arguments{"pick", saved};
  arguments.insert(arguments.end(), more.begin(), more.end());
  const int status = run_line(std::move(arguments)).status;
  std::filesystem::remove(saved);
  return status;
}

}  // namespace

// Eight cells known by a data sheet of 52.6±0.5 mm: together they may differ by 8 mm, and the box
// by 1 mm. The band takes some 2.4 mm of the row, of which the cells breathe 1.3 and heat and cold
// take a little: what is left is the step of the sheets, half a millimetre of those that are sold.
// So 9 sheets in the gaps and about (8 + 1 + 1) / 0.5 = 20 more, less what the window itself spans.
TEST_CASE("a metal box ordered before the cells arrive") {
  const Ran text = run_size("order/metal_box.json");
  CHECK(text.status == exit_inside);
  CHECK_THAT(text.out, ContainsSubstring("any batch within the data sheet's ±0.5 mm"));
  const json answer = size_json("order/metal_box.json");
  CHECK(answer["verdict"] == "serves_on_assumed_figures");
  const json& first = answer["offers"][0];
  CHECK(first["for"] == "any_batch");
  CHECK(first["checked"] == true);
  CHECK(first["cells_spread_mm"] == 4.0);
  CHECK(between(first["nominal_mm"], 427, 431));
  CHECK(between(first["window_mm"], 0.5, 0.9));
  CHECK(first["greatest_step_mm"].get<double>() <= first["window_mm"].get<double>());
  REQUIRE(first["kit"].size() == 1);
  CHECK(first["kit"][0]["thickness_mm"] == 0.5);
  CHECK(between(first["kit"][0]["count"], 26, 30));
  // A wall that goes on last is screwed on, and bows more than the welded one.
  CHECK(answer["walls"]["chosen"]["thickness_mm"] == 4.0);
  CHECK(answer["walls"]["next_thinner"]["thickness_mm"] == 3.0);
  CHECK(answer["walls"]["next_thinner"]["bow_holds"] == false);
  // Waiting saves the sheets for what the batch may differ by.
  const json& waiting = answer["offers"].back();
  CHECK(waiting["for"] == "once_measured");
  CHECK(first["sheets"].get<int>() - waiting["sheets"].get<int>() >= 12);
  CHECK(answer["with_filler"]["sheets"].get<int>() < first["sheets"].get<int>() - 3);
}

TEST_CASE("as ordered, `pick` fits the metal box at both ends of its tolerance") {
  CHECK(picked("order/metal_box.json", {}) == exit_inside);
  CHECK(picked("order/metal_box.json", {"--set", "box.inner.length=430"}) == exit_inside);
  CHECK(picked("order/metal_box.json", {"--set", "box.inner.length=437"}) == exit_warning);
}

// The shed's cells breathe some 1.5 mm over 10 to 95 %; M8 rods alone are far too stiff for that.
// 35 to 130 kPa on 286 cm2 is 1 to 3.7 kN, less the margin and the swing: springs with
// some millimetres of travel are asked for. Plywood of 9 and 12 mm breaks first.
TEST_CASE("a plywood and plate frame with four rods and disc springs for a shed") {
  const Ran text = run_size("order/shed_frame.json");
  CHECK(text.status == exit_inside);
  CHECK_THAT(text.out, ContainsSubstring("rods alone cannot"));
  const json answer = size_json("order/shed_frame.json");
  const json& frame = answer["frame"];
  CHECK(frame["found"] == true);
  CHECK(frame["rods"]["count"] == 4);
  CHECK(frame["rods"]["thread_mm"] == 8);
  CHECK(frame["plate"]["holds"] == true);
  CHECK(frame["next_thinner"]["holds"] == false);
  CHECK(frame["rods_alone_windows_n"].empty());
  CHECK(between(frame["springs"]["series"], 8, 14));
  CHECK(frame["springs"]["deflection_mm"].get<double>() <=
        frame["springs"]["recommended_travel_mm"].get<double>());
  CHECK(between(frame["force_n"], 1890, 2250));
  CHECK(between(frame["plan"]["highest"]["face_pressure_mpa"], 0.06, 0.118));
  CHECK(picked("order/shed_frame.json", {}) == exit_inside);
}

// Sixteen cells breathe 3.2 mm between 5 and 98 %, the band takes 2.1 between stiff walls: foam.
// The box's round corners and beads are kept off by a plate at each end.
TEST_CASE("a vehicle box with foam") {
  const Ran text = run_size("order/courier_van.json");
  CHECK(text.status == exit_inside);
  CHECK_THAT(text.out, ContainsSubstring("ORDER, WITH A PAD"));
  CHECK_THAT(text.out, ContainsSubstring("breathe 3.2 mm"));
  const json answer = size_json("order/courier_van.json");
  CHECK(answer["swing_mm"].get<double>() > answer["band_takes_mm"].get<double>());
  CHECK(between(answer["pad"]["thickness_mm"], 6, 10));
  CHECK(answer["end_plate_mm"] == 5.0);
  CHECK(between(answer["offers"][0]["nominal_mm"], 685, 700));
  CHECK(between(answer["offers"][0]["window_mm"], 0.4, 0.9));
  CHECK(between(answer["details"]["hold"]["holds_across_g"], 0.7, 1.0));
  CHECK(between(answer["details"]["total_kg"], 36, 42));
  CHECK(picked("order/courier_van.json", {}) == exit_inside);
  CHECK(picked("order/courier_van.json", {"--set", "box.inner.length=694"}) == exit_inside);
}

TEST_CASE("a range narrower than the swing is told in mm, with what would serve") {
  const Ran text = run_size("order/metal_box.json", {"--set", "cell.range=45-75 kPa"});
  CHECK(text.status == exit_warning);
  CHECK_THAT(text.out, ContainsSubstring("the cells breathe 1.3 mm"));
  CHECK_THAT(text.out, ContainsSubstring("your band takes 0."));
  // Generic foam is a wide band; a curve of one's own may serve. The nearest offer is a wider band.
  CHECK_THAT(text.out, ContainsSubstring("order.foam"));
  const Ran foam = run_size(
      "order/courier_van.json",
      {"--set", "order.foam.stress=[\"0 kPa\",\"1 kPa\",\"2 kPa\",\"3 kPa\",\"4 kPa\",\"5 kPa\"]"});
  CHECK(foam.status == exit_warning);
  CHECK_THAT(foam.out, ContainsSubstring("Hard shims would hold a band up to"));
  // By hand alone: named as such, with the way out.
  const Ran hand = run_size("order/metal_box.json", {"--set", "build.method=hand"});
  CHECK(hand.status == exit_warning);
  CHECK_THAT(hand.out, ContainsSubstring("lets a hand push"));
  // Sheets too coarse for what the band forgives: finer ones are named.
  const Ran coarse = run_size("order/metal_box.json", {"--set", "order.sheets=[3]"});
  CHECK(coarse.status == exit_warning);
  CHECK_THAT(coarse.out, ContainsSubstring("it would do"));
}

TEST_CASE("where no plate in stock stands the band, a second one or a rib that does is named") {
  const Ran text = run_size("order/metal_box.json", {"--set", "order.wall_stock=[2,3]"});
  CHECK(text.status == exit_warning);
  CHECK_THAT(text.out, ContainsSubstring("THE WALLS ARE TOO WEAK"));
  const json walls =
      size_json("order/metal_box.json", {"--set", "order.wall_stock=[2,3]"})["walls"];
  CHECK(walls["found"] == false);
  CHECK(walls["doubled"]["bow_holds"] == true);
  CHECK(walls["ribbed"]["wall"]["stress_holds"] == true);
  CHECK(between(walls["ribbed"]["rib_height_mm"], 15, 40));
}

TEST_CASE("no line of size is wider than a terminal, and every answer carries the cautions") {
  for (const std::string name : {"order/metal_box.json", "order/shed_frame.json",
                                 "order/courier_van.json", "shed_bank.json"}) {
    const Ran text = run_size(name, {"--all"});
    CAPTURE(name, text.err);
    std::istringstream lines(text.out);
    for (std::string line; std::getline(lines, line);) {
      CHECK(display_width(line) <= line_width);
    }
    CHECK_THAT(text.out, ContainsSubstring("is never pressed"));
    CHECK_THAT(text.out, ContainsSubstring("local codes overrule this"));
  }
}

TEST_CASE("a cell with a sign stops an order") {
  const Ran text = run_size("order/courier_van.json", {"--set", "cells.3.signs=smells sweet"});
  CHECK(text.status == exit_warning);
  CHECK_THAT(text.out, ContainsSubstring("cell 4 shows a sign"));
  CHECK_THAT(text.out, !ContainsSubstring("WHAT TO ORDER"));
}

TEST_CASE("what an order cannot be is told at its place") {
  const Ran bad = run_size("broken/order.json");
  CHECK(bad.status == exit_unusable);
  CHECK(bad.out.empty());
  for (const char* place : {"/order/length_step", "/order/stress_safety", "/order/sheet_material",
                            "/order/wall_stock/1", "/cell/terminals/hole", "/order/walls"}) {
    CAPTURE(bad.err);
    CHECK_THAT(bad.err, ContainsSubstring(place));
  }
}
