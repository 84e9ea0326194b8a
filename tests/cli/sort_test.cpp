// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "cli/command_line.hpp"
#include "cli/text_lines.hpp"
#include "solver/study.hpp"
#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"
#include "tests/cli/run_helper.hpp"

using namespace stackfit;
using namespace stackfit::cli;
using namespace stackfit::cli::testing;
using Catch::Matchers::ContainsSubstring;

namespace {

Ran run_sort(std::vector<std::string> arguments) {
  return run_command("sort", std::move(arguments));
}

const std::string pile = fixture("sort/pile.csv");
const std::string box = fixture("sort/box.json");

void check_page(const std::string& text, std::size_t most_lines) {
  std::istringstream lines(text);
  std::size_t count = 0;
  for (std::string line; std::getline(lines, line); ++count) {
    INFO(line);
    CHECK(display_width(line) <= line_width);
  }
  CHECK(count <= most_lines);
  CHECK(text.starts_with("STOP:"));
  CHECK_THAT(text, ContainsSubstring("licensed or qualified"));
}

constexpr std::string_view plain_pile =
    "id;edge (mm);capacity (Ah);signs\n"
    "K1;50,10;100,0;none\nK2;50,20;100,1;none\n\nK3;50,30;102,0;none\nK4;50,40;102,1;none\n"
    "\"K5\";50,15;104,0;none\n";

}  // namespace

TEST_CASE("sort: the fixture's pile, without a build and with one") {
  const Ran plain = run_sort({pile, "--packs", "3", "--cells", "8"});
  CHECK(plain.status == exit_warning);  // two cells are set aside
  check_page(plain.out, 50);
  CHECK_THAT(plain.out, ContainsSubstring("P23") && ContainsSubstring("SET ASIDE 2"));
  CHECK_THAT(plain.out, ContainsSubstring("No sorting does better: proven."));
  const Ran boxed = run_sort({pile, "--packs", "3", "--build", box});
  CHECK(boxed.status == exit_warning);
  check_page(boxed.out, 55);
  CHECK_THAT(boxed.out, ContainsSubstring("EVERY PACK CAN BE SHIMMED"));
}

TEST_CASE("sort: JSON names every cell once") {
  const Ran ran = run_sort({pile, "--packs", "3", "--build", box, "--json"});
  const auto json = nlohmann::json::parse(ran.out);
  CHECK(json["question"] == "sort");
  CHECK(json["inside"] == false);
  CHECK(json["packs"].size() == 3);
  std::multiset<std::string> ids;
  const auto gather = [&](const nlohmann::json& list) {
    for (const auto& id : list) ids.insert(id.get<std::string>());
  };
  for (const auto& pack : json["packs"]) {
    CHECK(pack["cells"].size() == 8);
    CHECK(pack["plan"]["passes"] == true);
    gather(pack["cells"]);
  }
  gather(json["left_over"]);
  for (const auto& cell : json["set_aside"]) ids.insert(cell["id"].get<std::string>());
  CHECK(ids.size() == json["cell_count"]);
  CHECK(std::set<std::string>(ids.begin(), ids.end()).size() == ids.size());
}

TEST_CASE("sort: all is well, and the exit status says so") {
  const Folder folder;
  const Ran ran = run_sort({folder.write("pile.csv", plain_pile), "--packs", "2", "--cells", "2"});
  CHECK(ran.status == exit_inside);
  CHECK_THAT(ran.out, ContainsSubstring("0.1 Ah in a pack at most; none has less"));
  CHECK_THAT(ran.out, ContainsSubstring("LEFT OVER 1: K5"));
}

TEST_CASE("sort: saved packs hold the pile's own lines") {
  const Folder folder;
  const std::string table = folder.write("pile.csv", plain_pile);
  REQUIRE(run_sort({table, "--packs", "2", "--cells", "2", "--save", folder.path("p")}).status ==
          exit_inside);
  CHECK(folder.text("p_1.csv") ==
        "id;edge (mm);capacity (Ah);signs\nK1;50,10;100,0;none\nK2;50,20;100,1;none\n");
  CHECK(folder.text("p_2.csv") ==
        "id;edge (mm);capacity (Ah);signs\nK3;50,30;102,0;none\nK4;50,40;102,1;none\n");
}

TEST_CASE("sort: a saved build is one that passes as it stands") {
  const Folder folder;
  REQUIRE(run_sort({pile, "--packs", "3", "--build", box, "--save", folder.path("stall")}).status ==
          exit_warning);
  for (const char* name : {"stall_1.json", "stall_2.json", "stall_3.json"}) {
    const ReadBuild read = read_build({folder.path(name), {}, {}});
    INFO(cli::testing::all_of(read));
    REQUIRE(read.build);
    CHECK(read.build->cells.size() == 8);
    CHECK(Study(*read.build, {}).as_placed().passes);
  }
}

TEST_CASE("sort: all packs are written or none, and never over an input") {
  const Folder folder;
  const std::string table = folder.write("p_2.csv", plain_pile);
  const Ran over = run_sort({table, "--packs", "2", "--cells", "2", "--save", folder.path("p")});
  CHECK(over.status == exit_failed);
  CHECK(folder.files() == 1);
  CHECK(folder.text("p_2.csv") == plain_pile);
  std::filesystem::create_directory(folder.path("q_2.csv"));
  const Ran blocked = run_sort({table, "--packs", "2", "--cells", "2", "--save", folder.path("q")});
  CHECK(blocked.status == exit_failed);
  CHECK(folder.files() == 2);
}

TEST_CASE("sort: what cannot be used is told, and nothing is answered") {
  const Folder folder;
  const std::string table = folder.write("pile.csv", plain_pile);
  const std::string slip = folder.write("slip.csv", "id,edge (mm)\nA,50.1\nB,5.01\nB,50.2\n");
  struct Case {
    std::vector<std::string> arguments;
    const char* says;
  };
  const std::vector<Case> cases{
      {{}, "No pile was given"},
      {{table, "--cells", "2"}, "--packs"},
      {{table, "--packs", "two", "--cells", "2"}, "a whole number from 1"},
      {{table, "--packs", "2"}, "--cells"},
      {{table, "--packs", "3", "--cells", "2"}, "need 6"},
      {{folder.path("none.csv"), "--packs", "2", "--cells", "2"}, "none.csv"},
      {{slip, "--packs", "1", "--cells", "2"}, "slip.csv:3:3"},
      {{slip, "--packs", "1", "--cells", "2"}, "a second time"},
      {{pile, "--packs", "3", "--cells", "7", "--build", box}, "7 cells in a pack, but 8"},
      {{table, "--packs", "2", "--cells", "2", "--units", "furlong"}, "--units"},
      {{table, "--packs", "2", "--cells", "2", "--set", "cell.fase=1"}, "fase"},
  };
  for (const Case& one : cases) {
    const Ran ran = run_sort(one.arguments);
    INFO(one.says);
    CHECK(ran.status == exit_unusable);
    CHECK(ran.out.empty());
    CHECK_THAT(ran.err, ContainsSubstring(one.says));
  }
}
