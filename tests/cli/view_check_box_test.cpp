// SPDX-License-Identifier: GPL-3.0-or-later
//
// The box part of a check, from the file to what is printed: fixtures/check.
#include "cli/view_check_box.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>
#include <string>
#include <vector>

#include "cli/text_lines.hpp"
#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"

namespace {

using namespace stackfit;
using namespace stackfit::cli;
using namespace stackfit::cli::testing;
using Catch::Approx;

Build fixture(const std::string& name, std::vector<PathValue> sets = {}) {
  const ReadBuild read = read_fixture("check/" + name, std::move(sets));
  INFO(all_of(read));
  REQUIRE(read.build);
  return *read.build;
}

/// With line breaks and indents taken for single spaces.
std::string text_of(const BoxCheck& check, bool all = false) {
  TextLines lines(false);
  check_box_text(check, lines, Figures(), all);
  std::istringstream stream(lines.text());
  std::string word;
  std::string text;
  while (stream >> word) {
    text += (text.empty() ? "" : " ") + word;
  }
  return text;
}

void check_width(const BoxCheck& check) {
  TextLines lines(false);
  check_box_text(check, lines, Figures());
  std::istringstream stream(lines.text());
  for (std::string line; std::getline(stream, line);) {
    INFO(line);
    CHECK(display_width(line) <= line_width);
    CHECK(line.find('\x1b') == std::string::npos);
  }
}

}  // namespace

TEST_CASE("check/pressed_box: a press, what comes free, and which sheets come out") {
  const Build build = fixture("pressed_box.json");
  const BoxCheck check = check_in_box(build, {});
  CHECK(check.out.empty());
  CHECK(check.row.watched.empty());
  REQUIRE(check.taking_out);
  const TakingOut& out = *check.taking_out;
  CHECK(out.press);
  CHECK(out.today.standing == Standing::above_limit);
  CHECK(out.today.charge == Approx(0.45));

  // The force is that of the same row as `pressure` has it, built at today's charge.
  const Answer today = answer_pressure(
      fixture("pressed_box.json", {{"build.charge", "45 %"}, {"build.temperature", "20 C"}}));
  CHECK(out.released_force_n == Approx(today.plan.as_built.force_n));
  CHECK(out.spring_back_mm ==
        Approx(today.plan.cells_give_mm + today.plan.sheets_give_mm + today.plan.walls_give_mm));

  // By hand: 0.30 on both faces and 2.9 kg. Nothing down to 10 % is within a hand's 150 N.
  CHECK(out.at_today.pull_n == Approx(0.6 * out.released_force_n + 2.9 * 9.80665));
  CHECK(out.way == WayToOpen::end_wall);
  CHECK_FALSE(out.at_charge);
  CHECK(out.easiest.charge > 0.5);  // the dip of such cells
  CHECK(out.easiest.charge < 0.7);
  CHECK(out.easiest.pull_n > 150);
  CHECK(out.easiest.force_n < out.released_force_n);

  // Two pieces come out, 0.50 and 0.80; what is left keeps the band and bares no gap.
  REQUIRE(check.outcome == BoxOutcome::fits_with_sheets_changed);
  CHECK(check.row.changes->taken_out == 2);
  CHECK(check.row.changes->put_in == 0);
  CHECK(check.row.changes->before_mm == Approx(10.9));
  CHECK(check.row.changes->after_mm == Approx(9.6));
  CHECK(check.row.changed->passes);

  const std::string text = text_of(check);
  CHECK(holds(text, "THE BOX HAS BECOME A PRESS"));
  CHECK(holds(text, "FITS WITH SHEETS CHANGED *"));
  CHECK(holds(text, "2 pieces out, 0 in: no fewer will do"));
  CHECK(holds(text, "wall-1: take out one 0.80; 1.30 -> 0.50 mm"));
  CHECK(holds(text, "comes free"));
  CHECK(holds(text, "a turn each"));
  CHECK(holds(text, "never a lever, hammer"));
  check_width(check);
}

TEST_CASE("check/pressed_box: where no wall comes off it says what then") {
  const BoxCheck check = check_in_box(
      fixture("pressed_box.json", {{"box.opens", "none"}, {"build.method", "hand"}}), {});
  REQUIRE(check.taking_out);
  CHECK(check.taking_out->way == WayToOpen::nothing_opens);
  const std::string text = text_of(check);
  CHECK(holds(text, "no wall comes off"));
  CHECK(holds(text, "cut open by someone qualified"));
  CHECK(holds(text, "never a lever, hammer"));
  check_width(check);
}

TEST_CASE(
    "check/pressed_box: a cell set aside is replaced, and the block told as another battery") {
  const BoxCheck check = check_in_box(fixture("pressed_box.json"), {"3"});
  CHECK(check.outcome == BoxOutcome::cells_come_out);
  REQUIRE(check.replacements.size() == 2);
  CHECK(check.replacements[1].thickness_mm == Approx(52.6));
  REQUIRE(check.taking_out);
  CHECK(check.taking_out->discharge_only);
  const std::string text = text_of(check);
  CHECK(holds(text, "cell 3 comes out. The place is never filled with shims"));
  CHECK(holds(text, "with a like cell in each place"));
  CHECK(holds(text, "with a rigid insulating block of 52.60 mm"));
  CHECK(holds(text, "with fewer cells it is another battery"));
  check_width(check);
}

TEST_CASE("check/eight_new: new cells with ordinary slack fit as they are") {
  const Build build = fixture("eight_new.json");
  for (const CellReading& cell : build.cells) {
    REQUIRE(*cell.middle_mm - *cell.edge_mm <= 0.005 * build.cell.thickness.nominal_mm + 0.02);
  }
  const BoxCheck check = check_in_box(build, {});
  CHECK(check.outcome == BoxOutcome::fits_as_it_is);
  CHECK(check.out.empty());
  CHECK(check.row.watched.empty());
  CHECK(check.row.as_placed->spares_swollen);
  const std::string text = text_of(check);
  CHECK(holds(text, "FITS AS IT IS *"));
  CHECK_FALSE(holds(text, "swollen"));
  CHECK_FALSE(holds(text, "PRESS"));
  check_width(check);
}

TEST_CASE("check/watched_cell: pressed flat today, given its room again") {
  const BoxCheck check = check_in_box(fixture("watched_cell.json"), {});
  CHECK(check.row.watched == std::vector<std::string>{"4"});
  CHECK_FALSE(check.row.as_placed->spares_swollen);
  REQUIRE(check.outcome == BoxOutcome::fits_with_sheets_changed);
  CHECK(check.row.changes->put_in == 0);
  CHECK(check.row.changed->spares_swollen);
  for (const StateResult& state : check.row.changed->states) {
    CHECK(state.contact_share <= 0.95);
    CHECK(check.band.judged(state.highest_local_mpa) <= *check.band.limit_mpa);
  }
  const std::string text = text_of(check);
  CHECK(holds(text, "a swollen cell is pressed flat"));
  CHECK(holds(text, "cell 4: swollen, to be watched, not pressed flat"));
  check_width(check);
}

TEST_CASE("check/watched_cell: a band that only flattening reaches is refused") {
  const BoxCheck check =
      check_in_box(fixture("watched_cell.json", {{"cell.range.low", "12 kPa"}}), {});
  CHECK(check.outcome == BoxOutcome::only_by_flattening);
  CHECK_FALSE(check.row.changed);
  const std::string text = text_of(check);
  CHECK(holds(text, "REFUSED: your band is reached only where a swollen cell is pressed flat"));
  CHECK(text.find("FITS WITH") > text.find("with a like cell"));  // none for the row as it stands
  check_width(check);
}

TEST_CASE("check/eight_new: a new cell that no hand gets in does not fit, and what does it") {
  const Build build = fixture("eight_new.json", {{"build.method", "hand"}, {"box.opens", "none"}});
  const BoxCheck check = check_in_box(build, {"3"});
  const std::string text = text_of(check);
  CHECK_FALSE(holds(text, "FITS"));
  CHECK(holds(text, "CANNOT BE GOT IN: by hand it takes"));
  CHECK(holds(text, "a hand may 150 N (15 kgf). The sheets as placed would keep your band"));
  CHECK(holds(text, "works: the others clamped to"));
  CHECK(holds(text, "--set build.method=clamp"));
  CHECK_FALSE(holds(text, "end wall last"));  // none comes off
  check_width(check);
  const nlohmann::ordered_json json = check_box_json(check);
  for (const auto& with : json["replacements"]) {
    CHECK(with["row"]["outcome"] == "cannot_be_put_together");
    CHECK(with["row"]["insertion"]["push_n"].get<double>() > 150);
    CHECK(with["row"]["insertion"]["works"] == false);
  }
  // With a wall that comes off that is the first way; done so, it fits.
  const std::string opens =
      text_of(check_in_box(fixture("eight_new.json", {{"build.method", "hand"}}), {"3"}));
  CHECK(holds(opens, "works: end wall last"));
  CHECK(holds(text_of(check_in_box(fixture("eight_new.json"), {"3"})), "FITS AS IT IS"));
}

TEST_CASE("check/eight_new: while all is well the way out is told in short") {
  const BoxCheck check = check_in_box(fixture("eight_new.json"), {});
  const std::string text = text_of(check);
  CHECK(holds(text, "TAKING A CELL OUT"));
  CHECK(holds(text, "with two clamps on first that hold"));
  CHECK(holds(text, "--all has the steps"));
  CHECK(holds(text, "never a lever, hammer"));
  CHECK_FALSE(holds(text, "1. bus bars off"));
  CHECK(holds(text_of(check, true), "1. bus bars off"));
  const BoxCheck closed = check_in_box(
      fixture("eight_new.json", {{"box.opens", "none"}, {"build.method", "hand"}}), {});
  CHECK(holds(text_of(closed), "no cell can be got out of this box as it is"));
  CHECK_FALSE(holds(text_of(closed), "cut open"));
  CHECK(holds(text_of(closed, true), "cut open"));
  check_width(closed);
  // With a cell to come out the steps are there.
  CHECK(holds(text_of(check_in_box(fixture("eight_new.json"), {"3"})), "1. bus bars off"));
}

TEST_CASE(
    "boat_hand_slid: pads but no sheet placed: no way out is told of what does not stand in it") {
  const BoxCheck check = check_in_box(fixture("../boat_hand_slid.json"), {});
  CHECK_FALSE(holds(text_of(check), "TAKING A CELL OUT"));
  CHECK_FALSE(holds(text_of(check), "today"));
  CHECK(check_box_json(check)["taking_out"].is_null());
}

TEST_CASE("the JSON of a box check has one shape") {
  const std::vector<BoxCheck> checks{check_in_box(fixture("pressed_box.json"), {}),
                                     check_in_box(fixture("pressed_box.json"), {"3"}),
                                     check_in_box(fixture("eight_new.json"), {}), BoxCheck{}};
  const nlohmann::ordered_json first = check_box_json(checks.front());
  std::vector<std::string> keys;
  for (const auto& [key, value] : first.items()) {
    keys.push_back(key);
  }
  for (const BoxCheck& check : checks) {
    std::vector<std::string> own;
    const nlohmann::ordered_json json = check_box_json(check);
    for (const auto& [key, value] : json.items()) {
      own.push_back(key);
    }
    CHECK(own == keys);
  }
  CHECK(first["outcome"] == "fits_with_sheets_changed");
  CHECK(first["taking_out"]["way"] == "end_wall");
  CHECK(first["taking_out"]["released_force_n"].get<double>() ==
        Approx(checks.front().taking_out->released_force_n));
  CHECK(first["row"]["changes"]["gaps"].size() == checks.front().row.changes->gaps.size());
  CHECK(first["row"]["failure"].is_null());
  CHECK(check_box_json(checks[1])["row"].is_null());
  CHECK(check_box_json(checks[1])["replacements"][1]["with"] == "block");
}
