// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/size.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include <variant>
#include "solver/materials.hpp"
#include "solver/plan_result.hpp"
#include "solver/rests_on_assumed.hpp"
#include "solver/size_details.hpp"
#include "solver/sizing.hpp"
#include "solver/stock.hpp"
#include "solver/tolerance_stack.hpp"
#include "solver/what_if.hpp"

namespace stackfit {
namespace {

/// A wall that goes on last is screwed on, however the others are joined.
void screw_last_wall(Build& build) {
  const auto* said = build.box.end_walls ? std::get_if<PlateWall>(&*build.box.end_walls) : nullptr;
  if (said == nullptr || build.box.last_end_wall || !said->joint ||
      *said->joint == WallJoint::screwed) {
    return;
  }
  PlateWall last = *said;
  last.joint = WallJoint::screwed;
  build.box.last_end_wall = last;
}

/// A box that is to be made can be made to open; one that is there is as it is.
Build prepared(const Build& said, Findings& findings) {
  if (said.rows.value_or(1) > 1) {
    throw UnusableBuild(
        "size speaks of one row: leave out \"rows\", give the cells of one of them, and make the "
        "inner width as many rows wide");
  }
  Build build = said;
  build.placed.clear();
  if (build.box.opens == Opens::not_said && !build.build.method) {
    build.box.opens = Opens::one_end_wall;
    findings.note({"how the box is closed", "one end wall goes on last",
                   "not said; a box that is to be made can have an end wall that comes off"});
    screw_last_wall(build);
  }
  return build;
}

bool is_measured(const Build& build) {
  return std::any_of(build.cells.begin(), build.cells.end(), [](const CellReading& cell) {
    return cell.edge_mm || cell.middle_mm || cell.boards_mm || cell.pressed ||
           !cell.points.front.empty();
  });
}

}  // namespace

Sizing::Sizing(const Build& said, const Assumptions& assumptions)
    : assumptions_(assumptions), build_(prepared(said, findings_)) {}

SizeAnswer Sizing::run() {
  describe();
  if (build_.frame) {
    return run_frame();
  }
  size_width_and_height();
  choose_walls();
  describe_swing();
  const bool walls_hold = !answer_.walls.bends || answer_.walls.found;
  if (answer_.refused.empty() && walls_hold) {
    offer_lengths();
    if (answer_.offers.empty()) {
      soften();
    }
  }
  if (!answer_.offers.empty()) {
    finish_recommended();
  }
  look_at_kit_on_hand();
  look_at_box_in_hand();
  judge();
  return std::move(answer_);
}

void Sizing::describe() {
  answer_.title = build_.title;
  answer_.cell_count = static_cast<int>(build_.cells.size());
  answer_.measured = is_measured(build_);
  answer_.nominal_mm = build_.cell.thickness.nominal_mm;
  answer_.tolerance_assumed = !build_.cell.thickness.tolerance_mm;
  answer_.tolerance_mm =
      answer_.tolerance_assumed
          ? assumptions_.fraction(Assumed::thickness_tolerance) * answer_.nominal_mm
          : *build_.cell.thickness.tolerance_mm;
  if (answer_.tolerance_assumed) {
    findings_.note(Assumed::thickness_tolerance);
  }
  const Order& order = build_.order;
  answer_.step_mm = take(order.length_step_mm, Assumed::length_step);
  answer_.paint_mm = take(order.paint_mm, Assumed::paint);
  demand_.tolerance_mm = take(order.length_tolerance_mm, Assumed::length_tolerance);
  demand_.step_mm = answer_.step_mm;
  demand_.sheets_mm = order.sheet_stock_mm;
  if (demand_.sheets_mm.empty()) {
    demand_.sheets_mm.assign(sheet_stock_mm.begin(), sheet_stock_mm.end());
    findings_.note({"sheets that are sold", "common thicknesses", "order.sheets was not said"});
  }
  choose_sheet_material();
  answer_.lot_share = assumptions_[Assumed::lot_share];
}

void Sizing::choose_sheet_material() {
  demand_.sheet_material = build_.order.sheet_material;
  for (const KitShim& shim : build_.kit) {
    const auto& made_of = shim.sheet.material;
    if (!demand_.sheet_material && made_of && !material(*made_of).metal) {
      demand_.sheet_material = made_of;
    }
  }
  if (!demand_.sheet_material) {
    demand_.sheet_material = SheetMaterial::glass_epoxy;
    findings_.note({"material of the sheets to buy", "glass-epoxy laminate",
                    "order.sheet_material was not said; stiff, and it insulates"});
  }
}

double Sizing::take(const std::optional<double>& said, Assumed id) {
  return findings_.said_or(said, assumptions_, id);
}

void Sizing::describe_row(const Study& study) {
  for (const RowCell& cell : study.row().cells) {
    answer_.cells_mm += cell.free_mm;
  }
  for (const CellResult& cell : describe_cells(study)) {
    if (cell.refused) {
      answer_.refused.push_back(cell.id);
    }
  }
  answer_.band = study.row().band;
  answer_.use_charge = study.row().use_charge;
  answer_.use_temperature_c = study.row().use_temperature_c;
  answer_.use_capacity_loss = study.row().use_capacity_loss;
}

void Sizing::describe_swing() {
  const Study study(at_length(build_, rough_length_mm()), assumptions_, store_);
  describe_row(study);
  answer_.swing_mm = study.model().breathing_mm();
  answer_.band_takes_mm = study.model().band_takes_mm({});
}

double Sizing::rough_length_mm() const {
  return answer_.nominal_mm * static_cast<double>(build_.cells.size());
}

void Sizing::finish_recommended() {
  const SizeOffer& first = answer_.offers.front();
  const Build build = build_for(first.offered_for);
  answer_.as_ordered = as_ordered(build, first.length);
  answer_.intervals = serving_lengths(answer_.as_ordered, assumptions_, store_);
  const Study ordered(answer_.as_ordered, assumptions_, store_);
  answer_.details =
      detail_order(ordered, *answer_.section, first.length, answer_.paint_mm, findings_);
  offer_filler(build, first);
  bracket();
}

bool Sizing::section_refuses() const {
  return answer_.section &&
         std::any_of(answer_.section->conflicts.begin(), answer_.section->conflicts.end(),
                     [](const SectionConflict& conflict) {
                       return conflict.code != SectionConflictCode::room_short;
                     });
}

SizeVerdict Sizing::verdict(const Study& study) const {
  if (!answer_.refused.empty()) {
    return SizeVerdict::stop;
  }
  if (answer_.walls.bends && !answer_.walls.found) {
    return SizeVerdict::walls_too_weak;
  }
  if (answer_.offers.empty()) {
    return answer_.thin_wall ? SizeVerdict::only_with_thin_wall : SizeVerdict::nothing_serves;
  }
  if (answer_.offers.front().offered_for == OfferFor::once_measured) {
    return SizeVerdict::only_once_measured;
  }
  if (section_refuses()) {
    return SizeVerdict::not_as_said;
  }
  if (answer_.pad) {
    return SizeVerdict::serves_with_pad;
  }
  return rests_on_assumed(study) ? SizeVerdict::serves_on_assumed_figures : SizeVerdict::serves;
}

void Sizing::judge() {
  const Build& judged = answer_.offers.empty() ? build_ : answer_.as_ordered;
  const Study study(answer_.offers.empty() ? at_length(judged, rough_length_mm()) : judged,
                    assumptions_, store_);
  answer_.verdict = verdict(study);
  tell_assumed(study);
}

void Sizing::tell_assumed(const Study& study) {
  answer_.warnings = study.findings().warnings;
  answer_.warnings.insert(answer_.warnings.end(), findings_.warnings.begin(),
                          findings_.warnings.end());
  ShimPlan plan;
  plan.used.assign(study.row().kit.size(), 0);
  answer_.assumed = worth_of_assumptions(study, plan);
  for (const Assumed id : findings_.assumed) {
    const bool known = std::any_of(answer_.assumed.begin(), answer_.assumed.end(),
                                   [&](const AssumedUse& use) { return use.id == id; });
    if (!known) {
      answer_.assumed.push_back({id, assumptions_[id], 0, 0});
    }
  }
  answer_.assumed_words = findings_.words;
  for (const AssumedWord& word : study.findings().words) {
    answer_.assumed_words.push_back(word);
  }
}

SizeAnswer answer_size(const Build& build, const Assumptions& assumptions) {
  return Sizing(build, assumptions).run();
}

}  // namespace stackfit
