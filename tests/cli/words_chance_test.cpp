// SPDX-License-Identifier: GPL-3.0-or-later
//
// Chances in words: never better than they are.
#include "cli/words_chance.hpp"

#include <cstdlib>
#include <set>
#include <string>

#include "tests/catch.hpp"

using namespace stackfit;
using namespace stackfit::cli;

namespace {

// What a printed chance says, as a share: `88 in 100` is 0.88.
double said(const std::string& text) {
  const std::size_t digit = text.find_first_of("0123456789");
  const std::size_t in = text.find(" in ");
  return std::atof(text.c_str() + digit) / std::atof(text.c_str() + in + 4);
}

}  // namespace

TEST_CASE("a chance is rounded down, in hundredths and from 99 in thousandths") {
  CHECK(chance_text(0.88) == "88 in 100");
  CHECK(chance_text(0.29) == "29 in 100");  // 0.29 x 100 is 28.999... in binary
  CHECK(chance_text(0.8899) == "88 in 100");
  CHECK(chance_text(0.9899) == "98 in 100");
  CHECK(chance_text(0.99) == "990 in 1000");
  CHECK(chance_text(0.9949) == "994 in 1000");
  CHECK(chance_text(0.0099) == "less than 1 in 100");
  CHECK(chance_text(0.0) == "less than 1 in 100");
}

TEST_CASE("no chance reads as more than 999 in 1000, nor as better than it is") {
  CHECK(chance_text(1.0) == "999 in 1000");
  for (int i = 100; i <= 10000; ++i) {
    const double chance = i / 10000.0;
    const std::string text = chance_text(chance);
    INFO(chance << " reads " << text);
    CHECK(said(text) <= chance + 1e-9);
    CHECK(said(text) <= 0.999);
    CHECK(said(text) > chance - 0.0101);
  }
}

TEST_CASE("where no draw failed the chance is more than what the draws can tell") {
  CHECK(chance_text(ChanceOf{1, 0, 10000, 0.999}) == "more than 999 in 1000");
  CHECK(chance_text(ChanceOf{1, 0, 1000, 0.997}) == "more than 997 in 1000");
  CHECK(chance_text(ChanceOf{0.5, 0.01, 10000, {}}) == "50 in 100");
}

TEST_CASE("likelihood falls with the chance, and below one half it says not") {
  CHECK(likelihood(0.97) == "very likely inside");
  CHECK(likelihood(0.88) == "likely inside");
  CHECK(likelihood(0.6) == "rather inside than not");
  CHECK(likelihood(0.49) == "rather NOT inside");
  CHECK(likelihood(0.01) == "hardly inside");
}

TEST_CASE("every input and every measuring has a code and words of its own") {
  std::set<std::string_view> codes;
  std::set<std::string_view> words;
  const int inputs = static_cast<int>(ChanceInput::model_margin) + 1;
  for (int i = 0; i < inputs; ++i) {
    codes.insert(code(static_cast<ChanceInput>(i)));
    words.insert(plain(static_cast<ChanceInput>(i)));
  }
  CHECK(codes.size() == static_cast<std::size_t>(inputs));
  CHECK(words.size() == static_cast<std::size_t>(inputs));
  CHECK(code(ChanceInput::measured_charge) == "measured_charge");
  CHECK(code(Measuring::pull_test) == "pull_test");
  CHECK(name_of({ChanceInput::shim_thickness, "blue\033[31m", false, 0, 0, 0, 0}) ==
        "thickness of shims blue?[31m");
}

TEST_CASE("what measuring is worth: two figures that differ, or that it would hardly help") {
  const ChanceOf now{0.712, 0.004, 10000, {}};
  const Worth worth{Measuring::press_test, 0.934, 0.004};
  CHECK(sentence(worth, now, true) ==
        "a press test of one cell would raise the chance from 71 to 93 in 100 (shims chosen "
        "again by what it reads)");
  CHECK(sentence({Measuring::box_length, 0.715, 0}, now, false) ==
        "five readings of the box inside, to 0.2 mm, would hardly change the chance");
  CHECK_FALSE(raises({Measuring::box_length, 0.70, 0}, now));
  CHECK(sentence({Measuring::box_length, 0.995, 0}, now, false) ==
        "five readings of the box inside, to 0.2 mm, from 712 to 995 in 1000");
  CHECK_FALSE(raises(worth, ChanceOf{1, 0, 10000, 0.999}));
}
