// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/save_build.hpp"

#include <filesystem>
#include <stdexcept>
#include <string>

#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"
#include "tests/cli/run_helper.hpp"

using namespace stackfit;
using namespace stackfit::cli;
using stackfit::cli::testing::fixture;
using stackfit::cli::testing::Folder;
using Json = nlohmann::ordered_json;

namespace {

ReadBuild read_fixture(const char* name) {
  BuildSource source;
  source.file = fixture(name);
  ReadBuild read = read_build(source);
  REQUIRE(read.build);
  return read;
}

}  // namespace

TEST_CASE("what was read is kept, and sheets, charge, temperature and date are added") {
  const ReadBuild read = read_fixture("shed_bank.json");
  const Answer answer = answer_pick(*read.build);
  const Json saved = saved_document(read, answer, "2031-04-05");
  for (const auto& [key, value] : read.document.items()) {
    INFO(key);
    if (key != "note" && key != "build") {
      CHECK(saved[key] == value);
    }
  }
  CHECK(saved["placed"].size() == read.build->cells.size() + 1);
  CHECK(saved["placed"][0]["gap"] == "wall-1");
  CHECK(saved["build"]["charge"] == "38 %");
  CHECK(saved["build"]["temperature"] == "18 C");
  CHECK(saved["build"]["method"] == read.document["build"]["method"]);
  const auto note = saved["note"].get<std::string>();
  CHECK(note.find("2031-04-05") != std::string::npos);
  CHECK(note.find(read.document["note"].get<std::string>()) == 0);
}

TEST_CASE("a table of cells is written into the copy, which then stands alone") {
  const ReadBuild read = read_fixture("van_sixteen.json");
  const Json saved = saved_document(read, answer_pick(*read.build), "2031-04-05");
  CHECK_FALSE(saved.contains("measured"));
  CHECK(saved["cells"].size() == read.build->cells.size());
}

TEST_CASE("only the kit's sheets are placed: films and pads are in the build already") {
  const ReadBuild read = read_fixture("van_sixteen.json");
  const Answer answer = answer_pick(*read.build);
  const Json saved = saved_document(read, answer, "2031-04-05");
  for (const Json& gap : saved["placed"]) {
    for (const Json& sheet : gap["sheets"]) {
      CHECK(sheet["name"] != "film");
    }
  }
}

TEST_CASE("the copy read again gives the same figures") {
  const Folder folder;
  for (const char* name : {"shed_bank.json", "boat_hand_slid.json", "van_sixteen.json"}) {
    INFO(name);
    const ReadBuild read = read_fixture(name);
    const Answer picked = answer_pick(*read.build);
    save_build(folder.path("built.json"), read, picked);
    BuildSource source;
    source.file = folder.path("built.json");
    const ReadBuild again = read_build(source);
    REQUIRE(again.build);
    const Answer seen = answer_pressure(*again.build);
    constexpr double rounding = 1e-10;
    CHECK(seen.plan.shim_total_mm == Catch::Approx(picked.plan.shim_total_mm).epsilon(rounding));
    CHECK(seen.plan.lowest.force_n == Catch::Approx(picked.plan.lowest.force_n).epsilon(rounding));
    CHECK(seen.plan.highest.force_n ==
          Catch::Approx(picked.plan.highest.force_n).epsilon(rounding));
    CHECK(seen.plan.as_built.force_n ==
          Catch::Approx(picked.plan.as_built.force_n).epsilon(rounding));
    CHECK(seen.verdict == picked.verdict);
  }
}

TEST_CASE("an input is never written over") {
  const Folder folder;
  const std::string input = folder.path("in.json");
  std::filesystem::copy_file(fixture("shed_bank.json"), input);
  BuildSource source;
  source.file = input;
  const ReadBuild read = read_build(source);
  REQUIRE(read.build);
  CHECK_THROWS_AS(save_build(input, read, answer_pick(*read.build)), std::runtime_error);
  CHECK(std::filesystem::file_size(input) == std::filesystem::file_size(fixture("shed_bank.json")));
}
