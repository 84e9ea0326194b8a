// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/chance_shifts.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "solver/vector_loops.hpp"

namespace stackfit {

ChanceShifts::ChanceShifts(const Study& study, const ShimLoad& load, bool reference_drawn,
                           double most_charge_off)
    : reference_drawn_(reference_drawn) {
  const Build& build = study.build();
  const Row& row = study.row();
  const auto count = static_cast<double>(row.cells.size());
  cells_mm_ = count * row.nominal_mm;
  table_ = build.cell.swing && std::holds_alternative<SwingTable>(*build.cell.swing);
  const Chemistry chemistry = build.cell.chemistry;
  const SwingCurve layer = table_ ? row.swing : layer_swing(chemistry);
  if (!table_) {
    per_net_ = swing_stretch(chemistry, 1, 0);
    per_hump_ = swing_stretch(chemistry, 0, 1);
    // g(1) is the net; what is left of a known point gives the hump.
    nominal_.swing_net = row.swing.at(1);
    const bool lfp = chemistry == Chemistry::lfp_graphite;
    const SwingFigures said =
        build.cell.swing ? std::get<SwingFigures>(*build.cell.swing) : SwingFigures{};
    nominal_.swing_hump =
        lfp ? said.hump_fraction.value_or(study.assumptions().fraction(Assumed::swing_hump)) : 0;
  } else {
    nominal_.swing_net = 1;
    per_net_ = {.scale = 1, .tilt = 0};
    per_hump_ = {.scale = 0, .tilt = 0};
  }
  for (const double charge : layer.knots(row.use_charge)) {
    window_.push_back({layer.at(charge), charge});
  }
  constexpr std::size_t steps = 512;
  const double off = std::max(most_charge_off, 1e-3);
  const auto held = [](double charge) { return std::clamp(charge, 0.0, 1.0); };
  // What a meter shows when building stays; cells built as they were measured stay as they are.
  const bool charge_said = build.build.charge.has_value();
  by_charge_ = ChargeTable({-off, off}, steps, [&](double by) {
    ChargeTable::Row at;
    for (const RowCell& cell : row.cells) {
      const double charge = held(cell.measured_charge + by);
      at.measured_layer += layer.at(charge) / count;
      at.measured_charge += charge / count;
    }
    at.built_charge = held(row.build_charge + (charge_said ? 0 : by));
    at.built_layer = layer.at(at.built_charge);
    return at;
  });
  temperature_c_ = row.use_temperature_c;
  capacity_loss_ = row.use_capacity_loss;
  reference_c_ = row.reference_temperature_c;
  build_temperature_said_ = build.build.temperature_c.has_value();
  build_temperature_c_ = row.build_temperature_c;
  for (const CellReading& cell : build.cells) {
    (cell.temperature_c ? said_temperatures_c_ : reference_share_) +=
        cell.temperature_c.value_or(1) / count;
  }
  rest_mm_per_k_ = load.expansion_mm_per_k - row.box.tie_length_mm * row.box.expansion_per_k;
  for (const RowGap& gap : row.gaps) {
    for (const RowSheet& sheet : gap.fixed) {
      rest_mm_per_k_ += sheet.thickness_mm * sheet.expansion_per_k;
    }
  }
  nominal_.expansion_per_k = row.expansion_per_k;
  nominal_.reference_c = reference_c_;
  nominal_.growth_per_loss = row.growth.per_loss;
  nominal_built_mm_ = at(nominal_).built_mm;
}

STACKFIT_VECTOR_LOOPS void ChanceShifts::at_all(const ShiftDraws& draws,
                                                const ShiftedRows& out) const {
  // On the stack, near: what a draw does to the swing, and where it is least, most, as measured
  // and as built.
  constexpr std::size_t tile = 128;
  std::array<double, tile> scale{};
  std::array<double, tile> tilt{};
  std::array<double, tile> least{};
  std::array<double, tile> most{};
  std::array<double, tile> measured{};
  std::array<double, tile> built{};
  const std::size_t count = out.built_mm.size();
  const bool reference_drawn = reference_drawn_;
  const bool build_temperature_said = build_temperature_said_;
  const double reference_kept = reference_c_;
  const double build_temperature = build_temperature_c_;
  for (std::size_t first = 0; first < count; first += tile) {
    const std::size_t here = std::min(tile, count - first);
    const double* net = draws.swing_net.data() + first;
    const double* hump = draws.swing_hump.data() + first;
    for (std::size_t i = 0; i < here; ++i) {
      scale[i] = per_net_.scale * net[i] + per_hump_.scale * hump[i];
      tilt[i] = per_net_.tilt * net[i] + per_hump_.tilt * hump[i];
      least[i] = 1e300;
      most[i] = -1e300;
    }
    for (const Knot& knot : window_) {
      for (std::size_t i = 0; i < here; ++i) {
        const double g = scale[i] * knot.layer + tilt[i] * knot.charge;
        least[i] = g < least[i] ? g : least[i];
        most[i] = g > most[i] ? g : most[i];
      }
    }
    const double* off = draws.charge_off.data() + first;
    for (std::size_t i = 0; i < here; ++i) {
      const ChargeTable::Row charge = by_charge_.at(off[i]);
      measured[i] = scale[i] * charge.measured_layer + tilt[i] * charge.measured_charge;
      built[i] = scale[i] * charge.built_layer + tilt[i] * charge.built_charge;
    }
    const double* lengths = draws.lengths_mm.data() + first;
    const double* expansion = draws.expansion_per_k.data() + first;
    const double* references = draws.reference_c.data() + first;
    const double* grown = draws.growth_per_loss.data() + first;
    double* built_mm = out.built_mm.data() + first;
    double* thinnest_mm = out.thinnest_mm.data() + first;
    double* thickest_mm = out.thickest_mm.data() + first;
    for (std::size_t i = 0; i < here; ++i) {
      const double reference = references[i];
      const double measured_c = said_temperatures_c_ + reference_share_ * reference;
      const double box_c = reference_drawn ? reference : reference_kept;
      const double cells_per_k = cells_mm_ * expansion[i];
      const auto warmed = [&](double celsius) {
        return cells_per_k * (celsius - measured_c) + rest_mm_per_k_ * (celsius - box_c);
      };
      const double cold = warmed(temperature_c_.low);
      const double warm = warmed(temperature_c_.high);
      const double growth = cells_mm_ * grown[i];
      built_mm[i] = lengths[i] + cells_mm_ * (built[i] - measured[i]) +
                    warmed(build_temperature_said ? build_temperature : reference) -
                    nominal_built_mm_;
      thinnest_mm[i] = lengths[i] + cells_mm_ * (least[i] - measured[i]) +
                       (cold < warm ? cold : warm) + growth * capacity_loss_.low -
                       nominal_built_mm_;
      thickest_mm[i] = lengths[i] + cells_mm_ * (most[i] - measured[i]) +
                       (cold < warm ? warm : cold) + growth * capacity_loss_.high -
                       nominal_built_mm_;
    }
  }
}

Shifted ChanceShifts::at(const ShiftDraw& draw) const {
  const auto one = [](const double& figure) { return std::span(&figure, 1); };
  Shifted shifted;
  at_all({one(draw.lengths_mm), one(draw.charge_off), one(draw.swing_net), one(draw.swing_hump),
          one(draw.expansion_per_k), one(draw.reference_c), one(draw.growth_per_loss)},
         {{&shifted.built_mm, 1}, {&shifted.thinnest_mm, 1}, {&shifted.thickest_mm, 1}});
  return shifted;
}

}  // namespace stackfit
