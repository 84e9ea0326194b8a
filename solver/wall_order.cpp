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

/// Shims in place of those still to be chosen, as thick as would just touch.
double touching_mm(const RowModel& model) {
  return -model.built_interference_mm({}) - model.greatest_bulge_mm();
}

RowState state_of(const StateResult& result) {
  return {result.charge, result.temperature_c, result.capacity_loss, result.settled,
          result.stiff_pads};
}

/// The state of most force and the shims with which it has this force, between rigid walls.
struct Loaded {
  RowState state;
  ShimLoad load;
};
Loaded between_rigid_walls(const Build& build, const Assumptions& assumptions, double force_n) {
  Build rigid = build;
  rigid.box.end_walls = RigidWall{};
  rigid.box.last_end_wall.reset();
  const Study study(std::move(rigid), assumptions);
  // Squeezed by a tenth of the cells' length and more, whatever lies between.
  constexpr double reach_share = 0.1;
  constexpr int halvings = 40;
  double low = touching_mm(study.model());
  double high = low + reach_share * cells_mm(study.row());
  for (const RowGap& gap : study.row().gaps) {
    high += gap.pads_mm();
  }
  Loaded found;
  for (int i = 0; i < halvings; ++i) {
    found.load.thickness_mm = 0.5 * (low + high);
    const StateResult highest = study.model().evaluate(found.load).highest;
    found.state = state_of(highest);
    (highest.force_n >= force_n ? high : low) = found.load.thickness_mm;
  }
  return found;
}

/// The same between the walls themselves, by full solutions: so few are needed that a curve would
/// not pay.
Loaded between_walls(const Study& study, Loaded found, double force_n) {
  constexpr int most_steps = 20;
  constexpr double close_enough = 0.002;
  const auto missing = [&](double thickness_mm) {
    found.load.thickness_mm = thickness_mm;
    return study.model().solve_fully(found.state, found.load).force_n - force_n;
  };
  double before = found.load.thickness_mm;
  double missing_before = missing(before);
  double now = before + 0.5 * force_n * study.model().box_give_mm_per_n();
  for (int i = 0; i < most_steps; ++i) {
    const double missing_now = missing(now);
    if (std::abs(missing_now) <= close_enough * force_n || missing_now == missing_before) {
      break;
    }
    // A secant of a force that rises with the thickness; held to steps that cannot run away.
    const double most = 1 + std::abs(now - before);
    const double step = -missing_now * (now - before) / (missing_now - missing_before);
    before = now;
    missing_before = missing_now;
    now += std::clamp(step, -most, most);
  }
  return found;
}

/// The greater of bow and stress over what is allowed.
double share_used(const WallTried& wall) {
  const double bow = wall.bow_mm / wall.most_bow_mm;
  return wall.allowed_mpa > 0 ? std::max(bow, wall.stress_mpa / wall.allowed_mpa) : bow;
}

}  // namespace

Build with_wall(Build build, double thickness_mm) {
  const PlateWall* said = plate_of(build.box.end_walls);
  PlateWall wall = said != nullptr ? *said : PlateWall{};
  wall.thickness_mm = thickness_mm;
  build.box.end_walls = wall;
  if (auto* last =
          build.box.last_end_wall ? std::get_if<PlateWall>(&*build.box.last_end_wall) : nullptr) {
    last->thickness_mm = thickness_mm;
  }
  return build;
}

std::optional<WallTried> try_wall(const Build& build, const Assumptions& assumptions,
                                  const std::shared_ptr<WallStore>& store) {
  Findings scratch;
  const double length = cells_mm(resolve_row(at_length(build, 1), assumptions, scratch));
  const Study study(at_length(build, length), assumptions, store);
  const BandResult& band = study.row().band;
  // The model's margin is taken by the force that is not computed: the wall stands it all.
  const double force = band.high_mpa * band.face_area_mm2;
  const Loaded top =
      between_walls(study, between_rigid_walls(study.build(), assumptions, force), force);
  const auto full = study.model().columns_at(top.state, top.load);
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
    // Of two unlike walls the one that is nearer to its limits.
    if (!tried || share_used(one) > share_used(*tried)) {
      tried = one;
    }
  }
  return tried;
}

namespace {

/// A second wall that differs in more than its joint.
bool unlike_walls(const Build& build) {
  if (!build.box.last_end_wall) {
    return false;
  }
  const PlateWall* first = plate_of(build.box.end_walls);
  const PlateWall* last = plate_of(build.box.last_end_wall);
  return first == nullptr || last == nullptr || first->thickness_mm != last->thickness_mm ||
         first->material != last->material;
}

/// Thicknesses to choose from; the one that was said where no stock is named.
std::vector<double> stock_of(const Build& build, WallOrder& order) {
  if (unlike_walls(build)) {
    // Each was said by itself: they are only looked at.
    return {plate_of(build.box.end_walls)->thickness_mm.value_or(0)};
  }
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

/// What holds where no thickness of the stock does.
void stiffen_thickest(const Build& build, const Assumptions& assumptions,
                      const std::shared_ptr<WallStore>& store, WallOrder& order) {
  const double thickness = order.stock_mm.back();
  const Build thickest = with_wall(build, thickness);
  if (const PlateWall* wall = plate_of(thickest.box.end_walls); !wall->ribs.empty()) {
    return;  // stiffened already
  }
  const auto held = [&](PlateWall wall) -> std::optional<WallTried> {
    Build other = thickest;
    other.box.end_walls = wall;
    if (auto* last =
            other.box.last_end_wall ? std::get_if<PlateWall>(&*other.box.last_end_wall) : nullptr) {
      last->ribs = wall.ribs;
      last->second_plate = wall.second_plate;
    }
    const auto tried = try_wall(other, assumptions, store);
    return tried && tried->holds() ? tried : std::nullopt;
  };
  PlateWall doubled = *plate_of(thickest.box.end_walls);
  doubled.second_plate = SecondPlate{thickness, doubled.material};
  order.doubled = held(doubled);
  for (const double height : {15.0, 20.0, 25.0, 30.0, 40.0}) {
    PlateWall ribbed = *plate_of(thickest.box.end_walls);
    RibInput rib;
    rib.thickness_mm = thickness;
    rib.height_mm = height;
    ribbed.ribs = {rib};
    if (const auto tried = held(ribbed)) {
      order.ribbed = WallOrder::Ribbed{height, *tried};
      return;
    }
  }
}

}  // namespace

WallOrder order_walls(const Build& build, const Assumptions& assumptions, Findings& findings,
                      const std::shared_ptr<WallStore>& store) {
  WallOrder order;
  if (build.box.end_walls && plate_of(build.box.end_walls) == nullptr) {
    return order;  // rigid, or known by a bow: no thickness to choose
  }
  order.unlike = unlike_walls(build);
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
  // Far too thin is not mended by a bar.
  constexpr double mendable = 4;
  if (!order.found && order.chosen.stress_mpa <= mendable * order.chosen.allowed_mpa) {
    stiffen_thickest(build, assumptions, store, order);
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
