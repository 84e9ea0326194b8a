// SPDX-License-Identifier: GPL-3.0-or-later
//
// What to draw of a box or of a clamp frame, and the drawing: SVG on a lying ISO sheet, to scale.
//
// For: `size` with a drawing asked for. Sizes in mm; x runs along the row from its first cell,
// the near side is the lower one seen from above.
// Not for: choosing any size (solver/size.hpp). A size that is not above zero where it must be, or
// a row that cannot be in its box, throws std::invalid_argument.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "cli/drawing_dimension.hpp"
#include "cli/drawing_sheet.hpp"
#include "solver/cut_list.hpp"

namespace stackfit::cli {

// --- Box ----------------------------------------------------------------------------------

struct DrawnCell {
  std::string id;  ///< as written on the cell; empty: its number
  double thickness_mm = 0;
  bool plus_near = true;  ///< the plus terminal is on the near side
};
struct DrawnGap {
  double sheets_mm = 0;  ///< all that lies in it
  bool pad = false;      ///< a pad among it
};
/// Gaps are one more than cells: at the first end wall, between cells, at the last end wall.
struct DrawnRow {
  std::vector<DrawnCell> cells;
  std::vector<DrawnGap> gaps;
};

enum class WallOff : std::uint8_t { none, first, last };  ///< which end wall comes off

struct BoxDrawing {
  DrawingHead head;
  bool after_paint = true;  ///< inside sizes are so; else of bare metal
  double paint_mm = 0;      ///< on each face; 0: none, or not said

  double inner_length_mm = 0;
  double inner_width_mm = 0;
  double inner_height_mm = 0;
  std::optional<DrawnTolerance> length_tolerance;
  std::optional<DrawnTolerance> width_tolerance;
  std::optional<DrawnTolerance> height_tolerance;
  double end_wall_mm = 0;
  double side_wall_mm = 0;
  double floor_mm = 0;
  std::optional<double> lid_mm;  ///< empty: open above
  BoxJoin join = BoxJoin::sides_over_ends;
  double bend_radius_mm = 0;  ///< inside; only of a folded one
  WallOff comes_off = WallOff::none;

  std::vector<DrawnRow> rows;  ///< the near one first
  double between_rows_mm = 0;
  double face_width_mm = 0;
  double face_height_mm = 0;
  double face_corner_radius_mm = 0;
  double terminal_height_mm = 0;
  std::optional<double> terminal_spacing_mm;  ///< across, from plus to minus; empty: not said
  double side_sheet_mm = 0;                   ///< of each side
  double floor_sheet_mm = 0;
  double raise_mm = 0;  ///< sheets under the cells beside the floor's insulation
  double lid_sheet_mm = 0;

  std::vector<std::string> kit;  ///< what else is bought, a line each
};
[[nodiscard]] std::string box_drawing(const BoxDrawing& box);

// --- Clamp frame --------------------------------------------------------------------------

struct FrameDrawing {
  DrawingHead head;
  double plate_width_mm = 0;  ///< across the row
  double plate_height_mm = 0;
  double plate_mm = 0;           ///< thickness
  std::vector<CutHole> holes;    ///< of each plate; one rod goes through each
  double rod_diameter_mm = 0;    ///< of the thread
  double rod_length_mm = 0;      ///< overall length, from end to end
  double nut_height_mm = 0;      ///< at each end of a rod
  double washer_mm = 0;          ///< under each nut, and between plate and springs; 0: none
  double springs_built_mm = 0;   ///< length of those on one rod as built in; 0: none
  double springs_outer_mm = 0;   ///< diameter
  bool springs_at_both = false;  ///< at both ends of a rod; else at the last
  DrawnRow row;                  ///< as it stands between the plates
  double row_mm = 0;             ///< between the plates
  double face_width_mm = 0;
  double face_height_mm = 0;
  double terminal_height_mm = 0;
  std::vector<std::string> kit;
};
[[nodiscard]] std::string frame_drawing(const FrameDrawing& frame);

}  // namespace stackfit::cli
