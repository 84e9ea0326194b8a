// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/soft_order.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>
#include <vector>

#include "solver/stock.hpp"

namespace stackfit {
namespace {

/// Every pad that is sold, in the order in which they are tried.
std::vector<PadOffer> pads_to_try(const Order& order) {
  std::vector<double> stock = order.pad_stock_mm;
  if (stock.empty()) {
    stock.assign(pad_stock_mm.begin(), pad_stock_mm.end());
  }
  std::vector<PadOffer> pads;
  for (const double thickness : stock) {
    for (const bool both : {false, true}) {
      if (order.foam) {
        pads.push_back({thickness, 0, order.foam, both, {}});
        continue;
      }
      for (const int grade : pad_grades) {
        pads.push_back({thickness, grade, std::nullopt, both, {}});
      }
    }
  }
  const auto size = [](const PadOffer& pad) {
    return std::tuple(pad.thickness_mm * (pad.both_ends ? 2 : 1), pad.both_ends, pad.grade);
  };
  std::sort(pads.begin(), pads.end(),
            [&](const PadOffer& a, const PadOffer& b) { return size(a) < size(b); });
  return pads;
}

/// Whether the pads stay within their curve in the box as offered: beyond it they are solid, and
/// nothing is known.
bool stays_soft(const Build& build, const Assumptions& assumptions, const LengthDemand& demand,
                const LengthOffer& offer, const std::shared_ptr<WallStore>& store) {
  Build ordered = at_length(build, offer.nominal_mm);
  ordered.kit = as_kit(offer, demand.sheet_material);
  const Study study(std::move(ordered), assumptions, store);
  const PlanPressures p = study.model().evaluate(study.load_of(study.choose().used));
  const double most_n = std::max(p.highest.force_n, p.as_built.force_n);
  const std::vector<RowGap>& gaps = study.row().gaps;
  return std::all_of(gaps.begin(), gaps.end(), [&](const RowGap& gap) {
    return std::all_of(gap.pads.begin(), gap.pads.end(), [&](const RowPad& pad) {
      return most_n / pad.area_mm2 <= pad.soft_edge->known_up_to_mpa();
    });
  });
}

}  // namespace

Build with_pad(Build build, const PadOffer& offer) {
  PadInput pad;
  pad.name = "pad";
  pad.thickness_mm = offer.thickness_mm;
  if (offer.table) {
    pad.law = *offer.table;
  } else {
    pad.law = FoamGrade{offer.grade};
  }
  pad.where.word = offer.both_ends ? PlaceWord::ends : PlaceWord::named_gaps;
  if (!offer.both_ends) {
    pad.where.gaps = {gap_names(build.cells.size()).front()};
  }
  build.pads.push_back(std::move(pad));
  return build;
}

std::optional<PadOffer> offer_pad(const Build& build, const Assumptions& assumptions,
                                  const LengthDemand& demand,
                                  const std::shared_ptr<WallStore>& store) {
  // Between rigid walls a row is one column: what fails there by far needs no curves.
  Build rigid = build;
  rigid.box.end_walls = RigidWall{};
  rigid.box.last_end_wall.reset();
  for (PadOffer& pad : pads_to_try(build.order)) {
    const double rigid_mm = window_mm(with_pad(rigid, pad), assumptions, demand, store);
    // What the walls give besides widens the window: only a pad that is far from enough is
    // passed over.
    constexpr double hopeless_mm = -1;
    if (rigid_mm < hopeless_mm) {
      continue;
    }
    pad.length = offer_length(with_pad(build, pad), assumptions, demand, store);
    if (pad.length.found &&
        stays_soft(with_pad(build, pad), assumptions, demand, pad.length, store)) {
      return pad;
    }
  }
  return std::nullopt;
}

std::optional<ThinWallOffer> offer_thin_wall(const Build& build, const Assumptions& assumptions,
                                             const LengthDemand& demand, const WallOrder& walls,
                                             const std::shared_ptr<WallStore>& store) {
  for (auto thickness = walls.stock_mm.rbegin(); thickness != walls.stock_mm.rend(); ++thickness) {
    if (*thickness >= walls.chosen.thickness_mm) {
      continue;
    }
    const Build thin = with_wall(build, *thickness);
    const std::optional<WallTried> tried = try_wall(thin, assumptions, store);
    if (!tried || !tried->stress_holds) {
      return std::nullopt;  // thinner ones are stressed more
    }
    ThinWallOffer offer{*tried, offer_length(thin, assumptions, demand, store)};
    if (offer.length.found) {
      return offer;
    }
  }
  return std::nullopt;
}

std::optional<ChargeOffer> offer_charge(const Build& build, const Assumptions& assumptions,
                                        const LengthDemand& demand,
                                        const std::shared_ptr<WallStore>& store) {
  constexpr double step = 0.05;
  constexpr double narrowest = 0.33;
  Findings scratch;
  const Span now = resolve_row(at_length(build, 1), assumptions, scratch).use_charge;
  for (int i = 1; now.high - now.low - 2 * i * step >= narrowest; ++i) {
    constexpr double percent = 100;
    ChargeOffer offer;
    offer.charge = {std::round((now.low + i * step) * percent) / percent,
                    std::round((now.high - i * step) * percent) / percent};
    Build narrower = build;
    narrower.use.charge = offer.charge;
    offer.length = offer_length(narrower, assumptions, demand, store);
    if (offer.length.found) {
      return offer;
    }
  }
  return std::nullopt;
}

}  // namespace stackfit
