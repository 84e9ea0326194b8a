// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/command_answer.hpp"

#include <nlohmann/json.hpp>
#include <sstream>
#include <string>

#include "cli/command_line.hpp"
#include "cli/read_build.hpp"
#include "cli/words_remedy.hpp"
#include "tests/catch.hpp"
#include "tests/cli/run_helper.hpp"

using namespace stackfit;
using namespace stackfit::cli;
using namespace stackfit::cli::testing;
using Catch::Matchers::ContainsSubstring;

TEST_CASE("the example is answered inside, with nothing on the error stream to worry about") {
  const Ran ran = run_line({"pick", fixture("shed_bank.json")});
  CHECK(ran.status == exit_inside);
  CHECK_THAT(ran.out, ContainsSubstring("FITS"));
  CHECK_THAT(ran.out, ContainsSubstring("WHERE THE SHIMS GO"));
  CHECK_THAT(ran.out, ContainsSubstring("OR, LOOSER"));
}

TEST_CASE("the option --json is the whole answer and nothing else") {
  const Ran ran = run_line({"pick", fixture("shed_bank.json"), "--json"});
  const auto json = nlohmann::json::parse(ran.out);
  CHECK(json["question"] == "pick");
  CHECK(json["plan"]["passes"] == true);
}

TEST_CASE("an input that cannot be used: status 2, every problem told, nothing on out") {
  for (const Ran& ran :
       {run_line({"pick", fixture("no_such_file.json")}), run_line({"pick"}),
        run_line({"pick", fixture("shed_bank.json"), "--set", "box.inner.length=\"five\""}),
        run_line({"pick", fixture("shed_bank.json"), "--set", "nothing"}),
        run_line({"pick", fixture("shed_bank.json"), "--units", "furlong"}),
        run_line({"pick", fixture("shed_bank.json"), "--cells", "63.5"}),
        run_line({"pick", fixture("shed_bank.json"), "--no-such-option"}), run_line({"stack"}),
        run_line({})}) {
    CHECK(ran.status == exit_unusable);
    CHECK(ran.out.empty());
    CHECK_FALSE(ran.err.empty());
  }
  const Ran two = run_line({"pick", fixture("shed_bank.json"), "--set", "a", "--units", "furlong"});
  CHECK_THAT(two.err, ContainsSubstring("2 problems"));
}

TEST_CASE("the option --set changes one value, each --set taking one") {
  const Ran shorter =
      run_line({"pick", "--set", "title=Other", "--set", "series=8", fixture("shed_bank.json")});
  CHECK(shorter.status == exit_inside);
  CHECK_THAT(shorter.out, ContainsSubstring("Other"));
}

TEST_CASE("a remedy applied as it is printed mends the build") {
  BuildSource source;
  source.file = fixture("too_few_shims.json");
  const ReadBuild read = read_build(source);
  REQUIRE(read.build);
  const Answer answer = answer_pick(*read.build);
  CHECK_FALSE(answer.inside());
  REQUIRE_FALSE(answer.remedies.empty());
  int applied = 0;
  for (const Remedy& remedy : answer.remedies) {
    const auto argument = set_argument(remedy);
    if (!argument) {
      continue;
    }
    const std::string set = argument->path + "=" + argument->value;
    INFO(set);
    CHECK(run_line({"pick", source.file, "--set", set}).status == exit_inside);
    ++applied;
  }
  CHECK(applied > 0);
}

TEST_CASE("help and version go to out, whatever else the parser says to err") {
  CHECK(run_line({"--help"}).status == exit_inside);
  CHECK_THAT(run_line({"--help"}).out, ContainsSubstring("pressure"));
  CHECK_THAT(run_line({"--version"}).out, ContainsSubstring("stackfit "));
  CHECK_THAT(run_line({"pick", "--help"}).out, ContainsSubstring("--shims"));
}

TEST_CASE("neither file nor cells: a command line that works as typed") {
  const Ran ran = run_line({"pick"});
  CHECK_THAT(ran.err, ContainsSubstring(example_without_file()));
}

TEST_CASE("an answer that cannot be written ends with 3") {
  std::istringstream in;
  std::ostringstream out;
  std::ostringstream err;
  out.setstate(std::ios::badbit);
  Console console{in, out, err, false};
  CHECK(run_command_line({"pick", fixture("shed_bank.json")}, console) == exit_failed);
  CHECK_THAT(err.str(), ContainsSubstring("could not be written"));
}

TEST_CASE("a build on standard input") {
  std::ostringstream text;
  const Ran blank = run_line({"pick", "-"}, "{}");
  CHECK(blank.status == exit_unusable);
  CHECK_THAT(blank.err, ContainsSubstring("standard input"));
}
