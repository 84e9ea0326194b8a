// SPDX-License-Identifier: GPL-3.0-or-later
//
// How sure one asks to be, as typed; and what the exit status makes of it.
#include "cli/options_chance.hpp"

#include <string>

#include "cli/command_answer.hpp"
#include "tests/catch.hpp"
#include "tests/cli/sample_answers.hpp"

using namespace stackfit;
using namespace stackfit::cli;
using Catch::Approx;

TEST_CASE("nothing said: by chance, as many draws as settle it, and no chance needed") {
  const ChanceRead read = read_chance_options({});
  CHECK(read.problems.empty());
  CHECK(read.options.by == PickBy::chance);
  CHECK(read.options.samples == 0);
  CHECK(read.options.threads == 0);
  CHECK_FALSE(read.options.need);
}

TEST_CASE("a chance that is needed is parts in a hundred, up to what can be told at all") {
  const auto need = [](const std::string& text) {
    return read_chance_options(
        {.need = text, .by = "", .samples = "", .threads = "", .none = false});
  };
  CHECK(need("95").options.need == Approx(0.95));
  CHECK(need("95%").options.need == Approx(0.95));
  CHECK(need(" 99.9 % ").options.need == Approx(0.999));
  CHECK(need("1").options.need == Approx(0.01));
  for (const char* wrong : {"0", "-5", "100", "99.95", "ninety", "nan", "95 kPa", "0.95", "%"}) {
    const ChanceRead read = need(wrong);
    INFO(wrong);
    REQUIRE(read.problems.size() == 1);
    CHECK_FALSE(read.options.need);
    CHECK(read.problems[0].place.file == "--need-chance");
    CHECK(read.problems[0].found == wrong);
    CHECK(read.problems[0].allowed == "parts in a hundred, from 1 to 99.9");
  }
  CHECK(need("0.95").problems[0].mend == "--need-chance 95");
}

TEST_CASE("draws and threads are whole numbers, the best plan is by chance or by margin") {
  const ChanceRead good = read_chance_options(
      {.need = "", .by = "margin", .samples = "1e6", .threads = "2", .none = false});
  CHECK(good.problems.empty());
  CHECK(good.options.by == PickBy::margin);
  CHECK(good.options.samples == 1'000'000);
  CHECK(good.options.threads == 2);
  const ChanceRead bad = read_chance_options(
      {.need = "x", .by = "luck", .samples = "1e12", .threads = "1.5", .none = false});
  CHECK(bad.problems.size() == 4);
  CHECK(read_chance_options({.need = "", .by = "", .samples = "0", .threads = "-1", .none = false})
            .problems.size() == 2);
}

TEST_CASE("a chance changes the exit status only where one is needed") {
  const Answer answer = samples::with_chance();  // 0.8812
  CHECK(exit_status(answer, {}) == exit_inside);
  ChanceOptions asked;
  asked.need = 0.88;
  CHECK(exit_status(answer, asked) == exit_inside);
  asked.need = 0.89;
  CHECK(exit_status(answer, asked) == exit_warning);
  CHECK(exit_status(samples::fitting(), asked) == exit_warning);  // none was computed
  Answer sure = answer;
  sure.chance->plan = {1, 0, 20000, 0.999};
  asked.need = 0.999;
  CHECK(exit_status(sure, asked) == exit_inside);
  sure.chance->plan.more_than = 0.997;
  CHECK(exit_status(sure, asked) == exit_warning);
  asked.need = 0.01;
  CHECK(exit_status(samples::not_fitting(), asked) == exit_warning);
}

TEST_CASE("no chance where none is wanted, not together with one that is needed") {
  const ChanceRead none =
      read_chance_options({.need = "", .by = "", .samples = "", .threads = "", .none = true});
  CHECK_FALSE(none.wanted);
  CHECK(none.problems.empty());
  const ChanceRead both =
      read_chance_options({.need = "90", .by = "", .samples = "", .threads = "", .none = true});
  REQUIRE(both.problems.size() == 1);
  CHECK(both.problems.front().place.file == "--no-chance");
}
