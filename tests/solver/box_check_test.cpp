// SPDX-License-Identifier: GPL-3.0-or-later
//
// A used row in its box: what is kept, what is changed by how few pieces, what is refused, and
// what stands in for cells that come out.
#include "solver/box_check.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>
#include <utility>
#include <vector>

#include "solver/study.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;
using Catch::Approx;

namespace {

constexpr double may_touch = 0.95;

/// "thick" in every gap, 4.0 mm together, in a box longer than the bare cells by so much.
/// The build with its sheets as a change leaves them.
Build as_changed(const Build& build, const RowCheck& row) {
  Build changed = build;
  changed.placed.clear();
  return sample::placed_as(changed, *row.changed);
}

/// Four cells that hardly breathe, the second swollen by so much beyond its slack of 0.2.
Build with_swollen(double swelling_mm, double low_mpa) {
  Build b = sample::known(4, 0.9);
  b.cells[1].middle_mm = 40.2 + swelling_mm;
  b.cell.swing = SwingFigures{0.0002, 0.0001};
  b.cell.range = PressureRange{low_mpa, 0.25, RangeAppliesTo::use};
  b.use.temperature_c = Span{19, 21};
  b.kit.clear();
  KitShim film;
  film.sheet = sample::sheet("film", 0.1);
  film.count = 40;
  b.kit.push_back(film);
  return b;
}

/// Every used-count vector of a kit of two kinds that is no more than `pieces` pieces away.
template <typename Each>
void for_each_within(const Study& study, const std::vector<int>& from, int pieces,
                     const Each& each) {
  for (int a = -pieces; a <= pieces; ++a) {
    for (int b = -(pieces - std::abs(a)); b <= pieces - std::abs(a); ++b) {
      const std::vector<int> used{from[0] + a, from[1] + b};
      const bool on_hand = used[0] >= 0 && used[1] >= 0 && used[0] <= study.row().kit[0].count &&
                           used[1] <= study.row().kit[1].count;
      if (on_hand) {
        each(used);
      }
    }
  }
}

const ReplacementCheck& replaced(const BoxCheck& check, Replacement with) {
  for (const ReplacementCheck& one : check.replacements) {
    if (one.with == with) {
      return one;
    }
  }
  FAIL("no such replacement");
  return check.replacements.front();
}

}  // namespace

TEST_CASE("box check: sheets that keep the band stay where they are (3)") {
  const Build b = sample::thick_everywhere(3.2);
  REQUIRE(answer_pressure(b).inside());
  const BoxCheck check = check_in_box(b, {});
  CHECK(check.outcome == BoxOutcome::fits_as_it_is);
  CHECK_FALSE(check.row.changes);
  CHECK(check.out.empty());
  REQUIRE(check.row.plan() != nullptr);
  CHECK(check.row.plan()->highest.face_pressure_mpa ==
        Approx(answer_pressure(b).plan.highest.face_pressure_mpa));
  REQUIRE(check.taking_out);
  CHECK_FALSE(check.taking_out->press);
}

TEST_CASE("box check: how the row was once put together does not matter while it stands (3)") {
  Build b = sample::thick_everywhere(3.2);
  b.build.method = BuildMethod::hand;  // far too tight for a hand
  REQUIRE_FALSE(answer_pressure(b).inside());
  CHECK(check_in_box(b, {}).outcome == BoxOutcome::fits_as_it_is);
}

TEST_CASE("box check: too tight or too loose, the fewest pieces mend it, and no fewer do") {
  // 4.0 mm of shims press right where 3.2 mm of room are.
  int changed_rows = 0;
  int compared = 0;
  for (const double room : {1.6, 1.9, 2.2, 4.4, 5.0, 5.6}) {
    const Build b = sample::thick_everywhere(room);
    const BoxCheck check = check_in_box(b, {});
    INFO("room " << room);
    REQUIRE(check.outcome == BoxOutcome::fits_with_sheets_changed);
    const ChangedSheets& changes = *check.row.changes;
    CHECK(changes.fewest);
    // Applied and asked anew it is inside.
    CHECK(answer_pressure(as_changed(b, check.row)).inside());
    // No other set of sheets that is fewer pieces away passes and has one for each of five gaps.
    const Study study(b, {});
    const std::vector<int> before = study.as_placed().used;
    const int pieces = changes.taken_out + changes.put_in;
    for_each_within(study, before, pieces - 1, [&](const std::vector<int>& used) {
      if (used[0] + used[1] >= 5) {
        CHECK_FALSE(study.score(study.load_of(used)).passes);
        ++compared;
      }
    });
    // What is said gap by gap adds up to the change of the whole.
    double by_gap = 0;
    for (const GapChange& gap : changes.gaps) {
      by_gap += gap.after_mm - gap.before_mm;
    }
    CHECK(by_gap == Approx(changes.after_mm - changes.before_mm));
    CHECK((room < 3 ? changes.after_mm < changes.before_mm : changes.after_mm > changes.before_mm));
    ++changed_rows;
  }
  CHECK(changed_rows == 6);
  CHECK(compared > 20);
}

TEST_CASE("box check: the last insulating sheet of a gap is not taken out without another") {
  // One sheet in each gap: less can only come by thinner ones.
  const Build b = sample::thick_everywhere(1.6);
  const BoxCheck check = check_in_box(b, {});
  REQUIRE(check.row.changed);
  CHECK(check.row.changed->bare_metal.empty());
  CHECK(check.row.changes->taken_out == check.row.changes->put_in);
}

TEST_CASE("box check: pieces come from where the row is left evenest") {
  // Two thick at the first wall: one of them goes, not one of a pair between cells.
  Build b = sample::thick_everywhere(3.2);
  b.placed[0].sheets = {{"thick", 2}};
  const BoxCheck check = check_in_box(b, {});
  REQUIRE(check.outcome == BoxOutcome::fits_with_sheets_changed);
  CHECK(check.row.changes->taken_out == 1);
  REQUIRE(check.row.changes->gaps.size() == 1);
  CHECK(check.row.changes->gaps[0].gap == "wall-1");
  CHECK(check.row.changes->gaps[0].before_mm == Approx(1.6));
  CHECK(check.row.changes->gaps[0].after_mm == Approx(0.8));
}

TEST_CASE("box check: with a kit and nothing placed the plan is the one that is picked") {
  const Build b = sample::known();
  const BoxCheck check = check_in_box(b, {});
  REQUIRE(check.outcome == BoxOutcome::fits_with_sheets_changed);
  CHECK_FALSE(check.row.placed);
  CHECK_FALSE(check.row.as_placed);
  CHECK_FALSE(check.taking_out);
  const Answer picked = answer_pick(b);
  CHECK(check.row.changed->shim_total_mm == Approx(picked.plan.shim_total_mm));
  CHECK(check.row.changes->before_mm == 0);
}

TEST_CASE("box check: what lies in the box is on hand, whatever the kit says") {
  Build b = sample::thick_everywhere(3.2);
  b.kit[1].count = 1;
  CHECK(check_in_box(b, {}).outcome == BoxOutcome::fits_as_it_is);
  b.box.inner_length_mm = {161.6};
  CHECK(check_in_box(b, {}).outcome == BoxOutcome::fits_with_sheets_changed);
}

TEST_CASE("box check: where no sheets mend it, the rule that fails") {
  Build b = sample::thick_everywhere(3.2);
  b.cell.range = PressureRange{0.1, 0.12, RangeAppliesTo::use};
  const BoxCheck check = check_in_box(b, {});
  CHECK(check.outcome == BoxOutcome::does_not_fit);
  CHECK(check.row.failure.rule == FailedRule::pressure_out_of_reach);
  CHECK(check.fitting() == nullptr);
  CHECK_FALSE(check.order);
}

TEST_CASE("box check: eight new cells with ordinary slack are not refused") {
  // Domes up to 0.5 % of 40 mm are slack and close at no force.
  Build b = sample::known(8, 9.0);
  for (std::size_t i = 0; i < b.cells.size(); ++i) {
    b.cells[i].middle_mm = 40 + 0.025 * static_cast<double>(i + 1);
  }
  const BoxCheck check = check_in_box(b, {});
  CHECK(check.out.empty());
  CHECK(check.row.watched.empty());
  CHECK(check.row.fits());
}

TEST_CASE("box check: a watched cell is given its room where the band allows it (1)") {
  const BoxCheck check = check_in_box(with_swollen(0.6, 0.002), {});
  REQUIRE(check.row.fits());
  CHECK(check.row.watched == std::vector<std::string>{"2"});
  const PlanResult& plan = *check.row.plan();
  CHECK(plan.spares_swollen);
  for (const StateResult& state : plan.states) {
    CHECK(state.contact_share <= may_touch);
  }
}

TEST_CASE("box check: a plan that presses a watched cell flat is refused and not given (1)") {
  const Build b = with_swollen(0.6, 0.03);
  const BoxCheck check = check_in_box(b, {});
  CHECK(check.outcome == BoxOutcome::only_by_flattening);
  CHECK_FALSE(check.row.changes);
  CHECK_FALSE(check.row.changed);
  CHECK(check.row.plan() == nullptr);
  // With the cell out, a like one in its place fits.
  CHECK(replaced(check, Replacement::like_cell).row.fits());
  CHECK(check.fitting() == &replaced(check, Replacement::like_cell).row);
}

TEST_CASE("box check: sheets that press a watched cell flat today are taken out (1)") {
  Build b = with_swollen(0.6, 0.002);
  b = sample::placed_evenly(b, "film", 5);
  const BoxCheck check = check_in_box(b, {});
  REQUIRE(check.row.as_placed);
  CHECK_FALSE(check.row.as_placed->spares_swollen);
  REQUIRE(check.outcome == BoxOutcome::fits_with_sheets_changed);
  CHECK(check.row.changes->taken_out > 0);
  CHECK(check.row.changes->put_in == 0);
  CHECK(check.row.changed->spares_swollen);
}

TEST_CASE("box check: cells that come out are those handed in and those never pressed (2)") {
  Build b = sample::thick_everywhere(3.2);
  b.cells[2].signs = "dented corner";
  b.cells[3].middle_mm = 41.5;  // 1.3 beyond the slack, over 2.5 % of 40
  const BoxCheck check = check_in_box(b, {"1", "nobody"});
  REQUIRE(check.out.size() == 3);
  CHECK(check.out[0].id == "1");
  CHECK(check.out[0].handed_in);
  CHECK(check.out[1].id == "3");
  CHECK(check.out[1].place == 3);
  CHECK_FALSE(check.out[1].handed_in);
  CHECK(check.out[2].id == "4");
  CHECK(check.outcome == BoxOutcome::cells_come_out);
  CHECK_FALSE(check.row.plan());
  CHECK(check.replacements.size() == 2);
  CHECK(check_in_box(b, {"1", "2"}).replacements.empty());  // none is left
}

TEST_CASE("box check: a like cell is flat and as thick at the edge as the kept ones (2)") {
  Build b = sample::thick_everywhere(3.2);
  b.cells[0].edge_mm = 40.06;
  b.cells[0].middle_mm = 40.2;
  b.cells[1].edge_mm = 39.94;
  b.cells[1].middle_mm = 39.94;
  b.cells[3].edge_mm = 40.03;
  b.cells[3].middle_mm = 40.1;
  const BoxCheck check = check_in_box(b, {"3"});
  const ReplacementCheck& like = replaced(check, Replacement::like_cell);
  CHECK(like.thickness_mm == Approx((40.06 + 39.94 + 40.03) / 3));
  Build by_hand = b;
  by_hand.cells[2].edge_mm = like.thickness_mm;
  by_hand.cells[2].middle_mm = like.thickness_mm;
  CHECK(like.row.as_placed->highest.force_n ==
        Approx(answer_pressure(by_hand).plan.highest.force_n));
}

TEST_CASE("box check: a like cell comes at the row's charge, whatever each was read at (2)") {
  Build b = sample::thick_everywhere(3.2);
  b.cell.swing = SwingTable{{0, 1}, {0, 0.01}};
  b.cells[0].charge = 0.8;  // read 0.16 mm thicker than at 40 %
  b.cells[0].edge_mm = 40.16;
  b.cells[0].middle_mm = 40.16;
  b.build.charge = 0.4;
  CHECK(replaced(check_in_box(b, {"4"}), Replacement::like_cell).thickness_mm == Approx(40));
}

TEST_CASE("box check: a block neither breathes nor gives (2)") {
  Build b = sample::thick_everywhere(3.2);
  const BoxCheck check = check_in_box(b, {"2"});
  const ReplacementCheck& block = replaced(check, Replacement::block);
  CHECK(block.thickness_mm == 40);
  REQUIRE(block.row.as_placed);
  const PlanResult& plan = *block.row.as_placed;
  // Three cells of 40 mm, 0.8 mm too long by the sheets, at the readings' charge.
  const double area = Study(b, {}).row().face_area_mm2;
  const double sheets_give = plan.as_built.force_n * (4.0 + 40.0) / (10000 * area);
  const double cells_give = 120.0 / 180 * std::log1p(plan.as_built.face_pressure_mpa / 0.06);
  CHECK(cells_give + sheets_give == Approx(0.8).epsilon(2e-3));
  // The sheets on both sides of it stay, and it is told where by the numbers on the bench.
  REQUIRE(plan.gaps.size() == 4);
  CHECK(plan.gaps[0].name == "wall-1");
  CHECK(plan.gaps[1].name == "1-3");
  CHECK(plan.gaps[2].name == "3-4");
  CHECK(plan.gaps[3].name == "4-wall");
  CHECK(plan.gaps[1].total_mm == Approx(40 + 1.6));
  CHECK(plan.bare_metal.empty());
  // Three cells breathe, not four.
  CHECK(plan.shim_total_mm == Approx(4.0));
}

TEST_CASE("box check: in a shorter row sheets and kit stay in the gaps they were in (2)") {
  Build b = sample::known();
  b.fixed_sheets.push_back(sample::sheet("film", 0.05));
  b.fixed_sheets.push_back(sample::sheet("mat", 0.3, {PlaceWord::named_gaps, {"3-4"}}));
  b.fixed_sheets.push_back(sample::sheet("end", 0.2, {PlaceWord::ends, {}}));
  b.kit[0].sheet.where = {PlaceWord::named_gaps, {"1-2"}};
  b.placed = {{"1-2", {{"thin", 1}}}, {"2-3", {{"thick", 2}}}, {"4-wall", {{"thick", 1}}}};
  const Study whole(b, {});
  const WithBlocks shorter = with_blocks(b, whole.row(), {0, 2});
  const Study study(shorter.build, {});
  CHECK(shorter.gap_names == std::vector<std::string>{"wall-2", "2-4", "4-wall"});
  CHECK(shorter.gaps_merged == std::vector<int>{2, 2, 1});
  REQUIRE(study.row().gaps.size() == 3);
  CHECK(study.row().gaps[0].fixed_sheets_mm() == Approx(40 + 2 * 0.05 + 0.2));
  CHECK(study.row().gaps[1].fixed_sheets_mm() == Approx(40 + 2 * 0.05 + 0.3));
  CHECK(study.row().gaps[2].fixed_sheets_mm() == Approx(0.05 + 0.2));
  CHECK(study.row().kit[0].allowed == std::vector<bool>{true, false, false});
  CHECK(study.row().kit[1].allowed == std::vector<bool>{true, true, true});
  CHECK(study.as_placed().counts == std::vector<std::vector<int>>{{1, 0}, {0, 2}, {0, 1}});
  CHECK(study.row().cells[0].id == "2");
  CHECK(study.row().cells[1].id == "4");
  // Nothing is lost of what lies in the row.
  const auto length = [](const Study& s) {
    double sum = s.load_of(s.as_placed().used).thickness_mm;
    for (const RowGap& gap : s.row().gaps) {
      sum += gap.fixed_mm();
    }
    for (const RowCell& cell : s.row().cells) {
      sum += cell.edge_mm;
    }
    return sum;
  };
  CHECK(length(study) == Approx(length(whole)));
}

TEST_CASE("box check: a reading of the whole row corrects the cells that stay (2)") {
  Build b = sample::thick_everywhere(3.2);
  b.row_mm = 160.4;  // 0.1 more each than the singles
  const Study whole(b, {});
  REQUIRE(whole.row().cells[0].edge_mm == Approx(40.1));
  const Build like = with_like_cells(b, whole.row(), {1});
  CHECK_FALSE(like.row_mm);
  const Study study(like, {});
  for (const RowCell& cell : study.row().cells) {
    CHECK(cell.edge_mm == Approx(40.1));
    CHECK(cell.free_mm == Approx(40.1));
  }
}

TEST_CASE("box check: a box that has become a press: how hard, and what comes out") {
  Build b = sample::thick_everywhere(3.2);
  for (CellReading& cell : b.cells) {
    cell.edge_mm = 40.4;
    cell.middle_mm = 40.4;
  }
  const BoxCheck check = check_in_box(b, {});
  REQUIRE(check.taking_out);
  CHECK(check.taking_out->press);
  CHECK(check.taking_out->way == WayToOpen::end_wall);
  CHECK(check.taking_out->released_force_n ==
        Approx(answer_pressure(as_it_stands(b)).plan.as_built.force_n));
  REQUIRE(check.row.fits());
  CHECK(check.row.changes->after_mm < check.row.changes->before_mm);
}

TEST_CASE("box check: what takes a cell's place must be got in by the build method (4)") {
  Build b = sample::thick_everywhere(3.2);
  b.build.method = BuildMethod::hand;
  const BoxCheck check = check_in_box(b, {"3"});
  REQUIRE(check.replacements.size() == 2);
  for (const ReplacementCheck& with : check.replacements) {
    // The sheets keep the band; 0.6 of the force is far more than a hand's 150 N.
    REQUIRE(with.row.as_placed);
    CHECK(with.row.as_placed->worst == Standing::inside);
    CHECK(with.row.outcome == BoxOutcome::cannot_be_put_together);
    CHECK(with.row.something_goes_in);
    CHECK(with.row.plan() == nullptr);
    CHECK(with.row.failure.rule == FailedRule::build_method);
    REQUIRE(with.row.insertion);
    CHECK_FALSE(with.row.insertion->works);
    CHECK(with.row.insertion->push_n == Approx(0.6 * with.row.as_placed->as_built.force_n));
    CHECK(with.row.insertion->push_n > 150);
    REQUIRE_FALSE(with.row.insertion->ways_out.empty());
    CHECK(with.row.insertion->ways_out.front().way == WayOut::end_wall_last);
    CHECK(with.row.insertion->ways_out.front().works);
  }
  CHECK(check.fitting() == nullptr);
  CHECK_FALSE(check.order);
  // Done as it says, by the wall that comes off, it fits with the same sheets.
  b.build.method = BuildMethod::end_wall_last;
  CHECK(replaced(check_in_box(b, {"3"}), Replacement::like_cell).row.outcome ==
        BoxOutcome::fits_as_it_is);
  // A wall that is to go on last must come off.
  b.box.opens = Opens::none;
  const BoxCheck closed = check_in_box(b, {"3"});
  CHECK(replaced(closed, Replacement::like_cell).row.outcome == BoxOutcome::cannot_be_put_together);
  CHECK(replaced(closed, Replacement::block).row.outcome == BoxOutcome::cannot_be_put_together);
}

TEST_CASE("box check: where fewer sheets let a hand do it, those come out for the new cell (4)") {
  Build b = sample::thick_everywhere(3.2);
  b.build.method = BuildMethod::hand;
  b.cell.range = PressureRange{0.0005, 0.25, RangeAppliesTo::use};
  b.build.push_limit_n = 260;
  const BoxCheck check = check_in_box(b, {"3"});
  const RowCheck& row = replaced(check, Replacement::like_cell).row;
  REQUIRE(row.outcome == BoxOutcome::fits_with_sheets_changed);
  REQUIRE(row.insertion);  // why they are changed
  CHECK(row.insertion->push_n > 260);
  CHECK(row.changes->after_mm < row.changes->before_mm);
  // Flat cells of 40 mm are like the kept ones: the row as changed passes, by hand.
  CHECK(answer_pressure(as_changed(b, row)).inside());
}

TEST_CASE("box check: a row not yet built that a hand cannot close says by how much (4)") {
  Build b = sample::known();
  b.build.method = BuildMethod::hand;
  const BoxCheck check = check_in_box(b, {});
  REQUIRE(check.outcome == BoxOutcome::cannot_be_put_together);
  CHECK_FALSE(check.row.something_goes_in);
  REQUIRE(check.row.insertion);
  CHECK(check.row.insertion->push_n > check.row.insertion->push_limit_n);
}

TEST_CASE("box check: nothing is taken out of a row that is not yet in its box") {
  // Pads and films are named, but of the kit nothing was placed.
  CHECK_FALSE(check_in_box(sample::with_pads(), {}).taking_out);
  Build films = sample::known();
  films.fixed_sheets.push_back(sample::sheet("film", 0.05));
  CHECK_FALSE(check_in_box(films, {}).taking_out);
  films.placed = {{"1-2", {{"thin", 0}}}};  // none of the kit, and said so
  CHECK(check_in_box(films, {}).taking_out);
  Build none = sample::known();
  none.placed = {{"1-2", {{"thin", 0}}}};
  CHECK_FALSE(check_in_box(none, {}).taking_out);
  // Without a kit there is nothing else that could lie there.
  Build pads = sample::with_pads();
  pads.kit.clear();
  CHECK(check_in_box(pads, {}).taking_out);
  CHECK(check_in_box(sample::thick_everywhere(3.2), {}).taking_out);
}

TEST_CASE("box check: with an assumed squeeze law soft and stiff are told beside the plan") {
  Build b = sample::thick_everywhere(3.2);
  CHECK_FALSE(check_in_box(b, {}).row.soft);
  CHECK_FALSE(check_in_box(b, {}).figures_assumed);
  b.cell.softness.reset();
  const BoxCheck check = check_in_box(b, {});
  REQUIRE(check.row.fits());
  REQUIRE(check.row.soft);
  REQUIRE(check.row.stiff);
  CHECK(check.row.soft->highest_mpa < check.row.plan()->highest.face_pressure_mpa);
  CHECK(check.row.stiff->highest_mpa > check.row.plan()->highest.face_pressure_mpa);
  CHECK(check.figures_assumed);
}

TEST_CASE("box check: the order of a row that fits is told by its cells' names") {
  Build b = sample::thick_everywhere(3.0);
  b.cells[0].id = "A";
  b.cells[0].edge_mm = 40.3;
  b.cells[0].middle_mm = 40.3;
  const BoxCheck check = check_in_box(b, {});
  REQUIRE(check.row.fits());
  REQUIRE(check.order);
  CHECK(check.order_ids == std::vector<std::string>{"A", "2", "3", "4"});
  CHECK(check.order->proven);
}

TEST_CASE("box check: rows side by side are not checked, and it is said") {
  Build b = sample::known();
  b.rows = 2;
  CHECK(check_in_box(b, {}).outcome == BoxOutcome::several_rows);
}
