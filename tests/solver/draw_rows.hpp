// SPDX-License-Identifier: GPL-3.0-or-later
//
// Whole builds drawn at random, for property tests (inside rc::check only): flat and domed cells
// between rigid walls, walls known by a bow, plates with and without lid, and in clamp frames with
// and without disc springs; pads of a table or of a grade, sheets that leave the rim free.
#pragma once

#include <rapidcheck.h>

#include <algorithm>

#include "tests/solver/sample_frame.hpp"

namespace stackfit::testing {

enum class DrawnWalls : std::uint8_t { rigid, measured_bow, plate, frame };

/// A number in [low, high] from an integer draw, so that failures shrink to round figures.
inline double drawn_between(double low, double high) {
  constexpr int steps = 1000;
  return low + (high - low) * *rc::gen::inRange(0, steps + 1) / steps;
}

/// Meshed rows take a tenth of a second and more: most draws are flat rows between rigid walls.
inline DrawnWalls draw_walls() {
  constexpr int rare = 14;
  const int drawn = *rc::gen::inRange(0, rare);
  return drawn < 3 ? static_cast<DrawnWalls>(drawn + 1) : DrawnWalls::rigid;
}

inline void draw_pads(Build& b) {
  const int kind = *rc::gen::inRange(0, 4);
  if (kind > 1) {
    return;
  }
  PadInput pad;
  pad.name = "pad";
  pad.thickness_mm = drawn_between(1, 8);
  pad.where.word = PlaceWord::ends;
  if (kind == 0) {
    pad.law = FoamTable{{0, 0.1, 0.2, 0.4, 0.6}, {0, 0.03, 0.05, 0.12, 0.4}};
  } else {
    pad.law = FoamGrade{*rc::gen::inRange(1, 5)};
  }
  b.pads.push_back(pad);
}

inline PlateWall draw_plate() {
  PlateWall wall;
  wall.thickness_mm = drawn_between(1.5, 8);
  wall.material = WallMaterial::aluminium;
  wall.joint = *rc::gen::element(WallJoint::folded, WallJoint::welded, WallJoint::screwed);
  return wall;
}

inline Frame draw_frame() {
  Frame frame = *sample::sample_frame(0.03, 0.25).frame;
  frame.plates.thickness_mm = drawn_between(4, 12);
  frame.rods.size = *rc::gen::element<std::string>("M6", "M8");
  if (*rc::gen::inRange(0, 3) > 0) {
    DiscSprings discs;
    discs.outer_mm = 20;
    discs.inner_mm = 10.2;
    discs.thickness_mm = drawn_between(1.1, 1.5);
    discs.cone_height_mm = drawn_between(0.35, 0.5);
    discs.parallel = 2;
    discs.series = *rc::gen::inRange(2, 9);
    frame.springs = discs;
  }
  frame.force_n = drawn_between(300, 2000);
  return frame;
}

/// The box so long that the row is between a little loose and squeezed well beyond the band.
inline void draw_length(Build& b) {
  double length = 0;
  for (const CellReading& cell : b.cells) {
    length += *cell.edge_mm;
  }
  for (const PadInput& pad : b.pads) {
    constexpr double squeezed_by = 0.6;
    length += 2 * squeezed_by * pad.thickness_mm;
  }
  for (const SheetInput& sheet : b.fixed_sheets) {
    length += sheet.thickness_mm * static_cast<double>(b.cells.size() + 1);
  }
  const double squeeze = 0.01 * 40 * static_cast<double>(b.cells.size());
  b.box.inner_length_mm = {length - squeeze * drawn_between(-0.1, 1.5)};
}

inline Build draw_build(DrawnWalls walls) {
  Build b = sample::known(*rc::gen::inRange(1, 9));
  b.cell.softness = SoftnessLaw{drawn_between(0.03, 0.12), drawn_between(100, 250)};
  const bool domed = *rc::gen::inRange(0, 6) == 0 || walls != DrawnWalls::rigid;
  for (CellReading& cell : b.cells) {
    cell.edge_mm = drawn_between(39.7, 40.3);
    cell.middle_mm = *cell.edge_mm + (domed ? drawn_between(-0.1, 0.35) : 0);
  }
  draw_pads(b);
  if (*rc::gen::inRange(0, 4) == 0) {
    b.fixed_sheets.push_back(sample::sheet("film", drawn_between(0.1, 0.5)));
    if (domed && *rc::gen::arbitrary<bool>()) {
      b.fixed_sheets.back().outline = SheetOutline{110, 90, 0, {}, {}};
    }
  }
  b.box.side_walls = {3, WallMaterial::aluminium};
  b.box.inner_width_mm = 124;
  b.box.inner_height_mm = drawn_between(105, 140);
  if (walls == DrawnWalls::measured_bow) {
    b.box.end_walls = WallBow{drawn_between(0.1, 1), drawn_between(500, 3000)};
  } else if (walls == DrawnWalls::plate) {
    b.box.end_walls = draw_plate();
    b.box.lid = *rc::gen::element(Lid::none, Lid::loose, Lid::screwed);
  }
  draw_length(b);
  if (walls == DrawnWalls::frame) {
    b.box = {};
    b.frame = draw_frame();
  }
  return b;
}

}  // namespace stackfit::testing
