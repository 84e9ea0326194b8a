// SPDX-License-Identifier: GPL-3.0-or-later
//
// Where nothing fits: the rule that fails, and that every remedy listed does mend it.
#include "solver/remedy.hpp"

#include <algorithm>
#include <string>

#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;
using Catch::Approx;

namespace {

Build too_few_sheets() {
  Build b = sample::build();
  b.kit[0].count = 2;
  b.kit[1].count = 1;
  return b;
}
Build kit_too_thin() {
  Build b = sample::build(4, 9);
  b.kit[0].count = 5;
  b.kit[1].count = 4;
  return b;
}
Build box_too_short() { return sample::build(4, 1.5); }
Build too_tight_for_a_hand() {
  // What a hand can close, about 250 N on the face, is below this band.
  Build b = sample::build(4, 5.5);
  b.build.method = BuildMethod::hand;
  b.cell.range = PressureRange{0.06, 0.25, RangeAppliesTo::use};
  return b;
}
Build band_too_narrow() {
  Build b = sample::build();
  b.cell.range = PressureRange{0.08, 0.14, RangeAppliesTo::use};
  return b;
}
Build small_sheets() {
  // The films insulate; the kit's sheets press 0.62 of the face.
  Build b = sample::build();
  b.fixed_sheets.push_back(sample::sheet("film", 0.1));
  for (KitShim& shim : b.kit) {
    shim.sheet.outline = SheetOutline{100, 75, 0, {}, {}};
  }
  return b;
}
Build too_long_a_box() {
  Build b = sample::build(4, 16);
  b.kit[1].count = 6;
  return b;
}
Build places_wrong() {
  Build b = sample::build();
  for (KitShim& shim : b.kit) {
    shim.sheet.where.word = PlaceWord::between_cells;
  }
  return b;
}

struct Case {
  std::string name;
  Build build;
  FailedRule rule;
  std::size_t least_remedies;
};

std::vector<Case> cases() {
  return {
      {"too few sheets", too_few_sheets(), FailedRule::too_few_insulating_sheets, 1},
      {"kit too thin", kit_too_thin(), FailedRule::total_not_in_kit, 1},
      {"box too short", box_too_short(), FailedRule::total_not_in_kit, 1},
      {"too tight for a hand", too_tight_for_a_hand(), FailedRule::pressure_out_of_reach, 1},
      {"band too narrow", band_too_narrow(), FailedRule::pressure_out_of_reach, 1},
      {"small sheets", small_sheets(), FailedRule::uneven_coverage, 0},
      {"too long a box", too_long_a_box(), FailedRule::total_not_in_kit, 1},
      {"places wrong", places_wrong(), FailedRule::total_not_in_kit, 1},
  };
}

const Remedy* find_remedy(const Answer& answer, RemedyCode code) {
  for (const Remedy& remedy : answer.remedies) {
    if (remedy.code == code) {
      return &remedy;
    }
  }
  return nullptr;
}

}  // namespace

TEST_CASE("every remedy listed, applied, gives a plan that is inside") {
  for (const Case& one : cases()) {
    const Answer answer = answer_pick(one.build);
    INFO(one.name << ", rule " << static_cast<int>(answer.failure.rule));
    CHECK_FALSE(answer.inside());
    CHECK(answer.failure.rule == one.rule);
    CHECK(answer.remedies.size() >= one.least_remedies);
    for (const Remedy& remedy : answer.remedies) {
      INFO("remedy " << static_cast<int>(remedy.code) << ", thickness " << remedy.thickness_mm
                     << ", count " << remedy.count << ", value " << remedy.value << ", method "
                     << static_cast<int>(remedy.method));
      const Answer mended = answer_pick(apply(remedy, one.build));
      CHECK(mended.inside());
      CHECK(remedy.passes);
      CHECK(mended.plan.margin == Approx(remedy.margin).margin(1e-9));
    }
  }
}
