// SPDX-License-Identifier: GPL-3.0-or-later
//
// The build as the person wrote it, with every quantity already in mm, N, MPa, K, kg.
//
// For: handing what was said from the reader to the solver. What was not said is an empty
// optional: nothing here is a default. Defaults stand in assumptions.hpp and enter in row.hpp.
// Not for: corrected thicknesses, laws or pressures (Row, row.hpp).
// Errors: nothing is checked here; whoever computes with it throws UnusableBuild.
#pragma once

#include <cstdint>
#include <optional>
#include <stdexcept>
#include <string>
#include <variant>
#include <vector>

#include "solver/order.hpp"

namespace stackfit {

/// The build says something that only the geometry can refuse; the message is for its writer.
class UnusableBuild : public std::invalid_argument {
  using std::invalid_argument::invalid_argument;
};

/// A closed span, low <= high; the unit is that of the member holding it.
struct Span {
  double low = 0;
  double high = 0;
};

enum class Chemistry : std::uint8_t { lfp_graphite, nmc_graphite };

/// The large flat side of a cell, without terminals.
struct FaceSize {
  double width_mm = 0;
  double height_mm = 0;
  std::optional<double> corner_radius_mm;
  std::optional<double> width_tolerance_mm = {};
  std::optional<double> height_tolerance_mm = {};
};

/// The data sheet's thickness line, e.g. `63.4±0.6 30-40% 240kgf`.
struct ThicknessLine {
  double nominal_mm = 0;
  std::optional<double> tolerance_mm;
  std::optional<Span> at_charge;  ///< fractions 0..1
  std::optional<double> under_force_n;
};

/// When the maker's single force applies.
enum class ForceWhen : std::uint8_t { assembly, always, never_above, not_said };

/// The data sheet's force line as printed: `240kgf ±15`.
struct MakersForce {
  double force_n = 0;
  std::optional<double> tolerance_n;
  ForceWhen when = ForceWhen::not_said;
};

enum class RangeAppliesTo : std::uint8_t { use, assembly };

/// Face pressure range [MPa] given outright by the maker or the builder.
struct PressureRange {
  double low_mpa = 0;
  double high_mpa = 0;
  RangeAppliesTo applies_to = RangeAppliesTo::use;
};

/// Thickness change with charge, in fractions of the nominal thickness (0.006 = 0.6 %).
struct SwingFigures {
  std::optional<double> net_fraction;   ///< empty to full
  std::optional<double> hump_fraction;  ///< local peak to dip
};
struct SwingTable {
  std::vector<double> charge;    ///< increasing, 0..1
  std::vector<double> fraction;  ///< of nominal thickness, same length
};
using SwingInput = std::variant<SwingFigures, SwingTable>;

/// p = A (exp(B eps) - 1), eps = squeeze / nominal thickness.
struct SoftnessLaw {
  double a_mpa = 0;
  double b = 0;
};
/// Pressure against squeeze, both increasing from (0, 0).
struct SoftnessTable {
  std::vector<double> squeeze_fraction;
  std::vector<double> pressure_mpa;
};
using SoftnessInput = std::variant<SoftnessLaw, SoftnessTable>;

struct GrowthInput {
  std::optional<double> per_capacity_lost;  ///< free growth (fraction) per unit capacity lost
  std::optional<double> under_load;         ///< factor on it when pressed
};

enum class CellSurface : std::uint8_t { not_said, bare_can, film };

struct Terminals {
  std::optional<double> spacing_mm;      ///< wanted between neighbours (the bus bar's holes)
  std::optional<double> height_mm = {};  ///< highest part above the face: nut, screw or bus bar
  std::optional<double> screw_mm = {};   ///< diameter of the terminal's screw or stud
  std::optional<double> hole_mm = {};    ///< of the bus bar, across the row
  std::optional<double> slot_mm = {};    ///< of the bus bar, along the row; not said: a round hole
  std::optional<bool> flexible = {};     ///< braid or a bar with a bend that gives
};

/// The can, where its narrow walls are to carry load along the face's edge.
struct Can {
  double wall_mm = 0;
  double rim_height_mm = 0;  ///< rim's thickness less the edge's as read, both faces together
};

struct CellType {
  Chemistry chemistry = Chemistry::lfp_graphite;
  bool chemistry_said = false;  ///< false: the chemistry above was not said
  FaceSize face;
  ThicknessLine thickness;
  std::optional<MakersForce> makers_force;
  std::optional<PressureRange> range;
  std::optional<double> limit_mpa;  ///< never above, face pressure
  std::optional<SwingInput> swing;
  std::optional<SoftnessInput> softness;
  GrowthInput growth;
  std::optional<double> expansion_per_k;
  std::optional<Can> can;
  CellSurface surface = CellSurface::not_said;
  std::optional<double> mass_kg;
  std::optional<double> minimum_charge;  ///< maker's lowest storage charge, fraction
  std::optional<Terminals> terminals;
  std::optional<double> terminal_torque_nmm;  ///< the maker's, of a terminal's screw or nut
};

/// What the calipers read, by how they were held (model: edge, middle, boards, pressed).
struct PressedReading {
  double thickness_mm = 0;
  double force_n = 0;
};
/// One height read over a face. x to the right and y upwards from the middle of the face, as seen
/// from that face; z outwards from a plane of the face's own, wherever it lies.
struct FacePoint {
  double x_mm = 0;
  double y_mm = 0;
  double z_mm = 0;
};
struct FacePoints {
  std::vector<FacePoint> front;
  std::vector<FacePoint> back;
  /// Both faces in one coordinate system, that of the front: x and y as seen from there, z from
  /// back to front.
  bool common_z = false;
};
/// Gap under a straightedge at the edges of a face, where it rests on the middle; negative: in the
/// middle, where it rests on the edges and the face is hollow.
struct StraightedgeReading {
  std::optional<double> front_mm;
  std::optional<double> back_mm;
};
struct CellReading {
  std::string id;
  std::optional<double> edge_mm;
  std::optional<double> middle_mm;
  std::optional<double> boards_mm;
  std::optional<PressedReading> pressed;
  FacePoints points;
  StraightedgeReading straightedge;
  std::optional<double> charge;         ///< when measured, fraction
  std::optional<double> temperature_c;  ///< when measured
  std::optional<double> voltage_v;      ///< rested
  std::optional<double> capacity_ah;
  std::optional<double> resistance_mohm;
  std::optional<std::string> signs;  ///< "none", or what was seen: smell, leak, heat, dent...
};

/// Everything said about the charge at which the cells were measured.
struct MeasuredCharge {
  double charge = 0;            ///< fraction
  std::optional<Span> between;  ///< where a span such as 30-40 % was given
  bool as_shipped = false;      ///< the words "as shipped" were used
};

enum class WallMaterial : std::uint8_t {
  aluminium,
  carbon_steel,
  stainless_steel,
  plywood,
  glass_epoxy,
  polycarbonate
};
/// How an edge of an end wall is joined, in shop words; open: not at all, the edge is free.
enum class WallJoint : std::uint8_t { folded, welded, screwed, open };

/// Whether the edges of a wall that bows can draw inwards.
enum class InPlane : std::uint8_t { free, held };

/// One edge of an end wall, or a part of it where it is joined in parts: what no part names is
/// free.
struct EdgeJoint {
  WallJoint joint = WallJoint::screwed;
  std::optional<Span> part_mm;  ///< from the edge's left or bottom end; not said: the whole edge
};
/// Left and right as in a sheet's outline (x to the right), for both walls alike. An empty one is
/// joined as the wall's `joint` says; an empty top is free unless a lid holds it.
struct WallEdges {
  std::vector<EdgeJoint> left;
  std::vector<EdgeJoint> right;
  std::vector<EdgeJoint> bottom;
  std::vector<EdgeJoint> top;
};

struct WallBow {
  double bow_mm = 0;   ///< at the middle of the wall
  double force_n = 0;  ///< force of the row at that bow
};
struct RigidWall {};
/// A flat bar on edge across an end wall, from edge to edge, on its outside.
enum class RibAlong : std::uint8_t { width, height };
/// welded: stitch-welded all along, wall and bar bend as one piece; screwed: each by itself.
enum class RibJoint : std::uint8_t { welded, screwed };
struct RibInput {
  RibAlong along = RibAlong::width;
  std::optional<double> at_mm;  ///< of its middle line, from the floor or from the left edge
  double thickness_mm = 0;
  double height_mm = 0;  ///< how far it stands off the wall
  std::optional<WallMaterial> material;
  std::optional<RibJoint> joint;
};
/// Lies against an end wall outside, screwed or clamped on but not bonded.
struct SecondPlate {
  double thickness_mm = 0;
  std::optional<WallMaterial> material;
};
struct PlateWall {
  std::optional<double> thickness_mm;
  std::optional<WallMaterial> material;
  std::optional<WallJoint> joint;  ///< of the sides and the bottom
  std::optional<WallEdges> edges = {};
  std::optional<InPlane> in_plane = {};
  std::vector<RibInput> ribs = {};
  std::optional<SecondPlate> second_plate = {};  ///< not together with ribs
};
using EndWallInput = std::variant<PlateWall, WallBow, RigidWall>;

struct SideWalls {
  std::optional<double> thickness_mm;
  std::optional<WallMaterial> material;
};

enum class Lid : std::uint8_t { not_said, none, loose, screwed };
enum class Opens : std::uint8_t { not_said, one_end_wall, both_end_walls, none };
enum class Floor : std::uint8_t { not_said, insulated, bare };

struct Box {
  std::vector<double> inner_length_mm;  ///< one or several readings; the mean is used
  std::optional<double> inner_width_mm;
  std::optional<double> inner_height_mm;
  std::optional<EndWallInput> end_walls;      ///< both, or the first where they differ
  std::optional<EndWallInput> last_end_wall;  ///< only where the two differ
  SideWalls side_walls;
  Lid lid = Lid::not_said;
  Opens opens = Opens::not_said;
  Floor floor = Floor::not_said;
};

/// The two plates of a clamp frame, both alike; the rods go through them, outside the cells.
struct FramePlates {
  std::optional<double> thickness_mm;
  std::optional<WallMaterial> material;
  double width_mm = 0;
  double height_mm = 0;
};
struct RodPosition {
  double x_mm = 0;  ///< from the middle of the plate, to the right
  double y_mm = 0;  ///< from the middle of the plate, upwards
};
struct FrameRods {
  std::string size;                  ///< ISO metric thread: "M8"
  std::optional<std::string> grade;  ///< property class: "8.8", "A2-70"
  std::vector<RodPosition> at;       ///< one for each rod
  std::optional<double> length_mm;
  std::optional<double> prevailing_torque_nmm;  ///< of a locking nut, without load
};

/// A stack of disc springs: `parallel` nested the same way, `series` of those one after another.
struct DiscSprings {
  double outer_mm = 0;
  double inner_mm = 0;
  double thickness_mm = 0;
  double cone_height_mm = 0;                   ///< h0: free height of one disc less its thickness
  std::optional<double> reduced_thickness_mm;  ///< of discs with contact flats
  int parallel = 1;
  int series = 1;
};
struct HelicalSprings {
  double wire_mm = 0;
  double mean_diameter_mm = 0;
  double active_turns = 0;
  std::optional<double> free_length_mm;
  std::optional<double> solid_length_mm;
  std::optional<double> modulus_mpa;  ///< shear modulus G
};
/// What sits on each rod.
using RodSprings = std::variant<DiscSprings, HelicalSprings>;

/// Two plates drawn together by rods, in place of a box.
struct Frame {
  FramePlates plates;
  FrameRods rods;
  std::optional<RodSprings> springs;
  std::optional<double> force_n;  ///< brought to, all rods together; not said: the build's target
};

struct OutlinePoint {
  double x_mm = 0;  ///< from the middle of the face, to the right
  double y_mm = 0;  ///< from the middle of the face, upwards
};
/// The outline of a sheet, centred on the face unless points say otherwise.
struct SheetOutline {
  double width_mm = 0;  ///< of the rectangle; 0 where points are given
  double height_mm = 0;
  double corner_radius_mm = 0;
  std::vector<OutlinePoint> points;              ///< polygon, in place of the rectangle
  std::vector<std::vector<OutlinePoint>> holes;  ///< cut-outs, polygons
};

/// Where a sheet goes or may go: a gap by its name, or a set of gaps in one word.
/// Gap names: "wall-1", "1-2", ..., "8-wall" (cells counted from 1, row after row: the second of
/// two rows of eight begins at "wall-9").
enum class PlaceWord : std::uint8_t { every_gap, ends, between_cells, named_gaps };
struct Place {
  PlaceWord word = PlaceWord::every_gap;
  std::vector<std::string> gaps;  ///< only for named_gaps
};

/// A hard sheet of known thickness: a shim of the kit, or an insulating film.
struct SheetInput {
  std::string name;
  double thickness_mm = 0;
  std::optional<SheetMaterial> material;
  std::optional<double> modulus_mpa;
  bool slippery_face = false;
  std::optional<SheetOutline> outline;  ///< not said: the whole face
  Place where;
};
struct KitShim {
  SheetInput sheet;
  int count = 0;
};

struct FoamGrade {
  int d1056_grade = 0;  ///< ASTM D1056 compression-deflection grade 0..5
};
struct RubberInput {
  double e0_mpa = 0;  ///< Young's modulus at no shape factor
  double k = 1;       ///< Gent-Lindley's material constant
  double bulk_mpa = 1000;
};
struct PadInput {
  std::string name;
  double thickness_mm = 0;
  std::variant<FoamTable, FoamGrade, RubberInput> law;
  bool insulates = false;
  std::optional<SheetOutline> outline;
  Place where;
};

/// Sheets already chosen for one gap (written by --save): kit names with how many of each.
struct PlacedSheets {
  std::string gap;
  std::vector<std::pair<std::string, int>> sheets;
};

struct UseInput {
  std::optional<Span> charge;  ///< window, fractions
  std::optional<Span> temperature_c;
  std::optional<Span> capacity_loss;  ///< fractions; required only where said
};

enum class BuildMethod : std::uint8_t { hand, end_wall_last, clamp, walls_spread };
struct BuildStep {
  std::optional<double> charge;  ///< when built; not said: the measured charge
  std::optional<double> temperature_c;
  std::optional<BuildMethod> method;
  std::optional<double> push_limit_n;
  bool slip_film = false;
};

/// How well what was said is known: each gives or takes so much, within which 95 in 100 lie; of
/// the charge all of them. What is not said here follows the table of assumptions.
struct Uncertainty {
  std::optional<double> calipers_mm;       ///< wrong alike on every cell
  std::optional<double> calipers_each_mm;  ///< of one reading, cell by cell
  std::optional<double> charge;            ///< when measured, as a fraction
  std::optional<double> box_length_mm;
  std::optional<double> row_mm;  ///< of the reading of the whole row
  std::optional<double> shims;   ///< as a fraction of a kind's thickness, as all below
  std::optional<double> softness;
  std::optional<double> swing;
  std::optional<double> growth;
  std::optional<double> expansion;
  std::optional<double> friction;
  std::optional<double> frame_force;
};

/// One build: cells in a row or several, in a box or a clamp frame, with a kit of shims.
struct Build {
  std::string title;
  std::optional<int> series;
  std::optional<int> parallel;
  CellType cell;
  std::vector<CellReading> cells;  ///< all with a thickness reading, or none (not measured);
                                   ///< row after row
  std::optional<MeasuredCharge> measured_charge;  ///< of all cells that do not say their own
  std::optional<double> row_mm;                   ///< the whole row between boards
  std::optional<int> rows;                        ///< side by side in the box, equally long
  std::optional<double> between_rows_mm;
  Box box;
  std::optional<Frame> frame;  ///< in place of the box, whose inner length is then empty
  std::vector<SheetInput> fixed_sheets;
  std::vector<KitShim> kit;
  std::vector<PadInput> pads;
  std::vector<PlacedSheets> placed;  ///< not empty: beats the kit
  UseInput use;
  BuildStep build;
  Order order;  ///< what is still to be made or bought
  Uncertainty uncertainty;
  bool cells_may_move = false;  ///< along the row, to even the terminals' spacing
};

}  // namespace stackfit
