// SPDX-License-Identifier: GPL-3.0-or-later
//
// `check` as a person meets it: tables and builds in, verdicts, figures and words out.
#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "cli/command_line.hpp"
#include "cli/days.hpp"
#include "cli/text_lines.hpp"
#include "cli/view_check.hpp"
#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"
#include "tests/cli/run_helper.hpp"

using namespace stackfit;
using namespace stackfit::cli;
using Catch::Approx;
using Catch::Matchers::ContainsSubstring;
using namespace stackfit::cli::testing;
using Json = nlohmann::json;

namespace {

Ran run_check(std::vector<std::string> arguments) {
  return run_command("check", std::move(arguments));
}

Json json_of_check(std::vector<std::string> arguments) {
  arguments.emplace_back("--json");
  const Ran ran = run_check(std::move(arguments));
  INFO(ran.err);
  REQUIRE_FALSE(ran.out.empty());
  return Json::parse(ran.out);
}

Json cell_of(const Json& answer, const std::string& id) {
  for (const Json& cell : answer["cells"]) {
    if (cell["id"] == id) return cell;
  }
  return {};
}

std::vector<std::string> rules_of(const Json& cell) {
  std::vector<std::string> rules;
  for (const Json& rule : cell["rules"]) rules.push_back(rule["rule"]);
  return rules;
}

std::string one_line(const std::string& text) {
  std::istringstream stream(text);
  std::string flowed;
  for (std::string word; stream >> word;) flowed += word + " ";
  return flowed;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::istringstream stream(text);
  std::vector<std::string> lines;
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}

std::vector<std::string> four_years(std::vector<std::string> more = {}) {
  std::vector<std::string> arguments{fixture("four_years.json"), "--date", "2024-03-16"};
  arguments.insert(arguments.end(), more.begin(), more.end());
  return arguments;
}

// The log's copy would land beside the fixture: it goes into a folder of the test.
Json four_years_with_log() {
  const Folder folder;
  return json_of_check(
      four_years({"--log", fixture("four_years_log.csv"), "--log-out", folder.path("copy.csv")}));
}

constexpr const char* plain_table =
    "id,edge (mm),boards (mm),charge,signs\n"
    "A,50.00,50.20,40 %,none\nB,50.05,50.22,40 %,none\nC,49.98,50.21,40 %,none\n";

}  // namespace

TEST_CASE("check: twelve used cells, verdict by verdict") {
  const Json answer = json_of_check({fixture("used_twelve.csv"), "--thickness", "58.2+-0.4 mm"});
  using Rules = std::vector<std::string>;
  struct Expected {
    const char* id;
    const char* verdict;
    Rules rules;
  };
  const std::vector<Expected> expected{
      {"U01", "no_fault_found", {}},
      {"U02", "no_fault_found", {}},
      {"U03", "watch", {"swelling"}},
      {"U04", "no_fault_found", {}},
      {"U05", "set_aside", {"edge_above_data_sheet"}},
      {"U06", "no_fault_found", {}},
      {"U07", "set_aside", {"swelling"}},
      {"U08", "no_fault_found", {}},
      {"U09", "watch", {"low_voltage", "low_capacity", "high_resistance"}},
      {"U10", "set_aside", {"sign_seen"}},
      {"U11", "no_fault_found", {}},
      {"U12", "no_fault_found", {}}};
  REQUIRE(answer["cells"].size() == expected.size());
  for (const Expected& one : expected) {
    INFO(one.id);
    const Json cell = cell_of(answer, one.id);
    CHECK(cell["verdict"] == one.verdict);
    CHECK(rules_of(cell) == one.rules);
  }
  CHECK(answer["verdict"] == "set_aside");
  CHECK(answer["nominal_from"] == "data_sheet");
  // Dome less 0.5 % of slack (0.291 mm), over 58.2 mm.
  CHECK(cell_of(answer, "U03")["swelling"].get<double>() == Approx((1.22 - 0.291) / 58.2));
  CHECK(cell_of(answer, "U07")["swelling"].get<double>() == Approx((2.27 - 0.291) / 58.2));
  CHECK(cell_of(answer, "U05")["rules"][0]["figure"].get<double>() ==
        Approx((59.02 - 58.6) / 58.2));
  // numpy.median and scipy.stats.median_abs_deviation(x, scale='normal') of the others' eleven
  // voltages: 3.297 and 0, so that their step of 1 mV stands for it.
  CHECK(cell_of(answer, "U09")["rules"][0]["figure"].get<double>() == Approx(26));
}

TEST_CASE("check: the same verdicts against the cells' own median, starred") {
  const Json given = json_of_check({fixture("used_twelve.csv"), "--thickness", "58.2+-0.4 mm"});
  const Json own = json_of_check({fixture("used_twelve.csv")});
  CHECK(own["nominal_from"] == "median_edge");
  CHECK(own["nominal_mm"].get<double>() == Approx(58.305));
  for (const Json& cell : given["cells"]) {
    CHECK(cell_of(own, cell["id"])["verdict"] == cell["verdict"]);
  }
  CHECK_THAT(run_check({fixture("used_twelve.csv")}).out, ContainsSubstring("58.30 mm *"));
}

TEST_CASE("check: what the twelve are told in words") {
  const Ran ran = run_check({fixture("used_twelve.csv"), "--thickness", "58.2+-0.4 mm", "--set",
                             "series=12", "--date", "2024-03-16"});
  CHECK(ran.status == exit_warning);
  CHECK(ran.out.rfind("STOP: cell U10 (smells sweet at the vent): outdoors", 0) == 0);
  const std::string text = one_line(ran.out);
  CHECK_THAT(text, ContainsSubstring("SET ASIDE 3 of 12: U05, U07, U10. Watch 2: U03, U09."));
  CHECK_THAT(text, ContainsSubstring("12 in series become 9: 28.8 V nominal *, charged to 32.9 V"));
  CHECK_THAT(text, ContainsSubstring("43.8 V *, would put 4.87 V on each cell"));
  CHECK_THAT(text, ContainsSubstring("FIRE"));
  CHECK_THAT(text, ContainsSubstring("Never shims."));
  CHECK_THAT(text, ContainsSubstring("same maker, capacity, resistance and charge"));
  CHECK_THAT(text, ContainsSubstring("first brought to one voltage"));
  CHECK_THAT(text, ContainsSubstring("block 58.31 mm thick"));
  // Edge, slack and 2.5 %: 58.36 + 0.03 x 58.2.
  CHECK_THAT(text, ContainsSubstring("middle reads more: U03 at 60.11 mm"));
  CHECK_THAT(text, ContainsSubstring("Measure again by 2024-04-16"));
  CHECK_THAT(text, ContainsSubstring("local codes overrule"));
  CHECK(lines_of(ran.out).size() <= 55);
  for (const std::string& line : lines_of(ran.out)) {
    INFO(line);
    CHECK(display_width(line) <= line_width);
    if (holds(line, "no fault found ")) CHECK(holds(line, "thickness cannot clear a cell"));
  }
}

TEST_CASE("check: not said how it is wired, how to say it, a charger as said") {
  const Ran unsaid = run_check({fixture("used_twelve.csv")});
  CHECK_THAT(one_line(unsaid.out), ContainsSubstring("Not said: --set series=12"));
  CHECK_FALSE(holds(unsaid.out, "OLD CHARGER"));
  const Json said = json_of_check(
      {fixture("used_twelve.csv"), "--set", "series=6", "--set", "parallel=2", "--charger", "21V"});
  CHECK(said["left_out"]["charger_v"] == 21);
  CHECK(said["left_out"]["charger_said"] == true);
  CHECK(said["left_out"]["capacity_left"] == 0.5);
  CHECK(said["left_out"]["short_groups"].size() == 3);
}

TEST_CASE("check: four years in a shed, cell by cell with its log") {
  const Json answer = four_years_with_log();
  const std::vector<std::pair<const char*, const char*>> expected{
      {"B1", "no_fault_found"}, {"B2", "no_fault_found"}, {"B3", "no_fault_found"},
      {"B4", "no_fault_found"}, {"B5", "no_fault_found"}, {"B6", "watch"},
      {"B7", "no_fault_found"}, {"B8", "set_aside"}};
  for (const auto& [id, verdict] : expected) {
    INFO(id);
    CHECK(cell_of(answer, id)["verdict"] == verdict);
  }
  CHECK(rules_of(cell_of(answer, "B6")) == std::vector<std::string>{"swelling", "growth"});
  CHECK(rules_of(cell_of(answer, "B8")) == std::vector<std::string>{"edge_above_own_reading"});
  CHECK(cell_of(answer, "B8")["rules"][0]["figure"].get<double>() == Approx(0.22 / 36.5));
  CHECK(cell_of(answer, "B8")["rules"][0]["since"] == "2020-03-14");
}

// scipy.stats.linregress over months of 365.25/12 days and scipy.optimize.brentq on the band of
// the line, t(0.975, n - 2), scatter at least 0.02 mm; SciPy 1.10.1.
TEST_CASE("check: growth and days of the four years are SciPy's") {
  const Json answer = four_years_with_log();
  const auto growth = [&](const char* id) { return cell_of(answer, id)["growth"]; };
  CHECK(growth("B4")["readings"] == 5);
  CHECK(growth("B4")["followed"] == "boards");
  CHECK(growth("B4")["mm_per_month"].get<double>() == Approx(0.009063257289301196).epsilon(1e-9));
  CHECK(growth("B4")["error_mm_per_month"].get<double>() ==
        Approx(0.00023619187704011449).epsilon(1e-6));
  CHECK(growth("B6")["readings"] == 3);
  CHECK(growth("B6")["per_month"].get<double>() == Approx(0.0011683821315670586).epsilon(1e-9));
  CHECK(growth("B8")["mm_per_month"].get<double>() == Approx(0.00598695751972613).epsilon(1e-9));
  // Three of its lines were read at 95 %.
  CHECK(cell_of(answer, "B6")["log_lines_unlike"] == 3);
  const Json b4 = cell_of(answer, "B4")["reaches"];
  CHECK(b4["followed"] == "dome");
  CHECK(b4["level_mm"].get<double>() == Approx(0.5475));
  CHECK(b4["on"] == "2024-06-10");
  CHECK(b4["earliest"] == "2024-03-16");
  CHECK(b4["latest"] == "2025-02-01");
  const Json b6 = cell_of(answer, "B6")["reaches"];
  CHECK(b6["level_mm"].get<double>() == Approx(1.095));
  CHECK(b6["on"] == "2024-12-31");
  CHECK(b6["earliest"] == "2024-03-23");
  CHECK(b6["latest"].is_null());
  // Two readings: a growth and no day.
  CHECK(growth("B2")["readings"] == 2);
  CHECK(cell_of(answer, "B2")["reaches"].is_null());
}

TEST_CASE("check: without its log the same bank shows less") {
  const Json answer = json_of_check(four_years());
  CHECK(cell_of(answer, "B8")["verdict"] == "no_fault_found");
  CHECK(rules_of(cell_of(answer, "B6")) == std::vector<std::string>{"swelling"});
  CHECK(answer["log_given"] == false);
}

TEST_CASE("check: two readings give no date, in words") {
  const Folder folder;
  const Ran ran = run_check(four_years(
      {"--log", fixture("four_years_log.csv"), "--log-out", folder.path("copy.csv"), "--all"}));
  const std::vector<std::string> lines = lines_of(ran.out);
  const auto b2 = std::find_if(lines.begin(), lines.end(), [](const std::string& line) {
    return holds(line, "  B2  ") && holds(line, "2023-09-16");
  });
  REQUIRE(b2 != lines.end());
  CHECK_THAT(*b2, ContainsSubstring("two readings give no"));
}

TEST_CASE("check: exit status 0 only where no fault was found in any cell") {
  const Folder folder;
  const std::string table = folder.write("cells.csv", plain_table);
  const Ran sound = run_check({table});
  CHECK(sound.status == exit_inside);
  CHECK(sound.out.rfind("STOP: a swollen", 0) == 0);
  CHECK_THAT(sound.out, ContainsSubstring("NO FAULT FOUND in 3: thickness cannot clear a cell"));
  CHECK(run_check({table, "--set", "cells.1.boards=50.9"}).status == exit_warning);
  CHECK(run_check({table, "--set", "cells.1.boards=52.9"}).status == exit_warning);
  CHECK(run_check({table, "--set", "cells.1.signs=smell"}).status == exit_warning);
}

TEST_CASE("check: signs missing end in watch, and the next step asks for them") {
  const Folder folder;
  const Ran ran = run_check({folder.write("cells.csv",
                                          "id,edge,boards,charge,signs\nA,50,50.2,40 %,none\n"
                                          "B,50,50.2,40 %,\nC,50,50.2,40 %,?\n")});
  CHECK(ran.status == exit_warning);
  const std::string text = one_line(ran.out);
  CHECK_THAT(text, ContainsSubstring("WATCH 2: B, C. No fault found in 1"));
  CHECK_THAT(text, ContainsSubstring("B, C: smell, leak, heat, dent, soft, noisy, colour?"));
}

TEST_CASE("check: a cell that shows a sign need not be measured") {
  const Folder folder;
  const std::string table = folder.write(
      "cells.csv", "id,edge,boards,signs\nA,50,50.2,none\nB,,,leaks\nC,50.1,50.2,none\n");
  const Json answer = json_of_check({table});
  CHECK(cell_of(answer, "B")["verdict"] == "set_aside");
  CHECK(cell_of(answer, "B")["edge_mm"].is_null());
  CHECK(run_check({folder.write("other.csv", "id,edge,signs\nA,50,none\nB,,none\n")}).status ==
        exit_unusable);
}

TEST_CASE("check: tables with decimal commas, and a build without a box") {
  const Folder folder;
  const Ran semicolons = run_check({folder.write(
      "cells.csv", "id;edge (mm);boards (mm);charge;signs\nA;50,00;50,20;40 %;none\n")});
  CHECK(semicolons.status == exit_inside);
  CHECK_THAT(semicolons.out, ContainsSubstring("50.00   0.20"));
  const std::string build = folder.write("build.json", R"({ "stackfit": 1,
    "cell": { "thickness": "50±0.2 mm" },
    "cells": [ { "id": "A", "edge": 50, "boards": 50.2, "signs": "none" } ] })");
  CHECK(run_check({build}).status == exit_inside);
  // Other commands still need all of it.
  std::istringstream in;
  std::ostringstream out;
  std::ostringstream err;
  Console console{in, out, err, false};
  CHECK(run_command_line({"pick", build}, console) == exit_unusable);
  CHECK_THAT(err.str(), ContainsSubstring("no \"box\""));
  // And a box begun is to be finished.
  CHECK(run_check({build, "--set", "box.opens=both"}).status == exit_unusable);
}

TEST_CASE("check: cells without a file are held against their own middle") {
  const Json answer = json_of_check({"--measured", "edge", "--cells", "58.2,58.3,58.4,58.3,59.9"});
  CHECK(answer["nominal_from"] == "median_edge");
  CHECK(answer["nominal_mm"].get<double>() == Approx(58.3));
  CHECK(answer["cells"][4]["verdict"] == "set_aside");
  CHECK(answer["cells"][0]["verdict"] == "watch");
}

TEST_CASE("check: what cannot be used is told with its place, all in one run") {
  const Ran cells = run_check({fixture("broken/used_cells.csv")});
  CHECK(cells.status == exit_unusable);
  CHECK(cells.out.empty());
  for (const char* part : {"used_cells.csv:3:4", "inches in a mm column?", "used_cells.csv:4:1",
                           "the id \"U1\" a second time", "used_cells.csv:4:16", "with its %",
                           "centimetres in a mm column?", "less than the edge's 58.3 mm"}) {
    CHECK_THAT(cells.err, ContainsSubstring(part));
  }
  const Ran own = run_check({fixture("used_twelve.csv"), "--date", "2024-02-30", "--charger", "kgf",
                             "--set", "series=5"});
  CHECK(own.status == exit_unusable);
  for (const char* part : {"--date", "no such day", "--charger", "29.2V", "5 in series"}) {
    CHECK_THAT(own.err, ContainsSubstring(part));
  }
  CHECK(run_check({fixture("used_twelve.csv"), "--date", "2999-01-01"}).status == exit_unusable);
  CHECK(run_check({}).status == exit_unusable);
  CHECK(run_check({fixture("used_twelve.csv"), "--face", "140x180"}).status == exit_unusable);
  const Folder folder;
  const Ran inches = run_check({folder.write("in.csv", "id,edge\nA,2.29\nB,2.30\n")});
  CHECK(inches.status == exit_unusable);
  CHECK_THAT(inches.err, ContainsSubstring("inches or centimetres in a mm column?"));
}

TEST_CASE("check: the words of a file cannot write on the terminal or widen a line") {
  const Folder folder;
  std::string table = "id,edge,boards,charge,signs\n";
  table += "\"a\x1b[31m very long mark of a cell that goes on\",50,50.2,40 %,\"sm\x1b[2Jell ";
  table += std::string(200, 'x') + "\"\n";
  for (int i = 0; i < 30; ++i) {
    table += "cell number " + std::to_string(i) + ",50,52.9,40 %,\n";
  }
  for (const char* units : {"mm", "in,psi,lbf,F"}) {
    const Ran ran = run_check({folder.write("cells.csv", table), "--units", units, "--all"});
    CHECK(ran.out.find('\x1b') == std::string::npos);
    CHECK_THAT(ran.out, ContainsSubstring("more"));
    for (const std::string& line : lines_of(ran.out)) {
      INFO(line);
      CHECK(display_width(line) <= line_width);
    }
  }
}

TEST_CASE("check: --assumed lists the limits that were used") {
  const Ran ran = run_check({fixture("used_twelve.csv"), "--assumed"});
  CHECK(ran.status == exit_warning);
  CHECK(ran.out.rfind("STOP: cell U10", 0) == 0);
  for (const char* part : {"set aside: 2.5 %", "0.5 %", "nominal thickness: 58.30 mm *",
                           "common practice", "local codes overrule"}) {
    CHECK_THAT(ran.out, ContainsSubstring(part));
  }
}
