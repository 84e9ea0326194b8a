// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/row.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/band.hpp"
#include "solver/materials.hpp"
#include "solver/rim_law.hpp"
#include "solver/row_parts.hpp"

namespace stackfit {
namespace {

void resolve_law(const Resolution& r, Row& row) {
  const double top = r.assumptions[Assumed::squeeze_tangent_above];
  if (!r.build.cell.softness) {
    r.findings.note(Assumed::squeeze_a);
    r.findings.note(Assumed::squeeze_b);
    row.law_assumed = true;
    row.squeeze_a_mpa = r.assumptions[Assumed::squeeze_a];
    row.cell_law = std::make_shared<ExponentialLaw>(
        ExponentialLaw::Constants{row.squeeze_a_mpa, r.assumptions[Assumed::squeeze_b], top});
  } else if (const auto* law = std::get_if<SoftnessLaw>(&*r.build.cell.softness)) {
    row.cell_law =
        std::make_shared<ExponentialLaw>(ExponentialLaw::Constants{law->a_mpa, law->b, top});
  } else {
    const auto& table = std::get<SoftnessTable>(*r.build.cell.softness);
    row.cell_law = std::make_shared<TableLaw>(table.squeeze_fraction, table.pressure_mpa);
  }
}

SwingCurve resolve_swing(const Resolution& r) {
  const CellType& cell = r.build.cell;
  if (cell.swing) {
    if (const auto* table = std::get_if<SwingTable>(&*cell.swing)) {
      return {table->charge, table->fraction};
    }
  }
  const SwingFigures said = cell.swing ? std::get<SwingFigures>(*cell.swing) : SwingFigures{};
  if (cell.chemistry == Chemistry::nmc_graphite) {
    if (!said.net_fraction) {
      r.findings.note({"swing of the cells with charge", "the layer law for NMC and graphite",
                       "no figure was given; a table from the maker is better"});
    }
    return stretched_swing(cell.chemistry, said.net_fraction.value_or(layer_net(cell.chemistry)),
                           0);
  }
  const auto fraction = [&](const std::optional<double>& figure, Assumed id) {
    if (figure) {
      return *figure;
    }
    r.findings.note(id);
    return r.assumptions.fraction(id);
  };
  return stretched_swing(cell.chemistry, fraction(said.net_fraction, Assumed::swing_net),
                         fraction(said.hump_fraction, Assumed::swing_hump));
}

/// Product of free growth and what load leaves of it; spans combine in logs, as for
/// independent lognormal factors.
RowGrowth resolve_growth(const Resolution& r) {
  const GrowthInput& said = r.build.cell.growth;
  RowGrowth growth;
  growth.per_loss = r.take(said.per_capacity_lost, Assumed::growth) *
                    r.take(said.under_load, Assumed::growth_under_load);
  double down = 0;
  double up = 0;
  const auto widen = [&](bool is_said, Assumed id) {
    if (is_said) {
      return;
    }
    const Assumption& a = assumption(id);
    down += std::pow(std::log(a.value / a.low), 2);
    up += std::pow(std::log(a.high / a.value), 2);
  };
  widen(said.per_capacity_lost.has_value(), Assumed::growth);
  widen(said.under_load.has_value(), Assumed::growth_under_load);
  growth.span = {growth.per_loss * std::exp(-std::sqrt(down)),
                 growth.per_loss * std::exp(std::sqrt(up))};
  return growth;
}

Span span_or(const Resolution& r, const std::optional<Span>& said, Assumed low, Assumed high) {
  if (said) {
    return *said;
  }
  return {r.take({}, low), r.take({}, high)};
}

void resolve_use(const Resolution& r, Row& row) {
  const UseInput& use = r.build.use;
  row.use_charge = span_or(r, use.charge, Assumed::use_charge_low, Assumed::use_charge_high);
  row.use_temperature_c =
      span_or(r, use.temperature_c, Assumed::use_temperature_low, Assumed::use_temperature_high);
  row.use_capacity_loss = use.capacity_loss.value_or(Span{0, 0});
}

void resolve_build_state(const Resolution& r, Row& row) {
  // The mean as a step from the first cell's, so that cells measured alike give their own charge.
  const double first = row.cells.front().measured_charge;
  double off = 0;
  for (const RowCell& cell : row.cells) {
    off += cell.measured_charge - first;
  }
  const double measured = first + off / static_cast<double>(row.cells.size());
  row.build_charge = r.build.build.charge.value_or(measured);
  row.build_temperature_c = r.build.build.temperature_c.value_or(row.reference_temperature_c);
}

/// The face less the rim band, as one more outline, and what stands outside it.
RowRim resolve_rim(const Resolution& r, const Can& can, Row& row) {
  const FaceSize& face = r.build.cell.face;
  const double band = r.take({}, Assumed::rim_band);
  const double width = face.width_mm - 2 * band;
  const double height = face.height_mm - 2 * band;
  if (!(width > 0) || !(height > 0)) {
    throw UnusableBuild("the face is too small for a can's rim: leave out cell.can");
  }
  const double radius = face.corner_radius_mm.value_or(r.assumptions[Assumed::corner_radius]);
  const geometry::Outline inner =
      geometry::rounded_rectangle({width, height, std::max(0.0, radius - band)});
  const double area = row.face_area_mm2 - geometry::area_mm2(inner);
  // Force on one cell's squeeze x: E t perimeter x / t_n, up to the buckling load.
  const double section = can.wall_mm * geometry::perimeter_mm(face_outline(r));
  const double modulus = material(WallMaterial::aluminium).modulus_mpa * section / area;
  RowRim rim;
  rim.law = std::make_shared<RimLaw>(
      RimLaw::Constants{modulus, r.take({}, Assumed::rim_buckling) / area});
  rim.height_mm = can.rim_height_mm;
  rim.outline = static_cast<int>(row.outlines.size());
  row.outlines.push_back({inner, true});
  return rim;
}

}  // namespace

bool RowGap::insulated() const {
  return std::any_of(fixed.begin(), fixed.end(), [](const RowSheet& s) { return s.insulates; }) ||
         std::any_of(pads.begin(), pads.end(), [](const RowPad& p) { return p.insulates; });
}

double RowGap::fixed_sheets_mm() const {
  double sum = 0;
  for (const RowSheet& sheet : fixed) {
    sum += sheet.thickness_mm;
  }
  return sum;
}

double RowGap::pads_mm() const {
  double sum = 0;
  for (const RowPad& pad : pads) {
    sum += pad.thickness_mm;
  }
  return sum;
}

bool Row::watched() const {
  return std::any_of(cells.begin(), cells.end(), [this](const RowCell& cell) {
    return cell.dome_measured && cell.swelling_mm() > watch_mm;
  });
}

double Row::rim_less_mm(double charge, double capacity_loss) const {
  return rim ? nominal_mm * (swing.at(charge) + growth.per_loss * capacity_loss) : 0;
}

std::vector<std::string> gap_names(std::size_t cells) {
  return row_gap_names(cells, 1);
}

std::vector<std::string> row_gap_names(std::size_t cells, std::size_t rows) {
  const std::size_t in_a_row = cells / rows;
  std::vector<std::string> names;
  for (std::size_t row = 0; row < rows; ++row) {
    const std::size_t before_row = row * in_a_row;
    for (std::size_t gap = 0; gap <= in_a_row; ++gap) {
      const std::string before = gap == 0 ? "wall" : std::to_string(before_row + gap);
      const std::string after = gap == in_a_row ? "wall" : std::to_string(before_row + gap + 1);
      names.push_back(before);
      names.back() += '-';
      names.back() += after;
    }
  }
  return names;
}

geometry::Outline face_outline(const Resolution& r) {
  const FaceSize& face = r.build.cell.face;
  const double radius = r.take(face.corner_radius_mm, Assumed::corner_radius);
  return geometry::rounded_rectangle({face.width_mm, face.height_mm, radius});
}

Row resolve_row(const Build& build, const Assumptions& assumptions, Findings& findings,
                const RowPlace& place) {
  if (build.cells.empty()) {
    throw std::invalid_argument("a row needs at least one cell");
  }
  const Resolution r{build, assumptions, findings};
  Row row;
  row.face = static_cast<int>(place.index);
  row.companions = place.companions;
  row.nominal_mm = build.cell.thickness.nominal_mm;
  row.face_area_mm2 = geometry::area_mm2(face_outline(r));
  row.reference_temperature_c = assumptions[Assumed::reference_temperature];
  resolve_law(r, row);
  row.swing = resolve_swing(r);
  row.growth = resolve_growth(r);
  row.expansion_per_k = r.take(build.cell.expansion_per_k, Assumed::expansion);
  row.dome_exponent = assumptions[Assumed::dome_exponent];
  row.cells = resolve_cells(r, row);
  if (build.cell.can) {
    row.rim = resolve_rim(r, *build.cell.can, row);
  }
  row.gaps = resolve_gaps(r, row);
  row.kit = resolve_kit(r, row);
  row.band = make_band(build.cell, row.face_area_mm2, assumptions, findings);
  row.box = resolve_box(r, row);
  row.even_share = assumptions[Assumed::even_share];
  row.watch_mm = assumptions.fraction(Assumed::dome_watch) * row.nominal_mm;
  row.set_aside_mm = assumptions.fraction(Assumed::dome_set_aside) * row.nominal_mm;
  row.swollen_contact = assumptions[Assumed::swollen_contact];
  resolve_use(r, row);
  resolve_build_state(r, row);
  const bool relaxes = std::any_of(row.gaps.begin(), row.gaps.end(), [](const RowGap& gap) {
    return std::any_of(gap.pads.begin(), gap.pads.end(),
                       [](const RowPad& pad) { return pad.relaxes; });
  });
  if (relaxes) {
    row.foam_share = r.take({}, Assumed::foam_relaxation);
    row.foam_set = r.take({}, Assumed::foam_set);
  }
  return row;
}

}  // namespace stackfit
