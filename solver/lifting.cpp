// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/lifting.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/materials.hpp"

namespace stackfit {
namespace {

constexpr double mm3_per_m3 = 1e9;
constexpr double mm3_per_litre = 1e6;

/// Of pads, whose make is seldom known; from memory: polyurethane and silicone foams for gaskets
/// 0.2 to 0.5 kg/l, filled rubber 1.1 to 1.4 kg/l. Thin pads are light beside cells.
constexpr double foam_kg_m3 = 350;
constexpr double rubber_kg_m3 = 1250;

double density_of(const std::variant<WallMaterial, SheetMaterial>& which) {
  return std::visit([](const auto is) { return material(is).density_kg_m3; }, which);
}

/// Of a resolved sheet, which has no material any more: by the name it was given.
double density_of(const std::vector<SheetInput>& said, const RowSheet& sheet) {
  const auto found = std::find_if(said.begin(), said.end(),
                                  [&](const SheetInput& s) { return s.name == sheet.name; });
  const SheetMaterial made_of =
      found == said.end() ? sheet_when_not_said : found->material.value_or(sheet_when_not_said);
  return material(made_of).density_kg_m3;
}

double density_of(const std::vector<PadInput>& said, const RowPad& pad) {
  const bool rubber = std::any_of(said.begin(), said.end(), [&](const PadInput& p) {
    return p.name == pad.name && std::holds_alternative<RubberInput>(p.law);
  });
  return rubber ? rubber_kg_m3 : foam_kg_m3;
}

double gap_kg(const Study& study, std::size_t gap, const std::vector<int>& counts) {
  const Row& row = study.row();
  const Build& build = study.build();
  double kg = 0;
  const auto add = [&](double area_mm2, double thickness_mm, double density_kg_m3) {
    kg += area_mm2 * thickness_mm / mm3_per_m3 * density_kg_m3;
  };
  for (const RowSheet& sheet : row.gaps[gap].fixed) {
    add(sheet.area_mm2, sheet.thickness_mm, density_of(build.fixed_sheets, sheet));
  }
  for (const RowPad& pad : row.gaps[gap].pads) {
    add(pad.area_mm2, pad.thickness_mm, density_of(build.pads, pad));
  }
  for (std::size_t kind = 0; kind < row.kit.size(); ++kind) {
    const RowSheet& sheet = row.kit[kind].sheet;
    const SheetMaterial made_of = build.kit[kind].sheet.material.value_or(sheet_when_not_said);
    add(sheet.area_mm2, counts[kind] * sheet.thickness_mm, material(made_of).density_kg_m3);
  }
  return kg;
}

std::optional<InParts> in_parts(const LiftedMasses& masses, double limit_kg) {
  if (masses.cells == 0 || masses.cell_kg > limit_kg ||
      masses.box_kg + masses.sheets_kg > limit_kg) {
    return std::nullopt;
  }
  InParts out;
  out.cells_a_lot = masses.cells;
  if (masses.cell_kg > 0) {
    const double most = std::floor(limit_kg / masses.cell_kg);
    out.cells_a_lot = static_cast<int>(std::min(most, static_cast<double>(masses.cells)));
  }
  out.lots = (masses.cells + out.cells_a_lot - 1) / out.cells_a_lot;
  out.parts = out.lots + 1;
  return out;
}

}  // namespace

RowMass row_mass(const Study& study, const ShimPlan& plan, Findings& findings) {
  const Row& row = study.row();
  if (plan.counts.size() != row.gaps.size() ||
      std::any_of(plan.counts.begin(), plan.counts.end(),
                  [&](const auto& counts) { return counts.size() != row.kit.size(); })) {
    throw std::invalid_argument("a plan counts every kind of the kit in every gap of the row");
  }
  RowMass out;
  out.cells = static_cast<int>(row.cells.size());
  const std::optional<double>& said = study.build().cell.mass_kg;
  out.cell_assumed = !said;
  if (said) {
    out.cell_kg = *said;
  } else {
    findings.note(Assumed::cell_density);
    out.cell_kg = row.face_area_mm2 * row.nominal_mm / mm3_per_litre *
                  study.assumptions()[Assumed::cell_density];
  }
  out.cells_kg = out.cells * out.cell_kg;
  for (std::size_t gap = 0; gap < row.gaps.size(); ++gap) {
    out.gap_kg.push_back(gap_kg(study, gap, plan.counts[gap]));
    out.sheets_kg += out.gap_kg.back();
  }
  return out;
}

double plates_kg(const std::vector<PlatePiece>& pieces) {
  double kg = 0;
  for (const PlatePiece& piece : pieces) {
    if (!(piece.width_mm >= 0) || !(piece.height_mm >= 0) || !(piece.thickness_mm >= 0) ||
        piece.count < 0) {
      throw std::invalid_argument("the size of \"" + piece.name + "\" is not below zero");
    }
    kg += piece.count * piece.width_mm * piece.height_mm * piece.thickness_mm / mm3_per_m3 *
          density_of(piece.material);
  }
  return kg;
}

Lifting lifting(const LiftedMasses& masses, const Assumptions& assumptions, Findings& findings) {
  if (!(masses.cell_kg >= 0) || masses.cells < 0 || !(masses.sheets_kg >= 0) ||
      !(masses.box_kg >= 0)) {
    throw std::invalid_argument("masses and the number of cells are not below zero");
  }
  Lifting out;
  out.masses = masses;
  out.total_kg = masses.cells * masses.cell_kg + masses.sheets_kg + masses.box_kg;
  out.one_kg = assumptions[Assumed::lift_one];
  out.two_kg = assumptions[Assumed::lift_two];
  findings.note(Assumed::lift_one);
  findings.note(Assumed::lift_two);
  if (out.total_kg <= out.one_kg) {
    out.whole = Lifters::one_person;
    return out;
  }
  out.parts_by_one = in_parts(masses, out.one_kg);
  if (out.total_kg <= out.two_kg) {
    out.whole = Lifters::two_persons;
    return out;
  }
  out.parts_by_two = in_parts(masses, out.two_kg);
  return out;
}

}  // namespace stackfit
