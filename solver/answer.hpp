// SPDX-License-Identifier: GPL-3.0-or-later
//
// One answer, for every view: what the solver found, as numbers, codes and names.
//
// For: printing as text, JSON or page. No view computes and no view knows a build file.
// Not for: solving; `answer_pick` and `answer_pressure` fill it (answer.cpp).
// Units: mm, N, MPa, fractions for charge and capacity loss, degrees C.
// Shapes: n cells have n + 1 gaps; lists run from the first wall to the last unless they say else.
// Source: figures that were not said are those of assumptions.hpp, each with where it is from, and
// what rests on one is listed in Answer::assumed; how far the model is held against published
// figures stands in DEVELOPERS.md.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "solver/assumptions.hpp"
#include "solver/build.hpp"
#include "solver/chance_options.hpp"
#include "solver/chance_result.hpp"
#include "solver/picture.hpp"

namespace stackfit {

enum class Question : std::uint8_t { pick, pressure };

/// First words of an answer, worst last.
enum class Verdict : std::uint8_t {
  fits,
  fits_on_assumed_figures,
  does_not_fit,
  stop  ///< a cell shows a sign, or is too swollen to be pressed at all
};

/// Where a face pressure stands against the band; worst last.
enum class Standing : std::uint8_t { inside, below, loose, above, above_limit };

/// One state of the row and what the model says of it.
struct StateResult {
  double charge = 0;
  double temperature_c = 20;
  double capacity_loss = 0;
  bool settled = false;     ///< pads relaxed; false: fresh
  bool stiff_pads = false;  ///< upper edge of a foam grade's band; false: lower, or no band
  double face_pressure_mpa = 0;
  double force_n = 0;            ///< on the whole face
  double highest_local_mpa = 0;  ///< over the face
  double lowest_local_mpa = 0;   ///< 0 where a part of the face does not touch
  double contact_share = 0;      ///< part of the face that is pressed at all
  double centre_x_mm = 0;        ///< of pressure, from the middle of the face, right and up
  double centre_y_mm = 0;
  double wall_bow_mm = 0;  ///< greatest deflection of either end wall
  double loose_by_mm = 0;  ///< room left when nothing is pressed; else 0
  Standing standing = Standing::inside;
};

struct BandResult {
  double low_mpa = 0;
  double high_mpa = 0;
  bool assumed = false;  ///< made from a single force by the program's factors
  std::optional<double> limit_mpa;
  std::optional<double> build_target_mpa;
  std::optional<double> build_low_mpa;  ///< range that applies to assembly
  std::optional<double> build_high_mpa;
  bool target_assumed = false;
  std::optional<ForceWhen> from_force;  ///< empty: a range was given
  double model_margin = 0;   ///< m: `above` and `limit` are judged at force times (1 + m)
  double face_area_mm2 = 0;  ///< turns a pressure into the force on the face

  /// What is held against the band's top and the limit: the pressure with the model margin.
  [[nodiscard]] double judged(double pressure_mpa) const {
    return pressure_mpa * (1 + model_margin);
  }
  /// The greatest computed pressure that is still judged inside `top`.
  [[nodiscard]] double most_for(double top_mpa) const { return top_mpa / (1 + model_margin); }
};

enum class SheetOrigin : std::uint8_t { kit, fixed, pad };

struct GapSheet {
  std::string name;
  double thickness_mm = 0;
  int count = 0;
  SheetOrigin origin = SheetOrigin::kit;
  bool insulates = false;
  bool slippery_face = false;
};
struct GapResult {
  std::string name;  ///< "wall-1", "1-2", ..., "8-wall"
  std::vector<GapSheet> sheets;
  double total_mm = 0;
  bool insulation_due = false;
  bool insulated = false;
  /// Cell number (from 1) whose sliding face the slippery side looks at; 0: no such sheet.
  int slippery_towards_cell = 0;
};
struct KitUse {
  std::string name;
  double thickness_mm = 0;
  int used = 0;
  int on_hand = 0;
};

/// One end wall, or both where they are alike, in the state of most force.
struct WallResult {
  bool both = false;             ///< both walls are alike
  bool last = false;             ///< the wall after the last cell; else the one before the first
  bool by_measured_bow = false;  ///< known by its bow: no thickness, no stress
  bool large_bow = false;        ///< it stretches as it bows, and was computed so
  double bow_mm = 0;             ///< greatest, away from the row
  double bow_middle_mm = 0;      ///< at the middle of the wall
  double thickness_mm = 0;
  double span_mm = 0;     ///< shorter side
  double stress_mpa = 0;  ///< greatest at the surface, von Mises; under rods averaged over washers
  double yield_mpa = 0;   ///< of the metal; 0: not known
  /// With a second plate: which of the two the stress is nearer to yield in.
  bool stress_in_second_plate = false;
  std::optional<double> second_plate_mm;  ///< its thickness
  std::optional<double> rib_stress_mpa;   ///< greatest at the outer edge of a rib
  double rib_yield_mpa = 0;               ///< of that rib's metal; 0: not known
};

/// The rods of a clamp frame in one state.
struct RodsInState {
  double charge = 0;
  double rod_force_n = 0;  ///< of each rod
  double proof_share = 0;  ///< of the load at which a rod begins to stay longer
  double spring_length_mm = 0;
  bool beyond_travel = false;       ///< springs are solid
  bool beyond_recommended = false;  ///< springs are past their working travel
  double loose_by_mm = 0;
};
struct FrameResult {
  int rods = 0;
  double force_n = 0;  ///< all rods together, brought to
  double thread_mm = 0;
  double proof_load_n = 0;
  double closure_mm = 0;         ///< from snug to the force: what row and plates give at the rods
  double turns_past_snug = 0;    ///< of each nut
  double overall_length_mm = 0;  ///< over both plates at the rods, as built
  bool has_springs = false;
  double spring_free_length_mm = 0;
  RodsInState as_built;
  RodsInState lowest;
  RodsInState highest;
  std::optional<Span> torque_nmm;  ///< only where a torque says something about the force
};

/// Terminals against the holes and slots of their bus bars; the greatest of all pairs.
struct TerminalUse {
  std::optional<double> play_mm;     ///< how far a pair may be off; hole or screw not said: empty
  std::optional<bool> go_on;         ///< every bar as built
  std::optional<bool> go_on_always;  ///< and in every required state
  int worst_pair = 1;                ///< number of the first of the two cells that are most off
  std::optional<double> slot_mm;     ///< that lets all bars on as built
  double movement_mm = 0;            ///< most of two neighbours against each other, in use
  int moving_pair = 1;               ///< the first of those two
  std::vector<int> flexible_due;     ///< first cell of each pair whose bar must give
  bool flexible_said = false;
};

/// How good a plan the search found, and how good any could be.
struct MarginProof {
  double best_found = 0;  ///< greatest margin; the plan may give up some of it to be more even
  double bound = 0;       ///< no plan of the whole kit has more, as far as curves are exact
  double gap = 0;         ///< bound less best found: 0 where the search was exhaustive
};

/// Sheets in their places and the pressures they give.
struct PlanResult {
  std::vector<GapResult> gaps;  ///< n + 1
  std::vector<KitUse> kit;      ///< one for each kind of Build::kit, in its order
  double shim_total_mm = 0;     ///< kit shims only
  double margin = 0;            ///< as model: least of the distances to the band over its width
  bool passes = false;          ///< every required state and rule
  bool proven_best = false;     ///< the search was exhaustive
  /// Empty: nothing is known, as of sheets that were placed, or of rows chosen one by one.
  std::optional<MarginProof> margin_proof;
  std::vector<std::string> bare_metal;  ///< gaps where insulation is due and missing
  double interference_mm = 0;           ///< where it is greatest, at the build state
  double interference_edge_mm = 0;
  double interference_middle_mm = 0;
  double cells_give_mm = 0;
  double sheets_give_mm = 0;
  double pads_give_mm = 0;
  double walls_give_mm = 0;                 ///< both end walls and the sides' stretch
  std::vector<double> terminal_spacing_mm;  ///< free of squeeze, n - 1 values
  double terminal_deviation_mm = 0;      ///< greatest from the wanted spacing; 0 where none wanted
  std::optional<TerminalUse> terminals;  ///< where they were described, and there are two cells
  double sheets_cover_share = 1;         ///< of the face, by the smallest sheet or pad
  /// Of the force that the cans' rims carry in the state of most force; empty: no can described.
  std::optional<double> rim_share;
  std::vector<WallResult> walls;
  std::optional<FrameResult> frame;
  StateResult as_built;
  StateResult lowest;
  StateResult highest;
  std::vector<StateResult> states;  ///< each corner's lowest and highest
  /// Of the face, what touches at most where a cell is watched; 0: none is.
  double swollen_contact = 0;
  bool spares_swollen = true;  ///< no watched cell is pressed flat
  Standing worst = Standing::inside;
  /// Capacity loss until the band is left upwards, in the mean and with growth high and low.
  std::optional<double> life_mean;
  std::optional<Span> life_span;
};

/// How a dome became known.
enum class DomeBy : std::uint8_t {
  not_measured,
  thickness,  ///< middle or boards less the edge: both faces in one
  straightedge,
  points
};

/// Where the exponent of a fitted dome is from.
enum class ExponentFrom : std::uint8_t {
  fitted,
  at_end,          ///< fitted, and the points ask for one beyond the span sought
  too_few_points,  ///< assumed
  low_dome         ///< assumed: how the dome falls off is lost in the noise
};

/// A reading of a face that does not belong to the dome the others make; it is left out.
struct OutlyingReading {
  int number = 0;  ///< from 1, in the order in which the face's points were given
  FacePoint point;
  double residual_mm = 0;  ///< its height less that dome's
};

/// The dome of one face; the figures below `dome_mm` are those of points.
struct FaceDome {
  bool front = true;
  DomeBy by = DomeBy::not_measured;
  double dome_mm = 0;  ///< middle less edge, outwards; negative: hollow
  double error_mm = 0;
  double exponent = 0;
  double exponent_error = 0;
  bool exponent_assumed = true;
  ExponentFrom exponent_from = ExponentFrom::too_few_points;
  double residual_mm = 0;  ///< root mean square
  double flatness_mm = 0;  ///< ISO 1101, of the readings used; only in an Answer
  int points_used = 0;
  std::vector<OutlyingReading> outliers;
};

/// What is known of a cell's dome besides its height.
struct CellDome {
  DomeBy by = DomeBy::not_measured;
  bool one_face = false;  ///< the face that was not measured is taken alike
  double exponent = 2;
  bool exponent_assumed = true;
  std::optional<double> error_mm;   ///< standard error of the height, where points were read
  std::optional<double> boards_mm;  ///< from points of both faces; only in an Answer
  std::vector<FaceDome> faces;      ///< those measured one by one
};

struct CellResult {
  std::string id;
  double free_mm = 0;  ///< mean over the face, at the build state
  double edge_mm = 0;  ///< edge thickness as taken
  double dome_mm = 0;
  CellDome dome;
  double slack_mm = 0;
  double swelling_mm = 0;       ///< dome beyond the slack; edge unknown: beyond the data sheet
  bool plus_near_side = false;  ///< the + terminal is on the side nearest you
  bool beyond_watch = false;    ///< swollen: never pressed flat
  bool refused = false;  ///< never pressed at all: a sign, set aside, or swollen, edge unknown
  std::string signs;     ///< empty: not said
  bool shows_sign = false;
};

/// One line of "what moves the highest pressure".
enum class MoveCode : std::uint8_t {
  full_charge,
  box_shorter,
  cells_stiffer,
  charge_misread,
  hotter,
  capacity_loss,
  rigid_walls
};
struct Move {
  MoveCode code = MoveCode::full_charge;
  double by = 0;                 ///< size of the change in its own unit (mm, fraction, K, factor)
  double change_mpa = 0;         ///< of the highest face pressure
  double face_pressure_mpa = 0;  ///< after it
  Standing standing = Standing::inside;  ///< after it
};

/// Soft or stiff bracket of an assumed squeeze law on the same plan.
struct Bracket {
  double a_mpa = 0;
  double lowest_mpa = 0;
  double highest_mpa = 0;
  bool inside = false;
};

enum class WayOut : std::uint8_t { end_wall_last, walls_spread, lower_charge, clamp, slip_film };
struct WayOutResult {
  WayOut way = WayOut::end_wall_last;
  bool works = false;
  double force_n = 0;            ///< what is then needed: push, draw-in or clamp force
  double charge = 0;             ///< lower_charge: the charge to build at
  double spread_mm = 0;          ///< walls_spread: how far apart
  double face_pressure_mpa = 0;  ///< clamp: on the cells already in
  bool within_limit = true;      ///< clamp: below the known limit or the band's top
};

struct InsertionResult {
  BuildMethod method = BuildMethod::hand;
  bool method_said = false;
  bool works = false;
  double push_n = 0;      ///< to slide the last cell in by hand
  double draw_out_n = 0;  ///< to pull one out again
  double push_limit_n = 0;
  double friction = 0;  ///< mu of each face
  double friction_other = 0;
  double wall_force_n = 0;  ///< what an end wall pushes back with as built
  bool slip_film = false;   ///< said to be put on both faces of the last cell
  bool opens_said = false;  ///< whether an end wall comes off was said
  int last_cell = 0;        ///< by hand: which cell goes in last, counted from 1; 0: too few cells
  std::vector<WayOutResult> ways_out;  ///< in the order to try
};

/// The order of the cells, where they may change places.
struct OrderResult {
  std::vector<std::string> ids;  ///< from the first wall on
  std::vector<int> places;       ///< where each stood, counted from 1
  int moved = 0;                 ///< cells that change their place
  /// No order lets the terminals be spaced, and the sheets laid, better by the rule.
  bool proven = false;
  bool fewest_moved = false;   ///< and none as good moves fewer cells
  double bound_mm = 0;         ///< no order brings the greatest deviation below this: proven
  double before_mm = 0;        ///< greatest deviation in the order given, with its own best plan
  bool groups_change = false;  ///< cells change their parallel group
};

enum class WarningCode : std::uint8_t {
  swollen_cell,
  signs_seen,
  swollen_pressed_flat,  ///< size: part of its face that touches; next step: highest local
  swollen_watched,       ///< spared, by the plan: the same figures
  metal_left_bare,
  force_implausible,
  below_band,
  loose,
  above_band,
  above_limit,
  build_outside_assembly_range,
  walls_bow_far,
  lid_left_out,          ///< walls stretch: what a screwed lid adds is not in the figures
  wall_stress,           ///< surface stress beyond yield over its safety factor
  rib_stress,            ///< the same at a rib's outer edge; next step: times as thick and high
  ribs_by_themselves,    ///< the wall stretches: what a welded rib adds as one piece is left out
  stiffening_grows_too,  ///< a thicker wall was named: its ribs or second plate grow as much
  rod_overloaded,
  springs_solid,
  rods_slack,
  swing_exceeds_band,
  tolerance_narrower_than_swing,
  no_force_given,
  ask_when_force_applies,
  swelling_near_watch,
  box_readings_differ,
  terminals_do_not_meet,
  bar_does_not_go_on,   ///< size: deviation; limit: play; next step: slot, 0 unknown; all in mm
  bar_must_flex,        ///< size: movement in use; limit: what a rigid bar bears; next step: bars
  cells_change_groups,  ///< size: cells that do
  readings_may_be_pressed,
  readings_may_be_free,
  thicker_than_data_sheet,
  voltage_contradicts_charge,
  row_differs_from_sum,
  cells_not_measured,
  dome_not_measured,
  flat_at_boards_value,
  dome_of_one_face,      ///< the other is taken alike
  dome_point_off,        ///< a reading that does not belong to the others' dome
  dome_readings_differ,  ///< points or straightedge say another dome than the thicknesses do
  walls_assumed,
  can_carries_load,
  outside_squeeze_law,
  pad_solid,
  rubber_outside_law,
  charge_guessed,
  material_not_said,
  floor_not_said,
  far_from_build_target,
  signs_not_said,
  uneven_coverage,
  uneven_pressure,       ///< highest over mean above 2, or contact below the even share
  wall_is_thick,         ///< shear, which the thin plate leaves out, begins to matter
  search_not_exhaustive  ///< size: best margin found, limit: what none exceeds
};
/// A warning is data; the words are added by the view.
struct Warning {
  WarningCode code = WarningCode::below_band;
  std::string where;     ///< cell id, gap, key; may be empty
  double charge = -1;    ///< fraction, where it matters; else negative
  double size = 0;       ///< how big: MPa, mm, N or fraction, by code
  double limit = 0;      ///< what it is held against
  double next_step = 0;  ///< size of the next step, by code (mm of shim, points of charge...)
};

enum class RemedyCode : std::uint8_t {
  add_shims,       ///< thickness, count: buy or make so many of this thickness
  more_of_a_kind,  ///< name, count: so many more of one already in the kit
  box_length,      ///< value: inner length
  frame_force,     ///< value: force of all rods together
  charge_window,   ///< window
  build_method,    ///< method
  build_charge,    ///< value
  slip_film,
  insulating_sheets,  ///< thickness, count
  end_pads,           ///< thickness, grade
  end_wall,           ///< thickness: end walls of another thickness, from the stock
  cell_order          ///< the cells may change places: evens the terminals
};
/// One change that, applied alone, was found to give a plan that passes.
struct Remedy {
  RemedyCode code = RemedyCode::add_shims;
  std::string name;
  double thickness_mm = 0;
  int count = 0;
  int kit_index = 0;  ///< more_of_a_kind: which kit entry, from 0; count is the new total
  double value = 0;
  Span window;
  int grade = 0;
  BuildMethod method = BuildMethod::hand;
  PlateWall wall;       ///< end_wall: as it is then, the rest of it as it was said
  int effort = 0;       ///< 1: minutes at the bench; more: dearer and slower; they are ranked by it
  double margin = 0;    ///< of the plan it gives
  bool passes = false;  ///< by the full model; only passing ones are listed
  double lowest_mpa = 0;  ///< face pressures of that plan, in full
  double highest_mpa = 0;
  std::optional<double> chance;  ///< where chances are computed
};

/// The rule that fails where nothing fits.
enum class FailedRule : std::uint8_t {
  none,
  too_few_insulating_sheets,
  pressure_out_of_reach,  ///< no total of shims keeps every required state in the band
  total_not_in_kit,       ///< some total would, but the kit cannot make it
  build_method,
  metal_left_bare,    ///< a floor that is bare, or placed sheets that leave a gap bare
  uneven_coverage,    ///< sheets press too small a part of the face
  walls_bow_too_far,  ///< beyond what the model knows: the figures mean nothing
  rods_overloaded,    ///< beyond the load at which they begin to stay longer
  frame_force,        ///< a clamp frame is brought to a force that does not keep the band
  swollen_cell,
  swollen_pressed_flat,  ///< the band is kept only where a watched cell is pressed flat
  signs
};
struct Failure {
  FailedRule rule = FailedRule::none;
  std::optional<Span> wanted_total_mm;  ///< shim totals that would keep the band
  double nearest_total_mm = 0;          ///< the kit's nearest
  double swing_mm = 0;                  ///< what the cells breathe over the required states
  double band_takes_mm = 0;             ///< interference span the band takes up
  int sheets_due = 0;
  int sheets_on_hand = 0;
};

struct AssumedUse {
  Assumed id = Assumed::count;
  double value = 0;
  double worth_low_mpa = 0;   ///< change of the highest pressure with the value at its low end
  double worth_high_mpa = 0;  ///< and at its high end
};
/// An assumed word or a material figure: not a number of the table.
struct AssumedWord {
  std::string what;
  std::string taken;
  std::string why;
  bool published = false;  ///< from a named publication: no verdict is weaker for it
};

struct Answer {
  Question question = Question::pick;
  std::string title;
  Verdict verdict = Verdict::does_not_fit;
  int cell_count = 0;
  int first_cell = 1;  ///< number of the first one
  int series = 0;
  int parallel = 1;
  double build_charge = 0;
  double build_temperature_c = 20;
  Span use_charge;
  Span use_temperature_c;
  Span use_capacity_loss;
  bool first_wall_opens = false;
  bool last_wall_opens = false;
  bool walls_are_metal = true;
  bool clamp_frame = false;  ///< plates and rods in place of a box
  Floor floor = Floor::not_said;
  std::vector<CellResult> cells;  ///< n, as they stand
  BandResult band;
  bool has_plan = false;  ///< plan below is filled
  PlanResult plan;
  std::optional<OrderResult> order;  ///< where the cells may change places and it was looked into
  std::optional<PlanResult> looser;
  std::optional<Bracket> soft;  ///< with an assumed squeeze law only
  std::optional<Bracket> stiff;
  /// Cells known by boards only: the same plan with edges half a per cent of nominal thinner.
  std::optional<Bracket> edges_thinner;
  std::optional<PlanResult> rigid;  ///< same plan, walls rigid; where the walls are assumed
  std::vector<Move> moves;
  InsertionResult insertion;
  std::vector<double> sense_lead_v;  ///< from the first - to each + after its bus bar
  bool voltage_assumed = false;
  std::optional<double> terminal_torque_nmm;  ///< as the build gives it
  std::vector<Warning> warnings;              ///< worst first
  Failure failure;
  std::vector<Remedy> remedies;  ///< smallest change first
  bool remedies_sought = false;
  std::optional<Chance> chance;  ///< empty: not asked for, or no plan
  std::vector<AssumedUse> assumed;
  std::vector<AssumedWord> assumed_words;
  std::vector<double> curve_charge;        ///< swing curve's knots and window ends
  std::vector<double> curve_pressure_mpa;  ///< at each of those; new, at the reference temperature
  std::optional<Picture> picture;          ///< only where it was asked for and there is a plan
  int row_number = 0;        ///< from 1, of one of several rows; 0: the only one, or all together
  std::vector<Answer> rows;  ///< where there are several: each with its own plan; above, the worst

  [[nodiscard]] bool inside() const {
    return verdict == Verdict::fits || verdict == Verdict::fits_on_assumed_figures;
  }
};

/// `pick`: chooses shims from the kit, unless the build says where they are placed.
/// Throws std::invalid_argument only for a Build no reader lets through (no cells, no length);
/// UnusableBuild, which is one, where its message is for whoever wrote the build. Throws
/// std::runtime_error where a row could not be solved: a fault of the solver.
/// `chance`: empty, no chance is computed. `pictures`: whether to add what a drawing needs.
[[nodiscard]] Answer answer_pick(const Build& build, const Assumptions& assumptions = {},
                                 const std::optional<ChanceOptions>& chance = {},
                                 Pictures pictures = Pictures::none);
/// `pressure`: the build exactly as placed, nothing chosen.
[[nodiscard]] Answer answer_pressure(const Build& build, const Assumptions& assumptions = {},
                                     const std::optional<ChanceOptions>& chance = {},
                                     Pictures pictures = Pictures::none);

}  // namespace stackfit
