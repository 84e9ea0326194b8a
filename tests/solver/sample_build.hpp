// SPDX-License-Identifier: GPL-3.0-or-later
//
// A small invented build that tests change one thing of at a time.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "solver/answer.hpp"
#include "solver/build.hpp"

namespace stackfit::sample {

/// n cells of nominal 40 mm, face 120 x 100 mm, flat, at 40 %, in a rigid box that is longer
/// than the bare cells by `room_mm`; twelve each of 0.5 and 0.8 mm shims of glass-epoxy.
inline Build build(int cells = 4, double room_mm = 5.5) {
  Build b;
  b.title = "sample";
  b.cell.face = {120, 100, 3.0};
  b.cell.thickness.nominal_mm = 40;
  b.cell.range = PressureRange{0.03, 0.25, RangeAppliesTo::use};
  for (int i = 0; i < cells; ++i) {
    CellReading cell;
    cell.edge_mm = 40;
    cell.signs = "none";
    b.cells.push_back(cell);
  }
  b.measured_charge = MeasuredCharge{0.4, {}, false};
  b.box.inner_length_mm = {40.0 * cells + room_mm};
  b.box.end_walls = RigidWall{};
  b.box.opens = Opens::one_end_wall;
  b.box.floor = Floor::insulated;
  for (const double thickness : {0.5, 0.8}) {
    KitShim shim;
    shim.sheet.name = thickness == 0.5 ? "thin" : "thick";
    shim.sheet.thickness_mm = thickness;
    shim.sheet.material = SheetMaterial::glass_epoxy;
    shim.count = 12;
    b.kit.push_back(shim);
  }
  return b;
}

/// The same with a foam table as a pad at both ends.
inline Build with_pads(double thickness_mm = 4) {
  Build b = build(4, 5.5 + 1.6 * thickness_mm);
  PadInput pad;
  pad.name = "pad";
  pad.thickness_mm = thickness_mm;
  pad.law = FoamTable{{0, 0.1, 0.2, 0.4, 0.6}, {0, 0.03, 0.05, 0.12, 0.4}};
  pad.where.word = PlaceWord::ends;
  b.pads.push_back(pad);
  return b;
}

/// The same with every figure said that decides, so that nothing is assumed.
inline Build known(int cells = 4, double room_mm = 5.5) {
  Build b = build(cells, room_mm);
  b.cell.chemistry_said = true;
  b.cell.softness = SoftnessLaw{0.06, 180};
  b.cell.swing = SwingFigures{0.006, 0.003};
  b.cell.growth = {0.15, 0.5};
  b.cell.expansion_per_k = 40e-6;
  for (CellReading& cell : b.cells) {
    cell.middle_mm = 40;
    cell.temperature_c = 20;
  }
  for (KitShim& shim : b.kit) {
    shim.sheet.modulus_mpa = 10000;
  }
  b.use.charge = Span{0.1, 0.9};
  b.use.temperature_c = Span{5, 40};
  return b;
}

/// A hard sheet of glass-epoxy; with a name of its own and over the whole face.
inline SheetInput sheet(std::string name, double thickness_mm, Place where = {}) {
  SheetInput s;
  s.name = std::move(name);
  s.thickness_mm = thickness_mm;
  s.material = SheetMaterial::glass_epoxy;
  s.modulus_mpa = 10000;
  s.where = std::move(where);
  return s;
}

/// The build with so many of one kit entry in every gap.
inline Build placed_evenly(Build b, const std::string& name, int each = 1) {
  const std::size_t cells = b.cells.size();
  for (std::size_t gap = 0; gap <= cells; ++gap) {
    const std::string before = gap == 0 ? "wall" : std::to_string(gap);
    const std::string after = gap == cells ? "wall" : std::to_string(gap + 1);
    std::string place = before;
    place += '-';
    place += after;
    b.placed.push_back({place, {{name, each}}});
  }
  return b;
}

/// Four known cells in so much room, a thick sheet in every gap.
inline Build thick_everywhere(double room_mm) {
  return placed_evenly(known(4, room_mm), "thick");
}

/// The build with a plan's kit sheets placed where the plan has them.
inline Build placed_as(Build b, const PlanResult& plan) {
  for (const GapResult& gap : plan.gaps) {
    PlacedSheets placed{gap.name, {}};
    for (const GapSheet& s : gap.sheets) {
      if (s.origin == SheetOrigin::kit) {
        placed.sheets.emplace_back(s.name, s.count);
      }
    }
    b.placed.push_back(std::move(placed));
  }
  return b;
}

/// The first warning with a code; null where there is none.
inline const Warning* find_warning(const std::vector<Warning>& warnings, WarningCode code) {
  for (const Warning& warning : warnings) {
    if (warning.code == code) {
      return &warning;
    }
  }
  return nullptr;
}

}  // namespace stackfit::sample
