// SPDX-License-Identifier: GPL-3.0-or-later
//
// Lengths with their kits, and what else would do.
#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "solver/sizing.hpp"
#include "solver/stock.hpp"
#include "solver/tolerance_stack.hpp"

namespace stackfit {
namespace {

/// A filler is worth naming where it saves so many sheets.
constexpr int filler_saves_sheets = 4;

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

}  // namespace

double Sizing::readings_off_mm() const {
  const double common = assumptions_[Assumed::calipers_common];
  const double each = common + assumptions_[Assumed::calipers_scatter];
  const double calipers =
      build_.row_mm ? common : lot_spread({answer_.cell_count, each, common / each}).likely_mm;
  return calipers + charge_doubt_mm();
}

double Sizing::charge_doubt_mm() const {
  Findings scratch;
  const Row row = resolve_row(at_length(build_, rough_length_mm()), assumptions_, scratch);
  const double doubt = assumptions_[Assumed::charge_doubt];
  const double at = row.cells.front().measured_charge;
  double most = 0;
  constexpr int steps = 20;
  for (int i = -steps; i <= steps; ++i) {
    const double other = std::clamp(at + doubt * i / steps, 0.0, 1.0);
    most = std::max(most, std::abs(row.swing.at(other) - row.swing.at(at)));
  }
  return most * answer_.nominal_mm * static_cast<double>(build_.cells.size());
}

void Sizing::offer_lengths() {
  const LotSpread lot = lot_spread({answer_.cell_count, answer_.tolerance_mm, answer_.lot_share});
  findings_.note(Assumed::calipers_common);
  findings_.note(Assumed::calipers_scatter);
  findings_.note(Assumed::charge_doubt);
  if (answer_.measured) {
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

void Sizing::offer(OfferFor whom, const Build& build, double spread_mm) {
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

Build Sizing::as_ordered(const Build& build, const LengthOffer& length) const {
  Build ordered = at_length(build, length.nominal_mm);
  ordered.kit = as_kit(length, demand_.sheet_material);
  return ordered;
}

void Sizing::describe_pressures(const Build& build, SizeOffer& made) const {
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

Build Sizing::build_for(OfferFor whom) const {
  return whom == OfferFor::these_cells ? build_ : unmeasured(build_);
}

std::vector<double> Sizing::fillers() const {
  const std::vector<double>& said = build_.order.filler_stock_mm;
  return said.empty() ? std::vector<double>(filler_stock_mm.begin(), filler_stock_mm.end()) : said;
}

void Sizing::offer_filler(const Build& build, const SizeOffer& first) {
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

void Sizing::bracket() {
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

LengthDemand Sizing::nearest_demand() const {
  LengthDemand demand = demand_;
  const LotSpread lot = lot_spread({answer_.cell_count, answer_.tolerance_mm, answer_.lot_share});
  demand.spread_mm = answer_.measured ? readings_off_mm() : lot.likely_mm;
  return demand;
}

void Sizing::soften() {
  const LengthDemand demand = nearest_demand();
  const Build build = build_for(answer_.measured ? OfferFor::these_cells : OfferFor::likely_lot);
  answer_.short_mm = -window_mm(build, assumptions_, demand, store_);
  if (answer_.short_mm < 0) {
    // The band forgives something: no kit of these sheets steps finely or far enough.
    LengthDemand fine = demand;
    fine.sheets_mm.assign(shim_stock_mm.begin(), shim_stock_mm.end());
    fine.in_full = false;
    const LengthOffer finer = offer_length(build, assumptions_, fine, store_);
    if (finer.found) {
      answer_.finer = finer;
      return;
    }
  }
  if (hand_refuses(build, demand)) {
    answer_.hand_refuses = true;
    return;
  }
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
    offer_nearest(build, demand);
  }
}

bool Sizing::hand_refuses(const Build& build, const LengthDemand& demand) {
  if (build.build.method.value_or(BuildMethod::hand) != BuildMethod::hand ||
      (!build.build.method && build.box.opens != Opens::none)) {
    return false;
  }
  Build other = build;
  other.build.method = BuildMethod::end_wall_last;
  other.box.opens = Opens::one_end_wall;
  return window_mm(other, assumptions_, demand, store_) > 0;
}

/// Less charge, or a wider band, with sheets in finer steps than most are sold.
void Sizing::offer_nearest(const Build& build, const LengthDemand& demand) {
  LengthDemand fine = demand;
  fine.sheets_mm.assign(shim_stock_mm.begin(), shim_stock_mm.end());
  fine.in_full = false;
  answer_.less_charge = offer_charge(build, assumptions_, fine, store_);
  constexpr int most_tenths = 30;
  constexpr int unit_tenths = 10;
  const BandResult& band = answer_.band;
  for (int tenths = unit_tenths + 1; tenths <= most_tenths; ++tenths) {
    const double high_mpa = band.high_mpa * tenths / unit_tenths;
    Build wider = build;
    wider.cell.limit_mpa.reset();
    wider.cell.range = PressureRange{band.low_mpa, high_mpa, RangeAppliesTo::use};
    if (window_mm(wider, assumptions_, fine, store_) > fine.sheets_mm.front()) {
      answer_.wider_high_mpa = high_mpa;
      return;
    }
  }
}

void Sizing::look_at_kit_on_hand() {
  if (build_.kit.empty()) {
    return;
  }
  answer_.kit_intervals = serving_lengths(build_, assumptions_, store_);
}

void Sizing::look_at_box_in_hand() {
  if (build_.box.inner_length_mm.empty() || answer_.intervals.empty()) {
    return;
  }
  const Study study(build_, assumptions_, store_);
  BoxInHand in_hand;
  in_hand.length_mm = study.row().box.inner_length_mm;
  const auto served = [&](double length_mm) {
    const SizeOffer& first = answer_.offers.front();
    if (first.offered_for != OfferFor::these_cells) {
      // Cells that nobody measured: only what serves whatever comes.
      return first.length.nominal_between.low <= length_mm &&
             length_mm <= first.length.nominal_between.high + first.length.tolerance_mm;
    }
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

}  // namespace stackfit
