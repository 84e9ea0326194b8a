// SPDX-License-Identifier: GPL-3.0-or-later
//
// What `size` promises, held against `pick`: boxes as ordered, batches drawn within the tolerance.
// All builds are invented.
#include <algorithm>
#include <cmath>
#include <memory>
#include <random>
#include <string>
#include <vector>

#include "solver/size.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;

namespace {

class Draws {
 public:
  explicit Draws(unsigned seed) : random_(seed) {}
  double between(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random_);
  }
  int whole(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }
  /// In steps, as a data sheet prints it.
  double stepped(double low, double high, double step) {
    return std::round(between(low, high) / step) * step;
  }

 private:
  std::mt19937 random_;
};

/// Cells known by their data sheet alone, for a box that is still to be made.
Build drawn_build(Draws& draw, bool plates) {
  Build b;
  b.title = "drawn";
  const int cells = draw.whole(2, 16);
  b.cell.chemistry_said = true;
  b.cell.face = {draw.stepped(90, 180, 1), draw.stepped(80, 210, 1), 3.0};
  b.cell.thickness.nominal_mm = draw.stepped(20, 70, 0.1);
  b.cell.thickness.tolerance_mm = draw.stepped(0.1, 0.8, 0.1);
  b.cell.thickness.at_charge = Span{0.3, 0.4};
  const double low = draw.stepped(0.02, 0.05, 0.005);
  b.cell.range = PressureRange{low, low + draw.stepped(0.10, 0.30, 0.01), RangeAppliesTo::use};
  b.cell.softness = SoftnessLaw{draw.between(0.03, 0.12), draw.between(120, 240)};
  b.cell.swing = SwingFigures{draw.between(0.002, 0.005), draw.between(0.001, 0.003)};
  for (int i = 0; i < cells; ++i) {
    CellReading cell;
    cell.id = std::to_string(i + 1);
    b.cells.push_back(cell);
  }
  b.box.floor = Floor::insulated;
  b.box.inner_width_mm = b.cell.face.width_mm + 4;
  b.box.inner_height_mm = b.cell.face.height_mm + draw.stepped(0, 40, 5);
  b.box.end_walls = RigidWall{};
  if (plates) {
    PlateWall wall;
    wall.material = WallMaterial::aluminium;
    wall.joint = draw.whole(0, 1) == 0 ? WallJoint::welded : WallJoint::screwed;
    b.box.end_walls = wall;
  }
  b.order.length_tolerance_mm = draw.stepped(0, 1.5, 0.5);
  b.order.length_step_mm = draw.whole(0, 1) == 0 ? 1.0 : 0.5;
  b.order.yield_mpa = 215;
  return b;
}

/// A batch as it comes: each cell anywhere within the data sheet's tolerance, measured.
Build batch_of(const Build& ordered, const Row& row, const std::vector<double>& off_mm) {
  Build b = ordered;
  for (std::size_t i = 0; i < b.cells.size(); ++i) {
    b.cells[i].edge_mm = row.cells[i].edge_mm + off_mm[i];
    b.cells[i].charge = row.cells[i].measured_charge;
    b.cells[i].signs = "none";
  }
  return b;
}

bool any_plan(const Build& build, const std::shared_ptr<WallStore>& store) {
  const Study study(build, {}, store);
  return study.can_pass();
}

struct Kept {
  int batches = 0;
  int lengths_outside = 0;
};

/// The extremes through `pick` itself; drawn batches by whether any plan passes, on the curves
/// that `pick` searches.
void hold_promise(const Build& ordered, const SizeOffer& offer, Draws& draw, Kept& kept) {
  const auto store = std::make_shared<WallStore>();
  const Study base(ordered, {}, store);
  const double tolerance = *ordered.cell.thickness.tolerance_mm;
  const std::vector<double> none(ordered.cells.size(), 0);
  for (const double off : {-tolerance, tolerance}) {
    for (const double longer : {0.0, offer.length.tolerance_mm}) {
      const std::vector<double> all(ordered.cells.size(), off);
      const Build batch =
          at_length(batch_of(ordered, base.row(), all), offer.length.nominal_mm + longer);
      INFO("all cells off by " << off << ", box longer by " << longer);
      CHECK(answer_pick(batch).inside());
      ++kept.batches;
    }
  }
  for (int i = 0; i < 200; ++i) {
    std::vector<double> off = none;
    for (double& one : off) {
      one = draw.between(-tolerance, tolerance);
    }
    const double longer = draw.between(0, offer.length.tolerance_mm);
    INFO("batch " << i);
    CHECK(any_plan(at_length(batch_of(ordered, base.row(), off), offer.length.nominal_mm + longer),
                   store));
    ++kept.batches;
  }
}

/// Outside every interval, by a tenth of a millimetre, no plan passes.
void hold_ends(const Build& ordered, const std::vector<Span>& intervals, Kept& kept) {
  const auto store = std::make_shared<WallStore>();
  constexpr double outside_mm = 0.1;
  for (std::size_t i = 0; i < intervals.size(); ++i) {
    if (i == 0 || intervals[i].low - intervals[i - 1].high > 2 * outside_mm) {
      CHECK_FALSE(any_plan(at_length(ordered, intervals[i].low - outside_mm), store));
      ++kept.lengths_outside;
    }
    if (i + 1 == intervals.size() || intervals[i + 1].low - intervals[i].high > 2 * outside_mm) {
      CHECK_FALSE(any_plan(at_length(ordered, intervals[i].high + outside_mm), store));
      ++kept.lengths_outside;
    }
    const Span& in = intervals[i];
    if (in.high - in.low > 2 * outside_mm) {
      CHECK(any_plan(at_length(ordered, in.low + outside_mm), store));
      CHECK(any_plan(at_length(ordered, in.high - outside_mm), store));
    }
  }
}

void hold_cases(unsigned seed, bool plates, int wanted) {
  Draws draw(seed);
  Kept kept;
  int found = 0;
  for (int tried = 0; found < wanted && tried < 4 * wanted; ++tried) {
    const Build build = drawn_build(draw, plates);
    const SizeAnswer answer = answer_size(build);
    if (answer.offers.empty() || answer.offers.front().offered_for != OfferFor::any_batch) {
      continue;
    }
    ++found;
    INFO("case " << tried << ": " << build.cells.size() << " cells of "
                 << build.cell.thickness.nominal_mm << " mm");
    CHECK(answer.offers.front().length.checked);
    hold_promise(answer.as_ordered, answer.offers.front(), draw, kept);
    hold_ends(answer.as_ordered, answer.intervals, kept);
  }
  CHECK(found == wanted);
  CHECK(kept.batches == wanted * 204);
  CHECK(kept.lengths_outside >= 2 * wanted);
}

}  // namespace

TEST_CASE("the box as ordered serves every batch within the tolerance, and none beside it does") {
  hold_cases(7, false, 40);
}

TEST_CASE("the same between walls that bend, chosen from stock") {
  hold_cases(11, true, 10);
}
