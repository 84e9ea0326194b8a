// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/size.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <utility>
#include <variant>

#include "solver/plan_result.hpp"
#include "solver/rests_on_assumed.hpp"
#include "solver/size_details.hpp"
#include "solver/stock.hpp"
#include "solver/tolerance_stack.hpp"
#include "solver/what_if.hpp"

namespace stackfit {
namespace {

/// A filler is worth naming where it saves so many sheets.
constexpr int filler_saves_sheets = 4;

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

/// The same number of cells as the data sheet has them.
Build unmeasured(Build build) {
  for (CellReading& cell : build.cells) {
    CellReading bare;
    bare.id = cell.id;
    cell = bare;
  }
  build.row_mm.reset();
  return build;
}

class Sizing {
 public:
  Sizing(const Build& said, const Assumptions& assumptions)
      : assumptions_(assumptions), build_(prepared(said, findings_)) {}

  [[nodiscard]] SizeAnswer run() {
    describe();
    if (build_.frame) {
      return run_frame();
    }
    size_width_and_height();
    choose_walls();
    describe_swing();
    if (answer_.refused.empty()) {
      offer_lengths();
    }
    if (answer_.offers.empty() && answer_.refused.empty()) {
      soften();
    }
    if (!answer_.offers.empty()) {
      finish_recommended();
    }
    look_at_kit_on_hand();
    look_at_box_in_hand();
    judge();
    return std::move(answer_);
  }

 private:
  void describe() {
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

  /// As ordered, as the kit on hand, or a stiff sheet that insulates.
  void choose_sheet_material() {
    demand_.sheet_material = build_.order.sheet_material;
    if (!demand_.sheet_material && !build_.kit.empty()) {
      demand_.sheet_material = build_.kit.front().sheet.material;
    }
    if (!demand_.sheet_material) {
      demand_.sheet_material = SheetMaterial::glass_epoxy;
      findings_.note({"material of the sheets to buy", "glass-epoxy laminate",
                      "order.sheet_material was not said; stiff, and it insulates"});
    }
  }

  [[nodiscard]] double take(const std::optional<double>& said, Assumed id) {
    return findings_.said_or(said, assumptions_, id);
  }

  /// A frame is as long as its row: plates, rods, springs and force are what is ordered.
  [[nodiscard]] SizeAnswer run_frame() {
    add_sheets_due();
    answer_.frame = order_frame(build_, assumptions_);
    build_ = answer_.frame->build;
    const Study study(build_, assumptions_, store_);
    describe_row(study);
    answer_.as_ordered = build_;
    if (!answer_.refused.empty()) {
      answer_.verdict = SizeVerdict::stop;
    } else if (answer_.frame->problem == FrameProblem::none) {
      answer_.verdict =
          rests_on_assumed(study) ? SizeVerdict::serves_on_assumed_figures : SizeVerdict::serves;
      answer_.details = detail_frame(study, *answer_.frame, findings_);
    } else if (answer_.frame->problem == FrameProblem::plates_too_thin ||
               answer_.frame->problem == FrameProblem::rods_too_thin) {
      answer_.verdict = SizeVerdict::walls_too_weak;
    }
    tell_assumed(study);
    return std::move(answer_);
  }

  /// Where metal would be left bare: one of the thinnest sheet that is sold in every such gap.
  void add_sheets_due() {
    Findings scratch;
    Build any = build_;
    if (any.frame->rods.size.empty()) {
      any.frame->rods.size = "M8";  // gaps hang on no thread
    }
    any.frame->springs.reset();
    const Row row = resolve_row(any, assumptions_, scratch);
    const auto due = std::count_if(row.gaps.begin(), row.gaps.end(), [](const RowGap& gap) {
      return gap.insulation_due && !gap.insulated();
    });
    int on_hand = 0;
    for (const RowKind& kind : row.kit) {
      on_hand += kind.sheet.insulates ? kind.count : 0;
    }
    if (on_hand < due) {
      LengthOffer sheets;
      sheets.kit = {{demand_.sheets_mm.front(), static_cast<int>(due)}};
      build_.kit = as_kit(sheets, demand_.sheet_material);
    }
  }

  void size_width_and_height() {
    SectionRequest request;
    request.sheets_sold_mm = demand_.sheets_mm;
    answer_.section = size_section(build_, assumptions_, findings_, request);
    add_end_plates(request);
    // The walls are as large as the box will be.
    if (!build_.box.inner_width_mm) {
      build_.box.inner_width_mm = answer_.section->width.nominal_mm;
    }
    if (!build_.box.inner_height_mm) {
      build_.box.inner_height_mm = answer_.section->height.nominal_mm;
    }
  }

  /// Where bends, beads or round corners stand in the way of the end cells, a plate at each end
  /// keeps them off.
  void add_end_plates(SectionRequest request) {
    const double due = answer_.section->end_standoff_mm;
    std::vector<double> stock = demand_.sheets_mm;
    for (const double filler : fillers()) {
      stock.push_back(filler);
    }
    std::sort(stock.begin(), stock.end());
    const auto plate = std::lower_bound(stock.begin(), stock.end(), due);
    if (due <= demand_.sheets_mm.front() || plate == stock.end()) {
      return;
    }
    SheetInput sheet;
    sheet.name = "end plate";
    sheet.thickness_mm = *plate;
    sheet.material = demand_.sheet_material;
    sheet.where.word = PlaceWord::ends;
    build_.fixed_sheets.push_back(std::move(sheet));
    answer_.end_plate_mm = *plate;
    request.end_standoff_mm = *plate;
    Findings noted_already;
    answer_.section = size_section(build_, assumptions_, noted_already, request);
  }

  void choose_walls() {
    answer_.walls = order_walls(build_, assumptions_, findings_, store_);
    if (answer_.walls.bends && answer_.walls.from_stock) {
      build_ = with_wall(build_, answer_.walls.chosen.thickness_mm);
    }
  }

  void describe_row(const Study& study) {
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

  void describe_swing() {
    const Study study(at_length(build_, rough_length_mm()), assumptions_, store_);
    describe_row(study);
    answer_.swing_mm = study.model().breathing_mm();
    answer_.band_takes_mm = study.model().band_takes_mm({});
  }

  [[nodiscard]] double rough_length_mm() const {
    return answer_.nominal_mm * static_cast<double>(build_.cells.size());
  }

  /// What calipers may be off: a part common to all cells, one of each.
  [[nodiscard]] double readings_off_mm() const {
    const double common = assumptions_[Assumed::calipers_common];
    if (build_.row_mm) {
      return common;  // one reading of the whole row
    }
    const double each = common + assumptions_[Assumed::calipers_scatter];
    return lot_spread({answer_.cell_count, each, common / each}).likely_mm;
  }

  void offer_lengths() {
    const LotSpread lot = lot_spread({answer_.cell_count, answer_.tolerance_mm, answer_.lot_share});
    if (answer_.measured) {
      findings_.note(Assumed::calipers_common);
      findings_.note(Assumed::calipers_scatter);
      offer(OfferFor::these_cells, build_, readings_off_mm());
    }
    const Build any = unmeasured(build_);
    offer(OfferFor::any_batch, any, lot.worst_case_mm);
    findings_.note(Assumed::lot_share);
    offer(OfferFor::likely_lot, any, lot.likely_mm);
    if (!answer_.measured) {
      offer(OfferFor::once_measured, any, readings_off_mm());
    }
  }

  void offer(OfferFor whom, const Build& build, double spread_mm) {
    LengthDemand demand = demand_;
    demand.spread_mm = spread_mm;
    demand.in_full = answer_.offers.empty();  // the one that is recommended
    SizeOffer made;
    made.offered_for = whom;
    made.length = offer_length(build, assumptions_, demand, store_);
    if (made.length.found) {
      describe_pressures(build, made);
      answer_.offers.push_back(std::move(made));
    }
  }

  [[nodiscard]] Build as_ordered(const Build& build, const LengthOffer& length) const {
    Build ordered = at_length(build, length.nominal_mm);
    ordered.kit = as_kit(length, demand_.sheet_material);
    return ordered;
  }

  void describe_pressures(const Build& build, SizeOffer& made) const {
    const Study study(as_ordered(build, made.length), assumptions_, store_);
    const ShimPlan plan = study.choose();
    const ShimLoad load = study.load_of(plan.used);
    const PlanPressures p = study.model().evaluate(
        load, answer_.offers.empty() ? RowModel::By::full_solution : RowModel::By::curve);
    made.lowest_mpa = p.lowest.face_pressure_mpa;
    made.built_mpa = p.as_built.face_pressure_mpa;
    made.highest_mpa = p.highest.face_pressure_mpa;
    made.margin = plan.margin;
    made.life_span = study.model().life(load).span;
  }

  [[nodiscard]] Build build_for(OfferFor whom) const {
    return whom == OfferFor::these_cells ? build_ : unmeasured(build_);
  }

  void finish_recommended() {
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

  [[nodiscard]] std::vector<double> fillers() const {
    const std::vector<double>& said = build_.order.filler_stock_mm;
    return said.empty() ? std::vector<double>(filler_stock_mm.begin(), filler_stock_mm.end())
                        : said;
  }

  /// The plate with which the kit has fewest sheets.
  void offer_filler(const Build& build, const SizeOffer& first) {
    LengthDemand demand = demand_;
    demand.in_full = false;
    demand.spread_mm = first.length.spread_mm;
    int fewest = first.length.sheets() - filler_saves_sheets + 1;
    double best_mm = 0;
    for (const double thickness : fillers()) {
      demand.filler_mm = thickness;
      const int sheets = sheets_needed(first.length, demand);
      if (sheets > 0 && sheets < fewest) {
        fewest = sheets;
        best_mm = thickness;
      }
    }
    if (best_mm == 0) {
      return;
    }
    demand.filler_mm = best_mm;
    SizeOffer made;
    made.offered_for = first.offered_for;
    made.length = offer_length(build, assumptions_, demand, store_);
    if (made.length.found) {
      describe_pressures(build, made);
      answer_.with_filler = std::move(made);
    }
  }

  void bracket() {
    const Study study(answer_.as_ordered, assumptions_, store_);
    if (!study.row().law_assumed) {
      return;
    }
    const Assumption& a = assumption(Assumed::squeeze_a);
    const auto with = [&](double a_mpa) {
      const Assumptions other = assumptions_.with(Assumed::squeeze_a, a_mpa);
      LengthDemand demand = demand_;
      demand.spread_mm = answer_.offers.front().length.spread_mm;
      const Study changed(answer_.as_ordered, other, store_);
      return SizeBracket{a_mpa, window_mm(answer_.as_ordered, other, demand, store_),
                         changed.can_pass()};
    };
    answer_.soft = with(a.low);
    answer_.stiff = with(a.high);
  }

  /// Nothing hard serves: something soft in the row, or a wall that is the spring.
  void soften() {
    LengthDemand demand = demand_;
    const LotSpread lot = lot_spread({answer_.cell_count, answer_.tolerance_mm, answer_.lot_share});
    demand.spread_mm = answer_.measured ? readings_off_mm() : lot.likely_mm;
    const Build build = build_for(answer_.measured ? OfferFor::these_cells : OfferFor::likely_lot);
    answer_.foam_said = build_.order.foam.has_value();
    answer_.pad = offer_pad(build, assumptions_, demand, store_);
    if (answer_.walls.bends) {
      answer_.thin_wall = offer_thin_wall(build, assumptions_, demand, answer_.walls, store_);
    }
    if (answer_.pad) {
      // What is ordered from here on has the pad in it.
      build_ = with_pad(std::move(build_), *answer_.pad);
      SizeOffer made;
      made.offered_for = answer_.measured ? OfferFor::these_cells : OfferFor::likely_lot;
      made.length = answer_.pad->length;
      describe_pressures(build_for(made.offered_for), made);
      answer_.offers.push_back(std::move(made));
    }
    if (!answer_.pad && !answer_.thin_wall) {
      answer_.less_charge = offer_charge(build, assumptions_, demand, store_);
    }
  }

  void look_at_kit_on_hand() {
    if (build_.kit.empty()) {
      return;
    }
    answer_.kit_intervals = serving_lengths(build_, assumptions_, store_);
  }

  /// A box that is there, or whose length was fixed otherwise: as it is, or with a plate in it.
  void look_at_box_in_hand() {
    if (build_.box.inner_length_mm.empty() || answer_.intervals.empty()) {
      return;
    }
    const Study study(build_, assumptions_, store_);
    BoxInHand in_hand;
    in_hand.length_mm = study.row().box.inner_length_mm;
    const auto served = [&](double length_mm) {
      return std::any_of(answer_.intervals.begin(), answer_.intervals.end(), [&](const Span& span) {
        return span.low <= length_mm && length_mm <= span.high;
      });
    };
    in_hand.serves = served(in_hand.length_mm);
    if (!in_hand.serves) {
      const std::vector<double> stock = fillers();
      const auto fills = std::find_if(stock.begin(), stock.end(), [&](double filler_mm) {
        return served(in_hand.length_mm - filler_mm);
      });
      if (fills != stock.end()) {
        in_hand.filler_mm = *fills;
      }
    }
    answer_.in_hand = in_hand;
  }

  /// Width, height or corners that keep the cells out: room that is only short is no such thing.
  [[nodiscard]] bool section_refuses() const {
    return answer_.section &&
           std::any_of(answer_.section->conflicts.begin(), answer_.section->conflicts.end(),
                       [](const SectionConflict& conflict) {
                         return conflict.code != SectionConflictCode::room_short;
                       });
  }

  [[nodiscard]] SizeVerdict verdict(const Study& study) const {
    if (!answer_.refused.empty()) {
      return SizeVerdict::stop;
    }
    if (answer_.offers.empty()) {
      return answer_.thin_wall ? SizeVerdict::only_with_thin_wall : SizeVerdict::nothing_serves;
    }
    if (answer_.offers.front().offered_for == OfferFor::once_measured) {
      return SizeVerdict::only_once_measured;
    }
    if (answer_.walls.bends && !answer_.walls.found) {
      return SizeVerdict::walls_too_weak;
    }
    if (section_refuses()) {
      return SizeVerdict::not_as_said;
    }
    return rests_on_assumed(study) ? SizeVerdict::serves_on_assumed_figures : SizeVerdict::serves;
  }

  void judge() {
    const Build& judged = answer_.offers.empty() ? build_ : answer_.as_ordered;
    const Study study(answer_.offers.empty() ? at_length(judged, rough_length_mm()) : judged,
                      assumptions_, store_);
    answer_.verdict = verdict(study);
    tell_assumed(study);
  }

  /// Warnings, and every figure and word that was assumed.
  void tell_assumed(const Study& study) {
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

  const Assumptions& assumptions_;
  Findings findings_;
  Build build_;
  LengthDemand demand_;
  std::shared_ptr<WallStore> store_ = std::make_shared<WallStore>();
  SizeAnswer answer_;
};

}  // namespace

SizeAnswer answer_size(const Build& build, const Assumptions& assumptions) {
  return Sizing(build, assumptions).run();
}

}  // namespace stackfit
