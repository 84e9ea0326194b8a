// SPDX-License-Identifier: GPL-3.0-or-later
//
// A small invented clamp frame that is still to be sized.
#pragma once

#include "tests/solver/sample_build.hpp"

namespace stackfit::sample {

/// Six known cells of 120 x 100 mm between aluminium plates on four rods; nothing sized yet.
inline Build sample_frame(double low_mpa, double high_mpa) {
  Build b = known(6);
  b.cell.range = PressureRange{low_mpa, high_mpa, RangeAppliesTo::use};
  b.box = {};
  b.kit.clear();
  b.fixed_sheets = {sheet("film", 0.3)};
  Frame frame;
  frame.plates = {{}, WallMaterial::aluminium, 172, 152};
  frame.rods.grade = "4.8";
  frame.rods.at = {{-68, -58}, {68, -58}, {68, 58}, {-68, 58}};
  b.frame = frame;
  return b;
}
/// A band that rods alone keep, and one that they do not.
inline Build wide_band() {
  return sample_frame(0.03, 0.35);
}
inline Build narrow_band() {
  return sample_frame(0.06, 0.11);
}

}  // namespace stackfit::sample
