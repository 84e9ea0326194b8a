// SPDX-License-Identifier: GPL-3.0-or-later
#include <set>
#include <string>

#include "cli/answer_words.hpp"
#include "cli/words_remedy.hpp"
#include "cli/words_warning.hpp"
#include "tests/catch.hpp"
#include "tests/cli/sample_answers.hpp"

using namespace stackfit;
using namespace stackfit::cli;

TEST_CASE("every code has a name of its own") {
  std::set<std::string_view> names;
  const int last = static_cast<int>(WarningCode::search_not_exhaustive);
  for (int i = 0; i <= last; ++i) {
    names.insert(code(static_cast<WarningCode>(i)));
  }
  CHECK(names.size() == static_cast<std::size_t>(last + 1));
  CHECK_FALSE(names.contains(""));
}

TEST_CASE("every warning is a sentence whose next step has a size") {
  for (const Warning& warning : samples::every_warning().warnings) {
    const std::string text = sentence(warning, Figures());
    INFO(text);
    CHECK(text != code(warning.code));
    CHECK(text.size() > 30);
    CHECK(text.find_first_of(";:,") != std::string::npos);
    CHECK(text.find_first_of("0123456789") != std::string::npos);
  }
}

TEST_CASE("a remedy is the --set that applies it") {
  const auto argument_of = [](const Remedy& remedy) {
    const auto argument = set_argument(remedy);
    REQUIRE(argument);
    return shell_option(*argument);
  };
  Remedy remedy;
  remedy.code = RemedyCode::add_shims;
  remedy.thickness_mm = 1.0;
  remedy.count = 9;
  CHECK(argument_of(remedy) == R"(--set 'kit.+={"name":"new 1","thickness":"1 mm","count":9}')");
  remedy.code = RemedyCode::more_of_a_kind;
  remedy.kit_index = 2;
  CHECK(argument_of(remedy) == "--set kit.2.count=9");
  remedy.code = RemedyCode::box_length;
  remedy.value = 517.5;
  CHECK(argument_of(remedy) == R"(--set box.inner.length="517.5 mm")");
  remedy.code = RemedyCode::charge_window;
  remedy.window = {0.15, 0.8};
  CHECK(argument_of(remedy) == R"(--set use.charge="15-80 %")");
  remedy.code = RemedyCode::build_method;
  remedy.method = BuildMethod::end_wall_last;
  CHECK(argument_of(remedy) == R"(--set build.method="end wall last")");
  remedy.code = RemedyCode::build_charge;
  remedy.value = 0.15;
  CHECK(argument_of(remedy) == R"(--set build.charge="15 %")");
  remedy.code = RemedyCode::slip_film;
  CHECK(argument_of(remedy) == "--set build.slip_film=true");
  remedy.code = RemedyCode::end_pads;
  remedy.thickness_mm = 3;
  remedy.grade = 2;
  CHECK(argument_of(remedy) == R"(--set 'pads.+={"where":"ends","thickness":"3 mm","grade":2}')");
  remedy.code = RemedyCode::cell_order;
  CHECK(argument_of(remedy) == "--set cells_may_move=true");
}

TEST_CASE("an end wall that one line says is said anew, any other changes its thickness alone") {
  Remedy remedy;
  remedy.code = RemedyCode::end_wall;
  remedy.thickness_mm = 3.175;
  CHECK(shell_option(*set_argument(remedy)) == R"(--set box.end_walls="3.175 mm")");
  remedy.wall.material = WallMaterial::stainless_steel;
  remedy.wall.joint = WallJoint::welded;
  CHECK(shell_option(*set_argument(remedy)) ==
        R"(--set box.end_walls="3.175 mm stainless steel welded")");
  remedy.wall.second_plate = SecondPlate{};
  CHECK(shell_option(*set_argument(remedy)) == R"(--set box.end_walls.thickness="3.175 mm")");
}

TEST_CASE("a way to get the last piece in is the --set that takes it") {
  const auto option_of = [](const WayOutResult& way) { return shell_option(set_argument(way)); };
  CHECK(option_of({WayOut::end_wall_last, true}) == R"(--set build.method="end wall last")");
  CHECK(option_of({WayOut::walls_spread, true}) == R"(--set build.method="walls spread")");
  CHECK(option_of({WayOut::clamp, true}) == "--set build.method=clamp");
  CHECK(option_of({WayOut::lower_charge, true, 0, 0.15}) == R"(--set build.charge="15 %")");
  CHECK(option_of({WayOut::slip_film, true}) == "--set build.slip_film=true");
}

TEST_CASE("a name with a quote in it stays one word of the shell") {
  CHECK(shell_option({"kit.+", R"({"name":"Jo's"})"}) == R"(--set 'kit.+={"name":"Jo'\''s"}')");
}

TEST_CASE("every remedy has a sentence") {
  for (const Remedy& remedy : samples::not_fitting().remedies) {
    CHECK(sentence(remedy, Figures()).size() > 10);
  }
}
