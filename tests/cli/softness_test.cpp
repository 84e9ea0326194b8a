// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/command_softness.hpp"

#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>
#include <regex>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "cli/command_line.hpp"
#include "cli/press_csv.hpp"
#include "cli/press_protocol.hpp"
#include "cli/text_lines.hpp"
#include "cli/view_softness.hpp"
#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"
#include "tests/cli/run_helper.hpp"

using namespace stackfit;
using namespace stackfit::cli;
using namespace stackfit::cli::testing;
using Catch::Matchers::ContainsSubstring;

namespace {

Ran run_softness(std::vector<std::string> arguments) {
  return run_command("softness", std::move(arguments));
}

// The command on a table of a test's own, for a cell of 141 x 183 x 58.2 mm.
Ran run_table(std::string_view text, std::vector<std::string> more = {}) {
  const cli::testing::Folder folder;
  std::vector<std::string> arguments{folder.write("press.csv", text), "--face", "141x183",
                                     "--thickness", "58.2 mm"};
  arguments.insert(arguments.end(), more.begin(), more.end());
  return run_softness(arguments);
}

PressTable table_of(std::string text) {
  return read_press_table(check_text("t.csv", std::move(text)));
}

constexpr std::string_view sound_table =
    "pressure (kPa),thickness (mm)\n"
    "10,58.57\n25,58.50\n45,58.42\n70,58.34\n100,58.26\n130,58.21\n165,58.15\n200,58.10\n";

void check_width(const std::string& text) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    INFO(line);
    CHECK(display_width(line) <= line_width);
  }
}

}  // namespace

TEST_CASE("softness: called bare it prints the bench protocol, one page of it") {
  const Ran ran = run_softness({});
  CHECK(ran.status == exit_inside);
  CHECK(ran.err.empty());
  CHECK(ran.out.starts_with("STOP:"));
  check_width(ran.out);
  CHECK(std::ranges::count(ran.out, '\n') <= 42);
  for (const char* word : {"maker", "No jack", "four corners", "5 minutes", "unloading",
                           "caps on its terminals", "overrule"}) {
    CHECK_THAT(ran.out, ContainsSubstring(word));
  }
}

TEST_CASE("softness: the protocol's form is read as it stands, once filled in") {
  const std::string header(press_form_header);
  CHECK_THAT(press_protocol(), ContainsSubstring("\n" + header + "\n"));
  const PressTable filled = table_of(header + "\n27,58.56,loading,first\n54,58.52,unloading,\n");
  CHECK(filled.problems.empty());
  REQUIRE(filled.lines.size() == 2);
  CHECK(*filled.lines[0].force_n == Catch::Approx(27 * 9.80665));
  CHECK(filled.lines[1].unloading);
  // Lines nobody wrote on are no readings.
  CHECK(table_of(header + "\n______,______,loading,\n").lines.empty());
  CHECK(table_of(header + "\n______,______,loading,\n").problems.empty());
}

TEST_CASE("softness: the example fits, and what it prints works in a build") {
  const Ran ran =
      run_softness({fixture("press_test.csv"), "--face", "141x183", "--thickness", "58.2 mm"});
  INFO(ran.err);
  REQUIRE(ran.status == exit_inside);
  CHECK(ran.out.starts_with("STOP:"));
  CHECK_THAT(ran.out, ContainsSubstring("\nFITTED: 16 readings, 8 loads"));
  CHECK_THAT(ran.out, ContainsSubstring("licensed or qualified person"));
  check_width(ran.out);
  std::smatch pasted;
  REQUIRE(std::regex_search(ran.out, pasted, std::regex("\n  (\"softness\": .*)\n")));

  // Into the build file, within "cell".
  const cli::testing::Folder folder;
  std::ifstream stream(fixture("shed_bank.json"));
  std::stringstream build;
  build << stream.rdbuf();
  std::string text = build.str();
  const std::string key = "\"cell\": {";
  text.insert(text.find(key) + key.size(), "\n    " + pasted[1].str() + ",");
  const ReadBuild read = read_build({folder.write("build.json", text), {}, {}});
  INFO(cli::testing::all_of(read));
  REQUIRE(read.build.has_value());
  const auto& law = std::get<SoftnessLaw>(*read.build->cell.softness);

  const auto json =
      nlohmann::json::parse(run_softness({fixture("press_test.csv"), "--face", "141x183",
                                          "--thickness", "58.2 mm", "--json"})
                                .out);
  CHECK(law.a_mpa == Catch::Approx(json["law"]["a_mpa"].get<double>()).epsilon(1e-3));
  CHECK(law.b == Catch::Approx(json["law"]["b"].get<double>()).epsilon(1e-3));
  CHECK(json["softness"] == nlohmann::json::parse('{' + pasted[1].str() + '}')["softness"]);
}

TEST_CASE("softness: the line of --set gives the same law") {
  const PressLaw law{58.6, 0.0312345, 171.23};
  CHECK(softness_lines(law) == R"("softness": { "a": "0.03123 MPa", "b": 171.2 })");
  CHECK(softness_sets(law) == R"(--set cell.softness.a="0.03123 MPa" --set cell.softness.b=171.2)");
  const ReadBuild read = cli::testing::read_fixture(
      "shed_bank.json", {{"cell.softness.a", "0.03123 MPa"}, {"cell.softness.b", "171.2"}});
  REQUIRE(read.build.has_value());
  const auto& set = std::get<SoftnessLaw>(*read.build->cell.softness);
  CHECK(set.a_mpa == Catch::Approx(0.03123));
  CHECK(set.b == Catch::Approx(171.2));
}

TEST_CASE("softness: with a build its face, thickness and band are taken") {
  const auto json = nlohmann::json::parse(
      run_softness({fixture("press_test.csv"), "--for", fixture("shed_bank.json"), "--json"}).out);
  CHECK(json["question"] == "softness");
  CHECK(json["inside"] == true);
  CHECK(json["law"]["nominal_mm"] == 58.2);
  CHECK(json["band"]["from_loads"] == false);
  CHECK(json["band"]["assumed"] == true);
  // The build's band ends at one and a half times the force the test went up to.
  CHECK(json["band"]["at_high"]["above_test"] == true);
}

TEST_CASE("softness: a band too far above the highest load is refused there, status 1") {
  const Ran ran = run_table(sound_table, {"--range", "50-301kPa"});
  CHECK(ran.status == exit_warning);
  CHECK_THAT(ran.out, ContainsSubstring("FITTED, BUT NOT FOR ALL OF YOUR BAND"));
  CHECK_THAT(ran.out, ContainsSubstring("not given: too far above the highest load"));
  check_width(ran.out);
  const auto json =
      nlohmann::json::parse(run_table(sound_table, {"--range", "50-301kPa", "--json"}).out);
  CHECK(json["band"]["at_high"].is_null());
  CHECK(json["band"]["at_low"].is_object());
  CHECK(json["warnings"] == nlohmann::json{"beyond_reach"});
  CHECK(run_table(sound_table, {"--range", "50-299kPa"}).status == exit_inside);
}

TEST_CASE("softness: few loads are helped by the assumed law, and a load that is off is named") {
  const Ran few = run_table("pressure (kPa),thickness (mm)\n10,58.57\n45,58.42\n100,58.26\n");
  CHECK(few.status == exit_warning);
  CHECK_THAT(few.out, ContainsSubstring("WITH THE ASSUMED LAW'S HELP"));
  CHECK_THAT(few.out, ContainsSubstring("Press at 4 or more"));
  check_width(few.out);

  std::string text(sound_table);
  text += "10,58.56\n25,58.51\n45,58.42\n70,58.35\n100,58.27\n130,58.20\n165,58.15\n200,58.10\n";
  for (const char* reading : {"58.34", "58.35"}) text.replace(text.find(reading), 5, "58.28");
  const Ran off = run_table(text);
  CHECK(off.status == exit_warning);
  CHECK_THAT(off.out, ContainsSubstring("FITTED, BUT A LOAD IS OFF"));
  CHECK_THAT(off.out, ContainsSubstring("Load 4 of 8, 70 kPa"));
  CHECK_THAT(off.out, ContainsSubstring("OFF\n"));
  check_width(off.out);
}

TEST_CASE("softness: force and pressure, separators and units say the same test") {
  const auto law = [](const Ran& ran) {
    INFO(ran.err);
    return nlohmann::json::parse(ran.out)["law"];
  };
  const std::string kpa =
      "pressure (kPa),thickness (mm)\n10,58.57\n45,58.42\n70,58.34\n100,58.26\n200,58.10\n";
  const std::string bar =
      "thickness [cm];pressure_bar\n5,857;0,1\n5,842;0,45\n5,834;0,7\n5,826;1\n5,810;2\n";
  const auto one = law(run_table(kpa, {"--json"}));
  const auto two = law(run_table(bar, {"--json"}));
  CHECK(two["a_mpa"].get<double>() == Catch::Approx(one["a_mpa"].get<double>()).epsilon(1e-6));
  CHECK(two["free_mm"].get<double>() == Catch::Approx(one["free_mm"].get<double>()));
  // Pressures need no face.
  const cli::testing::Folder folder;
  CHECK(run_softness({folder.write("p.csv", kpa), "--thickness", "58.2"}).status == exit_inside);
  CHECK(
      run_softness({folder.write("p.csv", kpa), "--thickness", "58.2", "--reading-error", "0.03mm"})
          .status == exit_inside);
}

TEST_CASE("softness: every slip of a table is named in one run, status 2, nothing on out") {
  const Ran ran = run_table(
      "force,thickness (mm),brnch\n"
      "27,58.5,up\n"
      "-3 kgf,58.4,up\n"
      "40 kgf,abc,up\n"
      "60 kgf,,up\n"
      ",58.2,up\n");
  CHECK(ran.status == exit_unusable);
  CHECK(ran.out.empty());
  for (const char* part :
       {"press.csv:1:", "did you mean \"branch\"?", "press.csv:2:1", "force (kgf)", "press.csv:3:1",
        "not below zero", "press.csv:4:8", "press.csv:6:2", "without its load"}) {
    CHECK_THAT(ran.err, ContainsSubstring(part));
  }
}

TEST_CASE("softness: inches in a column of mm, loads no cell sees, readings the wrong way round") {
  const Ran inches = run_table("force (kgf),thickness (mm)\n27,2.306\n100,2.300\n200,2.295\n");
  CHECK(inches.status == exit_unusable);
  CHECK_THAT(inches.err, ContainsSubstring("were these inches?"));
  CHECK_THAT(inches.err, ContainsSubstring("press.csv:4:5"));
  CHECK_THAT(run_table("force (kN),thickness (mm)\n27,58.5\n100,58.4\n").err,
             ContainsSubstring("no cell is meant to see more"));
  const Ran rises =
      run_table("force (kgf),thickness (mm)\n27,58.56\n81,58.30\n135,58.47\n200,58.33\n");
  CHECK(rises.status == exit_unusable);
  CHECK_THAT(rises.err, ContainsSubstring("press.csv:4:5"));
  CHECK_THAT(rises.err, ContainsSubstring("0.17 mm thicker than at the lower load of line 3"));
  CHECK_THAT(run_table("force (kgf),thickness (mm)\n27,58.56\n").err,
             ContainsSubstring("a single load"));
  CHECK_THAT(run_table("force (kgf),thickness (mm)\n").err,
             ContainsSubstring("press.csv:1:1\n  found: no load"));
  CHECK_THAT(run_table("force (kgf),thickness (mm)\n27,58.5\n54,58.5\n81,58.5\n108,58.5\n").err,
             ContainsSubstring("does not fall"));
}

TEST_CASE("softness: options that are missing, wrong or at odds are named together") {
  const Ran missing = run_softness({fixture("press_test.csv")});
  CHECK(missing.status == exit_unusable);
  CHECK_THAT(missing.err, ContainsSubstring("--face"));
  CHECK_THAT(missing.err, ContainsSubstring("--thickness"));
  const Ran wrong =
      run_softness({fixture("press_test.csv"), "--face", "141", "--thickness", "thick", "--range",
                    "150-50kPa", "--reading-error", "-1", "--units", "stone"});
  CHECK(wrong.status == exit_unusable);
  for (const char* option : {"--face", "--thickness", "--range", "--reading-error", "--units"}) {
    CHECK_THAT(wrong.err, ContainsSubstring(option));
  }
  const Ran both = run_softness(
      {fixture("press_test.csv"), "--for", fixture("shed_bank.json"), "--face", "141x183"});
  CHECK(both.status == exit_unusable);
  CHECK_THAT(both.err, ContainsSubstring("one of the two"));
  CHECK(run_softness({fixture("no_such_file.csv"), "--face", "141x183", "--thickness", "58"})
            .status == exit_unusable);
}
