// SPDX-License-Identifier: GPL-3.0-or-later
//
// Whole pages as text: what must stand in them, and that nothing of a file's text gets loose. How
// they look and work in a browser is tests/page.
#include "cli/page.hpp"

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "cli/cautions.hpp"
#include "cli/page_text.hpp"
#include "cli/view_json.hpp"
#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"
#include "tests/cli/sample_answers.hpp"

using namespace stackfit;
using namespace stackfit::cli;
using namespace stackfit::cli::testing;

namespace {

PageHead head() {
  return {"shed.json", "2026-11-28", {}};
}

bool has(const std::string& page, std::string_view part) {
  return page.find(part) != std::string::npos;
}

std::size_t elements(const std::string& page, const std::string& name) {
  std::size_t found = 0;
  for (auto at = page.find("<" + name); at != std::string::npos;
       at = page.find("<" + name, at + 1)) {
    ++found;
  }
  return found;
}

// What stands in the element with this id.
std::string script_text(const std::string& page, const std::string& id) {
  const std::string open = "<script type=\"application/json\" id=\"" + id + "\">";
  const auto from = page.find(open);
  REQUIRE(from != std::string::npos);
  const auto end = page.find("</script>", from);
  return page.substr(from + open.size(), end - from - open.size());
}

Answer solved(const std::string& fixture) {
  const ReadBuild read = read_fixture(fixture);
  INFO(all_of(read));
  REQUIRE(read.build);
  return answer_pick(*read.build, {}, {}, Pictures::drawn);
}

}  // namespace

TEST_CASE("every page says stop first, the cautions in full, and who overrules it") {
  for (const Answer& answer : {samples::fitting(), samples::with_chance(), samples::not_fitting(),
                               samples::stopped(), samples::every_warning(), samples::bare()}) {
    const std::string page = page_of(answer, head());
    for (const char* line : cautions::stop_lines) {
      CHECK(has(page, html_of(line)));
    }
    for (const char* line : cautions::in_full) {
      CHECK(has(page, html_of(line)));
    }
    CHECK(has(page, html_of(cautions::overruled)));
    CHECK(page.find("class=\"stop\"") < page.find("class=\"verdict"));
  }
}

TEST_CASE("a page tells every warning and change, and sends nobody to an option for more") {
  CHECK_FALSE(has(page_of(samples::every_warning(), head()), "more: --all"));
  CHECK_FALSE(has(page_of(samples::not_fitting(), head()), "more: --all"));
}

TEST_CASE("where a cell must not be pressed there is no plan, no step and nothing to play with") {
  const std::string page = page_of(samples::stopped(), head());
  for (const char* id : {"id=\"bench\"", "id=\"steps\"", "id=\"row\"", "id=\"pressure\"",
                         "id=\"play\"", "id=\"play-data\""}) {
    INFO(id);
    CHECK_FALSE(has(page, id));
  }
  CHECK(has(page, "verdict-stop"));
}

TEST_CASE("the page holds the answer as --json gives it, and the solver's states to play with") {
  const Answer answer = solved("shed_bank.json");
  const std::string page = page_of(answer, head());
  CHECK(nlohmann::json::parse(script_text(page, "answer")) ==
        nlohmann::json::parse(json_of(answer).dump()));
  const auto play = nlohmann::json::parse(script_text(page, "play-data"));
  CHECK(play["solved"][0]["face_pressure_mpa"] == answer.plan.as_built.face_pressure_mpa);
  CHECK(play["solved"][1]["force_n"] == answer.plan.lowest.force_n);
  CHECK(play["solved"].size() == 3 + answer.plan.states.size());
  CHECK(play["kinds"][0]["face_pressure_mpa"].size() ==
        play["total_mm"].size() * play["shift_mm"].size());
}

TEST_CASE("names of a file change nothing but their own text") {
  Answer plain = samples::fitting();
  Answer hostile = plain;
  const std::string bad = "</script><img src=x onerror=alert(1)>{{title}}\"'>";
  hostile.title = bad;
  for (CellResult& cell : hostile.cells) {
    cell.id = bad;
    cell.signs = bad;
  }
  for (GapResult& gap : hostile.plan.gaps) {
    for (GapSheet& sheet : gap.sheets) {
      sheet.name = bad;
    }
  }
  for (KitUse& use : hostile.plan.kit) {
    use.name = bad;
  }
  PageHead bad_head = head();
  bad_head.file = bad;
  const std::string page = page_of(hostile, bad_head);
  const std::string usual = page_of(plain, head());
  CHECK_FALSE(has(page, "<img"));
  for (const char* name : {"script", "svg", "section", "table", "input", "li"}) {
    INFO(name);
    CHECK(elements(page, name) == elements(usual, name));
  }
}

TEST_CASE("a torque that the maker gives is told in both units, and only then") {
  Answer answer = samples::fitting();
  CHECK_FALSE(has(page_of(answer, head()), "in-lb"));
  answer.terminal_torque_nmm = 6000;
  CHECK(has(page_of(answer, head()), "tighten to 6.0 N·m (53 in-lb)"));
}

TEST_CASE("nothing is loaded from elsewhere") {
  const std::string page = page_of(solved("bench_frame.json"), head());
  for (const char* part :
       {"src=\"http", "href=\"http", "url(http", "@import", "<link", "<iframe"}) {
    INFO(part);
    CHECK_FALSE(has(page, part));
  }
}
