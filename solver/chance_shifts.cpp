// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/chance_shifts.hpp"

#include <algorithm>
#include <cmath>

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
  nominal_built_mm_ = unreferenced(nominal_).built_mm;
}

Shifted ChanceShifts::unreferenced(const ShiftDraw& draw) const {
  const double scale =
      table_ ? draw.swing_net : per_net_.scale * draw.swing_net + per_hump_.scale * draw.swing_hump;
  const double tilt =
      table_ ? 0 : per_net_.tilt * draw.swing_net + per_hump_.tilt * draw.swing_hump;
  double least = 1e300;
  double most = -1e300;
  for (const Knot& knot : window_) {
    const double g = scale * knot.layer + tilt * knot.charge;
    least = std::min(least, g);
    most = std::max(most, g);
  }
  const ChargeTable::Row charge = by_charge_.at(draw.charge_off);
  const double measured = scale * charge.measured_layer + tilt * charge.measured_charge;
  const double built = scale * charge.built_layer + tilt * charge.built_charge;
  const double reference = draw.reference_c;
  const double measured_c = said_temperatures_c_ + reference_share_ * reference;
  const double box_c = reference_drawn_ ? reference : reference_c_;
  const double cells_per_k = cells_mm_ * draw.expansion_per_k;
  const auto warmed = [&](double celsius) {
    return cells_per_k * (celsius - measured_c) + rest_mm_per_k_ * (celsius - box_c);
  };
  const double cold = warmed(temperature_c_.low);
  const double warm = warmed(temperature_c_.high);
  const double growth = cells_mm_ * draw.growth_per_loss;
  Shifted out;
  out.built_mm = draw.lengths_mm + cells_mm_ * (built - measured) +
                 warmed(build_temperature_said_ ? build_temperature_c_ : reference);
  out.thinnest_mm = draw.lengths_mm + cells_mm_ * (least - measured) + std::min(cold, warm) +
                    growth * capacity_loss_.low;
  out.thickest_mm = draw.lengths_mm + cells_mm_ * (most - measured) + std::max(cold, warm) +
                    growth * capacity_loss_.high;
  return out;
}

Shifted ChanceShifts::at(const ShiftDraw& draw) const {
  Shifted shifted = unreferenced(draw);
  shifted.built_mm -= nominal_built_mm_;
  shifted.thinnest_mm -= nominal_built_mm_;
  shifted.thickest_mm -= nominal_built_mm_;
  return shifted;
}

}  // namespace stackfit
