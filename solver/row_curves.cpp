// SPDX-License-Identifier: GPL-3.0-or-later
//
// A row's reduced curves: which ladders it needs, and what they say between their rungs.
#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "solver/rising_root.hpp"
#include "solver/row_columns.hpp"

namespace stackfit {
namespace {

/// A curve of the second stage begins wherever the force as built has grown by this factor.
constexpr double stage_growth = 3;
/// Curves hold up to this multiple of the band's upper end, or of a frame's force.
constexpr double top_of_band = 3;

/// Cubic through neighbouring knots (Catmull-Rom with uneven spacing), monotone data or not.
double between(const std::vector<double>& x, const std::vector<double>& y, double at) {
  if (x.size() == 1 || at <= x.front()) {
    return y.front();
  }
  if (at >= x.back()) {
    return y.back();
  }
  const auto above = std::upper_bound(x.begin() + 1, x.end() - 1, at);
  const auto i = static_cast<std::size_t>(above - x.begin()) - 1;
  const auto secant = [&](std::size_t k) { return (y[k + 1] - y[k]) / (x[k + 1] - x[k]); };
  const auto slope = [&](std::size_t k) {
    if (k == 0) {
      return secant(0);
    }
    if (k + 1 == x.size()) {
      return secant(k - 1);
    }
    const double before = x[k] - x[k - 1];
    const double after = x[k + 1] - x[k];
    return (after * secant(k - 1) + before * secant(k)) / (before + after);
  };
  const double width = x[i + 1] - x[i];
  const double t = (at - x[i]) / width;
  const double s = 1 - t;
  return s * s * (1 + 2 * t) * y[i] + t * t * (3 - 2 * t) * y[i + 1] +
         t * s * width * (s * slope(i) - t * slope(i + 1));
}

}  // namespace

double RowColumns::curve_top_mpa() const {
  const double pulled = row_.box.rods ? row_.box.rods->force_n / row_.face_area_mm2 : 0;
  return top_of_band * std::max(row_.band.high_mpa, pulled);
}

LadderRequest RowColumns::ladder(const Columns& columns, const Lacking& lacking,
                                 double rim_less_mm) const {
  LadderRequest request;
  request.columns = &columns;
  request.load = load_lacking(lacking, rim_less_mm);
  request.load.tie = &tie_;
  request.face = row_.face;
  request.face_area_mm2 = row_.face_area_mm2;
  request.lowest_mpa = curve_error_mpa;
  request.top_mpa = curve_top_mpa();
  return request;
}

/// Thickness from which on the part of the face that the shims leave free would not touch.
double RowColumns::reach_mm(const LadderStep& top, const ColumnsLoad& load, const Lacking& lacking,
                            double rim_less_mm) const {
  double reach = 0;
  for (std::size_t q = 0; q < region_.size(); ++q) {
    const auto i = static_cast<Eigen::Index>(q);
    const Region& region = regions_[static_cast<std::size_t>(region_[q])];
    const bool free = region.face == row_.face &&
                      std::any_of(lacking.begin(), lacking.end(), [&](const auto& shims) {
                        return !lies_under(region.sheets, shims.first);
                      });
    if (free) {
      const double less = load.less_mm.size() > 0 ? load.less_mm[i] : 0;
      const double shift = region.shift_mm - region.rim_cells * rim_less_mm;
      reach = std::max(reach, top.rung.interference_mm + bulge_mm_[i] + shift - less -
                                  top.state.wall_mm[i] - top.state.extension_mm);
    }
  }
  return reach;
}

WallStore::Curves RowColumns::solve_curves(const Asked& asked, const Lacking& lacking) const {
  const bool frame = row_.box.rods.has_value();
  const Columns open(quick_setup(asked.stiff_pads, false, false));
  const bool twice = staged(asked);
  LadderRequest first = ladder(open, lacking, twice ? asked.built_rim_less_mm : asked.rim_less_mm);
  WallStore::Curves curves;
  ColumnsState built;
  if (frame) {
    ColumnsLoad pulled = load_lacking(lacking, asked.built_rim_less_mm);
    pulled.tie = nullptr;
    pulled.pulled_n = row_.box.rods->force_n;
    built = open.solve(pulled);
    first.load.tie_zero_mm = built.extension_mm;
  }
  first.first_touch_mm = open.first_touch_mm(first.load);
  const auto take = [&](double built_mm, const LadderRequest& request,
                        const std::vector<LadderStep>& steps) {
    curves.built_mm.push_back(built_mm);
    curves.now.push_back(curve_through(steps));
    curves.reach_mm =
        std::max(curves.reach_mm, reach_mm(steps.back(), request.load, lacking, asked.rim_less_mm));
  };
  if (!twice) {
    take(0, first, climb(first));
    return curves;
  }
  const Columns closed(quick_setup(asked.stiff_pads, asked.settled, lid_holds_));
  const auto second = [&](double built_mm, const ColumnsState& from) {
    LadderRequest request = ladder(closed, lacking, asked.rim_less_mm);
    request.load.tie_zero_mm = first.load.tie_zero_mm;
    request.load.built = lid_holds_ ? &from : nullptr;
    if (asked.settled) {
      request.load.less_mm = settled_loss(from, asked.stiff_pads);
    }
    request.first_touch_mm = closed.first_touch_mm(request.load);
    take(built_mm, request, climb(request));
  };
  if (frame) {
    second(0, built);
    return curves;
  }
  const std::vector<LadderStep> steps = climb(first);
  double last_n = 0;
  for (const LadderStep& step : steps) {
    const bool grown = step.rung.figures.force_n >= stage_growth * last_n;
    if (&step == &steps.front() || grown || &step == &steps.back()) {
      second(step.rung.interference_mm, step.state);
      last_n = std::max(step.rung.figures.force_n, curve_error_mpa * row_.face_area_mm2);
    }
  }
  return curves;
}

/// Boxes of slightly different length share their curves where the sides stretch alike to this at
/// the band's top [mm]: far within what a curve may be off.
constexpr double stretch_alike_mm = 0.002;

WallStore::Key RowColumns::key_of(const Asked& asked, const Lacking& lacking) const {
  WallStore::Key key{asked.stiff_pads ? 1.0 : 0.0,
                     asked.settled ? 1.0 : 0.0,
                     staged(asked) ? 1.0 : 0.0,
                     row_.band.high_mpa,
                     std::round(row_.box.sides_give_mm_per_n * row_.band.high_mpa *
                                row_.face_area_mm2 / stretch_alike_mm),
                     row_.foam_set,
                     static_cast<double>(row_.face),
                     row_.face_area_mm2,
                     row_.dome_exponent,
                     row_.box.rods ? 1.0 : 0.0,
                     static_cast<double>(lacking.size())};
  for (const auto& [outline, thickness_mm] : lacking) {
    key.push_back(outline);
    key.push_back(thickness_mm);
  }
  if (row_.rim) {
    key.insert(key.end(),
               {asked.built_rim_less_mm, asked.rim_less_mm, static_cast<double>(row_.rim->outline),
                row_.rim->law->strain_at(0).per_mpa, row_.rim->law->known_up_to_mpa()});
  }
  if (row_.box.rods) {
    // Rods and springs that agree at so many extensions are one tie.
    for (const double extension_mm : {-3.0, -1.0, -0.3, -0.1, 0.0, 0.1, 0.3, 1.0, 3.0}) {
      key.push_back(tie_.force_at(extension_mm).n);
    }
  }
  // Walls are shared by pointer; the store keeps them alive.
  key.push_back(static_cast<double>(reinterpret_cast<std::uintptr_t>(walls_.get())));
  const Variant& variant = variants_[asked.stiff_pads ? 1 : 0];
  // Two column laws that agree at so many pressures are one law.
  constexpr std::array probes{0.003, 0.01, 0.03, 0.06, 0.1, 0.2, 0.4, 0.8, 1.5, 5.0};
  const auto probe = [&](const std::vector<ColumnLaw>& laws) {
    for (const ColumnLaw& law : laws) {
      for (const double pressure : probes) {
        key.push_back(law.squeeze_mm(pressure));
      }
    }
  };
  probe(variant.fresh);
  if (asked.settled) {
    probe(variant.settled);
  }
  for (const Region& region : regions_) {
    key.push_back(region.shift_mm);
  }
  const auto domes = [&](const std::vector<RowCell>& cells) {
    for (const RowCell& cell : cells) {
      key.push_back(cell.dome_mm);
      key.push_back(cell.slack_mm);
      key.push_back(cell.dome.exponent);
    }
  };
  domes(row_.cells);
  for (const RowCompanion& companion : row_.companions) {
    domes(companion.cells);
    key.push_back(companion.longer_mm);
  }
  return key;
}

std::shared_ptr<const WallStore::Curves> RowColumns::curves(const Asked& asked,
                                                            const ShimLoad& load) const {
  Lacking lacking;
  for (const ShimLoad::Partial& partial : load.partial) {
    lacking.emplace_back(partial.outline, out_of_reach_mm);
  }
  const auto far = curves_lacking(asked, lacking);
  bool reached = false;
  for (std::size_t i = 0; i < lacking.size(); ++i) {
    lacking[i].second = load.partial[i].thickness_mm;
    reached = reached || lacking[i].second < far->reach_mm;
  }
  return reached ? curves_lacking(asked, lacking) : far;
}

std::shared_ptr<const WallStore::Curves> RowColumns::curves_lacking(const Asked& asked,
                                                                    const Lacking& lacking) const {
  // Kept at hand: the key of the store costs more than an interpolation.
  const auto at_hand = std::make_tuple(asked.stiff_pads, asked.settled, staged(asked),
                                       asked.built_rim_less_mm, asked.rim_less_mm, lacking);
  const auto known = at_hand_.find(at_hand);
  if (known != at_hand_.end()) {
    return known->second;
  }
  WallStore::Key key = key_of(asked, lacking);
  auto curves = store_->find(key);
  if (curves == nullptr) {
    curves = std::make_shared<const WallStore::Curves>(solve_curves(asked, lacking));
    store_->keep(std::move(key), curves);
  }
  at_hand_.emplace(at_hand, curves);
  return curves;
}

/// Rims buckle one after another as a row is built, so that what follows hangs on the build too
/// sharply for a few curves: such a row is solved by the walls' shapes each time it is asked for.
bool RowColumns::without_curves(const Asked& asked) const {
  return row_.rim && staged(asked) && !row_.box.rods;
}

ColumnFigures RowColumns::figures(const Asked& asked, const ShimLoad& load) const {
  if (without_curves(asked)) {
    return figures_by_shapes(asked, load);
  }
  const auto found = curves(asked, load);
  const bool frame = row_.box.rods.has_value();
  const double now = frame ? (asked.building ? 0 : asked.now_mm - asked.built_mm)
                           : (asked.building ? asked.built_mm : asked.now_mm);
  if (found->now.size() == 1) {
    return found->now.front().at(now, frame ? 0 : load.give_mm_per_n);
  }
  // Chosen shims give way as much as built as they do now, to first order: the curves are looked
  // up at what the columns are left with.
  std::vector<ColumnFigures> each;
  for (const ForceCurve& curve : found->now) {
    each.push_back(curve.at(now, load.give_mm_per_n));
  }
  ColumnFigures out;
  for (double ColumnFigures::*figure :
       {&ColumnFigures::force_n, &ColumnFigures::mean_mpa, &ColumnFigures::highest_local_mpa,
        &ColumnFigures::lowest_local_mpa, &ColumnFigures::contact_share,
        &ColumnFigures::centre_x_mm, &ColumnFigures::centre_y_mm, &ColumnFigures::wall_bow_mm,
        &ColumnFigures::walls_mm}) {
    std::vector<double> values;
    for (const ColumnFigures& one : each) {
      values.push_back(one.*figure);
    }
    out.*figure = between(found->built_mm, values, asked.built_mm);
  }
  for (double ColumnFigures::*never_below_zero :
       {&ColumnFigures::force_n, &ColumnFigures::mean_mpa, &ColumnFigures::highest_local_mpa,
        &ColumnFigures::lowest_local_mpa, &ColumnFigures::contact_share,
        &ColumnFigures::wall_bow_mm, &ColumnFigures::walls_mm}) {
    out.*never_below_zero = std::max(0.0, out.*never_below_zero);
  }
  out.contact_share = std::min(1.0, out.contact_share);
  return out;
}

double RowColumns::interference_mm(const Asked& asked, const ShimLoad& load, double force_n) const {
  if (without_curves(asked)) {
    constexpr double close_share = 1e-4;
    constexpr double first_step_mm = 0.2;
    const double touch = -std::max(greatest_bulge_mm(), rim_longer_mm(asked.rim_less_mm, load));
    return rising_root({touch, touch + first_step_mm, close_share * force_n}, [&](double at_mm) {
      Asked there = asked;
      there.now_mm = at_mm;
      return figures_by_shapes(there, load).force_n - force_n;
    });
  }
  const auto found = curves(asked, load);
  const bool frame = row_.box.rods.has_value();
  const double give = frame ? 0 : load.give_mm_per_n;
  std::vector<double> values;
  for (const ForceCurve& curve : found->now) {
    values.push_back(curve.interference_mm(force_n, give));
  }
  const double at = between(found->built_mm, values, frame ? 0 : asked.built_mm);
  return frame ? asked.built_mm + at : at;
}

}  // namespace stackfit
