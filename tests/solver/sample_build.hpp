// SPDX-License-Identifier: GPL-3.0-or-later
//
// A small invented build that tests change one thing of at a time.
#pragma once

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

}  // namespace stackfit::sample
