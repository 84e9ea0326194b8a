// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a drawing of an answer needs beyond its figures: the face's pressures as a map, the walls'
// bow as lines, and the reduced curves on a grid, for whoever wants to play with them.
//
// For: the build sheet. Only computed where asked for, as it costs some milliseconds.
// Not for: verdicts: whatever is printed is solved in full, and stands in the Answer itself.
// Units: mm, MPa; charge and capacity loss as fractions; degrees C.
#pragma once

#include <cstdint>
#include <vector>

namespace stackfit {

/// Whether an answer is to hold its picture.
enum class Pictures : std::uint8_t { none, drawn };

/// Pressures over one face, by the columns of a full solution.
struct PressureMap {
  double width_mm = 0;  ///< of the face
  double height_mm = 0;
  int columns = 1;
  int rows = 1;
  /// [rows x columns], row by row from the upper left corner of the face.
  std::vector<double> pressure_mpa = {0};
};

/// One end wall's deflection away from the row, along two lines that cross in its middle; at even
/// steps, both ends included. Empty where the wall is rigid or not known.
struct WallLines {
  std::vector<double> across_mm;  ///< from left to right
  std::vector<double> up_mm;      ///< from the floor up
};

/// Face pressures of one way in which the row can stand.
struct PlayKind {
  bool settled = false;
  bool stiff_pads = false;
  /// Each [totals x shifts], all shifts of the first total first.
  std::vector<double> face_pressure_mpa;
  std::vector<double> highest_local_mpa;
  std::vector<double> wall_bow_mm;
};

/// Reduced curves on a grid of shim totals and of how much longer the row has become since it was
/// built: longer = longer_mm at the charge + longer_mm_per_k (T - T build)
///               + longer_mm_per_loss x capacity lost.
/// Within 1 % and 0.3 kPa of the model (a test holds that) where it is read so: at a total between
/// two, both their curves by monotone cubics at the shift that makes the row as long as asked for
/// (shift + total - theirs), and a straight line between. In a clamp frame, whose nuts are turned
/// to the force, there is one total. Shims that are added or left out cover the whole face
/// and give nothing. Empty where a can's rim makes the row follow more than one length.
struct Play {
  std::vector<double> charge;  ///< rising, 0 to 1: the swing curve's knots
  std::vector<double> longer_mm;
  double longer_mm_per_k = 0;
  double longer_mm_per_loss = 0;
  double most_loss = 0;  ///< as far as the grid reaches
  double least_temperature_c = 0;
  double most_temperature_c = 0;
  std::vector<double> total_mm;  ///< of shims, rising; the plan's own is one of them
  std::vector<double> shift_mm;  ///< rising
  std::vector<PlayKind> kinds;
};

struct Picture {
  double inner_length_mm = 0;  ///< of the box; of a clamp frame between the plates as built
  double wall_width_mm = 0;
  double wall_height_mm = 0;
  PressureMap worst_face;       ///< of the state in which a spot of the face is pressed most
  bool worst_as_built = false;  ///< that is the build itself; else the plan's highest state
  WallLines first_wall;         ///< as built
  WallLines last_wall;
  Play play;
};

}  // namespace stackfit
