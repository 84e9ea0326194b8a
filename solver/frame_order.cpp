// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/frame_order.hpp"

#include <algorithm>
#include <memory>

#include "solver/frame_plates.hpp"
#include "solver/frame_rods.hpp"
#include "solver/frame_springs.hpp"
#include "solver/frame_windows.hpp"
#include "solver/holding.hpp"
#include "solver/plan_result.hpp"
#include "solver/study.hpp"

namespace stackfit {
namespace {

void require_usable(const Build& build) {
  if (!build.frame) {
    throw UnusableBuild("no clamp frame: plates and the places of its rods are asked for");
  }
  if (build.rows.value_or(1) > 1) {
    throw UnusableBuild(
        "several rows between the same plates cannot be sized; give the plates' thickness and "
        "the force, and see what pick says of each row");
  }
  if (build.frame->rods.at.empty()) {
    throw UnusableBuild("no rods: their places on the plate are asked for");
  }
}

/// The row's band and its rods' proof stress hang on neither thread nor thickness.
Row resolved(const Build& build, const Assumptions& assumptions) {
  Build any = build;
  if (any.frame->rods.size.empty()) {
    any.frame->rods.size = thread_name(8);
  }
  any.frame->springs.reset();
  constexpr double any_plate_mm = 10;
  any.frame->plates.thickness_mm = any.frame->plates.thickness_mm.value_or(any_plate_mm);
  Findings findings;
  return resolve_row(any, assumptions, findings);
}

/// Rods may be ordered thicker than those that the springs in the build are for.
bool goes_over(const RodSprings& springs, double thread_mm) {
  if (const auto* disc = std::get_if<DiscSprings>(&springs)) {
    return disc->inner_mm > thread_mm;
  }
  const auto& helical = std::get<HelicalSprings>(springs);
  return helical.mean_diameter_mm - helical.wire_mm > thread_mm;
}

std::vector<Span> spans(const std::vector<ForceWindow>& windows) {
  std::vector<Span> out;
  for (const ForceWindow& window : windows) {
    out.push_back(window.force_n);
  }
  return out;
}

class Orderer {
 public:
  Orderer(const Build& build, const Assumptions& assumptions, const FrameAsk& ask)
      : assumptions_(assumptions), ask_(ask), store_(std::make_shared<WallStore>()) {
    require_usable(build);
    out_.build = build;
    said_thickness_mm_ = build.frame->plates.thickness_mm;
  }

  FrameOrder order() {
    const Row row = resolved(out_.build, assumptions_);
    const double top_n = row.band.high_mpa * row.face_area_mm2;
    if (row.band.build_target_mpa && !row.band.target_assumed) {
      out_.makers_force_n = *row.band.build_target_mpa * row.face_area_mm2;
    }
    out_.rods = size_rods(out_.build, row, top_n);
    order_with_thread(top_n);
    const FrameOrder first = out_;
    // Stronger discs sit on thicker rods.
    while (out_.problem == FrameProblem::no_springs) {
      const std::optional<RodOrder> thicker = next_thicker(out_.build, row, out_.rods);
      if (!thicker) {
        return first;
      }
      out_.rods = *thicker;
      order_with_thread(top_n);
    }
    return std::move(out_);
  }

 private:
  void order_with_thread(double top_n) {
    out_.problem = FrameProblem::none;
    if (out_.rods.thread_mm == 0) {
      out_.problem = FrameProblem::rods_too_thin;
      return;
    }
    out_.build.frame->rods.size = thread_name(out_.rods.thread_mm);
    Build to_size = out_.build;
    to_size.frame->plates.thickness_mm = said_thickness_mm_;
    out_.plates = size_plates({to_size, assumptions_, store_, top_n});
    if (!out_.plates->chosen.holds()) {
      out_.problem = FrameProblem::plates_too_thin;
      return;
    }
    out_.build.frame->plates.thickness_mm = out_.plates->chosen.thickness_mm;
    find_force();
  }

  void find_force() {
    const std::optional<RodSprings> said = out_.build.frame->springs;
    const FrameWindows frame(out_.build, assumptions_, store_);
    out_.breathing_mm = frame.breathing_mm();
    out_.rods_alone = frame.windows({});
    std::optional<RodSprings> springs;
    if (said && goes_over(*said, out_.rods.thread_mm)) {
      out_.said_springs = describe_springs(frame, *said);
    }
    if (out_.said_springs && !out_.said_springs->windows.empty()) {
      out_.springs = out_.said_springs;
      springs = said;
    } else if (wants_springs(said.has_value())) {
      out_.springs = smallest_springs(frame, stacks());
      if (!out_.springs) {
        out_.problem = FrameProblem::no_springs;
        return;
      }
      springs = out_.springs->disc;
    }
    out_.windows = out_.springs ? out_.springs->windows : out_.rods_alone;
    if (out_.windows.empty()) {
      out_.problem = FrameProblem::rods_alone_fail;
      return;
    }
    out_.force_n = shop_figure(widest(spans(out_.windows)));
    out_.makers_force_holds =
        out_.makers_force_n &&
        std::any_of(out_.windows.begin(), out_.windows.end(), [&](const ForceWindow& window) {
          return *out_.makers_force_n >= window.force_n.low &&
                 *out_.makers_force_n <= window.force_n.high;
        });
    out_.build = frame.build_with(springs, out_.force_n);
    describe(frame);
  }

  [[nodiscard]] bool wants_springs(bool said) const {
    switch (ask_.springs) {
      case FrameAsk::Springs::always:
        return true;
      case FrameAsk::Springs::never:
        return false;
      case FrameAsk::Springs::where_needed:
        break;
    }
    return said || out_.rods_alone.empty();
  }

  [[nodiscard]] std::vector<DiscStack> stacks() const {
    std::vector<DiscSize> stock = ask_.discs;
    if (stock.empty()) {
      stock.assign(disc_stock().begin(), disc_stock().end());
    }
    return disc_stacks(*out_.build.frame, out_.rods.thread_mm, stock);
  }

  /// The frame at its force, and what hangs on that: springs' way and the rods' length.
  void describe(const FrameWindows& frame) {
    const Study study(out_.build, assumptions_, store_);
    ShimPlan plan = study.choose();
    if (!plan.found) {
      plan.used.assign(study.row().kit.size(), 0);
      plan.counts.assign(study.row().gaps.size(), plan.used);
    }
    out_.plan = describe_plan(study, plan);
    const RodSet& rods = *study.row().box.rods;
    double springs_free_mm = 0;
    if (out_.springs) {
      const double greatest =
          std::max(out_.plan->as_built.force_n, out_.plan->highest.force_n) / rods.count;
      out_.springs->deflection_mm =
          rods.springs->deflection_at((1 + frame.model_margin()) * greatest);
      springs_free_mm = rods.springs->free_length_mm();
    }
    if (out_.rods.nut_height_mm > 0) {
      const double row_and_plates_mm =
          out_.plan->frame->overall_length_mm + out_.plan->frame->closure_mm;
      out_.rods.length_mm =
          rod_length_mm(rod_parts(out_.rods.thread_mm), row_and_plates_mm + springs_free_mm);
    }
  }

  const Assumptions& assumptions_;
  const FrameAsk& ask_;
  std::shared_ptr<WallStore> store_;
  std::optional<double> said_thickness_mm_;
  FrameOrder out_;
};

}  // namespace

FrameOrder order_frame(const Build& build, const Assumptions& assumptions, const FrameAsk& ask) {
  return Orderer(build, assumptions, ask).order();
}

}  // namespace stackfit
