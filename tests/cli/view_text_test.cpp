// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/view_text.hpp"

#include <algorithm>
#include <sstream>
#include <string>
#include <vector>

#include "cli/text_lines.hpp"
#include "cli/view_assumed.hpp"
#include "tests/catch.hpp"
#include "tests/cli/sample_answers.hpp"

using namespace stackfit;
using namespace stackfit::cli;
using Catch::Matchers::ContainsSubstring;

namespace {

std::vector<std::string> lines_of(const std::string& text) {
  std::istringstream stream(text);
  std::vector<std::string> lines;
  for (std::string line; std::getline(stream, line);) {
    lines.push_back(line);
  }
  return lines;
}

std::vector<Answer> every_sample() {
  return {samples::fitting(),       samples::fitting(1),    samples::fitting(16),
          samples::fitting(64),     samples::fitting(200),  samples::long_names(),
          samples::long_names(64),  samples::not_fitting(), samples::stopped(),
          samples::every_warning(), samples::bare(),        samples::with_chance()};
}

TextStyle style(bool all, std::string_view units = "") {
  TextStyle made;
  made.all = all;
  made.units = read_unit_choice(units).choice;
  return made;
}

std::string one_line(const std::string& text) {
  std::istringstream stream(text);
  std::string flowed;
  for (std::string word; stream >> word;) {
    flowed += word + " ";
  }
  return flowed;
}

}  // namespace

TEST_CASE("no line of any answer is wider than 80 columns") {
  for (const Answer& answer : every_sample()) {
    for (const bool all : {false, true}) {
      for (const char* units : {"", "in,psi,lbf,F", "MPa,N", "Pa"}) {
        for (const std::string& line : lines_of(text_of(answer, style(all, units)))) {
          INFO(line);
          CHECK(display_width(line) <= line_width);
        }
      }
    }
  }
}

TEST_CASE("an ordinary answer stays near 45 lines") {
  constexpr std::size_t about_45 = 55;
  CHECK(lines_of(text_of(samples::fitting(), style(false))).size() <= about_45);
  CHECK(lines_of(text_of(samples::not_fitting(), style(false))).size() <= about_45);
  // Two lines more where chance and margin choose differently, as there.
  CHECK(lines_of(text_of(samples::with_chance(), style(false))).size() <= about_45 + 2);
}

TEST_CASE("the first line of every answer says what is never pressed") {
  for (const Answer& answer : every_sample()) {
    const std::string text = text_of(answer, style(false));
    CHECK(text.rfind("STOP:", 0) == 0);
    CHECK_THAT(one_line(text), ContainsSubstring("swollen, warm, dented, leaking or smelling"));
    CHECK_THAT(one_line(text), ContainsSubstring("local codes overrule"));
    CHECK_THAT(one_line(text), ContainsSubstring("licensed or qualified person"));
  }
}

TEST_CASE("a swollen or harmed cell replaces the verdict and no plan is printed") {
  const std::string text = one_line(text_of(samples::stopped(), style(true)));
  CHECK_THAT(text, ContainsSubstring("STOP: cell c3 is swollen by 1.3 mm, cell c6 shows a sign"));
  CHECK_THAT(text, !ContainsSubstring("WHERE THE SHIMS GO"));
  CHECK_THAT(text, !ContainsSubstring("PUT IT TOGETHER"));
  CHECK_THAT(text, !ContainsSubstring("FITS"));
}

TEST_CASE("the verdict carries the soft and stiff bracket in its sentence") {
  const std::string text = one_line(text_of(samples::fitting(), style(false)));
  CHECK_THAT(text, ContainsSubstring("FITS ON ASSUMED FIGURES: 50 to 94 kPa over 10-90 % charge"));
  CHECK_THAT(text, ContainsSubstring("31 to 136 if the cells are half or twice as stiff *"));
}

TEST_CASE("with a chance the verdict carries it, and the bracket waits for --all") {
  const Answer answer = samples::with_chance();
  const std::string text = one_line(text_of(answer, style(false)));
  CHECK_THAT(text, ContainsSubstring("new; likely inside (88 in 100, with assumed inputs *)."));
  CHECK_THAT(text, !ContainsSubstring("half or twice as stiff"));
  CHECK_THAT(one_line(text_of(answer, style(true))), ContainsSubstring("half or twice as stiff"));
  CHECK_THAT(text, ContainsSubstring("88 in 100 (+-0.2, 20000 draws); else, in 100: "
                                     "8.8 too tight, 3.1 too loose"));
  CHECK_THAT(text, ContainsSubstring("39 to 80 kPa, 89 in 100") ||
                       ContainsSubstring("50 to 94 kPa, 89 in 100"));
  CHECK_THAT(text, ContainsSubstring("by margin: 84 in 100, margin 0.24; 12.20 mm of shims"));
}

TEST_CASE("what to measure next: two in short, all of them with the doubts under --all") {
  const Answer answer = samples::with_chance();
  const std::string text = one_line(text_of(answer, style(false)));
  CHECK_THAT(text, ContainsSubstring("a press test of one cell would raise the chance from 88 to "
                                     "97 in 100 (shims chosen again by what it reads)"));
  CHECK_THAT(text, ContainsSubstring("from 88 to 95 in 100"));
  CHECK_THAT(text, !ContainsSubstring("from 88 to 93 in 100"));
  CHECK_THAT(text, !ContainsSubstring("Not in the chance"));
  const std::string all = one_line(text_of(answer, style(true)));
  CHECK_THAT(all, ContainsSubstring("from 88 to 93 in 100"));
  CHECK_THAT(all, ContainsSubstring("softness of the cells * 61 70 32 68"));
  CHECK_THAT(all, ContainsSubstring("lowest 31 50 68"));
  CHECK_THAT(all, ContainsSubstring("Not in the chance: how columns shear"));
}

TEST_CASE("no draw failed: more than, and nothing of how the rest fails") {
  Answer answer = samples::with_chance();
  answer.chance->plan = {1, 0, 20000, 0.999};
  answer.chance->assumed_inputs = false;
  const std::string text = one_line(text_of(answer, style(false)));
  CHECK_THAT(text, ContainsSubstring("very likely inside (more than 999 in 1000)."));
  CHECK_THAT(text, ContainsSubstring("none of 20000 draws failed"));
  CHECK_THAT(text, !ContainsSubstring("too tight"));
  CHECK_THAT(text, !ContainsSubstring("would raise"));
}

TEST_CASE("a build that fits lists what makes it better, two in short") {
  Answer answer = samples::with_chance();
  answer.remedies = samples::not_fitting().remedies;
  answer.remedies[0].chance = 0.93;
  const std::string text = one_line(text_of(answer, style(false)));
  CHECK_THAT(text, ContainsSubstring("WORTH A CHANGE"));
  CHECK_THAT(text, ContainsSubstring("-> 36 to 83 kPa, 93 in 100 --set"));
  CHECK_THAT(text, ContainsSubstring("10 more: --all"));
  CHECK_THAT(text, !ContainsSubstring("MENDS IT"));
}

TEST_CASE("what does not fit says the rule in millimetres, then what mends it") {
  const std::string text = text_of(samples::not_fitting(), style(true));
  CHECK_THAT(one_line(text),
             ContainsSubstring("DOES NOT FIT: the cells breathe 3.3 mm, the band takes 2.2 mm"));
  CHECK_THAT(text, ContainsSubstring("--set box.inner.length=\"517.5 mm\""));
  CHECK_THAT(text, ContainsSubstring("-> 36 to 83 kPa"));
  CHECK_THAT(text, !ContainsSubstring("PUT IT TOGETHER"));
}

TEST_CASE("where a hand is too weak, each way out is told, and how to take the ones that work") {
  Answer answer = samples::fitting();
  answer.verdict = Verdict::does_not_fit;
  answer.failure.rule = FailedRule::build_method;
  answer.insertion.method = BuildMethod::hand;
  answer.insertion.works = false;
  const std::string text = one_line(text_of(answer, style(false)));
  CHECK_THAT(text, ContainsSubstring("NOT BY HAND - the last cell would need 141 kgf of push"));
  CHECK_THAT(text, ContainsSubstring("works: end wall last: two clamps draw it in with 236 kgf "
                                     "--set build.method=\"end wall last\""));
  CHECK_THAT(text, ContainsSubstring("no: slip film: still 56 kgf of push"));
  CHECK_THAT(text, !ContainsSubstring("No single change"));
}

TEST_CASE("nothing pressed at all is said so, not as 0 to 0 kPa") {
  Answer answer = samples::not_fitting();
  answer.plan.lowest.face_pressure_mpa = answer.plan.highest.face_pressure_mpa = 0;
  const std::string text = one_line(text_of(answer, style(false)));
  CHECK_THAT(text, ContainsSubstring("The nearest gives no pressure at all over 10-90 % charge"));
}

TEST_CASE("five warnings at most, the rest under --all") {
  const std::string text = text_of(samples::every_warning(), style(false));
  CHECK_THAT(text, ContainsSubstring("more: --all"));
  CHECK_THAT(text, !ContainsSubstring("too many ways to try"));
  CHECK_THAT(text_of(samples::every_warning(), style(true)),
             ContainsSubstring("too many ways to try"));
}

TEST_CASE("no escape reaches the terminal without colour, nor from a file's text with it") {
  CHECK(text_of(samples::long_names(), style(true)).find('\033') == std::string::npos);
  TextStyle colourful = style(false);
  colourful.colour = true;
  const std::string text = text_of(samples::long_names(), colourful);
  CHECK(text.find('\033') != std::string::npos);
  CHECK(text.find("\033[31mT") == std::string::npos);
}

TEST_CASE("colour changes nothing but colour") {
  TextStyle colourful = style(false);
  colourful.colour = true;
  std::string text = text_of(samples::fitting(), colourful);
  for (auto at = text.find('\033'); at != std::string::npos; at = text.find('\033')) {
    text.erase(at, text.find('m', at) - at + 1);
  }
  CHECK(text == text_of(samples::fitting(), style(false)));
}

TEST_CASE("rows of more than eight cells are drawn in several lines") {
  const std::string text = text_of(samples::fitting(16), style(false));
  CHECK_THAT(text, ContainsSubstring("|b| 9 |a|10 |b|11"));
  CHECK_THAT(text, ContainsSubstring("|b| loose wall"));
  CHECK_THAT(text, ContainsSubstring("26.32\n"));
  CHECK_THAT(text, ContainsSubstring("52.64 V"));
}

TEST_CASE("the ways that are not by hand each say how to open it again") {
  const auto text_with = [](BuildMethod method) {
    Answer answer = samples::fitting();
    answer.insertion.method = method;
    return one_line(text_of(answer, style(false)));
  };
  CHECK_THAT(text_with(BuildMethod::end_wall_last),
             ContainsSubstring("clamps on first, then a screw a turn each"));
  CHECK_THAT(text_with(BuildMethod::clamp), ContainsSubstring("to 316 kgf and no more"));
  CHECK_THAT(text_with(BuildMethod::clamp), ContainsSubstring("To open, clamp again first"));
  CHECK_THAT(text_with(BuildMethod::walls_spread), ContainsSubstring("end walls by 3.7 mm"));
  CHECK_THAT(text_with(BuildMethod::walls_spread),
             ContainsSubstring("To open, spread them again first"));
  for (const BuildMethod method :
       {BuildMethod::end_wall_last, BuildMethod::clamp, BuildMethod::walls_spread}) {
    CHECK_THAT(text_with(method), ContainsSubstring("pushes back with 236 kgf"));
    CHECK_THAT(text_with(method), ContainsSubstring("no mallet, jack, lever or body weight"));
  }
}

TEST_CASE("by hand: the last cell goes in between two cells, and never by force") {
  Answer answer = samples::fitting();
  answer.insertion.method = BuildMethod::hand;
  answer.insertion.push_n = 90;
  const std::string text = one_line(text_of(answer, style(false)));
  CHECK_THAT(text, ContainsSubstring("BY HAND - the last cell needs 9.2 kgf of push"));
  CHECK_THAT(text, ContainsSubstring("goes in last, between cells 3 and 5"));
  CHECK_THAT(text, ContainsSubstring("through a full-width block on the can's shoulders"));
  CHECK_THAT(text, ContainsSubstring("no mallet, jack, lever or body weight"));
}

TEST_CASE("the option --units changes what is printed, not what is meant") {
  const std::string text = one_line(text_of(samples::fitting(), style(false, "in,psi,lbf")));
  CHECK_THAT(text, ContainsSubstring("7.3 to 13.6 psi"));
  CHECK_THAT(text, ContainsSubstring("311 lbf of push"));
  CHECK_THAT(text, ContainsSubstring("0.142 in too long"));
}

TEST_CASE("the option --assumed names every starred value with its span, why and worth") {
  const std::string text = one_line(assumed_text(samples::fitting(), style(false)));
  CHECK_THAT(text, ContainsSubstring("softness of the cells, A: 0.06 MPa (0.03 to 0.12)"));
  CHECK_THAT(text, ContainsSubstring("-32 to +42 kPa on the highest"));
  CHECK_THAT(text, ContainsSubstring("end wall material: aluminium"));
  CHECK(text.find("softness of the cells, A") < text.find("free growth"));
  for (const std::string& line : lines_of(assumed_text(samples::fitting(), style(false)))) {
    CHECK(display_width(line) <= line_width);
  }
  CHECK_THAT(assumed_text(samples::bare(), style(false)), ContainsSubstring("Nothing"));
}

TEST_CASE("the option --assumed tells spans that only the chance draws from as such") {
  Answer answer = samples::with_chance();
  answer.assumed = {{Assumed::box_reading, 0.4, 0, 0}, {Assumed::edge_fixity, 0, 0, 0}};
  const std::string text = one_line(assumed_text(answer, style(false)));
  CHECK_THAT(text,
             ContainsSubstring("inner length of the box as read, give or take: 0.4 mm for the "
                               "chance alone"));
  CHECK_THAT(text, !ContainsSubstring("a choice: no span"));
  CHECK_THAT(text, !ContainsSubstring("moves the highest by 0"));
}
