// SPDX-License-Identifier: GPL-3.0-or-later
//
// Outlines to test with: moved, reversed, and drawn at random.
#pragma once

#include <rapidcheck.h>

#include <cmath>
#include <cstddef>

#include "geometry/outline.hpp"

namespace stackfit::geometry::testing {

/// Closed forms on a dozen edges: a few roundings each, well inside this.
inline constexpr double closed_form_relative_error = 1e-13;

struct Move {
  double turn_rad = 0;
  Point shift;
};

inline Point moved(Point p, const Move& move) {
  const double c = std::cos(move.turn_rad);
  const double s = std::sin(move.turn_rad);
  return {c * p.x_mm - s * p.y_mm + move.shift.x_mm, s * p.x_mm + c * p.y_mm + move.shift.y_mm};
}

inline Outline moved(Outline outline, const Move& move) {
  for (Loop& loop : outline.loops) {
    for (Edge& edge : loop) {
      edge.from = moved(edge.from, move);
      edge.centre = moved(edge.centre, move);
    }
  }
  return outline;
}

/// The same edges travelled the other way.
inline Outline reversed(const Outline& outline) {
  Outline result;
  for (const Loop& loop : outline.loops) {
    Loop back;
    for (std::size_t i = loop.size(); i-- > 0;) {
      Edge edge = loop[i];
      edge.from = loop[(i + 1) % loop.size()].from;
      edge.counterclockwise = !edge.counterclockwise;
      back.push_back(edge);
    }
    result.loops.push_back(back);
  }
  return result;
}

inline Outline disc(double radius_mm, Point centre = {}) {
  return rounded_rectangle({2 * radius_mm, 2 * radius_mm, radius_mm}, centre);
}

/// A whole number of tenths of a millimetre.
inline double draw_mm(int low_tenths, int high_tenths) {
  return *rc::gen::inRange(low_tenths, high_tenths + 1) / 10.0;
}

inline Move draw_move() {
  return {.turn_rad = *rc::gen::inRange(0, 629) / 100.0,
          .shift = {draw_mm(-1000, 1000), draw_mm(-1000, 1000)}};
}

/// From sharp corners to a stadium or a disc.
inline Outline draw_rounded_rectangle() {
  RectangleSize size{.width_mm = draw_mm(10, 2000), .height_mm = draw_mm(10, 2000)};
  const double part_of_half = *rc::gen::inRange(0, 11) / 10.0;
  size.corner_radius_mm = std::fmin(size.width_mm, size.height_mm) / 2 * part_of_half;
  return rounded_rectangle(size);
}

/// A rounded rectangle anywhere, turned anyhow, half of them with a hole or a bite.
inline Outline draw_shape() {
  const Outline whole = draw_rounded_rectangle();
  const bool cut = *rc::gen::arbitrary<bool>();
  return moved(cut ? difference(whole, moved(draw_rounded_rectangle(), draw_move())) : whole,
               draw_move());
}

}  // namespace stackfit::geometry::testing
