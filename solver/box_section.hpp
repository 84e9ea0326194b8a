// SPDX-License-Identifier: GPL-3.0-or-later
//
// Inner width and height of a box that is to be made: the parts they are the sum of, what fills
// the box's corners, and what stands in the way of the cells.
//
// For: `size`; and for boxes whose width or height is there already: what is left in them.
// Not for: the inner length and the walls' thickness, or a clamp frame, which has neither side
// walls nor a floor.
//
// Weld beads are taken with a flat face. The can's other edges, between its large faces and its
// narrow sides, are taken as sharp: no data sheet gives their radius.
// Directions: width across the rows, height upwards, length along the rows. Every cell corner
// keeps the insulating sheet's thickness from metal, so that a sheet can go round it.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "solver/assumptions.hpp"
#include "solver/build.hpp"
#include "solver/findings.hpp"
#include "solver/sheet_piles.hpp"

namespace stackfit {

enum class SectionPart : std::uint8_t {
  faces,  ///< of the rows side by side
  face_tolerance,
  between_rows,
  side_sheets,  ///< both
  slide_room,   ///< both sides together
  floor_sheet,
  raise,  ///< sheets under all cells that lift them over what fills the floor's corners
  cell_height,
  height_tolerance,
  terminals,  ///< highest part above the face
  over_terminals,
  lid_sheet,
  paint,    ///< on both faces across
  rounding  ///< up to the step in which the box is ordered
};
struct SectionPartSize {
  SectionPart part = SectionPart::faces;
  double mm = 0;
  bool assumed = false;
};

/// One inner size. The order's nominal is of bare metal, and the box may come larger by the
/// tolerance, never smaller.
struct InnerSize {
  std::vector<SectionPartSize> parts;  ///< in order; they add up to the nominal
  double nominal_mm = 0;
  double tolerance_mm = 0;
  double painted_mm = 0;  ///< nominal less paint: what a ruler reads in the finished box
  /// Where the box is there already: its reading, what is left beyond all parts but paint and
  /// rounding, and what is left beyond the hard ones, without the rooms to slide and over the
  /// terminals. Negative: it does not go in.
  std::optional<double> said_mm;
  double left_mm = 0;
  double hard_left_mm = 0;
};

enum class CornerFeature : std::uint8_t { bend, bead };
enum class SectionPlace : std::uint8_t {
  side_foot,  ///< side wall on floor
  end_foot,   ///< end wall on floor
  upright,    ///< end wall on side wall
  end_wall,
  side_wall,
  floor,
  lid,
  width,
  height
};

/// What fills a corner of the box, and how far the cells must stand off there: over the floor at
/// a side wall's foot; from the end wall at the other two.
struct SectionCorner {
  SectionPlace place = SectionPlace::side_foot;
  CornerFeature feature = CornerFeature::bend;
  std::optional<double> size_mm;  ///< radius or leg; empty: not said, and taken as none
  double greatest_mm = 0;         ///< the largest past which the cells go without lifting, with
                                  ///< what lies at the end wall
  double need_mm = 0;             ///< wherever the cells stand in their room across
  double in_middle_need_mm = 0;   ///< with as much room on both sides
  double has_mm = 0;              ///< the raise counts; at the end wall one insulating sheet
                                  ///< where what lies there was not handed in
  /// A flat sheet under the cells, or a plate on the end wall, must end so far inside the face's
  /// edge to lie flat beside the fill.
  double sheet_short_mm = 0;

  [[nodiscard]] bool clear() const;
};

enum class SectionConflictCode : std::uint8_t {
  corner_filled,  ///< a cell's edge stands in a bend or bead
  head_in_the_way,
  no_sheet,  ///< metal, and an insulating sheet of no thickness
  does_not_go_in,
  room_short  ///< goes in, without all of the room to slide or over the terminals
};
enum class SectionStep : std::uint8_t {
  raise_floor,       ///< sheets under the cells, thicker by
  stand_off,         ///< sheets, filler or shims between end cell and wall, thicker by
  spacer_plate,      ///< with holes over the heads, at least so thick; or countersunk heads
  holes_over_heads,  ///< in what lies on the wall, so deep; or countersunk heads
  wider,             ///< inner width, by
  higher,            ///< inner height, by
  insulating_sheet   ///< at least so thick
};
struct SectionRemedy {
  SectionStep step = SectionStep::raise_floor;
  double mm = 0;
};
struct SectionConflict {
  SectionConflictCode code = SectionConflictCode::corner_filled;
  SectionPlace place = SectionPlace::side_foot;
  std::optional<CornerFeature> feature{};  ///< of a filled corner
  double mm = 0;                           ///< how much is missing, or how far a head stands in
  std::vector<SectionRemedy> steps{};      ///< each enough by itself; the first is the nearest
};

/// A surface of the box that a can might touch.
struct SectionInsulation {
  SectionPlace place = SectionPlace::end_wall;
  bool last = false;   ///< the second of two: right side wall, last end wall
  bool metal = false;  ///< a sheet is due
  double sheet_mm = 0;
  bool assumed = false;
  bool in_length = false;  ///< end walls: the least thickness; it counts in the inner length
};

struct BoxSection {
  InnerSize width;
  InnerSize height;
  std::vector<double> raise_sheets_mm;  ///< that make up the raise, thickest first
  double keep_clear_mm = 0;             ///< of metal, round every edge of the cells
  double end_standoff_mm = 0;           ///< least between end cell and end wall: sheet, corners
  std::vector<SectionCorner> corners;
  std::vector<SectionConflict> conflicts;
  std::vector<SectionInsulation> insulation;
  Levelling levelling;  ///< heights of cells are not read: over the whole tolerance
};

struct SectionRequest {
  std::vector<double> sheets_sold_mm{};     ///< where the order names none
  std::optional<double> end_standoff_mm{};  ///< the least that lies between end cell and end wall
};

/// Throws std::invalid_argument for a clamp frame or a cell without a size, and UnusableBuild for
/// corners that would fill the box.
[[nodiscard]] BoxSection size_section(const Build& build, const Assumptions& assumptions,
                                      Findings& findings, const SectionRequest& request = {});

}  // namespace stackfit
