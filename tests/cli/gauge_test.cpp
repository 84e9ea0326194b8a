// SPDX-License-Identifier: GPL-3.0-or-later
//
// The gauge command on strings: what it refuses and how, what it prints, what it learns.
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/command_line.hpp"
#include "tests/catch.hpp"

namespace {

using namespace stackfit::cli;
using Catch::Matchers::ContainsSubstring;

struct Ran {
  int status = 0;
  std::string out;
  std::string err;
};

Ran run(std::vector<std::string> arguments) {
  std::istringstream in;
  std::ostringstream out;
  std::ostringstream err;
  Console console{in, out, err, false};
  arguments.insert(arguments.begin(), "gauge");
  const int status = run_command_line(arguments, console);
  return {status, out.str(), err.str()};
}

const std::string shed = STACKFIT_FIXTURES_DIR "/shed_bank.json";

TEST_CASE("gauge says what it lacks: the empty bow, a reading, a place on the wall") {
  const Ran no_empty = run({shed, "--bow", "1.9mm"});
  CHECK(no_empty.status == exit_unusable);
  CHECK(no_empty.out.empty());
  CHECK_THAT(no_empty.err, ContainsSubstring("--empty-bow 0mm"));
  CHECK_THAT(run({shed}).err, ContainsSubstring("no reading"));
  const Ran outside = run({shed, "--bow", "1.9mm", "--empty-bow", "0mm", "--at", "300,0"});
  CHECK(outside.status == exit_unusable);
  CHECK_THAT(outside.err, ContainsSubstring("outside the wall"));
  const Ran many = run(
      {shed, "--bow", "fat", "--empty-bow", "0.3 kg", "--today", "0.4", "--which-wall", "left"});
  CHECK(many.status == exit_unusable);
  CHECK_THAT(many.err, ContainsSubstring("4 problems"));
  const Ran rigid =
      run({shed, "--set", "box.end_walls=rigid", "--bow", "1mm", "--empty-bow", "0mm"});
  CHECK(rigid.status == exit_unusable);
  CHECK_THAT(rigid.err, ContainsSubstring("does not bow"));
  CHECK_THAT(run({shed, "--spring-length", "9mm"}).err, ContainsSubstring("clamp frame"));
}

TEST_CASE("gauge takes inches, prints the pressure first, and within 80 columns") {
  const Ran mm = run({shed, "--bow", "1.905mm", "--empty-bow", "0.254mm", "--json"});
  const Ran inch = run({shed, "--bow", "0.075 in", "--empty-bow", "0.01 in", "--json"});
  CHECK(mm.status == exit_inside);
  const auto a = nlohmann::json::parse(mm.out);
  const auto b = nlohmann::json::parse(inch.out);
  CHECK(a["force_n"].get<double>() == Catch::Approx(b["force_n"].get<double>()));
  CHECK(a["predicted"].is_null());  // the kit's sheets are not placed
  const Ran text = run({shed, "--bow", "1.9mm", "--empty-bow", "0.3mm"});
  CHECK_THAT(text.out, ContainsSubstring("INSIDE: "));
  CHECK_THAT(text.out, ContainsSubstring("nothing to hold"));
  CHECK_THAT(text.out, ContainsSubstring("licensed or qualified"));
  std::istringstream lines(text.out);
  for (std::string line; std::getline(lines, line);) {
    CHECK(line.size() <= 80);
  }
}

TEST_CASE("a wall that does not bow outwards is said to be loose or misread") {
  const Ran loose = run({shed, "--bow", "0.2mm", "--empty-bow", "0.3mm"});
  CHECK(loose.status == exit_warning);
  CHECK_THAT(loose.out, ContainsSubstring("does not press outwards"));
}

TEST_CASE("gauge --learn writes a build that presses as was measured") {
  const auto folder = std::filesystem::temp_directory_path() / "stackfit_gauge_test";
  std::filesystem::create_directories(folder);
  const std::string built = (folder / "built.json").string();
  const std::string learned = (folder / "learned.json").string();
  std::istringstream in;
  std::ostringstream out;
  std::ostringstream err;
  Console console{in, out, err, false};
  REQUIRE(run_command_line({"pick", shed, "--save", built}, console) == exit_inside);
  const Ran ran = run({built, "--bow", "1.7mm", "--empty-bow", "0.3mm", "--error", "0.02mm",
                       "--learn", learned, "--json"});
  const auto answer = nlohmann::json::parse(ran.out);
  REQUIRE(answer["learned"].is_object());
  const Ran again =
      run({learned, "--bow", "1.7mm", "--empty-bow", "0.3mm", "--error", "0.02mm", "--json"});
  const auto now = nlohmann::json::parse(again.out);
  CHECK(now["predicted"]["force_n"].get<double>() ==
        Catch::Approx(now["force_n"].get<double>()).epsilon(0.01));
  CHECK(run({built, "--bow", "1.7mm", "--empty-bow", "0.3mm", "--learn", built}).status ==
        exit_failed);
  std::filesystem::remove_all(folder);
}

}  // namespace
