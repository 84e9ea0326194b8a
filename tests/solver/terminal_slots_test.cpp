// SPDX-License-Identifier: GPL-3.0-or-later
//
// Terminals over the swing, worked by hand and as properties:
//   1. the parts of a pressed row fill the room between its walls, in every state
//   2. cells that are all alike between fixed walls keep their spacing
//   3. a pad between cells lets its own pair come together by what all cells gain
//   4. a bar goes on exactly where the deviation is within its play
#include "solver/terminal_slots.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <cmath>

#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;
using Catch::Approx;

namespace {

struct Asked {
  TerminalSlots slots;
  Findings findings;
};

Asked asked_of(const Study& study) {
  const ShimPlan plan = study.as_placed();
  const PlanPressures pressures =
      study.model().evaluate(study.load_of(plan.used), RowModel::By::full_solution);
  Findings findings;
  const auto slots = terminal_slots(study, plan, pressures, findings);
  REQUIRE(slots);
  return {*slots, findings};
}

TerminalSlots slots_of(const Build& build) {
  const Study study(build, {});
  return asked_of(study).slots;
}

/// "thick" in every gap, 4.0 mm together, in a box longer than the bare cells by so much.
PadInput soft_pad(const std::string& gap) {
  PadInput pad;
  pad.name = "pad";
  pad.thickness_mm = 6;
  pad.law = FoamTable{{0, 0.2, 0.4, 0.8}, {0, 0.02, 0.05, 0.2}};
  pad.where = {PlaceWord::named_gaps, {gap}};
  return pad;
}

/// Between rigid walls: what the box leaves, warm or cold, stretched by its sides.
double room_mm(const Row& row, const StateResult& state) {
  return row.box.inner_length_mm +
         row.box.tie_length_mm * row.box.expansion_per_k *
             (state.temperature_c - row.reference_temperature_c) +
         state.force_n * row.box.sides_give_mm_per_n;
}

double between(double low, double high) {
  return low + (high - low) * *rc::gen::inRange(0, 1001) / 1000.0;
}

/// Foam at both ends, of a known law or of a grade that has a soft and a stiff edge, squeezed by a
/// tenth to a third.
Build padded() {
  const double thickness = between(2, 8);
  Build b = sample::with_pads(thickness);
  if (*rc::gen::inRange(0, 2) == 0) {
    b.pads.front().law = FoamGrade{*rc::gen::inRange(1, 4)};
  }
  b.box.inner_length_mm = {160 + 2 * thickness * between(0.67, 0.9)};
  return b;
}

}  // namespace

TEST_CASE("terminal slots: the play of a bar, worked by hand (4)") {
  Terminals bar;
  CHECK_FALSE(bar_play_mm(bar));
  bar.screw_mm = 6;
  CHECK_FALSE(bar_play_mm(bar));
  bar.hole_mm = 6.6;
  CHECK(*bar_play_mm(bar) == Approx(0.6));  // two round holes: 0.3 + 0.3
  bar.slot_mm = 10;
  CHECK(*bar_play_mm(bar) == Approx(2.3));  // 0.3 + 2.0
}

TEST_CASE("terminal slots: the parts of a pressed row fill its room in every state (1)") {
  int pressed_settled = 0;
  CHECK(rc::check([&] {
    Build b = *rc::gen::inRange(0, 2) == 0 ? sample::thick_everywhere(between(2.4, 4.2)) : padded();
    for (CellReading& cell : b.cells) {
      cell.edge_mm = between(39.8, 40.2);
      cell.middle_mm = cell.edge_mm;  // flat: the row is one column
    }
    b.use.capacity_loss = Span{0, between(0, 0.2)};
    const Study study(b, {});
    const TerminalSlots slots = asked_of(study).slots;
    for (const TerminalState& state : slots.states) {
      if (state.state.force_n > 0) {
        pressed_settled += state.state.settled ? 1 : 0;
        RC_ASSERT(std::abs(state.row_mm - room_mm(study.row(), state.state)) < 1e-6);
      } else {
        // Loose by what it was said to be loose by.
        RC_ASSERT(std::abs(state.row_mm + state.state.loose_by_mm -
                           room_mm(study.row(), state.state)) < 1e-6);
      }
      RC_ASSERT(state.spacing_mm.size() + 1 == state.middle_mm.size());
    }
  }));
  CHECK(pressed_settled > 100);
}

TEST_CASE("terminal slots: cells all alike between rigid walls keep their spacing (2)") {
  // Every cell has (164 mm + 0.0 - 5 sheets)/4 in every state while it presses: only what the
  // sheets give and the box's heat are left.
  const Study study(sample::thick_everywhere(3.2), {});
  const Asked asked = asked_of(study);
  for (const TerminalPair& pair : asked.slots.pairs) {
    CHECK(pair.built_mm == Approx((163.2 - 4.0) / 4 + 0.8).margin(0.01));
    CHECK(pair.movement_mm < 0.05);
    CHECK_FALSE(pair.flexible_due);
  }
  CHECK_FALSE(asked.slots.flexible_due);
  CHECK(asked.slots.rigid_movement_mm == 0.1);
  REQUIRE(asked.findings.assumed.size() == 1);
  CHECK(asked.findings.assumed.front() == Assumed::rigid_bar_movement);
}

TEST_CASE("terminal slots: a pad between two cells takes up what all four gain (3)") {
  // A soft pad hardly presses, and cells this stiff hardly give: each gains d, the pad loses 4 d.
  // The pad's own pair comes together by 4 d - d, the others go apart by d.
  Build b = sample::known(4, 5);
  b.cell.softness = SoftnessLaw{50, 180};
  b.cell.growth = {0.15, 0.5};
  b.pads.push_back(soft_pad("2-3"));
  b.use.temperature_c = Span{20, 20};
  b.build.temperature_c = 20;
  b.box.floor = Floor::insulated;
  const Study study(b, {});
  const TerminalSlots slots = asked_of(study).slots;
  const Row& row = study.row();
  for (const TerminalState& state : slots.states) {
    if (state.state.settled) {
      continue;
    }
    const double gain =
        row.nominal_mm * (row.swing.at(state.state.charge) - row.swing.at(row.build_charge) +
                          row.growth.per_loss * state.state.capacity_loss);
    INFO("charge " << state.state.charge << " gain " << gain);
    REQUIRE(state.state.force_n > 0);
    for (std::size_t i = 0; i < 3; ++i) {
      const double moved = state.spacing_mm[i] - slots.built.spacing_mm[i];
      CHECK(moved == Approx(i == 1 ? -3 * gain : gain).margin(0.002));
    }
  }
  CHECK(slots.most_moving == 1);
}

TEST_CASE("terminal slots: measured cells that differ show in spacing and from the first") {
  Build b = sample::thick_everywhere(3.2);
  b.cells[1].edge_mm = 40.3;
  b.cells[1].middle_mm = 40.3;
  b.cells[2].edge_mm = 39.9;
  b.cells[2].middle_mm = 39.9;
  const TerminalSlots slots = slots_of(b);
  // Squeezed alike: half of each neighbour's difference.
  CHECK(slots.pairs[0].built_mm - slots.pairs[2].built_mm == Approx(0.5 * (0.3 + 0.1)));
  CHECK(slots.pairs[1].built_mm - slots.pairs[2].built_mm == Approx(0.15));
  // Wanted is the mean where none was said: the last cell is then where it should be.
  CHECK_FALSE(slots.wanted_said);
  CHECK(slots.from_first_mm.front() == 0);
  CHECK(slots.from_first_mm.back() == Approx(0).margin(1e-9));
  for (std::size_t i = 0; i < slots.pairs.size(); ++i) {
    CHECK(slots.from_first_mm[i + 1] - slots.from_first_mm[i] ==
          Approx(slots.pairs[i].deviation_mm).margin(1e-9));
  }
}

TEST_CASE(
    "terminal slots: a bar goes on within its play, and the slot asked for is just enough (4)") {
  for (const double wanted : {39.5, 40.5, 41.5}) {
    Build b = sample::thick_everywhere(3.2);
    b.cells[1].edge_mm = 40.4;
    b.cell.terminals = Terminals{};
    b.cell.terminals->spacing_mm = wanted;
    b.cell.terminals->screw_mm = 6;
    b.cell.terminals->hole_mm = 6.6;
    const TerminalSlots with_holes = slots_of(b);
    REQUIRE(with_holes.slot_needed_mm);
    REQUIRE(with_holes.slot_needed_always_mm);
    CHECK(*with_holes.slot_needed_always_mm >= *with_holes.slot_needed_mm);
    for (const TerminalPair& pair : with_holes.pairs) {
      CHECK(*pair.goes_on == (std::abs(pair.deviation_mm) <= 0.6));
    }
    constexpr double little = 1e-6;
    b.cell.terminals->slot_mm = *with_holes.slot_needed_mm + little;
    for (const TerminalPair& pair : slots_of(b).pairs) {
      CHECK(*pair.goes_on);
    }
    b.cell.terminals->slot_mm = *with_holes.slot_needed_always_mm + little;
    for (const TerminalPair& pair : slots_of(b).pairs) {
      CHECK(*pair.goes_on_always);
    }
    if (*with_holes.slot_needed_mm > 6.6) {
      b.cell.terminals->slot_mm = *with_holes.slot_needed_mm - little;
      const TerminalSlots shorter = slots_of(b);
      CHECK_FALSE(*shorter.pairs[shorter.worst_pair].goes_on);
    }
  }
}

TEST_CASE("terminal slots: a flexible bar is called for where the movement says so, not before") {
  Build b = sample::known(4, 5);
  b.pads.push_back(soft_pad("2-3"));
  const Study study(b, {});
  const double moved = asked_of(study).slots.pairs[1].movement_mm;
  REQUIRE(moved > 0.1);
  const Assumptions table;
  const Study below(b, table.with(Assumed::rigid_bar_movement, 0.99 * moved));
  CHECK(asked_of(below).slots.pairs[1].flexible_due);
  const Study above(b, table.with(Assumed::rigid_bar_movement, 1.01 * moved));
  CHECK_FALSE(asked_of(above).slots.pairs[1].flexible_due);
}

TEST_CASE("terminal slots: walls that bow leave the row longer, by no more than both bow") {
  Build b = sample::thick_everywhere(3.2);
  b.box.end_walls = WallBow{0.5, 2000};
  const Study study(b, {});
  const TerminalSlots slots = asked_of(study).slots;
  for (const TerminalState& state : slots.states) {
    REQUIRE(state.state.force_n > 0);
    const double longer = state.row_mm - room_mm(study.row(), state.state);
    CHECK(longer > 0);
    CHECK(longer < 2 * state.state.wall_bow_mm);
  }
}

TEST_CASE("terminal slots: one cell has no pairs, a plan of another row is refused") {
  const Study one(sample::known(1, 2), {});
  Findings findings;
  const ShimPlan plan = one.as_placed();
  const PlanPressures pressures = one.model().evaluate(one.load_of(plan.used));
  CHECK_FALSE(terminal_slots(one, plan, pressures, findings));
  const Study four(sample::thick_everywhere(3.2), {});
  CHECK_THROWS_AS(terminal_slots(four, plan, pressures, findings), std::invalid_argument);
}
