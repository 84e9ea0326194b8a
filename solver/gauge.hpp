// SPDX-License-Identifier: GPL-3.0-or-later
//
// From what is measured on the real thing - a wall's bow, a gap, a spring, a nut - to the force in
// the row now.
//
// For: a box or a clamp frame as it stands. How a wall bows under a row tells the force whatever
// the cells' softness is; only where on the face they press hardest depends a little on it.
// Not for: what a build will see (row_model.hpp).
//
// What it promises (numbers are those of gauge_test.cpp):
//   1. Cells that shear against each other bow a wall less for the same force, and the columns
//   leave
//      that out: a force told by a bow is given twice, as computed and times the shear factor.
//      `above` and `never above` are judged by the greater figure, `below` by the bare one.
//   2. Springs, nuts and gaps are taken as they are.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "solver/answer.hpp"
#include "solver/study.hpp"

namespace stackfit {

enum class GaugeKind : std::uint8_t {
  bow,            ///< of an end wall at a point, less its bow when empty [mm]
  gap,            ///< between both walls at a point, less the same when empty [mm]
  spring_length,  ///< of the springs on a clamp frame's rods [mm]
  torque          ///< at which a frame's nuts begin to turn on [N.mm]
};

struct GaugeReading {
  GaugeKind kind = GaugeKind::bow;
  double now = 0;
  double empty = 0;        ///< bow and gap: the same reading before the cells went in
  double error = 0;        ///< standard uncertainty of one reading; of a torque: not used
  bool last_wall = false;  ///< bow: of the wall after the last cell
  double x_mm = 0;         ///< bow and gap: from the middle of the wall, right and up
  double y_mm = 0;
};

/// What one reading says.
struct Gauged {
  GaugeReading reading;
  double net = 0;       ///< now less empty, or the reading itself
  double force_n = 0;   ///< of the row
  Span force_span_n;    ///< 95 %, from the readings' errors (of a torque: the nut factor's scatter)
  bool loose = false;   ///< the wall does not bow outwards at all
  bool beyond = false;  ///< further than the model was followed: the force is at least this
};

/// One input that, being wrong by so much, would explain the reading.
enum class SuspectInput : std::uint8_t {
  softness,
  box_length,
  cells_thickness,
  charge,
  growth,
  wall_joint
};
struct Suspect {
  SuspectInput input = SuspectInput::softness;
  /// Factor on the softness, mm, points of charge (fraction), capacity lost; of the walls' joint
  /// the factor on the force that the readings stand for.
  double by = 0;
  double in_its_errors = 0;  ///< over its own standard uncertainty
};

struct GaugeAnswer {
  RowState state;
  std::vector<Gauged> gauges;
  double force_n = 0;  ///< all readings, weighted by their spans
  Span force_span_n;
  double face_pressure_mpa = 0;
  Span pressure_span_mpa;
  double highest_local_mpa = 0;  ///< 0 where no column was solved
  /// On the force of every bow, for the shear the columns leave out; empty: no bow among them.
  std::optional<double> shear_factor;
  double force_with_shear_n = 0;  ///< as `force_n`, where no bow is among them
  double face_pressure_with_shear_mpa = 0;
  Standing standing = Standing::inside;     ///< above by the pressure with shear, else as computed
  Standing as_computed = Standing::inside;  ///< by the bare figure alone
  bool readings_agree = true;               ///< with each other, at 95 %
  double top_mpa = 0;                       ///< up to where walls were followed; 0: not by walls
  BandResult band;

  /// What the build as placed should press with now, where its sheets are known.
  struct Prediction {
    double force_n = 0;
    double error_n = 0;             ///< standard uncertainty from softness, box, cells, charge
    double deviation = 0;           ///< measured less predicted, over the error of both
    std::vector<Suspect> suspects;  ///< likeliest first; only where they do not agree
  };
  std::optional<Prediction> predicted;
  /// What the same bows and gaps stand for with the end walls' edges held the other way; where the
  /// joint was not said, or build and reading disagree.
  struct OtherJoint {
    bool said = false;      ///< the joint that was taken
    bool screwed = false;   ///< the other: else folded or welded
    double force_n = 0;     ///< of the row, by the readings
    bool at_least = false;  ///< further than the walls were followed
  };
  std::optional<OtherJoint> other_joint;
  /// Softness at which the build would press as measured; B as it is.
  struct Learned {
    double a_mpa = 0;
    Span a_span_mpa;  ///< 95 %, from the reading alone
    double b = 0;
    double was_a_mpa = 0;
  };
  std::optional<Learned> learned;

  /// The bare figure is not above, the one with shear is.
  [[nodiscard]] bool may_be_above() const {
    return standing >= Standing::above && as_computed < Standing::above;
  }
};

/// Why readings cannot be turned into a force; empty where they can.
[[nodiscard]] std::string_view why_not_gauged(const Study& study, const GaugeReading& reading);

/// A wall's bow or a gap against the force, followed from the first touch upwards.
class BowMap {
 public:
  /// `readings` are all bows or gaps of one box. One full solution a step.
  BowMap(const Study& study, const RowState& state, const GaugeReading& reading);
  /// Force [N] at a net bow [mm]: 0 below the first touch; beyond the top that of the top.
  [[nodiscard]] double force_n(double net_mm) const;
  [[nodiscard]] double bow_mm(double force_n) const;
  [[nodiscard]] double even_mm(double force_n) const;  ///< too long by, where cells are flat
  [[nodiscard]] double highest_local_mpa(double force_n) const;
  [[nodiscard]] double top_bow_mm() const { return bow_.back(); }
  [[nodiscard]] double top_force_n() const { return force_.back(); }

 private:
  std::vector<double> even_;
  std::vector<double> bow_;
  std::vector<double> force_;
  std::vector<double> local_;
};

/// Force and 95 % span of a bow or gap, through the map.
[[nodiscard]] Gauged gauge_bow(const BowMap& map, const GaugeReading& reading);

/// Throws UnusableBuild where `why_not_gauged` has a reason. `learn`: find the softness too.
[[nodiscard]] GaugeAnswer gauge(const Study& study, const RowState& state,
                                const std::vector<GaugeReading>& readings, bool learn);

}  // namespace stackfit
