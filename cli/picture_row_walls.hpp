// SPDX-License-Identifier: GPL-3.0-or-later
//
// One strip of a row on the page, and what is round its cells: end walls with their bow, floor and
// sides, or a frame's plates and rods.
//
// For: picture_row.cpp. Not for: cells and sheets.
#pragma once

#include <cstdint>

#include "cli/picture_row_layout.hpp"
#include "cli/svg_writer.hpp"

namespace stackfit::cli {

enum class Seen : std::uint8_t { from_side, from_above };

/// One strip's place on the page.
struct StripPlace {
  const RowLayout& layout;
  const RowStrip& strip;
  Seen seen;
  double top = 0;     ///< of the cells' faces
  double bottom = 0;  ///< of the cells: floor, or the side nearest you

  [[nodiscard]] double x(double along_mm) const { return layout.x(strip, along_mm); }
  [[nodiscard]] SvgBox box(const RowSpot& spot) const {
    return {x(spot.from_mm), top, x(spot.to_mm) - x(spot.from_mm), bottom - top};
  }
  [[nodiscard]] bool is_first() const { return strip.first == 0; }
  [[nodiscard]] bool is_last() const { return strip.last == layout.spots.cells.size(); }
};

void draw_wall(SvgWriter& svg, const StripPlace& place, bool last);
/// What holds the two ends together: a floor or side walls of a box, the rods of a frame.
void draw_between_ends(SvgWriter& svg, const StripPlace& place);

}  // namespace stackfit::cli
