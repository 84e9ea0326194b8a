// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/row_model.hpp"

#include <algorithm>
#include <cmath>

#include "solver/band.hpp"

namespace stackfit {
namespace {

Series series_of(const Row& row, bool stiff, bool settled) {
  Series series;
  series.add(
      {row.cell_law, row.nominal_mm * static_cast<double>(row.cells.size()), row.face_area_mm2});
  series.add_give(row.box.give_mm_per_n);
  std::vector<std::pair<LawPtr, LawPtr>> relaxed;  // one law object per fresh law
  for (const RowGap& gap : row.gaps) {
    for (const RowSheet& sheet : gap.fixed) {
      series.add_give(sheet.give_mm_per_n());
    }
    for (const RowPad& pad : gap.pads) {
      LawPtr law = stiff ? pad.stiff_edge : pad.soft_edge;
      if (settled && pad.relaxes) {
        auto known = std::find_if(relaxed.begin(), relaxed.end(),
                                  [&](const auto& pair) { return pair.first == law; });
        if (known == relaxed.end()) {
          relaxed.emplace_back(law, std::make_shared<RelaxedLaw>(law, row.foam_share));
          known = relaxed.end() - 1;
        }
        law = known->second;
      }
      series.add({law, pad.thickness_mm, pad.area_mm2});
    }
  }
  return series;
}

}  // namespace

void ShimLoad::add(const RowSheet& sheet, int count) {
  if (count == 0) {
    return;
  }
  thickness_mm += count * sheet.thickness_mm;
  give_mm_per_n += count * sheet.give_mm_per_n();
  expansion_mm_per_k += count * sheet.thickness_mm * sheet.expansion_per_k;
  least_area_mm2 = std::min(least_area_mm2, sheet.area_mm2);
}

RowModel::RowModel(const Row& row)
    : row_(row), extreme_charge_(row.swing.extremes(row.use_charge)) {
  least_fixed_area_mm2_ = row.face_area_mm2;
  base_mm_ = -row.box.inner_length_mm;
  expansion_mm_k_ = -row.box.inner_length_mm * row.box.expansion_per_k;
  const double cell_expansion = row.expansion_per_k * row.nominal_mm;
  for (const RowCell& cell : row.cells) {
    base_mm_ += cell.free_mm - row.nominal_mm * row.swing.at(cell.measured_charge) -
                cell_expansion * (cell.measured_temperature_c - row.reference_temperature_c);
    expansion_mm_k_ += cell_expansion;
  }
  for (const RowGap& gap : row.gaps) {
    base_mm_ += gap.fixed_mm();
    for (const RowSheet& sheet : gap.fixed) {
      expansion_mm_k_ += sheet.thickness_mm * sheet.expansion_per_k;
      sheet_give_mm_per_n_ += sheet.give_mm_per_n();
      least_fixed_area_mm2_ = std::min(least_fixed_area_mm2_, sheet.area_mm2);
    }
    for (const RowPad& pad : gap.pads) {
      pads_differ_ = pads_differ_ || pad.stiff_edge != pad.soft_edge;
      pads_settle_ = pads_settle_ || pad.relaxes;
      least_fixed_area_mm2_ = std::min(least_fixed_area_mm2_, pad.area_mm2);
    }
  }
  for (const bool stiff : {false, true}) {
    if (stiff && !pads_differ_) {
      break;
    }
    variants_.push_back(
        {series_of(row, stiff, false), pads_settle_ ? series_of(row, stiff, true) : Series{}});
  }
}

RowState RowModel::build_state() const {
  return {row_.build_charge, row_.build_temperature_c, 0, false, pads_differ_};
}

double RowModel::interference_mm(const RowState& state, const ShimLoad& load) const {
  const double cells = static_cast<double>(row_.cells.size()) * row_.nominal_mm;
  const double warmer = state.temperature_c - row_.reference_temperature_c;
  return base_mm_ +
         cells * (row_.swing.at(state.charge) + row_.growth.per_loss * state.capacity_loss) +
         expansion_mm_k_ * warmer + load.thickness_mm + load.expansion_mm_per_k * warmer;
}

double RowModel::settled_loss_mm(bool stiff, const ShimLoad& load) const {
  RowState built = build_state();
  built.stiff_pads = stiff;
  const double force =
      variant(stiff).series.solve(interference_mm(built, load), load.give_mm_per_n).force_n;
  double loss = 0;
  for (const RowGap& gap : row_.gaps) {
    for (const RowPad& pad : gap.pads) {
      if (!pad.relaxes) {
        continue;
      }
      const LawPtr& law = stiff ? pad.stiff_edge : pad.soft_edge;
      loss += row_.foam_set * pad.thickness_mm * law->strain_at(force / pad.area_mm2).value;
    }
  }
  return loss;
}

double RowModel::least_area_mm2(const ShimLoad& load) const {
  return std::min(least_fixed_area_mm2_, load.least_area_mm2);
}

StateResult RowModel::result(const RowState& state, const SeriesResult& solved,
                             const ShimLoad& load) const {
  StateResult out;
  out.charge = state.charge;
  out.temperature_c = state.temperature_c;
  out.capacity_loss = state.capacity_loss;
  out.settled = state.settled;
  out.stiff_pads = state.stiff_pads;
  out.force_n = solved.force_n;
  out.face_pressure_mpa = solved.force_n / row_.face_area_mm2;
  out.highest_local_mpa = solved.force_n / least_area_mm2(load);
  out.loose_by_mm = solved.loose_by_mm;
  out.standing = standing_of(row_.band, out.face_pressure_mpa, out.highest_local_mpa);
  return out;
}

StateResult RowModel::solve(const RowState& asked, const ShimLoad& load) const {
  RowState state = asked;
  state.settled = asked.settled && pads_settle_;
  state.stiff_pads = asked.stiff_pads && pads_differ_;
  const Variant& v = variant(state.stiff_pads);
  double interference = interference_mm(state, load);
  if (state.settled) {
    interference -= settled_loss_mm(state.stiff_pads, load);
  }
  const Series& series = state.settled ? v.settled : v.series;
  return result(state, series.solve(interference, load.give_mm_per_n), load);
}

std::vector<RowState> RowModel::corners() const {
  std::vector<RowState> found;
  const auto ends = [](Span span) {
    return span.low == span.high ? std::vector<double>{span.low}
                                 : std::vector<double>{span.low, span.high};
  };
  for (const double temperature : ends(row_.use_temperature_c)) {
    for (const double loss : ends(row_.use_capacity_loss)) {
      for (const bool stiff : {false, true}) {
        if (stiff && !pads_differ_) {
          continue;
        }
        for (const bool settled : {false, true}) {
          if (settled && !pads_settle_) {
            continue;
          }
          found.push_back({0, temperature, loss, settled, stiff});
        }
      }
    }
  }
  return found;
}

PlanPressures RowModel::evaluate(const ShimLoad& load) const {
  PlanPressures pressures;
  pressures.as_built = solve(build_state(), load);
  for (RowState corner : corners()) {
    for (const double charge : {extreme_charge_.charge_lowest, extreme_charge_.charge_highest}) {
      corner.charge = charge;
      pressures.states.push_back(solve(corner, load));
    }
  }
  const auto by_pressure = [](const StateResult& a, const StateResult& b) {
    if (a.face_pressure_mpa != b.face_pressure_mpa) {
      return a.face_pressure_mpa < b.face_pressure_mpa;
    }
    return a.loose_by_mm > b.loose_by_mm;  // both loose: the one with more room
  };
  pressures.lowest =
      *std::min_element(pressures.states.begin(), pressures.states.end(), by_pressure);
  pressures.highest =
      *std::max_element(pressures.states.begin(), pressures.states.end(), by_pressure);
  return pressures;
}

RowModel::Judgement RowModel::judge(const ShimLoad& load) const {
  const PlanPressures p = evaluate(load);
  const BandResult& band = row_.band;
  const double built = p.as_built.face_pressure_mpa;
  const auto breaks_limit = [](const StateResult& s) {
    return s.standing == Standing::above_limit;
  };

  Judgement judgement;
  judgement.build_force_n = p.as_built.force_n;
  judgement.loose_by_mm = p.lowest.loose_by_mm;
  judgement.margin = band_margin(band, {p.lowest.face_pressure_mpa, p.highest.face_pressure_mpa});
  judgement.not_below = p.lowest.force_n > 0 && p.lowest.face_pressure_mpa >= band.low_mpa;
  judgement.not_above = band.judged(p.highest.face_pressure_mpa) <= band.high_mpa &&
                        !breaks_limit(p.highest) && !breaks_limit(p.as_built);
  // As built the row may be looser than in use, never tighter: unless the maker gave a range for
  // assembly, which then decides both ways.
  if (band.build_low_mpa && band.build_high_mpa) {
    RowState soft_pads = build_state();
    soft_pads.stiff_pads = false;
    const double built_soft = solve(soft_pads, load).face_pressure_mpa;
    BandResult at_build = band;
    at_build.low_mpa = *band.build_low_mpa;
    at_build.high_mpa = *band.build_high_mpa;
    judgement.margin = std::min(judgement.margin, band_margin(at_build, {built_soft, built}));
    judgement.not_below = judgement.not_below && built_soft >= at_build.low_mpa;
    judgement.not_above = judgement.not_above && band.judged(built) <= at_build.high_mpa;
  } else {
    judgement.margin = std::min(
        judgement.margin, (band.high_mpa - band.judged(built)) / (band.high_mpa - band.low_mpa));
    judgement.not_above = judgement.not_above && band.judged(built) <= band.high_mpa;
  }
  judgement.even = least_area_mm2(load) >= row_.even_share * row_.face_area_mm2;
  const double most_force = std::max(p.highest.force_n, p.as_built.force_n);
  judgement.walls_hold =
      row_.box.wall_mm == 0 || most_force * row_.box.bow_mm_per_n <= row_.box.wall_mm;
  judgement.passes =
      judgement.not_below && judgement.not_above && judgement.even && judgement.walls_hold;
  return judgement;
}

RowModel::Life RowModel::life(const ShimLoad& load) const {
  const PlanPressures p = evaluate(load);
  RowState state{p.highest.charge, p.highest.temperature_c, 0, p.highest.settled,
                 p.highest.stiff_pads};
  double cap = row_.band.most_for(row_.band.high_mpa) * row_.face_area_mm2;
  if (row_.band.limit_mpa) {
    cap = std::min(cap, row_.band.most_for(*row_.band.limit_mpa) * least_area_mm2(load));
  }
  const Variant& v = variant(state.stiff_pads);
  const Series& series = state.settled ? v.settled : v.series;
  double room = series.squeeze_mm(cap, load.give_mm_per_n) - interference_mm(state, load);
  if (state.settled) {
    room += settled_loss_mm(state.stiff_pads, load);
  }
  room = std::max(0.0, room);
  const double cells = static_cast<double>(row_.cells.size()) * row_.nominal_mm;
  const auto loss = [&](double per_loss) { return std::min(1.0, room / (cells * per_loss)); };
  return {loss(row_.growth.per_loss), {loss(row_.growth.span.high), loss(row_.growth.span.low)}};
}

double RowModel::cell_squeeze_mm(double force_n) const {
  return static_cast<double>(row_.cells.size()) * row_.nominal_mm *
         row_.cell_law->strain_at(force_n / row_.face_area_mm2).value;
}

RowModel::Give RowModel::give(const ShimLoad& load) const {
  const double force = solve(build_state(), load).force_n;
  Give give;
  give.cells_mm = cell_squeeze_mm(force);
  give.sheets_mm = force * (sheet_give_mm_per_n_ + load.give_mm_per_n);
  give.walls_mm = force * row_.box.give_mm_per_n;
  for (const RowGap& gap : row_.gaps) {
    for (const RowPad& pad : gap.pads) {
      give.pads_mm += pad.thickness_mm * pad.stiff_edge->strain_at(force / pad.area_mm2).value;
    }
  }
  return give;
}

double RowModel::greatest_bow_mm(const ShimLoad& load) const {
  const PlanPressures p = evaluate(load);
  return row_.box.bow_mm_per_n * std::max(p.highest.force_n, p.as_built.force_n);
}

double RowModel::breathing_mm() const {
  return static_cast<double>(row_.cells.size()) * row_.nominal_mm *
         (row_.swing.at(extreme_charge_.charge_highest) -
          row_.swing.at(extreme_charge_.charge_lowest));
}

double RowModel::band_takes_mm(const ShimLoad& load) const {
  const double area = row_.face_area_mm2;
  const Series& series = variants_.front().series;
  return series.squeeze_mm(row_.band.most_for(row_.band.high_mpa) * area, load.give_mm_per_n) -
         series.squeeze_mm(row_.band.low_mpa * area, load.give_mm_per_n);
}

}  // namespace stackfit
