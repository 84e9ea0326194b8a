// SPDX-License-Identifier: GPL-3.0-or-later
//
// What to order for a clamp frame: rods, plates, springs, and the force to bring it to.
//
// For: a frame of which the plates' outline and the rods' places are known; thickness, thread,
// springs and force are found, or judged where they were said.
// Not for: several rows between the same plates, helical springs as an answer, the kit of shims
// (in a frame they press nothing: it is as long as its row), creep of plywood, friction between
// nested discs (2 to 3 % of the force for each), washers under the nuts of a soft plate.
//
// In this order: rods by the greatest force that the band allows, plates by the same force,
// then the forces that hold every required state in the band, with rods alone and with springs.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/answer.hpp"
#include "solver/build.hpp"
#include "solver/disc_stock.hpp"

namespace stackfit {

/// A rod may bear this share of its proof load at most: a nut's friction twists it too, rods never
/// pull quite alike, and a cell may swell (common practice).
inline constexpr double rod_proof_share = 0.5;
/// Share of its bending strength that plywood bears for years: EN 1995-1-1, k_mod 0.6 for lasting
/// loads over gamma_M 1.2 (from memory).
inline constexpr double lasting_wood_share = 0.5;
/// A stack of discs is set with calipers to a tenth of a millimetre either way (common practice):
/// springs whose forces lie closer together than that cannot be set.
inline constexpr double least_setting_mm = 0.2;

struct RodOrder {
  int count = 0;
  /// What all else rests on. Thicker than what bears the load only where none of the discs that go
  /// over thinner rods hold the band.
  double thread_mm = 0;
  std::optional<double> said_mm;  ///< the thread that the build names
  bool said_holds = true;
  double smallest_mm = 0;  ///< the smallest thread that holds
  std::string grade;
  bool grade_assumed = false;
  double greatest_each_n = 0;  ///< at the band's top, so with the model margin
  double proof_load_n = 0;
  double proof_share = 0;
  double hole_mm = 0;        ///< in the plates
  double nut_height_mm = 0;  ///< a plain nut; one that locks is higher
  double washer_mm = 0;      ///< thickness
  /// From end to end: plates, row and springs before the nuts are tightened, nuts, washers and two
  /// threads beyond each nut, up to the next 5 mm.
  double length_mm = 0;
};

/// One thickness by a full solution at the band's top.
struct PlateTrial {
  double thickness_mm = 0;
  double stress_mpa = 0;
  double most_stress_mpa = 0;
  double bow_mm = 0;
  double most_bow_mm = 0;
  bool solved = false;  ///< an equilibrium was found; none: far too thin

  [[nodiscard]] bool stress_holds() const { return stress_mpa <= most_stress_mpa; }
  [[nodiscard]] bool bow_holds() const { return bow_mm <= most_bow_mm; }
  [[nodiscard]] bool holds() const { return solved && stress_holds() && bow_holds(); }
};
struct PlateOrder {
  WallMaterial material = WallMaterial::aluminium;
  bool lasting_wood = false;               ///< its stress is held to lasting_wood_share
  PlateTrial chosen;                       ///< what all else rests on
  std::optional<PlateTrial> next_thinner;  ///< of the stock; none: the thinnest holds
  std::optional<PlateTrial> said;          ///< the thickness in the build; chosen where it holds
  double force_n = 0;                      ///< all rods together, at the band's top
};

/// Forces, all rods together, to which the frame may be brought.
struct ForceWindow {
  Span force_n;
  bool springs_end = false;  ///< its top is where springs reach their working travel
};

struct SpringOrder {
  DiscSprings disc;  ///< and how many on each rod
  char series = ' ';
  int discs = 0;      ///< on all rods
  double mass_g = 0;  ///< of all
  std::vector<ForceWindow> windows;
  double setting_mm = 0;             ///< by which the springs' length differs over the widest one
  double free_length_mm = 0;         ///< of the stack on one rod
  double recommended_travel_mm = 0;  ///< of it: 0.75 h0 of each disc
  double deflection_mm = 0;          ///< at the greatest force of the states, model margin included
};

enum class FrameProblem : std::uint8_t {
  none,
  rods_too_thin,    ///< no thread that stands clear holds
  plates_too_thin,  ///< no thickness of the stock holds
  rods_alone_fail,  ///< and springs were not looked for
  no_springs        ///< none of the stock holds the band
};

struct FrameOrder {
  FrameProblem problem = FrameProblem::none;
  double breathing_mm = 0;  ///< the cells over the charge window
  RodOrder rods;
  std::optional<PlateOrder> plates;
  std::vector<ForceWindow> rods_alone;      ///< empty: no force holds every state
  std::optional<SpringOrder> said_springs;  ///< of the build, judged
  std::optional<SpringOrder> springs;       ///< of the frame as ordered: what was said, or chosen
  std::vector<ForceWindow> windows;         ///< of the frame as ordered
  double force_n = 0;  ///< recommended: a round figure in the middle of the widest
  std::optional<double> makers_force_n;  ///< what the data sheet asks for at assembly
  bool makers_force_holds = false;       ///< lies in one of the windows
  std::optional<PlanResult> plan;        ///< at the recommended force; its `frame` has the settings
  Build build;                           ///< the build as ordered, at the recommended force
};

struct FrameAsk {
  enum class Springs : std::uint8_t { where_needed, always, never };
  Springs springs = Springs::where_needed;
  /// Stock to choose from; empty: disc_stock().
  std::vector<DiscSize> discs = {};
};

/// Throws UnusableBuild for a build that is no frame, has several rows, or no rods.
[[nodiscard]] FrameOrder order_frame(const Build& build, const Assumptions& assumptions = {},
                                     const FrameAsk& ask = {});

}  // namespace stackfit
