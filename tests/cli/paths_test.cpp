// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/paths.hpp"

#include <string>

#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"

namespace stackfit::cli {
namespace {

using Json = nlohmann::ordered_json;

std::optional<Problem> set(Json& document, const std::string& path, const std::string& value) {
  Places places;
  return set_path(document, places, {path, value}, {"--set", 0, 0, ""});
}

}  // namespace

TEST_CASE("paths: values are JSON where they parse, else text") {
  CHECK(value_of("3.5") == 3.5);
  CHECK(value_of("3") == 3);
  CHECK(value_of("true") == true);
  CHECK(value_of("[1, 2]").size() == 2);
  CHECK(value_of("{\"a\": 1}")["a"] == 1);
  CHECK(value_of("\"3\"") == "3");
  CHECK(value_of("0.8 mm") == "0.8 mm");
  CHECK(value_of("240kgf ±15") == "240kgf ±15");
  CHECK(value_of("null") == "null");
  CHECK(value_of("").get<std::string>().empty());
  CHECK(value_of(std::string(100000, '[')).is_string());
}

TEST_CASE("paths: into objects and lists, made where missing") {
  Json document = Json::object();
  CHECK_FALSE(set(document, "cell.face.width", "141"));
  CHECK_FALSE(set(document, "cells.0.edge", "58.4"));
  CHECK_FALSE(set(document, "cells.1.edge", "58.5"));
  CHECK_FALSE(set(document, "cells.+.edge", "58.6"));
  CHECK_FALSE(set(document, "kit.+", "0.8x3"));
  CHECK_FALSE(set(document, "cells.0.edge", "58.3"));
  CHECK(document.dump() ==
        R"({"cell":{"face":{"width":141}},"cells":[{"edge":58.3},{"edge":58.5},{"edge":58.6}],)"
        R"("kit":["0.8x3"]})");
}

TEST_CASE("paths: a blank makes way for what is said below it") {
  Json document = Json::parse(R"({"rows": "", "cells": ["?"], "title": "x"})");
  CHECK_FALSE(set(document, "rows.count", "2"));
  CHECK_FALSE(set(document, "cells.0.pressed.value", "58"));
  CHECK(document.dump() ==
        R"({"rows":{"count":2},"cells":[{"pressed":{"value":58}}],"title":"x"})");
  CHECK(set(document, "title.count", "2"));
}

TEST_CASE("paths: what cannot be walked changes nothing") {
  Json document = Json::parse(R"({"cells": [{"edge": 1}], "title": "x"})");
  const Json before = document;
  for (const char* path : {"cells.2.edge", "cells.edge", "title.long", "", "cell..face", "cells.-1",
                           "new.3", "new.99999999999", "cells.99999999999999999999"}) {
    INFO(path);
    const auto problem = set(document, path, "1");
    REQUIRE(problem);
    CHECK_FALSE(problem->allowed.empty());
    CHECK(document == before);
  }
  std::string deep = "a";
  for (int step = 0; step < 100000; ++step) deep += ".a";
  CHECK(set(document, deep, "1"));
}

TEST_CASE("paths: --set taken apart") {
  const PathRead read = read_path_value("cell.limit=200 kPa");
  REQUIRE(read.value);
  CHECK(read.value->path == "cell.limit");
  CHECK(read.value->value == "200 kPa");
  CHECK(read_path_value("title=a=b").value->value == "a=b");
  CHECK(read_path_value("cell.limit=").value->value.empty());
  CHECK_FALSE(read_path_value("cell.limit").value);
  CHECK_FALSE(read_path_value("=3").value);
}

TEST_CASE("paths: the spreadsheet form reads like the file") {
  const std::string form =
      "path,value,note\n"
      ",,a heading\n"
      "cell.face.width,141,\n"
      "cell.face.height,183,\n"
      "cell.thickness,58.4±0.5 mm 30-40% 215kgf,\n"
      "cell.makers_force.value,215 kgf,as printed\n"
      "cells.0.edge,58.4,\n"
      "cells.1.edge,58.5,\n"
      "cells.2.edge,,not there\n"
      "box.inner.length,\"[119.0, 119.2]\",\n"
      "kit.+,0.8x6,\n";
  const ReadBuild read = testing::read_text(form, {}, "form.csv");
  INFO(testing::all_of(read));
  REQUIRE(read.build);
  CHECK(read.build->cells.size() == 2);
  CHECK(read.build->box.inner_length_mm.size() == 2);
  CHECK(read.build->kit.at(0).count == 6);
  const ReadBuild comma = testing::read_text(
      "path;value;note\ncell.face.width;141,5;\ncell.face.height;183 kg;\n", {}, "form.csv");
  CHECK(comma.document["cell"]["face"]["width"] == 141.5);
  CHECK(testing::problem_at(comma, "/cell/face/height").place.line == 3);
}

TEST_CASE("paths: --set works on a file, and its problems name it") {
  const ReadBuild read =
      testing::read_text(testing::plain_build,
                         {{"cell.limit", "200 kPa"}, {"cells.0.edge", "58.9"}, {"kit.+", "0.5x4"}});
  INFO(testing::all_of(read));
  REQUIRE(read.build);
  CHECK(read.build->cell.limit_mpa == Catch::Approx(0.2));
  CHECK(read.build->cells[0].edge_mm == Catch::Approx(58.9));
  CHECK(read.build->kit.size() == 2);
  const ReadBuild wrong = testing::read_text(testing::plain_build, {{"cells.0.edge", "58.9 kg"}});
  CHECK(testing::problem_at(wrong, "/cells/0/edge").place.file == "--set cells.0.edge");
  // An empty value takes a key out again.
  CHECK_FALSE(testing::read_text(testing::plain_build, {{"cell.chemistry", ""}})
                  .build->cell.chemistry_said);
}

}  // namespace stackfit::cli
