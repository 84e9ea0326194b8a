// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/wall_order.hpp"

#include <algorithm>
#include <cmath>

#include "solver/length_window.hpp"
#include "solver/stock.hpp"
#include "solver/wall_result.hpp"

namespace stackfit {
namespace {

const PlateWall* plate_of(const std::optional<EndWallInput>& wall) {
  return wall ? std::get_if<PlateWall>(&*wall) : nullptr;
}

double cells_mm(const Row& row) {
  double sum = 0;
  for (const RowCell& cell : row.cells) {
    sum += cell.free_mm;
  }
  return sum;
}

/// Shims in place of those still to be chosen, so thick that the highest state has this force.
ShimLoad load_for(const Study& study, double force_n) {
  // Squeezed by a tenth of the cells' length and more, whatever lies between.
  constexpr double reach_share = 0.1;
  constexpr int halvings = 40;
  ShimLoad load;
  double low = -study.model().built_interference_mm(load) - study.model().greatest_bulge_mm();
  double high = low + reach_share * cells_mm(study.row());
  for (const RowGap& gap : study.row().gaps) {
    high += gap.pads_mm();
  }
  for (int i = 0; i < halvings; ++i) {
    load.thickness_mm = 0.5 * (low + high);
    (study.model().evaluate(load).highest.force_n >= force_n ? high : low) = load.thickness_mm;
  }
  return load;
}

}  // namespace

Build with_wall(Build build, double thickness_mm) {
  const PlateWall* said = plate_of(build.box.end_walls);
  PlateWall wall = said != nullptr ? *said : PlateWall{};
  wall.thickness_mm = thickness_mm;
  build.box.end_walls = wall;
  return build;
}

std::optional<WallTried> try_wall(const Build& build, const Assumptions& assumptions,
                                  const std::shared_ptr<WallStore>& store) {
  Findings scratch;
  const double length = cells_mm(resolve_row(at_length(build, 1), assumptions, scratch));
  const Study study(at_length(build, length), assumptions, store);
  const BandResult& band = study.row().band;
  // The model's margin is taken by the force that is not computed: the wall stands it all.
  const ShimLoad load = load_for(study, band.high_mpa * band.face_area_mm2);
  const StateResult top = study.model().evaluate(load).highest;
  const auto full = study.model().columns_at(
      {top.charge, top.temperature_c, top.capacity_loss, top.settled, top.stiff_pads}, load);
  if (!full) {
    return std::nullopt;
  }
  std::optional<WallTried> tried;
  for (const WallResult& wall : wall_results(study.row(), *full)) {
    if (wall.by_measured_bow) {
      continue;
    }
    const double yield = build.order.yield_mpa.value_or(wall.yield_mpa);
    const double safety = build.order.stress_safety.value_or(assumptions[Assumed::stress_safety]);
    WallTried one;
    one.thickness_mm = wall.thickness_mm;
    one.bow_mm = wall.bow_mm;
    one.stress_mpa = wall.stress_mpa;
    one.large_bow = wall.large_bow;
    one.most_bow_mm =
        build.order.most_bow_mm.value_or(assumptions[Assumed::most_bow_share] * wall.span_mm);
    one.allowed_mpa = yield / safety;
    one.bow_holds = one.bow_mm <= one.most_bow_mm;
    one.stress_holds = yield == 0 || one.stress_mpa <= one.allowed_mpa;
    if (!tried || !one.holds()) {
      tried = one;
    }
  }
  return tried;
}

namespace {

/// Thicknesses to choose from; the one that was said where no stock is named.
std::vector<double> stock_of(const Build& build, WallOrder& order) {
  if (!build.order.wall_stock_mm.empty()) {
    order.from_stock = true;
    return build.order.wall_stock_mm;
  }
  const PlateWall* said = plate_of(build.box.end_walls);
  if (said != nullptr && said->thickness_mm) {
    return {*said->thickness_mm};
  }
  order.from_stock = true;
  order.stock_assumed = true;
  return {wall_stock_mm.begin(), wall_stock_mm.end()};
}

void note_assumed(const Build& build, const Assumptions& assumptions, const WallOrder& order,
                  Findings& findings) {
  (void)findings.said_or(build.order.stress_safety, assumptions, Assumed::stress_safety);
  if (!build.order.most_bow_mm) {
    findings.note(Assumed::most_bow_share);
  }
  if (order.stock_assumed) {
    findings.note({"plate that is sold", "common metric and inch thicknesses",
                   "order.wall_stock was not said"});
  }
}

}  // namespace

WallOrder order_walls(const Build& build, const Assumptions& assumptions, Findings& findings,
                      const std::shared_ptr<WallStore>& store) {
  WallOrder order;
  order.stock_mm = stock_of(build, order);
  const auto tried = [&](std::size_t i) {
    return try_wall(order.from_stock ? with_wall(build, order.stock_mm[i]) : build, assumptions,
                    store);
  };
  // A thicker wall bows less: halving finds the thinnest that holds. The one below it has been
  // tried by then, and failed.
  std::size_t low = 0;
  std::size_t high = order.stock_mm.size();
  std::vector<std::optional<WallTried>> known(order.stock_mm.size());
  while (low < high) {
    const std::size_t middle = low + (high - low) / 2;
    known[middle] = tried(middle);
    if (!known[middle]) {
      return order;  // rigid, or known by a bow alone
    }
    (known[middle]->holds() ? high : low) = known[middle]->holds() ? middle : middle + 1;
  }
  order.bends = true;
  order.found = low < order.stock_mm.size();
  order.chosen = order.found ? *known[low] : *known.back();
  if (low > 0 && order.found) {
    order.thinner = *known[low - 1];
  }
  order.safety = build.order.stress_safety.value_or(assumptions[Assumed::stress_safety]);
  order.yield_mpa = order.chosen.allowed_mpa * order.safety;
  Findings scratch;
  const Row row = resolve_row(at_length(build, 1), assumptions, scratch);
  order.top_force_n = row.band.high_mpa * row.face_area_mm2;
  note_assumed(build, assumptions, order, findings);
  return order;
}

}  // namespace stackfit
