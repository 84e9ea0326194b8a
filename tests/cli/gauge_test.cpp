// SPDX-License-Identifier: GPL-3.0-or-later
//
// The gauge command on strings: what it refuses and how, what it prints, what it learns.
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/command_line.hpp"
#include "tests/catch.hpp"
#include "tests/cli/run_helper.hpp"

namespace {

using namespace stackfit::cli;
using namespace stackfit::cli::testing;
using Catch::Matchers::ContainsSubstring;

Ran run_gauge(std::vector<std::string> arguments) {
  return run_command("gauge", std::move(arguments));
}

const std::string shed = STACKFIT_FIXTURES_DIR "/shed_bank.json";

TEST_CASE("gauge says what it lacks: the empty bow, a reading, a place on the wall") {
  const Ran no_empty = run_gauge({shed, "--bow", "1.9mm"});
  CHECK(no_empty.status == exit_unusable);
  CHECK(no_empty.out.empty());
  CHECK_THAT(no_empty.err, ContainsSubstring("--empty-bow 0mm"));
  CHECK_THAT(run_gauge({shed}).err, ContainsSubstring("no reading"));
  const Ran outside = run_gauge({shed, "--bow", "1.9mm", "--empty-bow", "0mm", "--at", "300,0"});
  CHECK(outside.status == exit_unusable);
  CHECK_THAT(outside.err, ContainsSubstring("outside the wall"));
  const Ran many = run_gauge(
      {shed, "--bow", "fat", "--empty-bow", "0.3 kg", "--today", "0.4", "--which-wall", "left"});
  CHECK(many.status == exit_unusable);
  CHECK_THAT(many.err, ContainsSubstring("4 problems"));
  const Ran rigid =
      run_gauge({shed, "--set", "box.end_walls=rigid", "--bow", "1mm", "--empty-bow", "0mm"});
  CHECK(rigid.status == exit_unusable);
  CHECK_THAT(rigid.err, ContainsSubstring("does not bow"));
  CHECK_THAT(run_gauge({shed, "--spring-length", "9mm"}).err, ContainsSubstring("clamp frame"));
}

TEST_CASE("gauge takes inches, prints the pressure first, and within 80 columns") {
  const Ran mm = run_gauge({shed, "--bow", "1.905mm", "--empty-bow", "0.254mm", "--json"});
  const Ran inch = run_gauge({shed, "--bow", "0.075 in", "--empty-bow", "0.01 in", "--json"});
  CHECK(mm.status == exit_warning);  // inside as computed, above with the cells' shear
  const auto a = nlohmann::json::parse(mm.out);
  const auto b = nlohmann::json::parse(inch.out);
  CHECK(a["force_n"].get<double>() == Catch::Approx(b["force_n"].get<double>()));
  CHECK(a["predicted"].is_null());  // the kit's sheets are not placed
  const Ran text = run_gauge({shed, "--bow", "1.4mm", "--empty-bow", "0.3mm"});
  CHECK(text.status == exit_inside);
  CHECK_THAT(text.out, ContainsSubstring("INSIDE: "));
  CHECK_THAT(text.out, ContainsSubstring("nothing to hold"));
  CHECK_THAT(text.out, ContainsSubstring("licensed or qualified"));
  std::istringstream lines(text.out);
  for (std::string line; std::getline(lines, line);) {
    CHECK(line.size() <= 80);
  }
}

TEST_CASE("gauge: where shear may put it above the band, that comes first, and the exit is 1") {
  const std::vector<std::string> bow{shed, "--bow", "1.9mm", "--empty-bow", "0.3mm"};
  const Ran text = run_gauge(bow);
  CHECK(text.status == exit_warning);
  CHECK_THAT(text.out, ContainsSubstring("MAY BE ABOVE YOUR BAND: "));
  CHECK_THAT(text.out, ContainsSubstring("Charge it no further"));
  CHECK_THAT(text.out, !ContainsSubstring("INSIDE: "));
  CHECK_THAT(text.out, ContainsSubstring("about 1.4 times that *"));
  std::vector<std::string> more = bow;
  more.emplace_back("--json");
  const auto json = nlohmann::json::parse(run_gauge(more).out);
  CHECK(json["inside"] == false);
  CHECK(json["standing"] == "above");
  CHECK(json["standing_as_computed"] == "inside");
  CHECK(json["may_be_above"] == true);
  CHECK(json["shear_factor"] == 1.4);
  CHECK(json["force_with_shear_n"].get<double>() ==
        Catch::Approx(1.4 * json["force_n"].get<double>()));
  std::istringstream lines(text.out);
  for (std::string line; std::getline(lines, line);) {
    CHECK(line.size() <= 80);
  }
}

TEST_CASE("gauge of a frame's springs: no shear factor, and inside is inside") {
  const std::string frame = STACKFIT_FIXTURES_DIR "/bench_frame.json";
  const Ran ran = run_gauge({frame, "--spring-length", "9.5mm", "--json"});
  const auto json = nlohmann::json::parse(ran.out);
  CHECK(json["shear_factor"].is_null());
  CHECK(json["may_be_above"] == false);
  CHECK(json["force_with_shear_n"] == json["force_n"]);
  CHECK(json["other_joint"].is_null());
}

TEST_CASE("gauge: a joint that was not said is told with what the other would mean") {
  const std::vector<std::string> said{shed, "--bow", "1.4mm", "--empty-bow", "0.3mm"};
  CHECK_THAT(run_gauge(said).out, !ContainsSubstring("box.end_walls.joint"));
  std::vector<std::string> not_said = said;
  not_said.insert(not_said.end(),
                  {"--set", R"(box.end_walls={"thickness": "3 mm", "material": "aluminium"})"});
  CHECK_THAT(run_gauge(not_said).out, ContainsSubstring("box.end_walls.joint"));
  not_said.emplace_back("--json");
  const auto json = nlohmann::json::parse(run_gauge(not_said).out);
  CHECK(json["other_joint"]["taken_was_said"] == false);
  CHECK(json["other_joint"]["other"] == "welded_or_folded");
  CHECK(json["other_joint"]["force_n"].get<double>() > 1.3 * json["force_n"].get<double>());
}

TEST_CASE("a wall that does not bow outwards is said to be loose or misread") {
  const Ran loose = run_gauge({shed, "--bow", "0.2mm", "--empty-bow", "0.3mm"});
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
  const Ran ran = run_gauge({built, "--bow", "1.7mm", "--empty-bow", "0.3mm", "--error", "0.02mm",
                             "--learn", learned, "--json"});
  const auto answer = nlohmann::json::parse(ran.out);
  REQUIRE(answer["learned"].is_object());
  const Ran again =
      run_gauge({learned, "--bow", "1.7mm", "--empty-bow", "0.3mm", "--error", "0.02mm", "--json"});
  const auto now = nlohmann::json::parse(again.out);
  CHECK(now["predicted"]["force_n"].get<double>() ==
        Catch::Approx(now["force_n"].get<double>()).epsilon(0.01));
  CHECK(run_gauge({built, "--bow", "1.7mm", "--empty-bow", "0.3mm", "--error", "0.02mm", "--learn",
                   built})
            .status == exit_failed);
  std::filesystem::remove_all(folder);
}

}  // namespace
