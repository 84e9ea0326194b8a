// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/row_model.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/band.hpp"
#include "solver/dome.hpp"
#include "solver/rising_root.hpp"

namespace stackfit {
namespace {

bool pressed_less(const StateResult& a, const StateResult& b) {
  if (a.face_pressure_mpa != b.face_pressure_mpa) {
    return a.face_pressure_mpa < b.face_pressure_mpa;
  }
  return a.loose_by_mm > b.loose_by_mm;  // both loose: the one with more room
}

Series series_of(const Row& row, bool stiff, bool settled) {
  Series series;
  series.add(
      {row.cell_law, row.nominal_mm * static_cast<double>(row.cells.size()), row.face_area_mm2});
  series.add_give(row.box.sides_give_mm_per_n);
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

/// Thicknesses that a wall may bow: so far its stretching is checked (large_bow.hpp).
constexpr double known_bow = 3;

}  // namespace

void PlanPressures::find_extremes() {
  lowest = *std::min_element(states.begin(), states.end(), pressed_less);
  highest = *std::max_element(states.begin(), states.end(), pressed_less);
}

RowModel::RowModel(const Row& row, std::shared_ptr<WallStore> store)
    : row_(row), extreme_charge_(row.swing.extremes(row.use_charge)) {
  least_fixed_area_mm2_ = row.face_area_mm2;
  base_mm_ = -row.box.inner_length_mm;
  expansion_mm_k_ = -row.box.tie_length_mm * row.box.expansion_per_k;
  const double cell_expansion = row.expansion_per_k * row.nominal_mm;
  for (const RowCell& cell : row.cells) {
    base_mm_ += cell.free_mm - mean_bulge_mm({cell.dome_mm, cell.slack_mm, cell.dome.exponent}) -
                row.nominal_mm * row.swing.at(cell.measured_charge) -
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
  if (RowColumns::needed(row)) {
    columns_.emplace(row, std::move(store));
    greatest_bulge_mm_ = columns_->greatest_bulge_mm();
    for (const RowCell& cell : row.cells) {
      middle_bulge_mm_ += cell.dome_mm > 0 ? cell.dome_mm - cell.slack_mm : cell.dome_mm;
    }
    return;
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
  const double even = even_interference_mm(state, load);
  return row_.box.rods ? even - even_interference_mm(build_state(), load)
                       : even + greatest_longer_mm(state, load);
}

double RowModel::greatest_longer_mm(const RowState& state, const ShimLoad& load) const {
  return row_.rim ? std::max(greatest_bulge_mm_,
                             columns_->rim_longer_mm(
                                 row_.rim_less_mm(state.charge, state.capacity_loss), load))
                  : greatest_bulge_mm_;
}

double RowModel::free_row_mm(const ShimLoad& load) const {
  return even_interference_mm(build_state(), load) + row_.box.inner_length_mm;
}

double RowModel::built_interference_mm(const ShimLoad& load) const {
  return even_interference_mm(build_state(), load);
}

double RowModel::cover_share(const ShimLoad& load) const {
  return least_area_mm2(load) / row_.face_area_mm2;
}

double RowModel::even_interference_mm(const RowState& state, const ShimLoad& load) const {
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

StateResult RowModel::result(const RowState& state, const ColumnFigures& figures,
                             double loose_by_mm) const {
  StateResult out;
  out.charge = state.charge;
  out.temperature_c = state.temperature_c;
  out.capacity_loss = state.capacity_loss;
  out.settled = state.settled;
  out.stiff_pads = state.stiff_pads;
  out.force_n = figures.force_n;
  out.face_pressure_mpa = figures.force_n / row_.face_area_mm2;
  out.highest_local_mpa = figures.highest_local_mpa;
  out.lowest_local_mpa = figures.lowest_local_mpa;
  out.contact_share = figures.contact_share;
  out.centre_x_mm = figures.centre_x_mm;
  out.centre_y_mm = figures.centre_y_mm;
  out.wall_bow_mm = figures.wall_bow_mm;
  out.loose_by_mm = figures.force_n > 0 ? 0 : loose_by_mm;
  out.standing = standing_of(row_.band, out.face_pressure_mpa, out.highest_local_mpa);
  return out;
}

/// A state as far as this row tells states apart.
RowState RowModel::known(const RowState& asked) const {
  RowState state = asked;
  state.settled = asked.settled && pads_settle_;
  state.stiff_pads = asked.stiff_pads && pads_differ_;
  return state;
}

StateResult RowModel::one_column(const RowState& state, const ShimLoad& load,
                                 double interference_mm) const {
  const Variant& v = variant(state.stiff_pads);
  double interference = interference_mm;
  if (state.settled) {
    interference -= settled_loss_mm(state.stiff_pads, load);
  }
  const Series& series = state.settled ? v.settled : v.series;
  const SeriesResult solved = series.solve(interference, load.give_mm_per_n);
  const double least = least_area_mm2(load);
  ColumnFigures figures;
  figures.force_n = solved.force_n;
  figures.highest_local_mpa = solved.force_n / least;
  figures.lowest_local_mpa = least < row_.face_area_mm2 ? 0 : figures.highest_local_mpa;
  figures.contact_share = solved.force_n > 0 ? least / row_.face_area_mm2 : 0;
  return result(state, figures, solved.loose_by_mm);
}

RowColumns::Asked RowModel::asked_of(const RowState& state, const ShimLoad& load) const {
  const RowState built = build_state();
  RowColumns::Asked asked;
  asked.built_mm = even_interference_mm(built, load);
  asked.now_mm = even_interference_mm(state, load);
  asked.built_rim_less_mm = row_.rim_less_mm(built.charge, built.capacity_loss);
  asked.rim_less_mm = row_.rim_less_mm(state.charge, state.capacity_loss);
  asked.stiff_pads = state.stiff_pads;
  asked.settled = state.settled;
  asked.building = !state.settled && state.charge == built.charge &&
                   state.temperature_c == built.temperature_c &&
                   state.capacity_loss == built.capacity_loss;
  return asked;
}

StateResult RowModel::solve(const RowState& asked, const ShimLoad& load) const {
  const RowState state = known(asked);
  if (!columns_) {
    return one_column(state, load, interference_mm(state, load));
  }
  return result(state, columns_->figures(asked_of(state, load), load),
                std::max(0.0, -interference_mm(state, load)));
}

StateResult RowModel::solve_fully(const RowState& asked, const ShimLoad& load) const {
  const RowState state = known(asked);
  if (!columns_) {
    return one_column(state, load, interference_mm(state, load));
  }
  return result(state, columns_->solve_fully(asked_of(state, load), load).figures,
                std::max(0.0, -interference_mm(state, load)));
}

std::optional<RowColumns::Full> RowModel::columns_at(const RowState& state,
                                                     const ShimLoad& load) const {
  if (!columns_) {
    return std::nullopt;
  }
  return columns_->solve_fully(asked_of(known(state), load), load);
}

double RowModel::box_give_mm_per_n() const {
  return row_.box.sides_give_mm_per_n + (columns_ ? columns_->even_wall_give_mm_per_n() : 0);
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

PlanPressures RowModel::evaluate(const ShimLoad& load, By by) const {
  const auto solved = [&](const RowState& state) {
    return by == By::curve ? solve(state, load) : solve_fully(state, load);
  };
  PlanPressures pressures;
  pressures.as_built = solved(build_state());
  for (RowState corner : corners()) {
    for (const double charge : {extreme_charge_.charge_lowest, extreme_charge_.charge_highest}) {
      corner.charge = charge;
      pressures.states.push_back(solved(corner));
    }
  }
  pressures.find_extremes();
  return pressures;
}

/// As built the row may be looser than in use, never tighter: unless the maker gave a range for
/// assembly, which then decides both ways and asks for pads at their soft edge as well.
PlanPressures RowModel::pressures_to_judge(const ShimLoad& load, By by) const {
  PlanPressures pressures = evaluate(load, by);
  if (row_.band.build_low_mpa && row_.band.build_high_mpa) {
    RowState soft_pads = build_state();
    soft_pads.stiff_pads = false;
    pressures.built_soft = by == By::curve ? solve(soft_pads, load) : solve_fully(soft_pads, load);
  }
  return pressures;
}

RowModel::Judgement RowModel::judge(const ShimLoad& load, By by) const {
  return judgement(pressures_to_judge(load, by), load);
}

RowModel::Judgement RowModel::judge_states(const std::array<ShimLoad, 2>& loads,
                                           Pressed pressed) const {
  PlanPressures kindest = pressures_to_judge(loads[0], By::curve);
  const PlanPressures other = pressures_to_judge(loads[1], By::curve);
  const auto take = [&](StateResult& ours, const StateResult& theirs) {
    const bool less = pressed_less(ours, theirs);
    if (pressed == Pressed::most ? less : pressed_less(theirs, ours)) {
      ours = theirs;
    }
  };
  take(kindest.as_built, other.as_built);
  for (std::size_t i = 0; i < kindest.states.size(); ++i) {
    take(kindest.states[i], other.states[i]);
  }
  if (kindest.built_soft) {
    take(*kindest.built_soft, *other.built_soft);
  }
  kindest.find_extremes();
  return judgement(kindest, loads[0]);
}

RowModel::Judgement RowModel::judgement(const PlanPressures& p, const ShimLoad& load) const {
  const BandResult& band = row_.band;
  const double built = p.as_built.face_pressure_mpa;
  const auto breaks_limit = [](const StateResult& s) {
    return s.standing == Standing::above_limit;
  };

  Judgement judgement;
  judgement.lowest_mpa = p.lowest.face_pressure_mpa;
  judgement.highest_mpa = p.highest.face_pressure_mpa;
  judgement.build_force_n = p.as_built.force_n;
  judgement.loose_by_mm = p.lowest.loose_by_mm;
  const auto below = [](const BandResult& b, double mpa) {
    return (mpa - b.low_mpa) / (b.high_mpa - b.low_mpa);
  };
  const auto above = [](const BandResult& b, double mpa) {
    return (b.high_mpa - b.judged(mpa)) / (b.high_mpa - b.low_mpa);
  };
  judgement.margin_below = below(band, p.lowest.face_pressure_mpa);
  judgement.margin_above = above(band, p.highest.face_pressure_mpa);
  judgement.not_below = p.lowest.force_n > 0 && p.lowest.face_pressure_mpa >= band.low_mpa;
  judgement.not_above = band.judged(p.highest.face_pressure_mpa) <= band.high_mpa &&
                        std::none_of(p.states.begin(), p.states.end(), breaks_limit) &&
                        !breaks_limit(p.as_built);
  if (p.built_soft) {
    const double built_soft = p.built_soft->face_pressure_mpa;
    BandResult at_build = band;
    at_build.low_mpa = *band.build_low_mpa;
    at_build.high_mpa = *band.build_high_mpa;
    judgement.margin_below = std::min(judgement.margin_below, below(at_build, built_soft));
    judgement.margin_above = std::min(judgement.margin_above, above(at_build, built));
    judgement.not_below = judgement.not_below && built_soft >= at_build.low_mpa;
    judgement.not_above = judgement.not_above && band.judged(built) <= at_build.high_mpa;
  } else {
    judgement.margin_above = std::min(judgement.margin_above, above(band, built));
    judgement.not_above = judgement.not_above && band.judged(built) <= band.high_mpa;
  }
  judgement.margin = std::min(judgement.margin_below, judgement.margin_above);
  judgement.even = least_area_mm2(load) >= row_.even_share * row_.face_area_mm2;
  const double wall = row_.box.thinnest_wall_mm();
  judgement.walls_hold =
      wall == 0 || std::max(p.highest.wall_bow_mm, p.as_built.wall_bow_mm) <= known_bow * wall;
  if (row_.watched()) {
    judgement.swollen_contact = p.as_built.contact_share;
    for (const StateResult& state : p.states) {
      judgement.swollen_contact = std::max(judgement.swollen_contact, state.contact_share);
    }
  }
  judgement.spares_swollen = judgement.swollen_contact <= row_.swollen_contact;
  judgement.passes = judgement.not_below && judgement.not_above && judgement.even &&
                     judgement.walls_hold && judgement.spares_swollen;
  return judgement;
}

/// The force at which the band's top or the limit is met, whichever comes first.
double RowModel::most_force_n(const RowState& state, const ShimLoad& load) const {
  double cap = row_.band.most_for(row_.band.high_mpa) * row_.face_area_mm2;
  if (!row_.band.limit_mpa) {
    return cap;
  }
  const double local = row_.band.most_for(*row_.band.limit_mpa);
  if (!columns_) {
    return std::min(cap, local * least_area_mm2(load));
  }
  // The local highest rises with the force: halving finds where it meets the limit.
  RowColumns::Asked asked = asked_of(state, load);
  const auto within = [&](double force_n) {
    asked.now_mm = columns_->interference_mm(asked, load, force_n);
    return columns_->figures(asked, load).highest_local_mpa <= local;
  };
  if (within(cap)) {
    return cap;
  }
  double low = 0;
  double high = cap;
  constexpr int halvings = 30;
  for (int i = 0; i < halvings; ++i) {
    const double middle = 0.5 * (low + high);
    (within(middle) ? low : high) = middle;
  }
  cap = low;
  return cap;
}

/// What the cells may grow [mm, all together] until a force is reached.
double RowModel::room_to_grow_mm(const RowColumns::Asked& asked, const ShimLoad& load,
                                 double force_n) const {
  const double all_alike = columns_->interference_mm(asked, load, force_n) - asked.now_mm;
  if (!row_.rim || !(all_alike > 0)) {
    return all_alike;
  }
  // A rim does not grow along, so there is more room than that; each try is a full solution.
  const auto over_n = [&](double grown_mm) {
    RowColumns::Asked grown = asked;
    grown.now_mm += grown_mm;
    grown.rim_less_mm += grown_mm / static_cast<double>(row_.cells.size());
    grown.building = false;
    return columns_->solve_fully(grown, load).figures.force_n - force_n;
  };
  constexpr double close_share = 1e-4;
  return rising_root({0, all_alike, close_share * force_n}, over_n);
}

RowModel::Life RowModel::life(const ShimLoad& load) const {
  const PlanPressures p = evaluate(load);
  const RowState state{p.highest.charge, p.highest.temperature_c, 0, p.highest.settled,
                       p.highest.stiff_pads};
  const double cap = most_force_n(state, load);
  double room = 0;
  if (columns_) {
    room = room_to_grow_mm(asked_of(state, load), load, cap);
  } else {
    const Variant& v = variant(state.stiff_pads);
    const Series& series = state.settled ? v.settled : v.series;
    room = series.squeeze_mm(cap, load.give_mm_per_n) - interference_mm(state, load);
    room += state.settled ? settled_loss_mm(state.stiff_pads, load) : 0;
  }
  room = std::max(0.0, room);
  const double cells = static_cast<double>(row_.cells.size()) * row_.nominal_mm;
  const auto loss = [&](double per_loss) { return std::min(1.0, room / (cells * per_loss)); };
  return {loss(row_.growth.per_loss), {loss(row_.growth.span.high), loss(row_.growth.span.low)}};
}

std::vector<RowModel::Kind> RowModel::kinds() const {
  std::vector<Kind> found;
  for (const bool stiff : {false, true}) {
    for (const bool settled : {false, true}) {
      if ((!stiff || pads_differ_) && (!settled || pads_settle_)) {
        found.push_back({false, settled, stiff});
      }
    }
  }
  return found;
}

RowColumns::Asked RowModel::asked_of(const Kind& kind, const ShimLoad& load) const {
  RowColumns::Asked asked;
  asked.built_mm = even_interference_mm(build_state(), load);
  asked.now_mm = asked.built_mm;
  asked.building = kind.building;
  asked.settled = kind.settled && pads_settle_;
  asked.stiff_pads = kind.stiff_pads && pads_differ_;
  return asked;
}

StateResult RowModel::solve_moved(const Kind& kind, const ShimLoad& load, double longer_mm) const {
  RowState state = build_state();
  state.settled = kind.settled && pads_settle_;
  state.stiff_pads = kind.stiff_pads && pads_differ_;
  const double interference = interference_mm(build_state(), load) + longer_mm;
  if (!columns_) {
    return one_column(state, load, interference);
  }
  RowColumns::Asked asked = asked_of(kind, load);
  asked.now_mm += longer_mm;
  return result(state, columns_->figures(asked, load), std::max(0.0, -interference));
}

double RowModel::interference_for(const Kind& kind, const ShimLoad& load, double force_n) const {
  if (columns_) {
    return columns_->interference_mm(asked_of(kind, load), load, force_n);
  }
  const bool stiff = kind.stiff_pads && pads_differ_;
  const Variant& v = variant(stiff);
  return kind.settled && pads_settle_
             ? v.settled.squeeze_mm(force_n, load.give_mm_per_n) + settled_loss_mm(stiff, load)
             : v.series.squeeze_mm(force_n, load.give_mm_per_n);
}

/// Halves the interferences up to the greatest force for where a figure that rises is reached.
double RowModel::first_interference_where(
    const Kind& kind, const ShimLoad& load, double most_force_n,
    const std::function<bool(const ColumnFigures&)>& reached) const {
  RowColumns::Asked asked = asked_of(kind, load);
  const auto holds = [&](double interference_mm) {
    (kind.building ? asked.built_mm : asked.now_mm) = interference_mm;
    return reached(columns_->figures(asked, load));
  };
  double high = interference_for(kind, load, most_force_n);
  if (!holds(high)) {
    return std::numeric_limits<double>::infinity();
  }
  double low = high - (greatest_bulge_mm_ + cell_squeeze_mm(most_force_n) +
                       most_force_n * box_give_mm_per_n());
  constexpr int halvings = 40;
  for (int i = 0; i < halvings; ++i) {
    const double middle = 0.5 * (low + high);
    (holds(middle) ? high : low) = middle;
  }
  return high;
}

double RowModel::interference_for_local(const Kind& kind, const ShimLoad& load,
                                        double highest_local_mpa, double most_force_n) const {
  if (!columns_) {
    const double force = highest_local_mpa * least_area_mm2(load);
    return force <= most_force_n ? interference_for(kind, load, force)
                                 : std::numeric_limits<double>::infinity();
  }
  return first_interference_where(kind, load, most_force_n, [&](const ColumnFigures& figures) {
    return figures.highest_local_mpa >= highest_local_mpa;
  });
}

double RowModel::interference_for_contact(const Kind& kind, const ShimLoad& load,
                                          double contact_share, double most_force_n) const {
  if (!columns_) {
    return std::numeric_limits<double>::infinity();
  }
  return first_interference_where(kind, load, most_force_n, [&](const ColumnFigures& figures) {
    return figures.contact_share > contact_share;
  });
}

double RowModel::cell_squeeze_mm(double force_n) const {
  return static_cast<double>(row_.cells.size()) * row_.nominal_mm *
         row_.cell_law->strain_at(force_n / row_.face_area_mm2).value;
}

RowModel::Give RowModel::give(const ShimLoad& load) const {
  const RowState built = build_state();
  if (columns_) {
    return columns_->give(asked_of(built, load), load);
  }
  const double force = solve(built, load).force_n;
  Give give;
  give.cells_mm = cell_squeeze_mm(force);
  give.sheets_mm = force * (sheet_give_mm_per_n_ + load.give_mm_per_n);
  give.walls_mm = force * row_.box.sides_give_mm_per_n;
  for (const RowGap& gap : row_.gaps) {
    for (const RowPad& pad : gap.pads) {
      give.pads_mm += pad.thickness_mm * pad.stiff_edge->strain_at(force / pad.area_mm2).value;
    }
  }
  return give;
}

double RowModel::breathing_mm() const {
  return static_cast<double>(row_.cells.size()) * row_.nominal_mm *
         (row_.swing.at(extreme_charge_.charge_highest) -
          row_.swing.at(extreme_charge_.charge_lowest));
}

double RowModel::band_takes_mm(const ShimLoad& load) const {
  const double low = row_.band.low_mpa * row_.face_area_mm2;
  const double high = row_.band.most_for(row_.band.high_mpa) * row_.face_area_mm2;
  if (columns_) {
    const RowColumns::Asked asked = asked_of(known({row_.use_charge.low}), load);
    return columns_->interference_mm(asked, load, high) -
           columns_->interference_mm(asked, load, low);
  }
  const Series& series = variants_.front().series;
  return series.squeeze_mm(high, load.give_mm_per_n) - series.squeeze_mm(low, load.give_mm_per_n);
}

}  // namespace stackfit
