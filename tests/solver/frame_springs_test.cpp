// SPDX-License-Identifier: GPL-3.0-or-later
//
// Disc springs for a clamp frame: the order in which stacks are tried, and that none before the
// chosen one would do.
#include "solver/frame_springs.hpp"

#include <algorithm>
#include <memory>

#include "solver/row_frame.hpp"
#include "solver/study.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_frame.hpp"

using namespace stackfit;
using sample::sample_frame;

namespace {

/// One stack in the frame, force by force: a study each, for the plan and for the springs.
class Tried {
 public:
  Tried(const Build& build, const DiscStack& stack)
      : build_(build), set_(disc_set(springs_of(stack.disc, stack.parallel, stack.series))) {
    build_.frame->springs = springs_of(stack.disc, stack.parallel, stack.series);
    working_n_ = 4 * set_.force_at(set_.recommended_travel_mm()).n / 1.1;
  }

  bool holds(double force_n) {
    build_.frame->force_n = force_n;
    const Study study(build_, {}, store_);
    const ShimPlan plan = study.choose();
    const PlanPressures p = study.model().evaluate(study.load_of(plan.used));
    return plan.passes && std::max(p.as_built.force_n, p.highest.force_n) <= working_n_;
  }

  /// More than the springs' length differs over any run of forces that hold: even tries, a run's
  /// ends halved from the failing side; a run between two tries counts as a whole step.
  double setting_below_mm(Span over) {
    over.high = std::min(over.high, working_n_);
    constexpr int steps = 10;
    double most = 0;
    double first = -1;
    const auto at = [&](int i) { return over.low + i * (over.high - over.low) / steps; };
    for (int i = 0; over.high > over.low && i <= steps; ++i) {
      const bool here = i > 0 && i < steps && holds(at(i));
      if (here && first < 0) {
        first = end(at(i), at(i - 1));
      } else if (!here && first >= 0) {
        most = std::max(most, setting(first, end(at(i - 1), at(i))));
        first = -1;
      } else if (!here && i > 0) {
        most = std::max(most, setting(at(i - 1), at(i)));
      }
    }
    return most;
  }

 private:
  double end(double inside_n, double outside_n) {
    for (int i = 0; i < 3; ++i) {
      const double middle = 0.5 * (inside_n + outside_n);
      (holds(middle) ? inside_n : outside_n) = middle;
    }
    return outside_n;
  }
  [[nodiscard]] double setting(double low_n, double high_n) const {
    return set_.deflection_at(high_n / 4) - set_.deflection_at(low_n / 4);
  }

  Build build_;
  SpringSet set_;
  double working_n_ = 0;
  std::shared_ptr<WallStore> store_ = std::make_shared<WallStore>();
};

}  // namespace

TEST_CASE("no smaller stack of the stock holds: every one before the chosen one is tried") {
  Build build = sample_frame(0.06, 0.115);
  build.cells.resize(3);
  build.order.wall_stock_mm = {10};
  build.frame->rods.size = "M6";
  FrameAsk ask;
  ask.springs = FrameAsk::Springs::always;
  ask.discs = {{'B', 12.5, 6.2, 0.5, 0.35}, {'C', 12.5, 6.2, 0.35, 0.45}};
  const FrameOrder order = order_frame(build, {}, ask);
  REQUIRE(order.springs);
  const auto stacks = disc_stacks(*order.build.frame, 6, ask.discs);
  REQUIRE(stacks.size() == 2 * most_parallel * most_series);
  const double area = order.plan->as_built.force_n / order.plan->as_built.face_pressure_mpa;
  bool met = false;
  for (const DiscStack& stack : stacks) {
    INFO(stack.disc.series << ' ' << stack.parallel << " x " << stack.series);
    met = stack.disc.thickness_mm == order.springs->disc.thickness_mm &&
          stack.parallel == order.springs->disc.parallel &&
          stack.series == order.springs->disc.series;
    Tried tried(order.build, stack);
    if (met) {
      CHECK(tried.holds(order.force_n));
      break;
    }
    CHECK(tried.setting_below_mm({0.5 * 0.06 * area, 0.115 / 1.1 * area}) < least_setting_mm);
  }
  CHECK(met);
}

TEST_CASE(
    "stacks: fewest discs first, then the lightest, high cones and crowded rods are left out") {
  const Frame frame = *sample_frame(0.06, 0.1).frame;
  const std::vector<DiscSize> stock(disc_stock().begin(), disc_stock().end());
  const auto stacks = disc_stacks(frame, 6, stock);
  REQUIRE_FALSE(stacks.empty());
  for (std::size_t i = 1; i < stacks.size(); ++i) {
    const int before = stacks[i - 1].discs();
    CHECK(before <= stacks[i].discs());
    if (before == stacks[i].discs()) {
      CHECK(disc_mass_g(stacks[i - 1].disc) <= disc_mass_g(stacks[i].disc));
    }
    CHECK(stacks[i].disc.inner_mm == 6.2);
  }
  // h0/t of 1.5: its force falls before it is flat.
  CHECK(disc_stacks(frame, 6, {{' ', 12.5, 6.2, 0.3, 0.45}}).empty());
  // 18 mm from a rod to the plate's edge: 31.5 mm across fits, 38 mm does not.
  CHECK_FALSE(disc_stacks(frame, 16, {{' ', 31.5, 16.3, 1.75, 0.7}}).empty());
  CHECK(disc_stacks(frame, 16, {{' ', 38, 16.3, 1.75, 0.7}}).empty());
}
