// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/json_text.hpp"

#include <string>

#include "tests/catch.hpp"

namespace stackfit::cli {
namespace {

JsonText read(std::string text) {
  return read_json_text(check_text("a.json", std::move(text)));
}

}  // namespace

TEST_CASE("json: comments, a byte order mark, and where things stand") {
  const JsonText json = read(
      "\xEF\xBB\xBF// a remark\n{ \"a\": [1, -2.5e1,\n  {\"\xC3\xA4\": \"x\\\"y\"}], /* so */ "
      "\"b\": true,\n"
      "\"c/d\": null }");
  REQUIRE(json.document);
  CHECK(json.problems.empty());
  const auto at = [&](const std::string& pointer) {
    const TextPlace place = json.places.value(pointer);
    return std::to_string(place.line) + ":" + std::to_string(place.column);
  };
  CHECK(at("") == "2:1");
  CHECK(at("/a") == "2:8");
  CHECK(at("/a/0") == "2:9");
  CHECK(at("/a/1") == "2:12");
  CHECK(at("/a/2") == "3:3");
  CHECK(at("/a/2/\xC3\xA4") == "3:9");
  CHECK(at("/b") == "3:33");
  CHECK(at("/c~1d") == "4:8");
  CHECK(json.places.key("/b").column == 28);
  // What is not there is said at what is around it.
  CHECK(at("/a/2/none") == "3:3");
}

TEST_CASE("json: syntax errors in plain words") {
  struct Broken {
    const char* text;
    int line;
    int column;
    const char* part;
  };
  const Broken cases[] = {
      {"{\"a\": 1,}", 1, 8, "comma with nothing after it"},
      {"{\"a\": [1,\n 2, // two\n]}", 2, 3, "comma with nothing after it"},
      {R"({"a": 1 "b": 2})", 1, 9, "comma is missing"},
      {"{\"a\" 1}", 1, 6, "colon"},
      {"{a: 1}", 1, 2, "double quotes"},
      {"{'a': 1}", 1, 2, "double quotes"},
      {"{\"a\": 0.8 mm}", 1, 11, "0.8 mm"},
      {"{\"a\": NaN}", 1, 7, "a value"},
      {"{\"a\": tru}", 1, 7, "a value"},
      {"{\"a\": 1", 1, 8, "the { in line 1"},
      {"{\n\"a\": [1", 2, 8, "the [ in line 2"},
      {"{\"a\": 1} x", 1, 10, "nothing after"},
      {"{\"a\": \"x\ny\"}", 1, 9, "quotes"},
      {"{\"a\": 1e999}", 1, 7, "too large"},
      {"{\"a\": 1 /* x", 1, 9, "comment"},
      {"hello", 1, 1, "begins with {"},
      {"", 1, 1, "empty file"},
      {"  \n", 1, 1, "empty file"},
  };
  for (const Broken& one : cases) {
    INFO(one.text);
    const JsonText json = read(one.text);
    CHECK_FALSE(json.document);
    REQUIRE(json.problems.size() == 1);
    const Problem& problem = json.problems[0];
    CHECK(problem.place.line == one.line);
    CHECK(problem.place.column == one.column);
    CHECK_THAT(problem.found + " / " + problem.allowed + " / " + problem.mend,
               Catch::Matchers::ContainsSubstring(one.part));
  }
}

TEST_CASE("json: a key written twice is found, at any depth") {
  const JsonText json = read("{\"a\": {\"b\": 1,\n \"b\": 2}, \"c\": 3, \"a\": 4}");
  REQUIRE(json.problems.size() == 2);
  CHECK(json.problems[0].place.pointer == "/a/b");
  CHECK(json.problems[0].place.line == 2);
  CHECK_THAT(json.problems[0].mend, Catch::Matchers::ContainsSubstring("line 1"));
  CHECK(json.problems[1].place.pointer == "/a");
  // The same key in two objects is nothing to complain of.
  CHECK(read("{\"a\": {\"b\": 1}, \"c\": {\"b\": 2}}").problems.empty());
}

TEST_CASE("json: nesting has an end") {
  const auto nested = [](std::size_t depth) {
    return std::string(depth, '[') + std::string(depth, ']');
  };
  CHECK(read(nested(deepest_nesting)).problems.empty());
  const JsonText deep = read(nested(deepest_nesting + 1));
  REQUIRE(deep.problems.size() == 1);
  CHECK_THAT(deep.problems[0].found, Catch::Matchers::ContainsSubstring("deep"));
  CHECK(read(std::string(1000000, '[')).problems.size() == 1);
}

TEST_CASE("text: what is no UTF-8 text has its own sentence") {
  const auto mend = [](std::string bytes) {
    const TextFile file = check_text("f", std::move(bytes));
    REQUIRE(file.problem);
    return file.problem->found + " / " + file.problem->mend;
  };
  using Catch::Matchers::ContainsSubstring;
  CHECK_THAT(mend("PK\x03\x04rest"), ContainsSubstring("save it as CSV"));
  CHECK_THAT(mend("\xD0\xCF\x11\xE0rest"), ContainsSubstring("save it as CSV"));
  CHECK_THAT(mend("\xFF\xFE{"), ContainsSubstring("UTF-16"));
  CHECK_THAT(mend("{\"a\": \"\xFF\"}"), ContainsSubstring("UTF-8"));
  CHECK_THAT(mend("\xC0\xAF"), ContainsSubstring("UTF-8"));          // overlong
  CHECK_THAT(mend("\xED\xA0\x80"), ContainsSubstring("UTF-8"));      // surrogate
  CHECK_THAT(mend("\xF4\x90\x80\x80"), ContainsSubstring("UTF-8"));  // beyond the last letter
  CHECK_THAT(mend("\xE2\x82"), ContainsSubstring("UTF-8"));          // cut off
  CHECK_THAT(mend(std::string("a\0b", 3)), ContainsSubstring("UTF-8"));
  CHECK_THAT(mend(std::string(largest_file_bytes + 1, ' ')), ContainsSubstring("16 MB"));
  CHECK_FALSE(check_text("f", "\xE2\x82\xAC \xF0\x9F\x94\x8B").problem);
}

}  // namespace stackfit::cli
