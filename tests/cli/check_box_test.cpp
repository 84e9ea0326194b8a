// SPDX-License-Identifier: GPL-3.0-or-later
//
// Used rows in their boxes, end to end: a box that has become a press, a watched cell, eight new
// cells with ordinary slack, and a bank whose swollen cell only a flattening plan would take.
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numeric>
#include <sstream>

#include "cli/command_line.hpp"
#include "cli/read_build.hpp"
#include "solver/box_check.hpp"
#include "solver/cell_order.hpp"
#include "tests/catch.hpp"
#include "tests/cli/run_helper.hpp"

namespace {

using namespace stackfit;
using namespace stackfit::cli;
using namespace stackfit::cli::testing;
using Catch::Approx;
using Catch::Matchers::ContainsSubstring;
using nlohmann::json;

Ran check_of(const std::string& name, bool as_json, std::vector<std::string> more = {}) {
  more.insert(more.begin(), {"check", fixture(name)});
  if (as_json) {
    more.emplace_back("--json");
  }
  return run_line(more);
}
json box_of(const std::string& fixture, std::vector<std::string> more = {}) {
  return json::parse(check_of(fixture, true, std::move(more)).out)["box"];
}

Build build_of(const std::string& fixture) {
  BuildSource source;
  source.file = std::string(STACKFIT_FIXTURES_DIR "/") + fixture;
  return read_build(source).build.value();
}

TEST_CASE(
    "a box that has become a press: what comes free, which sheets come out, no pull by hand") {
  const Ran ran = check_of("check/pressed_box.json", false);
  CHECK(ran.status == exit_warning);
  CHECK_THAT(ran.out, ContainsSubstring("THE BOX DOES NOT DO AS IT IS"));
  CHECK_THAT(ran.out, ContainsSubstring("THE BOX HAS BECOME A PRESS"));
  CHECK_THAT(ran.out, ContainsSubstring("clamps"));
  CHECK_THAT(ran.out, ContainsSubstring("never a lever, hammer, mallet or jack"));
  const json box = box_of("check/pressed_box.json");
  CHECK(box["outcome"] == "fits_with_sheets_changed");
  const json& out = box["taking_out"];
  CHECK(out["way"] == "end_wall");
  CHECK(out["press"] == true);
  CHECK(out["at_charge"].is_null());
  // (0.3 + 0.3) N + m g, by hand.
  const Build build = build_of("check/pressed_box.json");
  const double force = out["today"]["force_n"];
  CHECK(out["pull_today_n"].get<double>() ==
        Approx(0.6 * force + build.cell.mass_kg.value() * 9.80665));
  CHECK(out["pull_today_n"].get<double>() > 5 * out["pull_limit_n"].get<double>());
  CHECK(out["released_force_n"].get<double>() == Approx(force));
  CHECK(out["easiest"]["force_n"].get<double>() < force);
  CHECK(box["row"]["changes"]["put_in"] == 0);
  CHECK(box["row"]["changes"]["taken_out"] == 2);
}

TEST_CASE("what comes free is the force that `pressure` gives the same row today") {
  Build build = build_of("check/pressed_box.json");
  const BoxCheck box = check_in_box(build, {});
  REQUIRE(box.taking_out);
  build.build.charge = box.taking_out->today.charge;
  build.build.temperature_c = box.taking_out->today.temperature_c;
  const Answer answer = answer_pressure(build);
  CHECK(answer.plan.as_built.force_n == Approx(box.taking_out->released_force_n).epsilon(1e-6));
}

TEST_CASE(
    "with the sheets changed as said the row passes, with one piece less changed it does not") {
  Build build = build_of("check/pressed_box.json");
  const BoxCheck box = check_in_box(build, {});
  REQUIRE(box.row.changes);
  const auto change = [&](std::size_t skipped) {
    Build changed = build;
    for (std::size_t g = 0; g < box.row.changes->gaps.size(); ++g) {
      if (g == skipped) {
        continue;
      }
      const GapChange& gap = box.row.changes->gaps[g];
      for (PlacedSheets& placed : changed.placed) {
        for (auto& [name, count] : placed.sheets) {
          for (const SheetChange& sheet : gap.sheets) {
            if (placed.gap == gap.gap && sheet.name == name) {
              count = sheet.after;
            }
          }
        }
      }
    }
    return answer_pressure(changed).inside();
  };
  CHECK(change(99));
  for (std::size_t g = 0; g < box.row.changes->gaps.size(); ++g) {
    CHECK_FALSE(change(g));
  }
}

TEST_CASE("eight new cells with ordinary slack fit as they are and are not refused") {
  const Ran ran = check_of("check/eight_new.json", true);
  CHECK(ran.status == exit_inside);
  const json answer = json::parse(ran.out);
  CHECK(answer["box"]["outcome"] == "fits_as_it_is");
  CHECK(answer["box"]["taking_out"]["press"] == false);
  REQUIRE(answer["cells"].size() == 8);
  for (const json& cell : answer["cells"]) {
    CHECK(cell["verdict"] == "no_fault_found");
  }
}

TEST_CASE("with a box of eight cells in which all is well the answer stays within 45 lines") {
  const Ran ran = check_of("check/eight_new.json", false);
  CHECK(std::count(ran.out.begin(), ran.out.end(), '\n') <= 45);
  const Ran all = check_of("check/eight_new.json", false, {"--all"});
  CHECK_THAT(all.out, ContainsSubstring("1. bus bars off"));
}

TEST_CASE("a cell set aside whose successor cannot be got in: never that it fits as it is") {
  const Ran ran = check_of(
      "check/eight_new.json", false,
      {"--set", "cells.2.signs=smell", "--set", "box.opens=none", "--set", "build.method=hand"});
  CHECK(ran.status == exit_warning);
  CHECK_THAT(ran.out, ContainsSubstring("CANNOT BE GOT IN"));
  CHECK_THAT(ran.out, !ContainsSubstring("FITS AS IT IS"));
}

TEST_CASE("a watched cell is given room by taking sheets out, never pressed flat") {
  const json box = box_of("check/watched_cell.json");
  CHECK(box["outcome"] == "fits_with_sheets_changed");
  CHECK(box["row"]["as_placed"]["passes"] == false);
  CHECK(box["row"]["changes"]["put_in"] == 0);
  CHECK(box["row"]["changed"]["passes"] == true);
  for (const json& state : box["row"]["changed"]["states"]) {
    CHECK(state["contact_share"].get<double>() <= 0.95);
  }
}

TEST_CASE("where only flattening reaches the band, check refuses and gives no plan") {
  const std::vector<std::string> hard{"--set", "cell.range=30-300 kPa", "--set",
                                      "cell.limit=2000 kPa"};
  const Ran ran = check_of("check/watched_cell.json", false, hard);
  CHECK(ran.status == exit_warning);
  CHECK_THAT(ran.out, ContainsSubstring("REFUSED"));
  const json box = box_of("check/watched_cell.json", hard);
  CHECK(box["outcome"] == "only_by_flattening");
  CHECK(box["row"]["changes"].is_null());
}

TEST_CASE("a cell set aside leaves a place for a like cell or a block, never for shims") {
  const json box = box_of("check/eight_new.json", {"--set", "cells.2.signs=smell"});
  CHECK(box["outcome"] == "cells_come_out");
  REQUIRE(box["come_out"].size() == 1);
  REQUIRE(box["replacements"].size() == 2);
  CHECK(box["taking_out"]["charge_barred_by_sign"] == true);
}

TEST_CASE("a dome under a straightedge counts in a check as one between calipers") {
  // 1.6 mm on one face and 0.3 on the other of 55.4 mm: 1.623 beyond the slack of 0.277, 2.93 %.
  const json cells = json::parse(check_of("check/eight_new.json", true,
                                          {"--set", "cells.2.straightedge.front=1.6 mm", "--set",
                                           "cells.2.straightedge.back=0.3 mm"})
                                     .out)["cells"];
  CHECK(cells[2]["verdict"] == "set_aside");
  CHECK(cells[2]["dome_mm"].get<double>() == Approx(1.9));
  CHECK(cells[1]["verdict"] == "no_fault_found");
}

TEST_CASE("the order of the cells is the best of all, by trying them all") {
  OrderQuestion question;
  const double thickness[] = {40.0, 40.4, 39.9, 40.1, 40.3, 39.8};
  const double swelling[] = {0.0, 0.5, 0.1, 0.0, 0.6, -0.2};
  for (int i = 0; i < 6; ++i) {
    question.cells.push_back({std::to_string(i + 1), thickness[i], swelling[i]});
  }
  question.gap_mm = {0.5, 0.8, 0.5, 1.3, 0.5, 0.8, 0.5};
  const CellOrder found = order_cells(question);
  CHECK(found.proven);
  const auto steps = [](double mm) {
    return static_cast<long>(std::ceil((mm - 1e-6) / order_step_mm));  // a step begun counts
  };
  std::vector<std::size_t> order(6);
  std::iota(order.begin(), order.end(), std::size_t{0});
  long best_spacing = 1000;
  long best_facing = 1000;
  do {
    const OrderFigures figures = figures_of(question, order);
    const long spacing = steps(figures.deviation_mm);
    const long facing = steps(figures.facing_swelling_mm);
    if (spacing < best_spacing || (spacing == best_spacing && facing < best_facing)) {
      best_spacing = spacing;
      best_facing = facing;
    }
  } while (std::next_permutation(order.begin(), order.end()));
  CHECK(steps(found.after.deviation_mm) == best_spacing);
  CHECK(steps(found.after.facing_swelling_mm) == best_facing);
  CHECK(found.after.deviation_mm < found.before.deviation_mm);
  for (std::size_t place = 0; place < found.places.size(); ++place) {
    CHECK(found.places[place].plus_near_side == (place % 2 == 0));  // one in parallel: turned about
  }
}

}  // namespace
