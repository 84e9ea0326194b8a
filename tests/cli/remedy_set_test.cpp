// SPDX-License-Identifier: GPL-3.0-or-later
//
// Advice keeps its promise: each --set line, read as the command line reads it, gives the build
// that was solved, to the figures that were printed.
#include <cmath>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "cli/answer_words.hpp"
#include "cli/figures.hpp"
#include "cli/words_remedy.hpp"
#include "solver/answer.hpp"
#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"

using namespace stackfit;
using namespace stackfit::cli;
using namespace stackfit::cli::testing;
using Catch::Approx;

namespace {

struct Hopeless {
  std::string fixture;
  std::vector<PathValue> sets;
};

// Builds that do not fit, so chosen that together they have every sort of change on their lists.
std::vector<Hopeless> hopeless_builds() {
  return {
      {"too_few_shims.json", {}},
      {"bench_frame.json", {{"frame.force", "30kgf"}}},
      {"sheet_box.json",
       {{"cell.range", R"({"low":"12 kPa","high":"40 kPa","applies_to":"use"})"}}},
      {"sheet_box.json",
       {{"cell.range", R"({"low":"3 kPa","high":"60 kPa","applies_to":"use"})"},
        {"build.method", "hand"},
        {"build.push_limit", "2 kgf"}}},
      {"boat_hand_slid.json", {{"build.push_limit", "90 N"}}},
      {"boat_hand_slid.json",
       {{"build.slip_film", "false"},
        {"kit.0.slippery_face", "false"},
        {"kit.1.slippery_face", "false"}}},
      {"shed_bank.json", {{"cell.range", R"({"low":"36 kPa","high":"92 kPa"})"}}},
      {"sheet_box.json", {{"kit.0.count", "1"}, {"kit.1.count", "1"}, {"kit.2.count", "1"}}},
  };
}

ReadBuild read(const Hopeless& build, const Remedy& remedy) {
  std::vector<PathValue> sets = build.sets;
  const SetArgument set = set_argument(remedy).value();
  sets.push_back({set.path, set.value});
  return read_fixture(build.fixture, std::move(sets));
}

}  // namespace

TEST_CASE("every --set line of advice gives the figures that it was printed with") {
  std::set<std::string_view> seen;
  const Figures figures;
  for (const Hopeless& build : hopeless_builds()) {
    const ReadBuild asked = read_fixture(build.fixture, build.sets);
    INFO(build.fixture << ' ' << all_of(asked));
    REQUIRE(asked.build);
    const Answer answer = answer_pick(*asked.build);
    CHECK_FALSE(answer.inside());
    for (const Remedy& remedy : answer.remedies) {
      const ReadBuild changed = read(build, remedy);
      INFO(sentence(remedy, figures) << ' ' << all_of(changed));
      REQUIRE(changed.build);
      const Answer mended = answer_pick(*changed.build);
      seen.insert(code(remedy.code));
      CHECK(mended.inside());
      // Walls that stretch are solved among shapes found where they were first asked for.
      constexpr double as_good_as_curves = 0.005;
      CHECK(mended.plan.margin == Approx(remedy.margin).margin(as_good_as_curves));
      CHECK(figures.pressure(mended.plan.lowest.face_pressure_mpa) ==
            figures.pressure(remedy.lowest_mpa));
      CHECK(figures.pressure(mended.plan.highest.face_pressure_mpa) ==
            figures.pressure(remedy.highest_mpa));
    }
  }
  for (int i = 0; i <= static_cast<int>(RemedyCode::end_wall); ++i) {
    INFO(code(static_cast<RemedyCode>(i)));
    CHECK(seen.contains(code(static_cast<RemedyCode>(i))));
  }
}
