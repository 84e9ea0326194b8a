// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/view_json.hpp"

#include <set>
#include <string>

#include "tests/catch.hpp"
#include "tests/cli/sample_answers.hpp"

using namespace stackfit;
using namespace stackfit::cli;
using Json = nlohmann::ordered_json;

namespace {

std::set<std::string> keys_of(const Json& json) {
  std::set<std::string> keys;
  for (const auto& [key, value] : json.items()) {
    keys.insert(key);
  }
  return keys;
}

}  // namespace

TEST_CASE("one shape: the same keys whatever the answer") {
  const auto keys = keys_of(json_of(samples::fitting()));
  for (const Answer& answer :
       {samples::not_fitting(), samples::stopped(), samples::bare(), samples::with_chance()}) {
    CHECK(keys_of(json_of(answer)) == keys);
  }
}

TEST_CASE("numbers keep every digit and codes are words") {
  Answer answer = samples::fitting();
  answer.plan.highest.face_pressure_mpa = 0.1 + 0.2;
  const Json json = Json::parse(json_of(answer).dump());
  CHECK(json["plan"]["highest"]["face_pressure_mpa"].get<double>() == 0.1 + 0.2);
  CHECK(json["verdict"] == "fits_on_assumed_figures");
  CHECK(json["cautions"].size() == 2);
  CHECK(json["question"] == "pick");
  CHECK(json["plan"]["gaps"][0]["gap"] == "wall-1");
  CHECK(json["plan"]["gaps"][0]["sheets"][1]["count"] == 2);
  CHECK(json["moves"][2]["code"] == "cells_stiffer");
}

TEST_CASE("what is not known is null") {
  const Json json = json_of(samples::bare());
  CHECK(json["looser"].is_null());
  CHECK(json["soft"].is_null());
  CHECK(json["plan"]["life_capacity_loss"].is_null());
  CHECK(json["band"]["build_target_mpa"].is_null());
  CHECK(json["warnings"].is_array());
  Answer no_plan = samples::bare();
  no_plan.has_plan = false;
  CHECK(json_of(no_plan)["plan"].is_null());
}

TEST_CASE("a chance carries every figure, null where there is none") {
  CHECK(json_of(samples::fitting())["chance"].is_null());
  const Answer answer = samples::with_chance();
  const Json chance = json_of(answer)["chance"];
  CHECK(chance["chance"] == 0.8812);
  CHECK(chance["standard_error"] == 0.0021);
  CHECK(chance["samples"] == 20000);
  CHECK(chance["more_than"].is_null());
  CHECK(chance["assumed_inputs"] == true);
  CHECK(chance["failing"]["above"] == 0.088);
  CHECK(chance["highest"]["high_mpa"] == 0.131);
  CHECK(chance["by_margin"]["used"] == Json({9, 10}));
  CHECK(chance["inputs"].size() == answer.chance->inputs.size());
  CHECK(chance["inputs"][0]["input"] == "squeeze_a");
  CHECK(chance["inputs"][0]["total_failing"] == 0.68);
  CHECK(chance["worth"][0]["measure"] == "press_test");
  CHECK(chance["worth"][0]["chance_after"] == 0.97);
  Answer sure = answer;
  sure.chance = Chance{};
  sure.chance->plan = {1, 0, 20000, 0.999};
  CHECK(json_of(sure)["chance"]["more_than"] == 0.999);
  CHECK(keys_of(json_of(sure)["chance"]) == keys_of(chance));
  for (const char* empty : {"looser", "by_chance", "by_margin"}) {
    CHECK(json_of(sure)["chance"][empty].is_null());
  }
}

TEST_CASE("a remedy carries what it takes and what it would give") {
  Answer answer = samples::not_fitting();
  answer.remedies[0].chance = 0.93;
  const Json json = json_of(answer)["remedies"];
  CHECK(json[0]["effort"] == 3);
  CHECK(json[0]["lowest_mpa"] == 0.036);
  CHECK(json[0]["highest_mpa"] == 0.083);
  CHECK(json[0]["chance"] == 0.93);
  CHECK(json[1]["chance"].is_null());
}

TEST_CASE("a remedy carries the --set that applies it") {
  const Json json = json_of(samples::not_fitting());
  std::set<std::string> set;
  for (const Json& remedy : json["remedies"]) {
    if (!remedy["set"].is_null()) {
      set.insert(remedy["set"].get<std::string>());
    }
  }
  CHECK(set.count("box.inner.length=517.5 mm") == 1);
  CHECK(set.count("build.slip_film=true") == 1);
}
