// SPDX-License-Identifier: GPL-3.0-or-later
//
// What must be cut, folded, drilled or bought for a box, its sheets or a clamp frame.
//
// For: a list of parts with their sizes [mm], ready to be ordered from. Not for: how thick or how
// long anything ought to be (`size`), paint (lengths are of bare metal), screws that join the box.
//
// Which part overlaps which:
//   The floor lies under all walls and the lid on top of them; both reach to the walls' outside.
//   Side walls over the end walls' edges: end walls as wide as the box inside, side walls longer
//   than the box inside by both end walls.
//   Side walls between the end walls: side walls as long as the box inside, which they set; end
//   walls wider than the box inside by both side walls.
//   Folded: floor and walls in one piece of one thickness, a cross, whose walls turn up; walls
//   meet at their inner edges and are closed there. The lid is a piece of its own.
//   The floor's and the lid's insulation reach to all four walls, and the side walls' stand
//   between them.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "solver/materials.hpp"
#include "solver/study.hpp"
#include "solver/tie.hpp"

namespace stackfit {

enum class CutCode : std::uint8_t {
  end_wall,
  side_wall,
  floor,
  lid,
  folded_blank,
  shim,
  fixed_sheet,
  filler_plate,
  pad,
  side_sheet,
  floor_sheet,
  lid_sheet,
  frame_plate,
  rod,
  nut,
  washer,
  disc_spring,
  helical_spring
};

enum class CutRemark : std::uint8_t {
  none,
  sets_inner_length,       ///< its length is the box's inner length: measure it
  set_to_inner_length,     ///< does not set the inner length: set the end walls apart by it
  over_end_walls,          ///< runs over the end walls' edges
  over_side_walls,         ///< runs over the side walls' edges
  outside_the_walls,       ///< reaches to the walls' outside
  flat_before_folding,     ///< lengths of the flat blank; its corners are cut out, with a hole
                           ///< where two bends would cross
  never_longer,            ///< must not be caught between the end walls
  whole_face,              ///< as the cell's face
  own_outline,             ///< within its size cut by an outline of its own
  threaded_all_along,      ///< length rounded up
  holes_for_rods,          ///< drilled together, so that they meet
  locking,                 ///< a nut with a locking ring
  nested_and_turned_about  ///< discs: see the frame's springs
};

struct CutTolerance {
  double plus_mm = 0;
  double minus_mm = 0;  ///< as a size: 0.5 means that it may come shorter by 0.5
};
struct CutHole {
  double x_mm = 0;  ///< from the plate's middle, to the right
  double y_mm = 0;  ///< and upwards
  double diameter_mm = 0;
};

/// One line of the list. Lengths of walls, floor and lid run along the row where they can; of an
/// end wall, a frame's plate and what lies on a face the length is across the box and the width
/// upright. A round part has a diameter in place of length and width.
struct CutPart {
  CutCode code = CutCode::end_wall;
  std::string name;  ///< of sheets and pads, as the build names them
  int count = 0;
  double length_mm = 0;
  double width_mm = 0;
  double thickness_mm = 0;
  double diameter_mm = 0;  ///< thread of rods, nuts and washers; outside of springs
  std::string material;
  std::optional<CutTolerance> tolerance;  ///< of the length; empty: as is usual in the trade
  CutRemark remark = CutRemark::none;
  std::vector<CutHole> holes;
  double notch_length_mm = 0;  ///< cut out at each corner of a blank
  double notch_width_mm = 0;
};

// --- Box ----------------------------------------------------------------------------------

enum class BoxJoin : std::uint8_t { sides_over_ends, sides_between_ends, folded };

struct BoxToCut {
  double inner_length_mm = 0;
  double length_tolerance_mm = 0;  ///< one-sided: from the inner length to so much more
  double inner_width_mm = 0;
  double inner_height_mm = 0;  ///< from the floor to the lid
  double end_wall_mm = 0;
  double side_wall_mm = 0;
  double floor_mm = 0;
  std::optional<double> lid_mm;
  WallMaterial end_material = WallMaterial::aluminium;
  WallMaterial other_material = WallMaterial::aluminium;  ///< sides, floor and lid
  BoxJoin join = BoxJoin::sides_over_ends;
  double bend_radius_mm = 0;  ///< inside; only of a folded one
};

/// Where the fibre that keeps its length lies, from the inside over the thickness:
///   K = k/2, k = 0.65 + 0.5 log10(r/t), not above 1 nor below 0: DIN 6935 for steel (from memory;
/// at r = t it gives the allowance that a public calculator by that standard prints). Other metals
/// and tools differ by about a tenth of the thickness for each bend: bend a strip first.
[[nodiscard]] double bend_neutral_share(double radius_mm, double thickness_mm);
/// Length [mm] of that fibre in a bend of 90 degrees: pi/2 (r + K t). Both throw
/// std::invalid_argument unless radius and thickness are above zero.
[[nodiscard]] double bend_allowance_mm(double radius_mm, double thickness_mm);

/// Throws std::invalid_argument for sizes that are not above zero, and for a folded box whose
/// walls and floor are not of one thickness and material.
[[nodiscard]] std::vector<CutPart> box_parts(const BoxToCut& box);

// --- Sheets -------------------------------------------------------------------------------

/// Insulation of side walls, floor and lid; a thickness of 0: none.
struct LiningToCut {
  double inner_length_mm = 0;
  double length_tolerance_mm = 0;  ///< by which sheets may come shorter, never longer
  double inner_width_mm = 0;
  double inner_height_mm = 0;
  double side_mm = 0;
  double floor_mm = 0;
  double lid_mm = 0;
  SheetMaterial material = sheet_when_not_said;
};
/// Throws std::invalid_argument for a size below zero or sheets that leave no height between them.
[[nodiscard]] std::vector<CutPart> lining_parts(const LiningToCut& lining);

/// Shims that a plan uses, sheets that are there anyway, and pads: each kind in one line.
/// Throws std::invalid_argument for a plan that does not have the row's kit.
[[nodiscard]] std::vector<CutPart> row_parts(const Study& study, const ShimPlan& plan);

/// A plate as large as the face that fills what many shims would.
struct FillerToCut {
  double thickness_mm = 0;
  SheetMaterial material = SheetMaterial::glass_epoxy;
  int count = 1;
};
[[nodiscard]] CutPart filler_part(const FaceSize& face, const FillerToCut& filler);

// --- Clamp frame --------------------------------------------------------------------------

struct FrameToCut {
  Frame frame;  ///< sizes of its plates, places of its rods, springs
  RodSet rods;  ///< the same as resolved (RowBox::rods)
  double plate_mm = 0;
  WallMaterial plate_material = WallMaterial::aluminium;
  double row_mm = 0;  ///< between the plates before the row is pressed: nuts must go on then
};

/// What a rod's thread stands out beyond its nut at each end, in pitches: common practice.
inline constexpr double pitches_beyond_nut = 2;
/// A nut with a locking ring is higher than a plain one by at most this many thread diameters:
/// ISO 7040, M4 (from memory; larger ones by a third to a half).
inline constexpr double lock_nut_higher = 0.7;
/// Step to which a rod's length is rounded up [mm]: common practice.
inline constexpr double rod_length_step_mm = 5;

/// A rod reaches over the row, both plates, its springs unloaded, a washer under each nut and
/// between plate and springs, and both nuts. Holes are those of ISO 273, medium. Throws
/// std::invalid_argument for sizes that are not above zero, a thread that is not known, or a hole
/// that the plate does not hold.
[[nodiscard]] std::vector<CutPart> frame_parts(const FrameToCut& cut);

}  // namespace stackfit
